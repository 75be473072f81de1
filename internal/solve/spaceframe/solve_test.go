package spaceframe

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// table returns a four-leg table of 20 members on feet with a slack top, semi-rigid apron ends and a stretcher, with
// a rigid top if asked, and its load cases.
func table(leg float64, spring float64, rigidTop bool) Model {
	m := Model{}
	wood := Material{E: 8500, G: 531.25, Density: 5e-10} // t/mm3
	bar := func(name, i, j string, b, h float64, y Vec, k float64) {
		s := Springs{RY: k, RZ: k / 4}
		m.Members = append(m.Members, Member{Name: name, I: i, J: j, Section: Rectangle(b, h), Material: wood, YAxis: y, SpringsI: s, SpringsJ: s})
	}
	names := []string{"A", "B", "C", "D"}
	place := []Vec{{-450, -250, 0}, {450, -250, 0}, {450, 250, 0}, {-450, 250, 0}}
	up := Vec{0, 0, 1}
	for i, n := range names {
		m.Nodes = append(m.Nodes, Node{Name: n + " foot", At: place[i], Support: Foot(0)})
		for _, at := range []struct {
			name string
			z    float64
		}{{" low", 150}, {" apron", 655}, {" top", 700}} {
			m.Nodes = append(m.Nodes, Node{Name: n + at.name, At: place[i].plus(up.times(at.z))})
		}
		bar(n+" leg 1", n+" foot", n+" low", leg, leg, Vec{1, 0, 0}, math.Inf(1))
		bar(n+" leg 2", n+" low", n+" apron", leg, leg, Vec{1, 0, 0}, math.Inf(1))
		bar(n+" leg 3", n+" apron", n+" top", leg, leg, Vec{1, 0, 0}, math.Inf(1))
	}
	for i, n := range names {
		next := names[(i+1)%4]
		y := Vec{0, 1, 0}
		if i%2 == 1 {
			y = Vec{1, 0, 0}
		}
		bar(n+next+" apron", n+" apron", next+" apron", 20, 90, y, spring)
		bar(n+next+" rail", n+" low", next+" low", 20, 40, y, spring)
	}
	if rigidTop {
		m.Bodies = append(m.Bodies, Body{Name: "top", Nodes: []string{"A top", "B top", "C top", "D top"}, Plane: true, Normal: UZ})
	}
	return m
}

const earth = 9810 // mm/s2

func tableCases() []Case {
	weight := Vec{0, 0, -earth}
	var all []Case
	push := func(name, node string, f Vec) {
		all = append(all, Case{Name: name, Gravity: weight,
			Nodal:  []NodalLoad{{Node: node, Force: f}},
			Spread: []SpreadLoad{Uniform("AB apron", Vec{0, 0, -0.5}), Uniform("CD apron", Vec{0, 0, -0.5})}})
	}
	for _, n := range []string{"A", "B", "C", "D"} {
		push(n+" along", n+" top", Vec{100, 0, 0})
		push(n+" across", n+" top", Vec{0, 60, 0})
		push(n+" down", n+" top", Vec{0, 0, -500})
	}
	return all
}

func TestEveryCaseOfATableIsVerified(t *testing.T) {
	for _, rigid := range []bool{false, true} {
		m := table(45, 2e7, rigid)
		r := Solve(m, tableCases(), Options{})
		if r.Status != Solved {
			t.Fatalf("%v %v", r.Status, r.Findings)
		}
		for i, c := range tableCases() {
			if r.Cases[i].Residual > 1e-9 {
				t.Errorf("%s: residual %g", c.Name, r.Cases[i].Residual)
			}
			verified(t, m, c, &r.Cases[i])
		}
	}
}

func TestDivisionsDoNotChangeLinearAnswers(t *testing.T) {
	m := table(45, 2e7, true)
	one := Solve(m, tableCases(), Options{})
	four := Solve(m, tableCases(), Options{Divisions: 4})
	for i := range one.Cases {
		a, b := one.Cases[i].Member("AB apron"), four.Cases[i].Member("AB apron")
		for _, x := range []float64{0, 100, 450, 777, 900} {
			p, q := a.Along(x), b.Along(x)
			for d := range 6 {
				if math.Abs(p.Local[d]-q.Local[d]) > 1e-9 || math.Abs(p.Force[d]-q.Force[d]) > 1e-6 {
					t.Fatalf("case %d at %g: %v %v", i, x, p, q)
				}
			}
		}
	}
}

func TestPartialAndLinearLoadsAreExact(t *testing.T) {
	i, j := simple()
	m := beam(1000, Rectangle(20, 90), i, j)
	c := Case{Spread: []SpreadLoad{{Member: "beam", From: 200, To: 700, Start: Vec{0, -0.3, -1}, End: Vec{0, 0.2, -3}}}}
	r := solved(t, m, c, Options{})
	// Resultant 1000 N at 200 + 500 (1+2*3)/(3 (1+3)) = 491.67 mm from I.
	near(t, "reaction", r.ReactionAt("j")[UZ], 1000*(200+500*7.0/12)/1000, 1e-9)
	verified(t, m, c, r)
	cut := solved(t, m, c, Options{Divisions: 7})
	near(t, "same when cut", cut.Member("beam").Along(431).Local[UZ], r.Member("beam").Along(431).Local[UZ], 1e-9)
	peak := r.Member("beam").Peak(RY)
	for x := 0.0; x <= 1000; x++ {
		if f := math.Abs(r.Member("beam").Along(x).Force[RY]); f > 1.002*math.Abs(peak.Force[RY]) {
			t.Fatalf("moment %g at %g is above the peak %g", f, x, peak.Force[RY])
		}
	}
}

func TestReleasedEndsCarryNoMoment(t *testing.T) {
	m := beam(1000, Rectangle(20, 90), Fixed(), Fixed())
	m.Members[0].SpringsI = Springs{RY: 0, RZ: 0}
	m.Members[0].SpringsJ = Springs{RY: 0, RZ: 5e6, UX: 100}
	c := Case{
		Point:  []PointLoad{{Member: "beam", At: 300, Force: Vec{50, 20, -500}, Moment: Vec{100, 2000, -3000}}},
		Spread: []SpreadLoad{Uniform("beam", Vec{0.1, 0.2, -0.3})},
	}
	r := solved(t, m, c, Options{})
	if f := r.Member("beam").EndForce[0]; math.Abs(f[RY])+math.Abs(f[RZ]) > 1e-6 {
		t.Errorf("hinge carries %v", f)
	}
	verified(t, m, c, r)
}

func TestOffsetsAreRigidArms(t *testing.T) {
	// A cantilever whose node lies 100 beyond its end turns and sinks like a rigid arm there.
	m := beam(1000, Rectangle(20, 90), Fixed(), Support{})
	m.Members[0].OffsetI, m.Members[0].OffsetJ = Vec{50, 0, 30}, Vec{-100, 0, 30}
	c := Case{Nodal: []NodalLoad{{Node: "j", Force: Vec{7, 3, -100}}}}
	r := solved(t, m, c, Options{})
	near(t, "length", r.Member("beam").Length, 850, 1e-12)
	verified(t, m, c, r)
	end := r.Member("beam").Along(850).Global
	near(t, "node beyond the end", r.At("j")[UZ], end[UZ]-100*end[RY], 1e-9)
	near(t, "moment at the wall", r.ReactionAt("i")[RY], -100*1000, 1e-9)
}

func TestFootThatIsPulledLiftsAndTheRestIsSolvedAgain(t *testing.T) {
	m := table(45, 2e7, true)
	for i := range m.Nodes {
		if s := &m.Nodes[i].Support; s.Floor != nil {
			s.Floor = &Floor{Normal: UZ}
		}
	}
	c := Case{Gravity: Vec{0, 0, -earth}, Nodal: []NodalLoad{{Node: "A top", Force: Vec{0, 0, 20}}}}
	r := solved(t, m, c, Options{})
	if !slices.Equal(r.Lifted, []string{"A foot"}) {
		t.Errorf("lifted: %v", r.Lifted)
	}
	if r.ReactionAt("A foot") != (Vec6{}) {
		t.Errorf("lifted foot carries %v", r.ReactionAt("A foot"))
	}
	verified(t, m, c, r)

	c.Nodal[0].Force[UZ] = 60 // more than the table weighs
	if r := Solve(m, []Case{c}, Options{}); r.Status != TipsOver {
		t.Errorf("lifted off the floor: %v", r.Status)
	}
}

func TestTableTipsOver(t *testing.T) {
	m := topOnLegs(500, 0, 0) // outside the feet
	r := Solve(m, []Case{pressed(1000)}, Options{})
	if r.Status != TipsOver {
		t.Fatalf("%v %+v", r.Status, r.Cases)
	}
	if text := r.Cases[0].Findings[0].Message; !strings.Contains(text, `"foot mp"`) || !strings.Contains(text, "tips over") {
		t.Errorf("message %q", text)
	}
	m = topOnLegs(440, 0, 0) // just inside
	inside := pressed(1000)
	if r := solved(t, m, inside, Options{}); r.ReactionAt("foot pp")[UZ] < 480 {
		t.Errorf("%v", r.Reaction)
	}
}

func TestFrictionLimitsTheSidewaysForce(t *testing.T) {
	push := func(h float64) Case {
		c := pressed(400)
		c.Nodal[0].Force[UX] = h
		return c
	}
	m := topOnLegs(0, 0, 0.3)
	stick := solved(t, m, push(20), Options{})
	if len(stick.Sliding) != 0 {
		t.Errorf("slides: %v", stick.Sliding)
	}
	// The far feet carry more, so the near ones slide first and hand on their share.
	part := solved(t, m, push(110), Options{})
	if len(part.Sliding) == 0 {
		t.Errorf("nothing slides: %v", part.Reaction)
	}
	verified(t, m, push(110), part)
	r := Solve(m, []Case{push(125)}, Options{})
	if r.Status != SlidesAway {
		t.Errorf("status %v, want slides away: %+v", r.Status, r.Cases[0].Findings)
	}
}

func TestMechanismIsNamed(t *testing.T) {
	for _, c := range []struct {
		name, want string
		change     func(m *Model)
	}{
		{"foot turns", `node "j" can turn freely about x`, func(m *Model) { m.Members[0].SpringsJ = Springs{RX: 0} }},
		{"spins", `member "beam" can turn freely about its own axis`, func(m *Model) {
			m.Members[0].SpringsI = Springs{RX: 0}
			m.Members[0].SpringsJ = Springs{RX: 0}
		}},
		{"whole frame turns", `the whole frame can turn freely about x`, func(m *Model) {
			m.Nodes[0].Support = Pinned()
			m.Nodes[1].Support = Support{Hold: Vec6{UY: Rigid(), UZ: Rigid()}}
		}},
		{"whole frame slides", `the whole frame can move freely along x`, func(m *Model) {
			m.Nodes[0].Support = Support{Hold: Vec6{UY: Rigid(), UZ: Rigid(), RX: Rigid()}}
			m.Nodes[1].Support = Support{Hold: Vec6{UY: Rigid(), UZ: Rigid()}}
		}},
		{"hinge above a hinge", `"j"`, func(m *Model) {
			m.Nodes[1].Support = Support{}
			m.Members[0].SpringsI = Springs{RY: 0}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := beam(1000, Rectangle(20, 90), Fixed(), Pinned())
			c.change(&m)
			r := Solve(m, []Case{{Nodal: []NodalLoad{{Node: "j", Force: Vec{1, 1, 1}}}}}, Options{})
			if r.Status != Mechanism {
				t.Fatalf("status %v", r.Status)
			}
			text := ""
			for _, f := range r.Findings {
				text += f.Message + "\n"
			}
			for _, k := range r.Cases {
				for _, f := range k.Findings {
					text += f.Message + "\n"
				}
			}
			if !strings.Contains(text, c.want) {
				t.Errorf("message %q lacks %q", text, c.want)
			}
		})
	}
}

func TestSwayMechanismNamesTheNodes(t *testing.T) {
	m := portal(Rectangle(45, 45), Rectangle(20, 90), Springs{RY: 0}, false)
	r := Solve(m, []Case{{}}, Options{})
	if r.Status != Mechanism {
		t.Fatalf("status %v", r.Status)
	}
	all := ""
	for _, f := range r.Cases[0].Findings {
		all += f.Message + "\n"
	}
	for _, want := range []string{`"b"`, `"c"`, "move together", "along x"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q lacks %q", all, want)
		}
	}
}

func TestBadModelsAreFindingsNotPanics(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		code   string
		change func(m *Model)
	}{
		{CodeEmpty, func(m *Model) { *m = Model{} }},
		{CodeName, func(m *Model) { m.Nodes[1].Name = "i" }},
		{CodeName, func(m *Model) { m.Members = append(m.Members, m.Members[0]) }},
		{CodeName, func(m *Model) { m.Nodes[1].Name = "" }},
		{CodeUnknown, func(m *Model) { m.Members[0].J = "nowhere" }},
		{CodeZeroLength, func(m *Model) { m.Nodes[1].At = Vec{} }},
		{CodeZeroLength, func(m *Model) { m.Members[0].OffsetJ = Vec{-1000, 0, 0} }},
		{CodeZeroLength, func(m *Model) { m.Members[0].J = "i" }},
		{CodeUnconnected, func(m *Model) { m.Nodes = append(m.Nodes, Node{Name: "lost"}) }},
		{CodeNoSupport, func(m *Model) { m.Nodes[0].Support = Support{} }},
		{CodeNumber, func(m *Model) { m.Nodes[1].At[2] = nan }},
		{CodeNumber, func(m *Model) { m.Nodes[1].Mass = -1 }},
		{CodeNumber, func(m *Model) { m.Members[0].SpringsI = Springs{RY: nan} }},
		{CodeNumber, func(m *Model) { m.Members[0].OffsetI[0] = nan }},
		{CodeNumber, func(m *Model) { m.Members[0].Divisions = -1 }},
		{CodeSection, func(m *Model) { m.Members[0].Material.E = 0 }},
		{CodeSection, func(m *Model) { m.Members[0].Section.J = nan }},
		{CodeSection, func(m *Model) { m.Members[0].Section.Ay = -1 }},
		{CodeAxis, func(m *Model) { m.Members[0].YAxis = Vec{1, 0, 0} }},
		{CodeSupport, func(m *Model) { m.Nodes[0].Support.Hold[UX] = -1 }},
		{CodeSupport, func(m *Model) { m.Nodes[0].Support.Floor = &Floor{Normal: RX} }},
		{CodeSupport, func(m *Model) { m.Nodes[1].Support.Floor = &Floor{Normal: UZ} }},
		{CodeSupport, func(m *Model) { m.Nodes[0].Support.Floor = &Floor{Normal: UZ, Friction: nan} }},
		{CodeBody, func(m *Model) { m.Bodies = []Body{{Nodes: []string{"i"}}} }},
		{CodeUnknown, func(m *Model) { m.Bodies = []Body{{Nodes: []string{"i", "k"}}} }},
		{CodeBody, func(m *Model) { m.Bodies = []Body{{Nodes: []string{"i", "j"}}, {Nodes: []string{"i", "j"}}} }},
		{CodeBody, func(m *Model) {
			m.Nodes[1].Support = Fixed()
			m.Bodies = []Body{{Nodes: []string{"i", "j"}}}
		}},
		{CodeBody, func(m *Model) { m.Bodies = []Body{{Nodes: []string{"i", "j"}, Plane: true, Normal: RZ}} }},
		{CodeBody, func(m *Model) { m.Bodies = []Body{{Nodes: []string{"i", "j"}, Plane: true, Normal: UX}} }},
		{CodeBody, func(m *Model) { m.Bodies = []Body{{Nodes: []string{"i", "j", "j"}}} }},
	} {
		m := beam(1000, Rectangle(20, 90), Fixed(), Support{})
		c.change(&m)
		r := Solve(m, []Case{{}}, Options{})
		if r.Status != BadInput {
			t.Errorf("%s: status %v", c.code, r.Status)
		}
		if !slices.ContainsFunc(r.Findings, func(f Finding) bool { return f.Code == c.code && f.Message != "" }) {
			t.Errorf("no finding %s in %+v", c.code, r.Findings)
		}
	}
}

func TestBadLoadsAreFindings(t *testing.T) {
	m := beam(1000, Rectangle(20, 90), Fixed(), Support{})
	for _, c := range []Case{
		{Gravity: Vec{0, 0, math.NaN()}},
		{Nodal: []NodalLoad{{Node: "k"}}},
		{Nodal: []NodalLoad{{Node: "j", Force: Vec{math.Inf(1), 0, 0}}}},
		{Point: []PointLoad{{Member: "k"}}},
		{Point: []PointLoad{{Member: "beam", At: 1001}}},
		{Point: []PointLoad{{Member: "beam", At: math.NaN()}}},
		{Spread: []SpreadLoad{{Member: "beam", From: 500, To: 200}}},
	} {
		if r := Solve(m, []Case{c}, Options{}); r.Status != BadInput || len(r.Findings) != 1 || r.Findings[0].Code != CodeLoad {
			t.Errorf("%+v: %v %v", c, r.Status, r.Findings)
		}
	}
}

func TestLoadAboveBucklingIsUnstable(t *testing.T) {
	m := beam(655, Rectangle(30, 30), Fixed(), Support{})
	r := Solve(m, []Case{{Nodal: []NodalLoad{{Node: "j", Force: Vec{-4000, 1, 0}}}}}, Options{SecondOrder: true})
	if r.Status != Unstable {
		t.Errorf("status %v", r.Status)
	}
}

func TestFrameInTensionHasNoBucklingFactor(t *testing.T) {
	m := beam(655, Rectangle(30, 30), Fixed(), Support{})
	r := solved(t, m, Case{Nodal: []NodalLoad{{Node: "j", Force: Vec{4000, 0, 0}}}}, Options{Buckling: 2})
	if len(r.Buckling) != 0 {
		t.Errorf("factors %v", r.Buckling)
	}
}

func TestFrequenciesOfBeams(t *testing.T) {
	// Euler-Bernoulli roots beta L: simply supported pi, 2 pi; cantilever 1.8751041, 4.6940911 (any vibration textbook).
	s := Rectangle(20, 20)
	s.Ay, s.Az = 0, 0
	wood := Material{E: 8500, G: 531.25, Density: 5e-10}
	frequency := func(root float64) float64 {
		return root * root / (2 * math.Pi) * math.Sqrt(wood.E*s.Iy/(wood.Density*s.Area)) / 1e6
	}
	i, j := simple()
	for _, c := range []struct {
		i, j  Support
		roots []float64
	}{{i, j, []float64{math.Pi, 2 * math.Pi}}, {Fixed(), Support{}, []float64{1.8751041, 4.6940911}}} {
		m := beam(1000, s, c.i, c.j)
		m.Members[0].Material = wood
		for kind, tolerance := range map[MassKind]float64{ConsistentMass: 1e-3, LumpedMass: 5e-3} {
			sys, bad := Prepare(m, Options{Divisions: 32})
			if sys == nil {
				t.Fatal(bad)
			}
			modes, bad := sys.Frequencies(4, kind)
			if len(bad) > 0 || len(modes) != 4 {
				t.Fatal(bad, modes)
			}
			for k, root := range c.roots {
				near(t, "first plane", modes[2*k].Value, frequency(root), tolerance)
				near(t, "second plane", modes[2*k+1].Value, frequency(root), tolerance)
			}
		}
	}
}

func TestFrequencyOfMassOnCantilever(t *testing.T) {
	m := beam(1000, Rectangle(20, 90), Fixed(), Support{})
	m.Nodes[1].Mass = 0.01
	sys, _ := Prepare(m, Options{})
	modes, bad := sys.Frequencies(2, ConsistentMass)
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	near(t, "weak", modes[0].Value, math.Sqrt(100/65.484967/0.01)/(2*math.Pi), 1e-6)
	near(t, "strong", modes[1].Value, math.Sqrt(100/3.3531187/0.01)/(2*math.Pi), 1e-6)
}

func TestRigidPlinthOnSpringsSharesTheLoadAndLifts(t *testing.T) {
	// Four equal springs under one rigid body: the figures of four_legs and four_legs_lift.
	want := closedForm(t)
	for _, c := range []struct {
		id     string
		ex, ey float64
		lifted int
	}{{"four_legs", 200, 100, 0}, {"four_legs_lift", 300, 150, 1}} {
		m := Model{
			Nodes:   []Node{{Name: "load", At: Vec{c.ex, c.ey, 700}}, {Name: "post", At: Vec{0, 0, 700}}},
			Members: []Member{{Name: "post", I: "post", J: "head", Section: Rectangle(45, 45), Material: pine}},
			Bodies:  []Body{{Name: "plinth", Nodes: []string{"load", "post"}}},
		}
		m.Nodes = append(m.Nodes, Node{Name: "head", At: Vec{0, 0, 900}})
		for _, p := range []struct {
			name string
			x, y float64
		}{{"pp", 450, 250}, {"pm", 450, -250}, {"mp", -450, 250}, {"mm", -450, -250}} {
			m.Nodes = append(m.Nodes, Node{Name: p.name, At: Vec{p.x, p.y, 0}, Support: Support{
				Hold: Vec6{UX: 1000, UY: 1000, UZ: 5000}, Floor: &Floor{Normal: UZ, Friction: 0.3}}})
			m.Bodies[0].Nodes = append(m.Bodies[0].Nodes, p.name)
		}
		k := pressed(1000)
		k.Nodal[0].Force[UX] = 1e-3
		r := solved(t, m, k, Options{})
		for _, foot := range []string{"pp", "pm", "mp"} {
			near(t, c.id+" "+foot, r.ReactionAt(foot)[UZ], want[c.id+"/R_"+foot], 1e-4)
		}
		if len(r.Lifted) != c.lifted {
			t.Errorf("%s: lifted %v", c.id, r.Lifted)
		}
		verified(t, m, k, r)
	}
}

func TestFeetOnSpringsSlide(t *testing.T) {
	m := topOnLegs(0, 0, 0.3)
	for i := range m.Nodes {
		if s := &m.Nodes[i].Support; s.Floor != nil {
			s.Hold = Vec6{UX: 800, UY: 900, UZ: 5000}
		}
	}
	c := pressed(400)
	c.Nodal[0].Force[UX], c.Nodal[0].Force[UY] = 80, 60
	r := solved(t, m, c, Options{})
	if len(r.Sliding) == 0 {
		t.Error("nothing slides")
	}
	verified(t, m, c, r)
}
