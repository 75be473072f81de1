package structure

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/spaceframe"
	"longgrain/internal/trial"
)

// balanced is how far forces may be out of balance, as a share of the largest: rounding leaves some 1e-12.
const balanced = 1e-9

// Every case of every piece is in balance: what the ground gives is the weight and the load, in all three directions and about all
// three axes, and nothing is left at a node.
func TestEveryCaseIsInBalance(t *testing.T) {
	pieces := everyUse()
	pieces["backed"], pieces["thirty"] = backed(6), thirtyParts()
	for name, text := range pieces {
		a := trial.Assembly(t, text)
		f := newFrame(a, strongest(t, a), 9)
		cases := f.cases()
		loads := make([]spaceframe.Case, len(cases))
		for i, c := range cases {
			loads[i] = c.load
		}
		result := spaceframe.Solve(f.model, loads, spaceframe.Options{})
		for i := range result.Cases {
			c := &result.Cases[i]
			if c.Status != spaceframe.Solved {
				t.Errorf("%s, %s: %s", name, c.Name, c.Status)
				continue
			}
			if c.Residual > balanced {
				t.Errorf("%s, %s: %v left over at a node", name, c.Name, c.Residual)
			}
			sum := appliedTo(f, loads[i])
			most, length := 0.0, 0.0
			for k, n := range f.model.Nodes {
				r := c.Reaction[k]
				for d := range 3 {
					sum[d] += r[d]
					sum[3+d] += r[3+d]
					most, length = math.Max(most, math.Abs(r[d])), math.Max(length, math.Abs(n.At[d]))
				}
				sum[3] += n.At[1]*r[2] - n.At[2]*r[1]
				sum[4] += n.At[2]*r[0] - n.At[0]*r[2]
				sum[5] += n.At[0]*r[1] - n.At[1]*r[0]
			}
			for d := range 6 {
				limit := balanced * most
				if d >= 3 {
					limit *= length
				}
				if math.Abs(sum[d]) > 10*limit { // some dozens of reactions are added up
					t.Errorf("%s, %s: %v out of balance in direction %d, largest reaction %v N", name, c.Name, sum[d], d, most)
				}
			}
		}
	}
}

// appliedTo adds up the loads of a case, weight included, as a force and its moment about the corner of the room.
func appliedTo(f *frame, c spaceframe.Case) (sum [6]float64) {
	put := func(at, force, moment spaceframe.Vec) {
		for d := range 3 {
			e, g := (d+1)%3, (d+2)%3
			sum[d] += force[d]
			sum[3+d] += at[e]*force[g] - at[g]*force[e] + moment[d]
		}
	}
	at := map[string]spaceframe.Vec{}
	for _, n := range f.model.Nodes {
		at[n.Name] = n.At
	}
	along := func(name string, x float64) (from, here spaceframe.Vec, length, weight float64) {
		for _, m := range f.model.Members {
			if m.Name != name {
				continue
			}
			var to spaceframe.Vec
			for d := range 3 {
				from[d], to[d] = at[m.I][d]+m.OffsetI[d], at[m.J][d]+m.OffsetJ[d]
				length += (to[d] - from[d]) * (to[d] - from[d])
			}
			length = math.Sqrt(length)
			for d := range 3 {
				here[d] = from[d] + (to[d]-from[d])*x/length
			}
			return from, here, length, m.Material.Density * m.Section.Area * length
		}
		return from, here, 0, 0
	}
	for _, l := range c.Nodal {
		put(at[l.Node], l.Force, l.Moment)
	}
	for _, l := range c.Point {
		_, here, _, _ := along(l.Member, l.At)
		put(here, l.Force, l.Moment)
	}
	for _, l := range c.Spread { // only whole members under one load each
		_, _, length, _ := along(l.Member, 0)
		_, middle, _, _ := along(l.Member, length/2)
		put(middle, scale(l.Start, length), spaceframe.Vec{})
	}
	for _, m := range f.model.Members {
		_, _, length, mass := along(m.Name, 0)
		_, middle, _, _ := along(m.Name, length/2)
		put(middle, scale(c.Gravity, mass), spaceframe.Vec{})
	}
	return sum
}

// Joints that are stiffer in every direction never let a piece sway more.
func TestStifferJointsNeverSwayMore(t *testing.T) {
	for name, text := range everyUse() {
		a := trial.Assembly(t, text)
		js := strongest(t, a)
		last := math.Inf(1)
		for _, by := range []float64{0.2, 1, 3, 20} {
			stiff := make([]*joint.Joint, len(js))
			for i, j := range js {
				if j == nil {
					continue
				}
				k := *j
				k.Stiffness.Axial *= unit.NewtonsPerMillimetre(by)
				k.Stiffness.Shear *= unit.NewtonsPerMillimetre(by)
				k.Stiffness.BendU *= unit.NewtonMetresPerRadian(by)
				k.Stiffness.BendV *= unit.NewtonMetresPerRadian(by)
				k.Stiffness.Twist *= unit.NewtonMetresPerRadian(by)
				stiff[i] = &k
			}
			f := newFrame(a, stiff, 9)
			for _, w := range f.leanings() {
				if w.where != "" {
					continue
				}
				// The movement where the push acts, in its direction, is twice the work: it can only fall.
				if w.way.word == "right" {
					if w.moving > last*(1+1e-9) {
						t.Errorf("%s: %v mm/N with joints %v times as stiff, %v before", name, w.moving, by, last)
					}
					last = w.moving
				}
			}
		}
	}
}

// The same piece in inches gives the same answer: 25.4 mm is an inch exactly.
func TestUnitsChangeNothing(t *testing.T) {
	parts, connections := frameOf(711.2, 406.4, 508, 44.45, 19.05, 82.55, 3.175)
	parts = append(parts, "name: top, role: top, length: 806.45 mm, width: 501.65 mm, thickness: 19.05 mm, at: [-25.4 mm, -25.4 mm, 508 mm], along: x, across: y")
	for _, side := range []string{"front", "back", "left", "right"} {
		connections = append(connections, "between: [apron "+side+", top], purpose: top fastening")
	}
	number := regexp.MustCompile(`(-?[0-9.]+) mm`)
	in := func(unit string, per float64) string {
		return number.ReplaceAllStringFunc(pieceOf("table", parts, connections), func(s string) string {
			x, err := strconv.ParseFloat(strings.TrimSuffix(s, " mm"), 64)
			if err != nil {
				t.Fatal(s)
			}
			return strconv.FormatFloat(math.Round(x/per*1e7)/1e7, 'f', -1, 64) + " " + unit
		})
	}
	metric, inches := in("mm", 1), in("in", 25.4)
	a, b := trial.Assembly(t, metric), trial.Assembly(t, inches)
	js := strongest(t, a)
	x, y := Analyse(a, js, 1.3, 9), Analyse(b, js, 1.3, 9)
	if len(x.Findings)+len(y.Findings) > 0 || len(x.Members) != len(y.Members) || len(x.Cases) != len(y.Cases) {
		t.Fatal(x.Findings, y.Findings, len(x.Members), len(y.Members))
	}
	for i := range x.Members {
		near(t, x.Members[i].What, y.Members[i].Demand.Number, x.Members[i].Demand.Number, 1e-6)
	}
	for i := range x.Sway {
		near(t, x.Sway[i].What, y.Sway[i].Demand.Number, x.Sway[i].Demand.Number, 1e-6)
	}
	for i := range x.Tipping {
		near(t, x.Tipping[i].What, y.Tipping[i].Demand.Number, x.Tipping[i].Demand.Number, 1e-6)
	}
}

// thirtyParts is a tall rack of five levels between four posts: four rails and a shelf at each, and a cross rail.
func thirtyParts() string {
	const x, y, post, thick, wide = 700.0, 350.0, 45.0, 20.0, 50.0
	var parts, connections []string
	for _, p := range []struct {
		name string
		x, y float64
	}{{"front left", 0, 0}, {"front right", x, 0}, {"back left", 0, y}, {"back right", x, y}} {
		parts = append(parts, fmt.Sprintf("name: post %s, role: leg, length: 1500 mm, width: %v mm, thickness: %v mm, at: [%v mm, %v mm, 0 mm], along: z, across: x", p.name, post, post, p.x, p.y))
	}
	for level := range 5 {
		z := 100 + float64(level)*337.5
		rail := func(side string, length, ax, ay float64, along string, ends ...string) {
			parts = append(parts, fmt.Sprintf("name: rail %s %d, role: rail, length: %v mm, width: %v mm, thickness: %v mm, at: [%v mm, %v mm, %v mm], along: %s, across: z", side, level, length, wide, thick, ax, ay, z, along))
			for _, e := range ends {
				connections = append(connections, fmt.Sprintf("between: [rail %s %d, post %s]", side, level, e))
			}
		}
		rail("front", x-post, post, 12, "x", "front left", "front right")
		rail("back", x-post, post, y+13, "x", "back left", "back right")
		rail("left", y-post, 12, post, "y", "front left", "back left")
		rail("right", y-post, x+13, post, "y", "front right", "back right")
		shelf := fmt.Sprintf("shelf %d", level)
		parts = append(parts, fmt.Sprintf("name: %s, role: shelf, length: %v mm, width: %v mm, thickness: 20 mm, at: [%v mm, 12 mm, %v mm], along: x, across: y", shelf, x-post, y+21, post, z+wide))
		for _, side := range []string{"front", "back"} {
			connections = append(connections, fmt.Sprintf("between: [rail %s %d, %s], purpose: top fastening", side, level, shelf))
		}
	}
	parts = append(parts, fmt.Sprintf("name: cross rail, role: rail, length: %v mm, width: 45 mm, thickness: 20 mm, at: [%v mm, 170 mm, 777 mm], along: x, across: z", x-19, 32.0))
	connections = append(connections, "between: [cross rail, rail left 2]", "between: [cross rail, rail right 2]")
	return pieceOf("shelf", parts, connections)
}

func TestTheRackHasThirtyParts(t *testing.T) {
	a := trial.Assembly(t, thirtyParts())
	got := Analyse(a, strongest(t, a), 1.3, 9)
	if len(a.Parts) != 30 || len(got.Findings) > 0 {
		t.Errorf("%d parts, %v", len(a.Parts), got.Findings)
	}
}

// BenchmarkThirtyParts works out all load cases of a piece of 30 parts: the frame, its cases and the forces at every joint.
func BenchmarkThirtyParts(b *testing.B) {
	a := trial.Assembly(b, thirtyParts())
	js := strongest(b, a)
	b.ReportAllocs()
	for b.Loop() {
		Forces(a, js, 9)
	}
}

// BenchmarkThirtyPartsJudged works out every check of it as well.
func BenchmarkThirtyPartsJudged(b *testing.B) {
	a := trial.Assembly(b, thirtyParts())
	js := strongest(b, a)
	b.ReportAllocs()
	for b.Loop() {
		Analyse(a, js, 1.3, 9)
	}
}
