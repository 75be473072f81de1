package markout_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trial"
	"longgrain/internal/work/markout"
)

const mm = unit.Millimetre

func playTable(t testing.TB) assembly.Assembly {
	t.Helper()
	return trial.Dowelled(trial.Assembly(t, trial.KeptTable))
}

func TestRailsAreMeasuredFromOuterFaceAndUpperEdge(t *testing.T) {
	a := playTable(t)
	m := markout.Make(a, markout.Options{})
	want := map[string][3]string{
		"apron front":     {"the front face", "the upper edge", "the left end"},
		"apron back":      {"the back face", "the upper edge", "the right end"},
		"apron left":      {"the left face", "the upper edge", "the back end"},
		"low rail right":  {"the right face", "the upper edge", "the front end"},
		"leg front left":  {"the front side", "the left side", "the upper end"},
		"leg front right": {"the right side", "the front side", "the upper end"},
		"leg back right":  {"the back side", "the right side", "the upper end"},
		"top":             {"the upper face", "the front edge", "the left end"},
	}
	for name, w := range want {
		i, _ := a.PartNamed(name)
		s := m.Sheets[i]
		if got := [3]string{s.FaceName, s.EdgeName, s.EndName}; got != w {
			t.Errorf("%s: %v, want %v", name, got, w)
		}
	}
}

func TestMarksAreMeasuredFromTheReferences(t *testing.T) {
	a := playTable(t)
	m := markout.Make(a, markout.Options{})
	i, _ := a.PartNamed("apron front")
	var onEnd []string
	for _, k := range m.Sheets[i].Marks {
		if k.Side == assembly.EndLow {
			onEnd = append(onEnd, fmt.Sprint(k.Along.MM(), k.Across.MM(), k.Stop.MM()))
		}
	}
	slices.Sort(onEnd)
	if want := []string{"12 9.5 30", "44.5 9.5 30", "77 9.5 30"}; !slices.Equal(onEnd, want) {
		t.Errorf("end of an apron: %v, want %v", onEnd, want)
	}
	j, _ := a.PartNamed("leg front left")
	var onLeg []string
	for _, k := range m.Sheets[j].Marks {
		if k.For == "apron front to leg front left" {
			onLeg = append(onLeg, fmt.Sprint(k.Along.MM(), k.Across.MM()))
		}
	}
	slices.Sort(onLeg)
	if want := []string{"12 12.5", "44.5 12.5", "77 12.5"}; !slices.Equal(onLeg, want) {
		t.Errorf("leg: %v, want %v", onLeg, want)
	}
}

// tables are random play tables, some in inches with sizes that lie on no mark.
func table(r *rand.Rand) (text string, smallest unit.Length) {
	n := func(lo, hi int) int { return lo + r.IntN(hi-lo+1) }
	below := []string{"nothing", "low rails", "shelf"}[r.IntN(3)]
	step, name, smallest := 0.1, "mm", unit.Millimetre/2
	if r.IntN(2) == 0 {
		step, name, smallest = 1.0/64, "in", unit.Inch/32
	}
	size := func(lo, hi int) string { return fmt.Sprintf("%.10g %s", float64(n(lo, hi))*step, name) }
	scale := 1000
	if name == "in" {
		scale = 250
	}
	text = fmt.Sprintf(`longgrain: 1
name: Random table
pattern: leg-and-apron-table
sizes:
  length: %s
  width: %s
  height: %s
  overhang: %s
  leg: %s
  apron_width: %s
  apron_thickness: %s
  set_back: %s
  below: %s
  below_height: %s
  rail_width: %s
`, size(5*scale, 12*scale), size(4*scale, 8*scale), size(42*scale/10, 10*scale), size(0, 8*scale/10), size(4*scale/10, 7*scale/10),
		size(6*scale/10, 12*scale/10), size(2*scale/10, 3*scale/10), size(0, scale/10), below, size(6*scale/10, 9*scale/10), size(4*scale/10, 6*scale/10))
	return text, smallest
}

func TestMatesAgreeForRandomTables(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 200 {
		text, smallest := table(r)
		a := trial.Dowelled(trial.Assembly(t, text))
		m := markout.Make(a, markout.Options{Smallest: smallest})
		if len(m.Mates) == 0 {
			t.Fatalf("table %d: no mates", n)
		}
		for _, mate := range m.Mates {
			onA, onB := m.Sheets[mate.A.Part].Marks[mate.A.Mark], m.Sheets[mate.B.Part].Marks[mate.B.Mark]
			for _, k := range []markout.Mark{onA, onB} {
				if k.Along%smallest != 0 || k.Across%smallest != 0 {
					t.Fatalf("table %d: %s is not on a mark: %v %v\n%s", n, k.For, k.Along, k.Across, text)
				}
			}
			for _, d := range mate.Directions {
				if d.Designed.Abs() > 1000*unit.Nanometre || d.Marked != 0 || !d.Same || d.Moved().Abs() > smallest/2 {
					t.Fatalf("table %d: %s: %+v\n%s", n, onA.For, d, text)
				}
			}
			checkInTheWorld(t, a, m, mate)
		}
	}
}

// checkInTheWorld follows both mark-outs with the parts where they are designed to be: what is left
// between the two marks must be exactly what rounding the set-back moves the parts.
func checkInTheWorld(t *testing.T, a assembly.Assembly, m markout.Markout, mate markout.Mate) {
	t.Helper()
	p, q := a.Parts[mate.A.Part], a.Parts[mate.B.Part]
	onA, onB := m.Sheets[mate.A.Part].Marks[mate.A.Mark], m.Sheets[mate.B.Part].Marks[mate.B.Mark]
	ua, va := onA.At(p)
	ub, vb := onB.At(q)
	gap := p.OnSide(onA.Side, ua, va, 0).Sub(q.OnSide(onB.Side, ub, vb, 0))
	for i, from := range [2]assembly.Side{onA.AlongFrom, onA.AcrossFrom} {
		inward := p.Outward(from).Neg()
		d := mate.Directions[i]
		left := gap.Dot(inward) + d.Moved().MM()
		if !d.Same {
			left = gap.Dot(inward) - d.Moved().MM()
		}
		if left > 2e-3 || left < -2e-3 {
			t.Errorf("%s: %v mm left between the marks in direction %d", onA.For, left, i)
		}
	}
}

func TestACutThatMissesItsMateIsSeen(t *testing.T) {
	a := playTable(t)
	i, _ := a.PartNamed("apron front")
	a.Parts[i].Features[0].V += 2 * mm
	m := markout.Make(a, markout.Options{})
	d := m.Mates[0].Directions[1]
	if d.Designed != 2*mm || d.Marked != 2*mm {
		t.Errorf("designed %v, marked %v", d.Designed, d.Marked)
	}
}

func TestEqualLegsAreOneShape(t *testing.T) {
	a := playTable(t)
	m := markout.Make(a, markout.Options{})
	i, _ := a.PartNamed("leg front left")
	if s := m.Sheets[i]; len(s.Alike) != 3 || len(s.Mirrors) != 0 {
		t.Errorf("alike %v, mirrors %v", s.Alike, s.Mirrors)
	}
	for _, leg := range a.WithRole("leg") {
		if m.Sheets[leg].SameAs != i {
			t.Errorf("%s does not read like %s", a.Parts[leg].Name, a.Parts[i].Name)
		}
	}
}

func TestMirroredLegsAreToldApart(t *testing.T) {
	a := playTable(t)
	// A screw hole in the side that carries the front or back apron makes left and right legs differ.
	added := map[int][]assembly.Feature{}
	for _, c := range a.Connections {
		if c.Purpose == assembly.Joint && (strings.HasPrefix(c.Name, "apron front") || strings.HasPrefix(c.Name, "apron back")) {
			added[c.B.Part] = append(added[c.B.Part], assembly.Feature{
				Kind: assembly.Bore, Side: c.B.Side, U: 250 * mm, V: 24 * mm, Diameter: 4 * mm, Depth: 20 * mm})
		}
	}
	a = a.WithFeatures(added)
	m := markout.Make(a, markout.Options{})
	at := func(name string) int { i, _ := a.PartNamed(name); return i }
	s := m.Sheets[at("leg front left")]
	if !slices.Equal(s.Alike, []int{at("leg back right")}) {
		t.Errorf("alike: %v", s.Alike)
	}
	if want := []int{at("leg front right"), at("leg back left")}; !slices.Equal(s.Mirrors, want) {
		t.Errorf("mirrors: %v, want %v", s.Mirrors, want)
	}
	if other := m.Sheets[at("leg front right")]; other.SameAs == s.SameAs {
		t.Error("mirror images share a sheet")
	}
}

func TestOneFenceServesAllRailsAndLegs(t *testing.T) {
	a := playTable(t)
	m := markout.Make(a, markout.Options{})
	if len(m.Setups) != 1 {
		t.Fatalf("%d set-ups: %+v", len(m.Setups), m.Setups)
	}
	got := m.Setups[0].Sentence(unit.Metric)
	for _, want := range []string{"Bit 10 mm, fence 12.5 mm", "Straight against the fence: two sides of all four legs, stop at 30 mm",
		"With a strip of 3 mm between fence and part: both ends of"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
}

func TestGlueSpaceDeepensTheStop(t *testing.T) {
	m := markout.Make(playTable(t), markout.Options{GlueSpace: 2 * mm})
	for _, s := range m.Sheets {
		for _, k := range s.Marks {
			if k.Stop != 32*mm || k.Depth != 30*mm {
				t.Fatalf("stop %v", k.Stop)
			}
		}
	}
}

func TestAStickCarriesThePositionsOfAJoint(t *testing.T) {
	a := playTable(t)
	m := markout.Make(a, markout.Options{})
	if len(m.Sticks) != 2 {
		t.Fatalf("%d sticks: %+v", len(m.Sticks), m.Sticks)
	}
	s := m.Sticks[0]
	if !slices.Equal(s.Marks, []unit.Length{12 * mm, 44*mm + mm/2, 77 * mm}) || len(s.Rows) != 2 {
		t.Errorf("%+v", s)
	}
}

func TestTheFenceBeatsTheRule(t *testing.T) {
	m := markout.Make(playTable(t), markout.Options{})
	if len(m.Joints) == 0 {
		t.Fatal("no joints")
	}
	j := m.Joints[0]
	rule, fence := j.Ways[0], j.Ways[1]
	for _, c := range []struct {
		name          string
		got           markout.Spread
		worst, square float64
	}{
		// By hand: 2·0.25 + 2·0.2 + 2·0.3 + 2·0.01·15 = 1.8; squares 2·(0.0625+0.04+0.09+0.0225) = 0.43.
		{"rule, along", rule.Along, 1.8, 0.43},
		{"rule, across", rule.Across, 1.8, 0.43},
		// 2·0.2 + 2·0.3 + 2·0.15; squares 2·(0.04+0.09+0.0225).
		{"stick", fence.Along, 1.3, 0.305},
		// 2·0.1 + 0.1 for the strip + 2·0.15; squares 3·0.01 + 2·0.0225.
		{"fence", fence.Across, 0.6, 0.075},
	} {
		if math.Abs(c.got.Shift.Worst-c.worst) > 1e-9 || math.Abs(c.got.Shift.Likely*c.got.Shift.Likely-c.square) > 1e-9 {
			t.Errorf("%s: worst %v, likely² %v, want %v and %v", c.name, c.got.Shift.Worst, c.got.Shift.Likely*c.got.Shift.Likely, c.worst, c.square)
		}
	}
	// Between two bores, each with its own run-out, twice: 2·2·0.15.
	if math.Abs(fence.Across.Fit.Worst-0.6) > 1e-9 || rule.Along.Most != "Drill set on the mark by eye" {
		t.Errorf("rule %+v, fence %+v", rule, fence)
	}
	if len(m.Working) == 0 || m.Working[0].Inputs[1].Cite.Confidence != "assumed" {
		t.Error("the working does not say what is assumed")
	}
}

func TestMarkoutIsTheSameEveryTime(t *testing.T) {
	a := playTable(t)
	first := fmt.Sprintf("%+v", markout.Make(a, markout.Options{}).Setups)
	for range 5 {
		if again := fmt.Sprintf("%+v", markout.Make(a, markout.Options{}).Setups); again != first {
			t.Fatal("two runs differ")
		}
	}
}

func BenchmarkMarkout(b *testing.B) {
	a := playTable(b)
	for b.Loop() {
		markout.Make(a, markout.Options{})
	}
}

func TestTenonAndMortiseShareTheirNearEnd(t *testing.T) {
	a := trial.Assembly(t, `
longgrain: 1
name: Table
pattern: leg-and-apron-table
sizes: {apron_width: 83.7 mm, apron_thickness: 18.3 mm}
`)
	added := map[int][]assembly.Feature{}
	for _, c := range a.Connections {
		if c.Purpose != assembly.Joint {
			continue
		}
		f := assembly.Feature{Kind: assembly.Tenon, Side: c.A.Side, Length: 60 * mm, Width: 6 * mm, Depth: 24 * mm, For: c.Name}
		f.U, f.V = c.A.Area.Centre()
		g := assembly.Feature{Kind: assembly.Mortise, Side: c.B.Side, Length: 60 * mm, Width: 6 * mm, Depth: 26 * mm, For: c.Name}
		g.U, g.V = c.B.Area.Centre()
		added[c.A.Part], added[c.B.Part] = append(added[c.A.Part], f), append(added[c.B.Part], g)
	}
	m := markout.Make(a.WithFeatures(added), markout.Options{})
	if len(m.Mates) != 8 {
		t.Fatalf("%d mates", len(m.Mates))
	}
	for _, mate := range m.Mates {
		onA, onB := m.Sheets[mate.A.Part].Marks[mate.A.Mark], m.Sheets[mate.B.Part].Marks[mate.B.Mark]
		if !slices.Equal(onA.AlongStations(), onB.AlongStations()) {
			t.Errorf("%s: %v on the rail, %v on the leg", onA.For, onA.AlongStations(), onB.AlongStations())
		}
		for _, l := range slices.Concat(onA.AlongStations(), onA.AcrossStations(), onB.AcrossStations()) {
			if l%(mm/2) != 0 {
				t.Errorf("%s: %v is on no mark", onA.For, l)
			}
		}
	}
}

func TestMatesMeasuredFromOppositeSidesAgreeAndSayWhatTheyDependOn(t *testing.T) {
	// The shelf lies in the middle and is measured from its front; the cleat at the back is measured from
	// its back. The width of the shelf comes in as an error.
	a := trial.Assembly(t, `
longgrain: 1
name: Ledge
parts:
  - {name: shelf, role: shelf, length: 600 mm, width: 200.3 mm, thickness: 18 mm, at: [0 mm, 0 mm, 40 mm], along: x, across: y}
  - {name: cleat, role: cleat, length: 600 mm, width: 40 mm, thickness: 20 mm, at: [0 mm, 180.3 mm, 0 mm], along: x, across: z}
connections:
  - between: [cleat, shelf]
`)
	c := a.Connections[0]
	added := map[int][]assembly.Feature{}
	for _, x := range []unit.Length{50 * mm, 300*mm + mm/10, 550 * mm} {
		// Both parts lie along x; the middle of the cleat is 190.3 mm from the front.
		at := map[string]unit.Length{"shelf": 190*mm + 3*mm/10, "cleat": 10 * mm}
		for _, p := range []assembly.Place{c.A, c.B} {
			added[p.Part] = append(added[p.Part], trial.Bore(p.Side, x, at[a.Parts[p.Part].Name], c.Name))
		}
	}
	m := markout.Make(a.WithFeatures(added), markout.Options{})
	if len(m.Mates) != 3 {
		t.Fatalf("%d mates", len(m.Mates))
	}
	opposite := false
	for _, mate := range m.Mates {
		for _, d := range mate.Directions {
			opposite = opposite || !d.Same
			if d.Designed != 0 || d.Marked != 0 || d.Moved().Abs() > mm/4 {
				t.Errorf("%+v", d)
			}
		}
		checkInTheWorld(t, a, m, mate)
	}
	if !opposite {
		t.Error("both parts are measured from sides that look the same way")
	}
	sizeCounts := false
	for _, s := range m.Working {
		sizeCounts = sizeCounts || strings.Contains(s.Inputs[len(s.Inputs)-1].Name, "width or thickness")
	}
	if !sizeCounts {
		t.Error("the size of the part is no error")
	}
}

func TestEveryMarkIsRoundedAndNoneIsChained(t *testing.T) {
	a := playTable(t)
	m := markout.Make(a, markout.Options{Smallest: mm})
	for _, s := range m.Sheets {
		for _, k := range s.Marks {
			if k.Along%mm != 0 || k.Across%mm != 0 {
				t.Errorf("%s: %v, %v", k.For, k.Along, k.Across)
			}
			r := s.References
			for _, from := range []assembly.Side{k.AlongFrom, k.AcrossFrom} {
				if from != r.Face && from != r.Edge && from != r.End {
					t.Errorf("%s is measured from %v", k.For, from)
				}
			}
		}
	}
}
