package export

import (
	"context"
	"math"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/plan"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trial"
	"longgrain/patterns"
)

func kindPlan(t *testing.T, text string) plan.Plan {
	t.Helper()
	in, problems := plan.Read(plan.Text{Name: "p.yaml", Text: []byte(text)}, plan.Text{Name: "s.yaml", Text: []byte(trial.FullShop(examples.Shop(), hardware.ToolNames()))}, patterns.All())
	if len(problems) == 0 {
		var p plan.Plan
		if p, problems = plan.Make(context.Background(), in); len(problems) == 0 {
			return p
		}
	}
	t.Fatal(problems)
	return plan.Plan{}
}

// The solids of a piece whose joints are tongues in cuts fill each other but for the room for glue: all together they hold as
// much wood as the boxes of the parts, less the room behind the tongues.
func TestSolidsOfEveryKindFillEachOther(t *testing.T) {
	for _, k := range trial.SomeKinds() {
		p := kindPlan(t, trial.KindPiece(t, k))
		for _, left := range NotCut(p) {
			if k != joint.Screws || !strings.Contains(left, "bore") {
				t.Errorf("%s: no solid: %s", k, left)
			}
		}
		boxes, wood, room, tongues := 0.0, 0.0, 0.0, true
		for _, part := range p.Assembly.Parts {
			body, err := part.Body()
			if err != nil {
				t.Fatal(err)
			}
			boxes += part.Length.MM() * part.Width.MM() * part.Thickness.MM()
			wood += body.Volume
			for _, f := range part.Features {
				switch f.Kind {
				case assembly.Bore, assembly.Slot:
					tongues = false
				case assembly.Tenon:
					tongues = tongues && !f.Rounded
					room -= f.Length.MM() * f.Width.MM() * f.Depth.MM()
				default:
					tongues = tongues && !f.Rounded
					room += f.Length.MM() * f.Width.MM() * f.Depth.MM()
				}
			}
		}
		if tongues && math.Abs(boxes-room-wood) > 1e-6*boxes {
			t.Errorf("%s: %.0f mm³ of wood in boxes of %.0f with %.0f of room", k, wood, boxes, room)
		}
		if _, err := inSTEP(p); err != nil {
			t.Errorf("%s: %v", k, err)
		}
	}
}
