package spaceframe

import (
	"math"
	"testing"
)

// closedTolerance is the relative difference allowed against formulas evaluated to 8 digits: their rounding.
const closedTolerance = 1e-6

// stiff is a factor on the area that takes the axial strain out of a frame; shows below closedTolerance.
const stiff = 1e4

var pine = Material{E: 8500, G: 531.25}

// euler returns a section without shear strain.
func euler(area, iy, iz, j float64) Section { return Section{Area: area, Iy: iy, Iz: iz, J: j} }

// beam returns a member "beam" along x of the given length, y axis global y, between nodes "i" and "j".
func beam(length float64, s Section, i, j Support) Model {
	return Model{
		Nodes: []Node{
			{Name: "i", Support: i},
			{Name: "j", At: Vec{length, 0, 0}, Support: j},
		},
		Members: []Member{{Name: "beam", I: "i", J: "j", Section: s, Material: pine, YAxis: Vec{0, 1, 0}}},
	}
}

// simple returns the supports of a simply supported beam along x.
func simple() (i, j Support) {
	i, j = Pinned(), Pinned()
	i.Hold[RX] = Rigid()
	j.Hold[UX] = 0
	return i, j
}

func solved(t *testing.T, m Model, c Case, o Options) *CaseResult {
	t.Helper()
	r := Solve(m, []Case{c}, o)
	if r.Status != Solved {
		t.Fatalf("status %v: %+v %+v", r.Status, r.Findings, r.Cases)
	}
	if r.Cases[0].Residual > 1e-9 {
		t.Errorf("nodes balance only to %g", r.Cases[0].Residual)
	}
	return &r.Cases[0]
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance*math.Abs(want) {
		t.Errorf("%s: got %.9g, want %.9g (relative %.2g)", what, got, want, math.Abs(got/want-1))
	}
}

func TestCantileverTipFollowsTimoshenko(t *testing.T) {
	m := beam(1000, Rectangle(20, 90), Fixed(), Support{})
	strong := solved(t, m, Case{Nodal: []NodalLoad{{Node: "j", Force: Vec{0, 0, -100}}}}, Options{})
	near(t, "strong", -strong.At("j")[UZ], 3.3531187, closedTolerance)
	weak := solved(t, m, Case{Nodal: []NodalLoad{{Node: "j", Force: Vec{0, -100, 0}}}}, Options{})
	near(t, "weak", -weak.At("j")[UY], 65.484967, closedTolerance)
}

func TestLoadInsideMemberBendsItExactly(t *testing.T) {
	i, j := simple()
	m := beam(400, Rectangle(20, 90), i, j)
	r := solved(t, m, Case{Point: []PointLoad{{Member: "beam", At: 200, Force: Vec{0, 0, -500}}}}, Options{})
	near(t, "middle", -r.Member("beam").Along(200).Local[UZ], 0.12729767, closedTolerance)
	near(t, "moment", r.Member("beam").Along(200).Force[RY], -500*400/4, closedTolerance)

	m = beam(855, Rectangle(20, 90), Fixed(), Fixed())
	r = solved(t, m, Case{Point: []PointLoad{{Member: "beam", At: 427.5, Force: Vec{0, 0, -500}}}}, Options{})
	near(t, "fixed middle", -r.Member("beam").Along(427.5).Local[UZ], 0.29172335, closedTolerance)
	near(t, "fixed end", math.Abs(r.Member("beam").EndForce[0][RY]), 53437.5, closedTolerance)
}
