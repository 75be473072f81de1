package spaceframe

// ForceAt returns the internal force at the distance x from the I end, in local axes as in Station; x is brought
// within the member. At a concentrated load it is the force just beyond. In linear statics it needs no
// displacements, so it is much cheaper than Along.
func (m *MemberResult) ForceAt(x float64) Vec6 {
	x = min(max(x, 0), m.Length)
	i := len(m.pieces) - 1
	for i > 0 && m.pieces[i].start > x {
		i--
	}
	p := &m.pieces[i]
	return p.force(min(x-p.start, p.elastic.length))
}

// LoadPlaces returns the distances from the I end at which loads on the member act or begin.
func (m *MemberResult) LoadPlaces() []float64 {
	var at []float64
	for i := range m.pieces {
		for _, b := range m.pieces[i].loads {
			at = append(at, m.pieces[i].start+b.at)
		}
	}
	return at
}

// force returns the internal force at x within the piece.
func (p *piece) force(x float64) Vec6 {
	if p.axial != 0 {
		return p.at(x).Force
	}
	var f Vec6
	copy(f[:], p.f[:6])
	return sectionForce(f, p.loads, x)
}
