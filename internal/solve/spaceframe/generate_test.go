package spaceframe

import (
	"fmt"
	"math/rand/v2"
)

// random returns a seeded frame: a crooked tower of two or three storeys with beams, springs, offsets, releases, a body
// and loads of every kind.
func random(seed uint64) (Model, []Case) {
	r := rand.New(rand.NewPCG(seed, 1))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	direction := func(size float64) Vec {
		return Vec{between(-size, size), between(-size, size), between(-size, size)}
	}
	var m Model
	storeys := 2 + r.IntN(2)
	name := func(storey, corner int) string { return fmt.Sprintf("n%d.%d", storey, corner) }
	for k := range storeys + 1 {
		for c, p := range []Vec{{-400, -300, 0}, {400, -300, 0}, {400, 300, 0}, {-400, 300, 0}} {
			n := Node{Name: name(k, c), At: p.plus(Vec{0, 0, 400 * float64(k)})}
			if k < storeys {
				n.At = n.At.plus(direction(60))
			}
			if k == 0 {
				n.Support = Pinned()
				if c == 0 {
					n.Support = Support{Hold: Vec6{UX: 2000, UY: 3000, UZ: 5000, RX: 1e6, RY: 1e5, RZ: 1e6}}
				}
			}
			m.Nodes = append(m.Nodes, n)
		}
	}
	springs := func() Springs {
		s := Springs{}
		for d := range DOF(6) {
			switch r.IntN(6) {
			case 0:
				s[d] = between(1e3, 1e5)
				if d >= RX {
					s[d] = between(1e6, 1e8)
				}
			case 1:
				if d == RY || d == RZ {
					s[d] = 0
				}
			}
		}
		return s
	}
	add := func(i, j string, rigid bool) {
		b := Member{Name: i + "-" + j, I: i, J: j, Section: Rectangle(between(15, 60), between(15, 90)),
			Material: Material{E: between(5000, 14000), G: between(300, 900), Density: 5e-10}, YAxis: Vec{1, 0.3, 0.2}}
		b.YAxis = b.YAxis.plus(direction(0.1))
		if !rigid {
			b.SpringsI, b.SpringsJ = springs(), springs()
			b.OffsetI, b.OffsetJ = direction(20), direction(20)
		}
		m.Members = append(m.Members, b)
	}
	for k := range storeys {
		for c := range 4 {
			add(name(k, c), name(k+1, c), true)
			add(name(k+1, c), name(k+1, (c+1)%4), false)
		}
	}
	top := Body{Name: "top", Plane: true, Normal: UZ}
	for c := range 4 {
		top.Nodes = append(top.Nodes, name(storeys, c))
	}
	m.Nodes = append(m.Nodes, Node{Name: "arm", At: Vec{100, 50, 700}, Mass: 0.002})
	m.Bodies = []Body{top, {Name: "bracket", Nodes: []string{"arm", name(1, 0)}}}

	var cases []Case
	for k := range 3 {
		c := Case{Name: fmt.Sprint("case ", k), Gravity: direction(10000)}
		c.Nodal = append(c.Nodal, NodalLoad{"arm", direction(100), direction(10000)}, NodalLoad{name(storeys, k), direction(100), direction(10000)})
		for _, b := range m.Members[4:] {
			switch r.IntN(4) {
			case 0:
				c.Point = append(c.Point, PointLoad{b.Name, between(50, 300), direction(100), direction(5000), r.IntN(2) == 0})
			case 1:
				c.Spread = append(c.Spread, SpreadLoad{b.Name, between(0, 100), between(150, 300), direction(1), direction(1), r.IntN(2) == 0})
			case 2:
				c.Spread = append(c.Spread, Uniform(b.Name, direction(1)))
			}
		}
		cases = append(cases, c)
	}
	return m, cases
}
