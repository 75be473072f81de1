package spaceframe

// bracket is one load within an element as a singularity (Macaulay) term: its integral over the length up to x
// is value <x - at>^order/order!, with <.> zero for negative argument. Order 0 is a concentrated force or
// moment, 1 a uniform load from at onwards, 2 a load growing linearly from at onwards.
type bracket struct {
	dof   DOF
	order int
	at    float64
	value float64
}

// integral returns the k-fold integral of the term's running sum at x: value <x-at>^(order+k)/(order+k)!.
// A concentrated term counts from its own place on.
func (b bracket) integral(k int, x float64) float64 {
	d := x - b.at
	if d < 0 {
		return 0
	}
	v := b.value
	for n := 1; n <= b.order+k; n++ {
		v *= d / float64(n)
	}
	return v
}

// sums returns the k-fold integrals of all terms at x by direction.
func sums(loads []bracket, k int, x float64) (s Vec6) {
	for _, b := range loads {
		s[b.dof] += b.integral(k, x)
	}
	return s
}

// sectionForce returns the internal force at x of an element whose I end carries the force f and which carries
// loads: the force of the part beyond x on the part before it, in local axes.
//
//	N, Vy, Vz, T = -(f + P);  My = -(my + Pmy) - (x fz + P1z);  Mz = -(mz + Pmz) + (x fy + P1y)
//
// P is the running sum of the loads and P1 its integral. Statics of the part from 0 to x.
func sectionForce(f Vec6, loads []bracket, x float64) (s Vec6) {
	p, p1 := sums(loads, 0, x), sums(loads, 1, x)
	for d := range 6 {
		s[d] = -(f[d] + p[d])
	}
	s[RY] -= x*f[UZ] + p1[UZ]
	s[RZ] += x*f[UY] + p1[UY]
	return s
}

// deflectionFrom returns the displacement at x of an element that starts with displacement u at its I end, where
// the force f acts, by integrating the strains.
//
//	u' = N/EA, twist' = T/GJ, ry' = My/EIy, w' = -ry + Vz/GAz, rz' = Mz/EIz, v' = rz + Vy/GAy
//
// Source: Timoshenko beam equations, integrated in docs/methods/spaceframe.md.
func (e *elastic) deflectionFrom(u, f Vec6, loads []bracket, x float64) Vec6 {
	all := make([]bracket, 0, len(loads)+6)
	all = append(all, loads...)
	for d := range DOF(6) {
		all = append(all, bracket{dof: d, value: f[d]})
	}
	p1, p2, p3 := sums(all, 1, x), sums(all, 2, x), sums(all, 3, x)
	v := u
	v[UX] -= p1[UX] / e.ea
	v[RX] -= p1[RX] / e.gj
	v[RY] -= (p1[RY] + p2[UZ]) / e.eiy
	v[RZ] += (p2[UY] - p1[RZ]) / e.eiz
	v[UZ] += -x*u[RY] + (p2[RY]+p3[UZ])/e.eiy - shearPart(p1[UZ], e.gaz)
	v[UY] += x*u[RZ] + (p3[UY]-p2[RZ])/e.eiz - shearPart(p1[UY], e.gay)
	return v
}

func shearPart(p, ga float64) float64 {
	if ga == 0 {
		return 0
	}
	return p / ga
}

// fixedEndForces returns the forces that hold both ends of an element still under its loads, in local axes.
func (e *elastic) fixedEndForces(loads []bracket) (f vec12) {
	if len(loads) == 0 {
		return f
	}
	l := e.length
	p1, p2, p3 := sums(loads, 1, l), sums(loads, 2, l), sums(loads, 3, l)
	var i Vec6
	i[UX] = -p1[UX] / l
	i[RX] = -p1[RX] / l
	i[UZ], i[RY] = fixedEnd(l, e.phiZ, p1[UZ], p2[UZ], p3[UZ], p1[RY], p2[RY])
	i[UY], i[RZ] = fixedEnd(l, e.phiY, p1[UY], p2[UY], p3[UY], -p1[RZ], -p2[RZ])
	i[RZ] = -i[RZ]
	j := sectionForce(i, loads, l)
	copy(f[:6], i[:])
	copy(f[6:], j[:])
	return f
}

// fixedEnd returns the force and the moment at the I end that bring deflection and rotation at the other end to
// zero, in the plane of z.
//
//	F = -(L/2 (m1 + q2) - m2 - q3 + phi L^2/12 q1)/(L^3/12 (1 + phi)),  M = -(m1 + q2)/L - F L/2
//
// qk and mk are the k-fold integrals of the running sums of force and moment at x = L.
//
// Source: solved from deflectionFrom in docs/methods/spaceframe.md.
func fixedEnd(l, phi, q1, q2, q3, m1, m2 float64) (force, moment float64) {
	force = -(l/2*(m1+q2) - m2 - q3 + phi*l*l/12*q1) / (l * l * l / 12 * (1 + phi))
	moment = -(m1+q2)/l - force*l/2
	return force, moment
}

// spreadBrackets cuts a spread load in local axes to the piece from start to start+length of a member and appends
// its terms.
func spreadBrackets(to []bracket, s SpreadLoad, a, b Vec, start, length float64) []bracket {
	lo, hi := max(s.From, start), min(s.To, start+length)
	if hi <= lo {
		return to
	}
	for d := range DOF(3) {
		slope := (b[d] - a[d]) / (s.To - s.From)
		from, until := a[d]+slope*(lo-s.From), a[d]+slope*(hi-s.From)
		if from == 0 && until == 0 {
			continue
		}
		to = append(to, bracket{d, 1, lo - start, from})
		if slope != 0 {
			to = append(to, bracket{d, 2, lo - start, slope})
		}
		if hi < start+length {
			to = append(to, bracket{d, 1, hi - start, -until})
			if slope != 0 {
				to = append(to, bracket{d, 2, hi - start, -slope})
			}
		}
	}
	return to
}

// pointBrackets appends a point load in local axes, at distance at from the element's I end.
func pointBrackets(to []bracket, force, moment Vec, at float64) []bracket {
	v := join(force, moment)
	for d := range DOF(6) {
		if v[d] != 0 {
			to = append(to, bracket{d, 0, at, v[d]})
		}
	}
	return to
}
