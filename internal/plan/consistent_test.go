package plan

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"longgrain/internal/check/structure"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/cost"
	"longgrain/internal/work/cutting"
)

// consistent adds the numbers of a plan up again, each from others of the same plan.
func consistent(t testing.TB, p Plan) {
	t.Helper()
	consistentParts(t, p)
	consistentJoints(t, p)
	consistentChecks(t, p)
	consistentBoards(t, p)
	consistentChapters(t, p)
	if _, err := json.Marshal(p); err != nil {
		t.Errorf("%s: %v", p.Name, err)
	}
}

func consistentParts(t testing.TB, p Plan) {
	t.Helper()
	mass, names := 0.0, map[string]bool{}
	for _, part := range p.Assembly.Parts {
		species, ok := wood.Lookup(part.Species)
		density, okDensity := species.Density(moisture(p.Shop))
		if !ok || !okDensity {
			t.Fatalf("%s of %q", part.Name, part.Species)
		}
		volume := part.Length.Metres() * part.Width.Metres() * part.Thickness.Metres()
		for _, f := range part.Features {
			if f.Kind == assembly.TaperCut {
				volume -= f.Length.Metres() * f.Depth.Metres() / 2 * part.Size(3-f.Side.Axis()).Metres()
			}
		}
		mass += float64(density.Value) * volume
		if names[part.Name] || names[part.Mark] || part.Mark == "" {
			t.Errorf("two parts are called %s or %s", part.Name, part.Mark)
		}
		names[part.Name], names[part.Mark] = true, true
	}
	if len(p.Structure.Findings) == 0 && math.Abs(mass-p.Structure.Mass) > 1e-9*mass {
		t.Errorf("parts weigh %.6f kg, the frame %.6f", mass, p.Structure.Mass)
	}
	grouped := 0
	for _, g := range p.Cutting.Groups {
		grouped += len(g.Parts)
	}
	if grouped != len(p.Assembly.Parts) {
		t.Errorf("%d of %d parts are cut", grouped, len(p.Assembly.Parts))
	}
	if sheets := len(p.Markout.Sheets); sheets != len(p.Assembly.Parts) {
		marked := map[int]bool{}
		for _, s := range p.Markout.Sheets {
			marked[s.Part] = true
		}
		for i, part := range p.Assembly.Parts {
			if len(part.Features) > 0 && !marked[i] {
				t.Errorf("%s has cuts and no sheet", part.Name)
			}
		}
	}
}

// consistentJoints checks that every connection has one joint, cut into both parts so that they mate.
func consistentJoints(t testing.TB, p Plan) {
	t.Helper()
	times := map[int]int{}
	for _, g := range p.Joints {
		for _, c := range g.Connections {
			times[c]++
			if g.Made {
				mated(t, p, p.Assembly.Connections[c], g.Final.Joint)
			}
		}
		if !g.Made {
			if g.Choice.Why == "" {
				t.Errorf("%s is not made and nobody says why", p.GroupName(g))
			}
			continue
		}
		if g.Final.Verdict != joint.VerdictOf(g.Final.Reserve, p.Wanted) || math.IsNaN(float64(g.Final.Reserve)) || g.Final.Reserve < 0 {
			t.Errorf("%s: reserve %v is %q", p.GroupName(g), float64(g.Final.Reserve), g.Final.Verdict)
		}
		if len(p.Structure.Findings) == 0 && g.Final.Worst >= 0 {
			again := joint.Check(g.Final.Joint, []joint.Forces{g.Forces}, p.Wanted)
			if math.Abs(float64(again.Reserve-g.Final.Reserve)) > 1e-9 || g.Where == "" || g.Case == "" {
				t.Errorf("%s: reserve %v, from its forces %v, at %q under %q", p.GroupName(g), g.Final.Reserve, again.Reserve, g.Where, g.Case)
			}
		}
	}
	for _, m := range p.Markout.Mates {
		for _, d := range m.Directions {
			if d.Marked != d.Designed && !d.Same && d.Marked == 0 {
				t.Errorf("a pair of cuts lies apart: %+v", d)
			}
		}
	}
	for i, c := range p.Assembly.Connections {
		joined := c.Purpose == assembly.Joint
		if joined != (times[i] == 1) || times[i] > 1 {
			t.Errorf("%s is in %d groups of joints", c.Name, times[i])
		}
	}
}

func mated(t testing.TB, p Plan, c assembly.Connection, j joint.Joint) {
	t.Helper()
	of := func(at assembly.Place) (out []assembly.Feature) {
		for _, f := range p.Assembly.Parts[at.Part].Features {
			if f.For == c.Name && f.Side == at.Side {
				if f.Kind == assembly.Groove || f.Kind == assembly.Rebate {
					f.U, f.V = f.U+f.Length/2, f.V+f.Width/2
				}
				out = append(out, f)
			}
		}
		return out
	}
	a, b := of(c.A), of(c.B)
	if len(a) == 0 {
		return // plain glue, pocket holes in the face, blocks in the corner
	}
	if len(a) != len(b) || len(a) < j.Sizes.Count {
		t.Errorf("%s: %s cuts %d and %d", c.Name, j.Describe(), len(a), len(b))
		return
	}
	for i := range b {
		if c.Lap > 0 {
			continue // each is cut from its own side
		}
		at := p.Assembly.Parts[c.A.Part].OnSide(a[i].Side, a[i].U, a[i].V, 0)
		if d := at.Distance(p.Assembly.Parts[c.B.Part].OnSide(b[i].Side, b[i].U, b[i].V, 0)); d > 1e-6 {
			t.Errorf("%s: cut %d is %v mm off its mate", c.Name, i, d)
		}
		if (a[i].Diameter != b[i].Diameter && j.Kind != joint.Screws) || max(a[i].Length, a[i].Width) != max(b[i].Length, b[i].Width) {
			t.Errorf("%s: %+v and %+v", c.Name, a[i], b[i])
		}
	}
}

func consistentChecks(t testing.TB, p Plan) {
	t.Helper()
	s := p.Structure
	for _, c := range slices.Concat(s.Members, s.Sway, s.Sag, s.Tipping) {
		verdict := joint.VerdictOf(c.Reserve, p.Wanted)
		if c.Wanted > 0 {
			verdict = joint.VerdictOf(c.Reserve, c.Wanted)
		}
		if c.Comfort {
			verdict = structure.ComfortVerdict(c.Reserve)
		}
		reserve := math.Inf(1)
		if c.Demand.Number > 0 {
			reserve = c.Capacity.Number / c.Demand.Number
		}
		if math.IsNaN(c.Demand.Number) || c.Demand.Number < 0 || math.IsNaN(c.Capacity.Number) || float64(c.Reserve) != reserve ||
			c.Verdict != verdict || c.Demand.Unit != c.Capacity.Unit {
			t.Errorf("%s: %v of %v %s, reserve %v, %s", c.What, c.Demand.Number, c.Capacity.Number, c.Demand.Unit, float64(c.Reserve), c.Verdict)
		}
	}
	checks := p.HoldsChecks()
	if !slices.IsSortedFunc(checks, func(a, b structure.Check) int { return badness[string(b.Verdict)] - badness[string(a.Verdict)] }) {
		t.Error("the checks are not in order, worst first")
	}
	for _, f := range p.Fit {
		if f.What == "" || f.Advice == "" || f.At == (geom.Vec{}) {
			t.Errorf("%+v", f)
		}
	}
}

// consistentBoards counts the strips on the boards and the money.
func consistentBoards(t testing.TB, p Plan) {
	t.Helper()
	strips, labels := map[string]int{}, map[string]bool{}
	var bought unit.Money
	for _, b := range p.Cutting.Boards {
		if b.Source == cutting.Buy {
			bought += b.Price
		}
		for i, a := range b.Areas {
			if a.X < 0 || a.Y < 0 || a.X+a.L > b.Length || a.Y+a.W > b.Width {
				t.Errorf("%s leaves board %s", a.Label, b.Name)
			}
			if a.Kind != cutting.PartArea {
				continue
			}
			if labels[a.Label] {
				t.Errorf("%s is cut twice", a.Label)
			}
			labels[a.Label] = true
			strips[a.Part]++
			for _, o := range b.Areas[i+1:] {
				if a.X < o.X+o.L && o.X < a.X+a.L && a.Y < o.Y+o.W && o.Y < a.Y+a.W {
					t.Errorf("%s and %s %s share wood of board %s", a.Label, o.Kind, o.Label, b.Name)
				}
			}
		}
	}
	for i, g := range p.Cutting.Groups {
		w := p.Cutting.Ways[i]
		for _, index := range g.Parts {
			name := p.Assembly.Parts[index].Name
			if len(p.Cutting.Findings) == 0 && strips[name] != w.Pieces*p.Copies {
				t.Errorf("%s has %d of %d strips", name, strips[name], w.Pieces*p.Copies)
			}
		}
	}
	if bought != p.Cutting.Cost {
		t.Errorf("boards cost %v, the plan says %v", bought, p.Cutting.Cost)
	}
	var total unit.Money
	for _, r := range p.Cost.Rows {
		total += r.Total
	}
	if total != p.Cost.Total || p.Cost.Sums[cost.Timber] != p.Cutting.Cost {
		t.Errorf("rows cost %v of %v, timber %v of %v", total, p.Cost.Total, p.Cost.Sums[cost.Timber], p.Cutting.Cost)
	}
}

func consistentChapters(t testing.TB, p Plan) {
	t.Helper()
	seen := map[string]bool{}
	worst := ""
	for _, c := range p.Chapters {
		if c.Answer == "" || c.Title == "" || seen[c.ID] || strings.Contains(c.Answer, "NaN") || strings.Contains(c.Answer, "Inf") || strings.Contains(c.Answer, "%!") {
			t.Errorf("chapter %+v", c)
		}
		seen[c.ID] = true
		if worse(c.Word, worst) {
			worst = c.Word
		}
	}
	if p.Verdict.Answer == "" || (len(p.Structure.Findings) > 0 && p.Verdict.Word != string(joint.DoesNotHold)) {
		t.Errorf("verdict %+v, chapters at worst %q, findings %v", p.Verdict, worst, p.Structure.Findings)
	}
	if size := fmt.Sprintf("%d parts", len(p.Assembly.Parts)); !strings.HasPrefix(p.Chapters[0].Answer, size) {
		t.Errorf("%q does not begin with %q", p.Chapters[0].Answer, size)
	}
}
