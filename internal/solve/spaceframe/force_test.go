package spaceframe

import "testing"

func TestForcesWithoutDisplacementsAreThoseOfStations(t *testing.T) {
	m := Model{
		Nodes: []Node{{Name: "a", Support: Fixed()}, {Name: "b", At: Vec{900, 0, 0}, Support: Pinned()}},
		Members: []Member{{Name: "m", I: "a", J: "b", Section: Rectangle(20, 90),
			Material: Material{E: 8500, G: 531, Density: 4e-10}}},
	}
	load := Case{Name: "c", Gravity: Vec{0, 0, -9810},
		Point:  []PointLoad{{Member: "m", At: 310, Force: Vec{5, 40, -300}}},
		Spread: []SpreadLoad{{Member: "m", From: 100, To: 500, Start: Vec{0, 0, -1}, End: Vec{0, 0, -2}}}}
	for _, o := range []Options{{}, {SecondOrder: true, Divisions: 3}} {
		r := Solve(m, []Case{load}, o).Cases[0].Member("m")
		for _, s := range r.Stations(31) {
			for d, f := range r.ForceAt(s.X) {
				if abs(f-s.Force[d]) > 1e-9*(1+abs(f)) {
					t.Errorf("%v at %v: %v is %v, want %v", o, s.X, DOF(d), f, s.Force[d])
				}
			}
		}
		found := false
		for _, x := range r.LoadPlaces() {
			found = found || abs(x-310) < 1e-9
		}
		if !found {
			t.Errorf("%v: the point load is not among %v", o, r.LoadPlaces())
		}
	}
}
