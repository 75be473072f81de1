package plan

import (
	"fmt"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/joint"
)

// Tables whose firmness is common knowledge of the trade: three that are built every day and stand firm, one with legs and aprons that
// everybody would call shaky. Sizes in mm: length, width, height, top, leg, apron height and thickness.
//
// Source: common practice; decision 8.
func TestKnownTablesAreFirmOrShaky(t *testing.T) {
	for _, c := range []struct {
		name  string
		sizes [7]int
		more  string
		want  joint.Verdict
	}{
		{"kitchen table", [7]int{1500, 800, 740, 28, 70, 110, 22}, "", joint.Holds},
		{"coffee table", [7]int{1000, 600, 450, 22, 50, 90, 20}, "", joint.Holds},
		{"side table with shelf", [7]int{450, 400, 600, 20, 40, 80, 20}, ", below: shelf", joint.Holds},
		{"thin table", [7]int{900, 500, 720, 20, 35, 60, 18}, "", joint.Tight},
	} {
		z := c.sizes
		p := made(t, input(t, weakTable("eastern white pine, condition: small tight knots", fmt.Sprintf(
			"length: %d mm, width: %d mm, height: %d mm, top_thickness: %d mm, leg: %d mm, apron_width: %d mm, apron_thickness: %d mm%s", z[0], z[1], z[2], z[3], z[4], z[5], z[6], c.more), ""), examples.Shop()))
		for _, k := range p.Structure.Sway {
			stiff := ""
			for _, v := range k.Working[0].Inputs {
				stiff += v.String() + " "
			}
			t.Logf("%s: %s %v of %v %s, reserve %s, %s; %s| whole: %s, %s", c.name, k.What, k.Demand.Number, k.Capacity.Number, k.Demand.Unit, k.Reserve, k.Verdict, stiff, p.Verdict.Word, p.Verdict.Answer)
			if k.What == "sway" && k.Verdict != c.want {
				t.Errorf("%s: %s is %s, wanted %s", c.name, k.What, k.Verdict, c.want)
			}
		}
	}
}

// A push is strongest against the joints with the mass of the published tests on the top: what sway no longer decides, strength must.
func TestStrengthCasesPushAtTheCornersOfTheTop(t *testing.T) {
	p := made(t, demo(t))
	corners := 0
	for _, c := range p.Structure.Cases {
		if c.Action == "push" && strings.Contains(c.Name, "corner") {
			corners++
			if c.Force != 400 || c.Mass < 50 {
				t.Errorf("%s: %v N with %v kg", c.Name, c.Force, c.Mass)
			}
		}
	}
	if corners != 8 {
		t.Errorf("%d pushes near a corner", corners)
	}
}
