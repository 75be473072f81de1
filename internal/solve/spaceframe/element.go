package spaceframe

import "math"

// mat12 is a matrix over the twelve directions of an element: six at end I, then six at end J.
type mat12 [12][12]float64

// vec12 goes with mat12.
type vec12 [12]float64

// elastic holds the properties an element bends by. phiY and phiZ are the shear parameters of bending with
// deflection along y and along z.
type elastic struct {
	length             float64
	ea, eiy, eiz, gj   float64
	gay, gaz           float64 // 0: no shear strain
	phiY, phiZ         float64
	massPerLength      float64
	polarPerLength     float64 // mass moment of inertia about the axis, per length
	rotaryY, rotaryZ   float64 // mass moments of inertia about y and z, per length
	radiusOfGyrationSq float64 // (Iy + Iz)/A, for the torsional part of the geometric stiffness
}

func newElastic(m Material, s Section, length float64) elastic {
	e := elastic{
		length: length,
		ea:     m.E * s.Area, eiy: m.E * s.Iy, eiz: m.E * s.Iz, gj: m.G * s.J,
		gay: m.G * s.Ay, gaz: m.G * s.Az,
		massPerLength:  m.Density * s.Area,
		polarPerLength: m.Density * (s.Iy + s.Iz),
		rotaryY:        m.Density * s.Iy, rotaryZ: m.Density * s.Iz,
		radiusOfGyrationSq: (s.Iy + s.Iz) / s.Area,
	}
	e.phiY = shearParameter(e.eiz, e.gay, length)
	e.phiZ = shearParameter(e.eiy, e.gaz, length)
	return e
}

// shearParameter returns how much shear adds to bending in a Timoshenko beam.
//
//	phi = 12 E I/(G As L^2)
//
// ei is the bending stiffness, gas the shear stiffness (0: no shear strain, phi = 0), length the length;
// any consistent units, phi has none.
//
// Source: Przemieniecki, Theory of Matrix Structural Analysis, 1968, beam element (from memory).
func shearParameter(ei, gas, length float64) float64 {
	if gas == 0 {
		return 0
	}
	return 12 * ei / (gas * length * length)
}

// plane is one bending plane of an element: the element's directions of deflection at I, rotation at I,
// deflection at J, rotation at J. In the plane of z a positive rotation about y lowers w, hence the sign.
type plane struct {
	index [4]int
	sign  [4]float64
}

var (
	planeY = plane{[4]int{1, 5, 7, 11}, [4]float64{1, 1, 1, 1}}
	planeZ = plane{[4]int{2, 4, 8, 10}, [4]float64{1, -1, 1, -1}}
)

// add adds a 4x4 matrix of the plane to the element's matrix.
func (p plane) add(k *mat12, m [4][4]float64) {
	for a := range 4 {
		for b := range 4 {
			k[p.index[a]][p.index[b]] += m[a][b] * p.sign[a] * p.sign[b]
		}
	}
}

// bendingStiffness returns the stiffness of a Timoshenko beam in one plane for v1, r1, v2, r2.
//
//	k = E I/(L^3 (1+phi)) [12, 6L, -12, 6L; 6L, (4+phi)L^2, -6L, (2-phi)L^2; ...]
//
// ei bending stiffness, l length, phi as from shearParameter; any consistent units.
//
// Source: Przemieniecki, Theory of Matrix Structural Analysis, 1968, beam element (from memory).
func bendingStiffness(ei, l, phi float64) [4][4]float64 {
	c := ei / (l * l * l * (1 + phi))
	a, b, d, e := 12*c, 6*c*l, (4+phi)*c*l*l, (2-phi)*c*l*l
	return [4][4]float64{
		{a, b, -a, b},
		{b, d, -b, e},
		{-a, -b, a, -b},
		{b, e, -b, d},
	}
}

// stiffness returns the element's stiffness in local axes with rigid ends.
func (e *elastic) stiffness() (k mat12) {
	addPair := func(i int, s float64) {
		k[i][i] += s
		k[i+6][i+6] += s
		k[i][i+6] -= s
		k[i+6][i] -= s
	}
	addPair(0, e.ea/e.length)
	addPair(3, e.gj/e.length)
	planeY.add(&k, bendingStiffness(e.eiz, e.length, e.phiY))
	planeZ.add(&k, bendingStiffness(e.eiy, e.length, e.phiZ))
	return k
}

// release is one spring taken into an element's stiffness: the direction, the spring, the column of the stiffness
// before, and the sum of both stiffnesses.
type release struct {
	d      int
	spring float64
	column vec12
	sum    float64
}

// looseShare is the share of an element's own stiffness below which a released direction counts as having
// none: rounding leaves about 1e-16 of it.
const looseShare = 1e-12

// condense puts the springs in series with the ends of an element, changing k in place, and returns what is
// needed to find the element's own end displacements again. spring holds +Inf for a rigid end.
//
//	k' = k - c c^T/(k_dd + s),  c = column d of k
//
// which is static condensation of the direction between spring and element. loose lists directions in which
// nothing is left to hold the element itself.
//
// Source: static condensation (Guyan), derived in docs/methods/spaceframe.md.
func condense(k *mat12, spring *vec12) (steps []release, loose []int) {
	var own vec12
	for d := range 12 {
		own[d] = k[d][d]
	}
	for d := range 12 {
		if math.IsInf(spring[d], 1) {
			continue
		}
		r := release{d: d, spring: spring[d], sum: k[d][d] + spring[d]}
		if r.sum <= looseShare*own[d] {
			loose = append(loose, d)
			continue
		}
		for j := range 12 {
			r.column[j] = k[d][j]
		}
		for a := range 12 {
			f := r.column[a] / r.sum
			if f == 0 {
				continue
			}
			for b := range 12 {
				k[a][b] -= f * r.column[b]
			}
		}
		steps = append(steps, r)
	}
	return steps, loose
}

// condenseLoad changes the fixed-end forces f of an element with rigid ends to those behind its springs.
// The value each step met is kept in met, which inner needs.
func condenseLoad(steps []release, f *vec12) (met vec12) {
	for i := range steps {
		r := &steps[i]
		met[r.d] = f[r.d]
		s := f[r.d] / r.sum
		if s == 0 {
			continue
		}
		for j := range 12 {
			f[j] -= s * r.column[j]
		}
	}
	return met
}

// inner turns the displacements u outside the springs into those of the element's own ends; met comes from
// condenseLoad.
func inner(steps []release, u, met vec12) vec12 {
	for i := len(steps) - 1; i >= 0; i-- {
		r := &steps[i]
		s := r.spring*u[r.d] - met[r.d]
		for j := range 12 {
			if j != r.d {
				s -= r.column[j] * u[j]
			}
		}
		u[r.d] = s / r.sum
	}
	return u
}

// axes are the local directions of a member as rows.
type axes [3]Vec

func (a *axes) toLocal(v Vec) Vec { return Vec{a[0].dot(v), a[1].dot(v), a[2].dot(v)} }

func (a *axes) toGlobal(v Vec) Vec {
	return a[0].times(v[0]).plus(a[1].times(v[1])).plus(a[2].times(v[2]))
}

// parallelSine is the sine of the angle below which two directions count as parallel.
const parallelSine = 1e-6

// localAxes returns the axes of a member lying along the vector along. ok is false if yAxis is parallel to it.
func localAxes(along, yAxis Vec) (a axes, ok bool) {
	x := along.times(1 / along.length())
	if yAxis == (Vec{}) {
		yAxis = Vec{0, 0, 1}.cross(x)
		if yAxis.length() < parallelSine {
			yAxis = Vec{0, 1, 0}
		}
	}
	yAxis = yAxis.times(1 / yAxis.length())
	y := yAxis.minus(x.times(yAxis.dot(x)))
	if n := y.length(); n < parallelSine {
		return a, false
	} else {
		y = y.times(1 / n)
	}
	return axes{x, y, x.cross(y)}, true
}

// element is a member or a piece of it between two nodes.
type element struct {
	member int
	start  float64 // distance of its I end from the member's I end
	node   [2]int
	arm    [2]Vec // rigid offset from node to end, global
	axes   axes
	spring vec12

	elastic elastic
	steps   []release
	loose   []int
	local   mat12 // behind the springs
	global  mat12 // at the nodes
}

// refresh works out the element's matrices; axial is the tension for the geometric stiffness, 0 for none.
func (e *element) refresh(axial float64) {
	k := e.elastic.stiffness()
	if axial != 0 {
		kg := e.elastic.geometric()
		for a := range 12 {
			for b := range 12 {
				k[a][b] += axial * kg[a][b]
			}
		}
	}
	e.steps, e.loose = condense(&k, &e.spring)
	e.local = k
	e.global = e.toNodes(&k)
}

// end returns the matrix that turns the displacements of a node into those of the element's end in local
// axes: u_end = R (u + r x arm), r_end = R r.
func (e *element) end(n int) (b [6][6]float64) {
	arm := e.arm[n]
	for i := range 3 {
		row := e.axes[i]
		lever := arm.cross(row) // row.(r x arm) = r.(arm x row)
		for j := range 3 {
			b[i][j] = row[j]
			b[i][j+3] = lever[j]
			b[i+3][j+3] = row[j]
		}
	}
	return b
}

// toNodes turns a symmetric local matrix into one over the displacements of the two nodes.
func (e *element) toNodes(k *mat12) (g mat12) {
	ends := [2][6][6]float64{e.end(0), e.end(1)}
	for a := range 2 {
		for b := a; b < 2; b++ {
			var half [6][6]float64 // k_ab B_b
			for i := range 6 {
				for m := range 6 {
					v := k[6*a+i][6*b+m]
					if v == 0 {
						continue
					}
					for j := range 6 {
						half[i][j] += v * ends[b][m][j]
					}
				}
			}
			for m := range 6 {
				for i := range 6 {
					v := ends[a][m][i]
					if v == 0 {
						continue
					}
					for j := range 6 {
						g[6*a+i][6*b+j] += v * half[m][j]
					}
				}
			}
		}
	}
	for i := range 6 {
		for j := range 6 {
			g[6+j][i] = g[i][6+j]
		}
	}
	return g
}

// endDisplacement returns the local displacements of the ends from those of the nodes.
func (e *element) endDisplacement(u [2]Vec6) (v vec12) {
	for n := range 2 {
		r := u[n].moment()
		t := e.axes.toLocal(u[n].force().plus(r.cross(e.arm[n])))
		r = e.axes.toLocal(r)
		copy(v[6*n:], t[:])
		copy(v[6*n+3:], r[:])
	}
	return v
}

// nodeForce returns what a force on the local end n does at its node, in global directions.
func (e *element) nodeForce(n int, f Vec6) Vec6 {
	force := e.axes.toGlobal(f.force())
	moment := e.axes.toGlobal(f.moment()).plus(e.arm[n].cross(force))
	return join(force, moment)
}

func (k *mat12) times(u *vec12) (f vec12) {
	for i := range 12 {
		s := 0.0
		for j := range 12 {
			s += k[i][j] * u[j]
		}
		f[i] = s
	}
	return f
}
