package spaceframe

// bendingShape gives the deflection, its slope and the rotation of the section of a Timoshenko beam at x = xi L,
// as rows over v1, r1, v2, r2.
//
//	v  = ([1-3x^2+2x^3+p(1-x)] v1 + L[x-2x^2+x^3+p(x-x^2)/2] r1 + [3x^2-2x^3+px] v2 + L[x^3-x^2-p(x-x^2)/2] r2)/(1+p)
//	r  = (6(x^2-x)/L v1 + [1-4x+3x^2+p(1-x)] r1 - 6(x^2-x)/L v2 + [3x^2-2x+px] r2)/(1+p)
//
// with x = xi from 0 to 1 and p = phi of shearParameter. They solve the beam equation without load exactly.
//
// Source: Friedman and Kosmatka 1993, Computers and Structures 47(3), doi 10.1016/0045-7949(93)90243-7
// (formulas from memory; that they solve the beam equation is tested).
func bendingShape(xi, l, phi float64) (v, slope, rotation [4]float64) {
	c := 1 / (1 + phi)
	x, x2, x3 := xi, xi*xi, xi*xi*xi
	v = [4]float64{
		c * (1 - 3*x2 + 2*x3 + phi*(1-x)),
		c * l * (x - 2*x2 + x3 + phi/2*(x-x2)),
		c * (3*x2 - 2*x3 + phi*x),
		c * l * (x3 - x2 - phi/2*(x-x2)),
	}
	slope = [4]float64{
		c / l * (-6*x + 6*x2 - phi),
		c * (1 - 4*x + 3*x2 + phi/2*(1-2*x)),
		c / l * (6*x - 6*x2 + phi),
		c * (3*x2 - 2*x - phi/2*(1-2*x)),
	}
	rotation = [4]float64{
		6 * c / l * (x2 - x),
		c * (1 - 4*x + 3*x2 + phi*(1-x)),
		-6 * c / l * (x2 - x),
		c * (3*x2 - 2*x + phi*x),
	}
	return v, slope, rotation
}

// gauss4 is the four-point Gauss rule on 0..1, exact to degree 7 (Abramowitz and Stegun, table 25.4).
var gauss4 = [4][2]float64{
	{0.06943184420297371, 0.17392742256872693},
	{0.33000947820757187, 0.32607257743127307},
	{0.66999052179242813, 0.32607257743127307},
	{0.93056815579702629, 0.17392742256872693},
}

// outer adds w a a^T to m.
func outer(m *[4][4]float64, w float64, a [4]float64) {
	for i := range 4 {
		for j := range 4 {
			m[i][j] += w * a[i] * a[j]
		}
	}
}

// geometric returns the geometric stiffness of the element for unit tension.
//
//	kg = integral over the length of v'^T v', both planes; (Iy+Iz)/(A L) in twist
//
// v' is the slope of bendingShape. Times the tension N it is added to the stiffness; compression is negative.
// Without shear strain it is the matrix with N/(30 L).
//
// Source: Przemieniecki, Theory of Matrix Structural Analysis, 1968, chapter on stability (from memory).
func (e *elastic) geometric() (k mat12) {
	for _, p := range []struct {
		plane plane
		phi   float64
	}{{planeY, e.phiY}, {planeZ, e.phiZ}} {
		var m [4][4]float64
		for _, g := range gauss4 {
			_, slope, _ := bendingShape(g[0], e.length, p.phi)
			outer(&m, g[1]*e.length, slope)
		}
		p.plane.add(&k, m)
	}
	twist := e.radiusOfGyrationSq / e.length
	k[3][3], k[9][9], k[3][9], k[9][3] = twist, twist, -twist, -twist
	return k
}

// consistentMass returns the element's mass matrix from its own shapes, with rotary inertia.
//
//	m = integral of rho A v^T v + rho I r^T r, both planes; rho A L/6 [2 1; 1 2] along, rho Ip L/6 [2 1; 1 2] in twist
//
// Source: Friedman and Kosmatka 1993, doi 10.1016/0045-7949(93)90243-7; integrated here by Gauss points.
func (e *elastic) consistentMass() (k mat12) {
	for _, p := range []struct {
		plane       plane
		phi, rotary float64
	}{{planeY, e.phiY, e.rotaryZ}, {planeZ, e.phiZ, e.rotaryY}} {
		var m [4][4]float64
		for _, g := range gauss4 {
			v, _, r := bendingShape(g[0], e.length, p.phi)
			outer(&m, g[1]*e.length*e.massPerLength, v)
			outer(&m, g[1]*e.length*p.rotary, r)
		}
		p.plane.add(&k, m)
	}
	along := func(i int, m float64) {
		k[i][i], k[i+6][i+6], k[i][i+6], k[i+6][i] = 2*m, 2*m, m, m
	}
	along(0, e.massPerLength*e.length/6)
	along(3, e.polarPerLength*e.length/6)
	return k
}

// lumpedMass returns half the element's mass and twist inertia at each end, and no rotary inertia in bending.
func (e *elastic) lumpedMass() (k mat12) {
	for n := 0; n < 12; n += 6 {
		for i := range 3 {
			k[n+i][n+i] = e.massPerLength * e.length / 2
		}
		k[n+3][n+3] = e.polarPerLength * e.length / 2
	}
	return k
}
