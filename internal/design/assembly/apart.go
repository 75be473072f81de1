package assembly

import "slices"

// Body returns the parts that joints hold together with a part, itself included, in their order.
func (a Assembly) Body(part int) []int {
	in := make([]bool, len(a.Parts))
	in[part] = true
	for spread := true; spread; {
		spread = false
		for _, c := range a.Connections {
			if c.Purpose == Joint && in[c.A.Part] != in[c.B.Part] {
				in[c.A.Part], in[c.B.Part], spread = true, true, true
			}
		}
	}
	var out []int
	for i := range in {
		if in[i] {
			out = append(out, i)
		}
	}
	return out
}

// Frame returns the assembly without what only hangs on it, slides in it or floats in its grooves: doors, drawers and panels. Build
// puts these last, so that parts and connections keep their indices. Loads on them go to what carries them.
func (a Assembly) Frame() Assembly {
	if a.apart[0] == 0 {
		return a
	}
	whole := a
	a.Parts = a.Parts[:len(a.Parts)-a.apart[0]]
	a.Connections = a.Connections[:len(a.Connections)-a.apart[1]]
	a.Loads = slices.Clone(a.Loads)
	for i, l := range a.Loads {
		if l.Part >= len(a.Parts) {
			a.Loads[i].Part = whole.carrier(l.Part, len(a.Parts))
		}
	}
	a.apart = [2]int{}
	return a
}

// carrier returns the part of the frame on which a body that hangs is fastened, the first of several.
func (a Assembly) carrier(part, frame int) int {
	body := a.Body(part)
	for _, c := range a.Connections {
		for _, pair := range [2][2]int{{c.A.Part, c.B.Part}, {c.B.Part, c.A.Part}} {
			if slices.Contains(body, pair[0]) && pair[1] < frame {
				return pair[1]
			}
		}
	}
	return 0
}

// setApart finds the bodies that hang, slide or float, and puts their parts and connections last. A single board that people use, a
// top or a shelf, stays with the frame that carries it.
func (b *builder) setApart() {
	a := &b.out
	stands := map[int]bool{}
	for _, s := range append(slices.Clone(a.Supports), a.Walls...) {
		stands[s.Part] = true
	}
	apart := make([]bool, len(a.Parts))
	for i, p := range a.Parts {
		body := a.Body(i)
		if slices.ContainsFunc(body, func(k int) bool { return stands[k] }) || len(body) == 1 && isBoard(p.Role) {
			continue
		}
		apart[i] = slices.ContainsFunc(a.Connections, func(c Connection) bool {
			return c.Purpose == TopFastening && (slices.Contains(body, c.A.Part) || slices.Contains(body, c.B.Part))
		})
	}
	if !slices.Contains(apart, true) {
		return
	}
	place := make([]int, len(a.Parts)) // new index by old
	var parts []Part
	for _, last := range []bool{false, true} {
		for i, p := range a.Parts {
			if apart[i] == last {
				place[i] = len(parts)
				parts = append(parts, p)
			}
		}
	}
	var connections [2][]Connection
	for _, c := range a.Connections {
		k := 0
		if apart[c.A.Part] || apart[c.B.Part] {
			k = 1
		}
		c.A.Part, c.B.Part = place[c.A.Part], place[c.B.Part]
		connections[k] = append(connections[k], c)
	}
	for _, list := range [2][]Support{a.Supports, a.Walls} {
		for i := range list {
			list[i].Part = place[list[i].Part]
		}
	}
	for i := range a.Loads {
		a.Loads[i].Part = place[a.Loads[i].Part]
	}
	a.Parts, a.Connections = parts, slices.Concat(connections[0], connections[1])
	for _, x := range apart {
		if x {
			a.apart[0]++
		}
	}
	a.apart[1] = len(connections[1])
}

// isBoard tells whether parts of a role are level boards that people load.
func isBoard(role string) bool {
	switch role {
	case "top", "seat", "shelf", "tread", "lid", "bottom":
		return true
	}
	return false
}
