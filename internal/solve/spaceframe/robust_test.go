package spaceframe

import (
	"math"
	"math/rand/v2"
	"reflect"
	"sync"
	"testing"
)

// broken changes a model or a case at one place to something wrong or extreme.
func broken(m *Model, cases []Case, r *rand.Rand) {
	values := []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, 1e-300, 1e12}
	v := values[r.IntN(len(values))]
	n, b := &m.Nodes[r.IntN(len(m.Nodes))], &m.Members[r.IntN(len(m.Members))]
	d := r.IntN(6)
	switch r.IntN(18) {
	case 0:
		n.At[d%3] = v
	case 1:
		n.Name = m.Nodes[0].Name
	case 2:
		n.Support.Hold[d] = v
	case 3:
		n.Support.Floor = &Floor{Normal: DOF(d), Friction: v}
	case 4:
		n.Mass = v
	case 5:
		b.I = b.J
	case 6:
		b.J = "nowhere"
	case 7:
		b.Section.Area = v
	case 8:
		b.Section.Iy = v
	case 9:
		b.Section.J = v
	case 10:
		b.Material.E = v
	case 11:
		b.SpringsI = Springs{DOF(d): v}
	case 12:
		b.OffsetI[d%3] = v
	case 13:
		b.YAxis = Vec{v, 0, 0}
	case 14:
		m.Bodies[0].Nodes = append(m.Bodies[0].Nodes, n.Name)
	case 15:
		m.Bodies[0].Normal = DOF(d)
	case 16:
		cases[0].Gravity[d%3] = v
	case 17:
		cases[0].Nodal[0].Force[d%3] = v
	}
}

func TestBrokenModelsNeverPanic(t *testing.T) {
	status := map[Status]int{}
	for seed := range uint64(250) {
		m, cases := random(seed % 7)
		r := rand.New(rand.NewPCG(seed, 2))
		for range 1 + r.IntN(2) {
			broken(&m, cases, r)
		}
		o := Options{SecondOrder: seed%5 == 0, Buckling: int(seed % 3 / 2)}
		a := Solve(m, cases[:1], o)
		status[a.Status]++
		if a.Status != Solved && len(a.Findings) == 0 && len(a.Cases[0].Findings) == 0 {
			t.Errorf("seed %d: %v without a word", seed, a.Status)
		}
		if a.Status == Solved {
			for _, u := range a.Cases[0].Displacement {
				if !finite(u[:]...) {
					t.Fatalf("seed %d: solved with %v", seed, u)
				}
			}
		}
	}
	if status[BadInput] < 30 || status[Solved] < 30 {
		t.Errorf("the test does not mix good and bad: %v", status)
	}
}

func TestSameInputGivesSameBits(t *testing.T) {
	m, cases := random(3)
	o := Options{SecondOrder: true, Buckling: 2}
	a, b := Solve(m, cases, o), Solve(m, cases, o)
	for i := range a.Cases {
		if !reflect.DeepEqual(a.Cases[i].Displacement, b.Cases[i].Displacement) || !reflect.DeepEqual(a.Cases[i].Buckling, b.Cases[i].Buckling) {
			t.Error("two runs differ")
		}
	}
}

func TestClonesAreIndependent(t *testing.T) {
	m, cases := table(45, 2e7, true), tableCases()
	s, _ := Prepare(m, Options{})
	want := s.Solve(cases).Cases[0].At("A top")
	var wait sync.WaitGroup
	for worker := range 4 {
		c := s.Clone()
		wait.Go(func() {
			r := rand.New(rand.NewPCG(uint64(worker), 1))
			for range 50 {
				trial(c, m, r)
				if a := c.Solve(cases[:1]); a.Status != Solved || a.Cases[0].Residual > 1e-9 {
					t.Error(a.Status, a.Cases[0].Residual)
				}
			}
		})
	}
	wait.Wait()
	if got := s.Solve(cases).Cases[0].At("A top"); got != want {
		t.Errorf("the original changed: %v, was %v", got, want)
	}
}

func TestChangedSystemEqualsFreshModel(t *testing.T) {
	m, cases := table(45, 2e7, true), tableCases()
	s, _ := Prepare(m, Options{Divisions: 2})
	i := s.MemberIndex("AB apron")
	s.SetEndSpring(i, EndI, RY, 3e6)
	s.SetEndSpring(i, EndJ, RZ, Rigid())
	s.SetMaterial(i, Material{E: 11000, G: 700, Density: 6e-10})
	b := &m.Members[i]
	b.SpringsI, b.SpringsJ = Springs{RY: 3e6, RZ: 5e6}, Springs{RY: 2e7}
	b.Material = Material{E: 11000, G: 700, Density: 6e-10}
	changed, fresh := s.Solve(cases), Solve(m, cases, Options{Divisions: 2})
	for k := range cases {
		if !reflect.DeepEqual(changed.Cases[k].Displacement, fresh.Cases[k].Displacement) {
			t.Fatalf("case %s differs", cases[k].Name)
		}
	}
}

func TestSecondOrderWithLiftingFeetBalances(t *testing.T) {
	m, cases := table(30, 2e7, true), tableCases()
	for i := range cases {
		cases[i].Nodal = append(cases[i].Nodal, NodalLoad{Node: "C top", Force: Vec{30, 0, 260}})
	}
	r := Solve(m, cases, Options{SecondOrder: true, Buckling: 1})
	lifts := 0
	for i := range cases {
		if r.Cases[i].Status != Solved {
			t.Fatalf("%v %v", r.Cases[i].Status, r.Cases[i].Findings)
		}
		lifts += len(r.Cases[i].Lifted)
		verified(t, m, cases[i], &r.Cases[i])
		if f := r.Cases[i].Buckling; len(f) != 1 || f[0].Value < 2 {
			t.Errorf("buckling %v", f)
		}
		// The state along a member meets the nodes at both ends, in second order too.
		b := r.Cases[i].Member("A leg 1")
		for end, node := range []string{"A foot", "A low"} {
			at := b.Along(b.Length * float64(end)).Global
			for d, u := range r.Cases[i].At(node) {
				if math.Abs(at[d]-u) > 1e-9 {
					t.Errorf("%s: member says %v, node %v", node, at, r.Cases[i].At(node))
				}
			}
		}
	}
	if lifts == 0 {
		t.Error("no foot lifts in any case")
	}
}

func TestMomentsOfSecondOrderAgreeWithinAMember(t *testing.T) {
	// By statics the moment at the far end of a piece is the end moment there.
	m := beam(1000, Rectangle(30, 30), Fixed(), Support{})
	r := solved(t, m, Case{Nodal: []NodalLoad{{Node: "j", Force: Vec{-300, 4, 10}}}}, Options{SecondOrder: true})
	b := r.Member("beam")
	for i := range 3 {
		p, q := b.pieces[i].at(b.pieces[i].elastic.length), b.pieces[i+1].at(0)
		for d := range 6 {
			if math.Abs(p.Force[d]-q.Force[d]) > 1e-6 {
				t.Errorf("between pieces %d: %v and %v", i, p.Force, q.Force)
			}
		}
	}
}
