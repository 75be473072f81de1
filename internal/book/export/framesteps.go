package export

import (
	"fmt"
	"math"
	"slices"

	"longgrain/internal/solve/spaceframe"
)

// print writes the file.
func (d *deck) print(name string) {
	fmt.Fprintf(d, "** Frame of %s: members on centre lines, stiff bars as arms to the faces, short bars as joints with the wood around them.\n", printable(name))
	fmt.Fprintf(d, "** N, mm, MPa, t. Loads in the style of published furniture tests; no claim of conformity with a standard.\n")
	fmt.Fprintf(d, "** Shear moduli are 5/6 of those of the wood, since the whole section of the solver's beams works in shear; joints make up for their twist. Nodes 1 to %d:\n", len(d.model.Nodes))
	for i, n := range d.model.Nodes {
		fmt.Fprintf(d, "** %d %s\n", i+1, printable(n.Name))
	}
	fmt.Fprintf(d, "*NODE,NSET=NALL\n")
	for i, at := range d.places {
		fmt.Fprintf(d, "%d,%s\n", i+1, vector(at))
	}
	element := 0
	for i, b := range d.bars {
		if len(b.nodes) == 0 {
			continue
		}
		fmt.Fprintf(d, "** %s\n*ELEMENT,TYPE=B32R,ELSET=M%d\n", printable(b.name), i+1)
		for k := 0; k+2 < len(b.nodes); k += 2 {
			element++
			fmt.Fprintf(d, "%d,%d,%d,%d\n", element, b.nodes[k], b.nodes[k+1], b.nodes[k+2])
		}
	}
	fmt.Fprintf(d, "*ELSET,ELSET=MEMBERS\n")
	for i := range d.model.Members {
		if len(d.bars[i].nodes) > 0 {
			fmt.Fprintf(d, "M%d\n", i+1)
		}
	}
	for i, b := range d.bars {
		if len(b.nodes) > 0 {
			d.section(i, b)
		}
	}
	d.printTies(d.printFeet(element))
	fmt.Fprintf(d, "*NSET,NSET=NOUT\n")
	for i := range d.model.Nodes {
		if d.inBar(i + 1) {
			fmt.Fprintf(d, "%d\n", i+1)
		}
	}
	for i := range d.cases {
		d.step(i)
	}
}

// printable keeps a name on one line of plain letters.
func printable(s string) string {
	out := []rune(s)
	for i, r := range out {
		if r < ' ' || r > '~' {
			out[i] = '?'
		}
	}
	return string(out)
}

// leastDensity stands for none: the solver wants one above 0 wherever weight is asked for. t/mm³.
const leastDensity = 1e-20

// section writes the section of a bar, a rectangle with b along its own y.
func (d *deck) section(i int, b bar) {
	fmt.Fprintf(d, "*ORIENTATION,NAME=O%d,SYSTEM=RECTANGULAR\n%s,%s\n", i+1, vector(b.axes[0]), vector(b.axes[1]))
	across := acrossShare * b.e
	if i >= len(d.model.Members) {
		across = b.e // arms and joints are alike all round
	}
	fmt.Fprintf(d, "*MATERIAL,NAME=W%d\n*ELASTIC,TYPE=ENGINEERING CONSTANTS\n", i+1)
	fmt.Fprintf(d, "%.9e,%.9e,%.9e,0.,0.,0.,%.9e,%.9e\n%.9e\n", b.e, across, across, b.g, b.g2, min(b.g, b.g2)/10)
	fmt.Fprintf(d, "*DENSITY\n%.9e\n", max(b.density, leastDensity))
	fmt.Fprintf(d, "*BEAM SECTION,ELSET=M%d,MATERIAL=W%d,SECTION=RECT,ORIENTATION=O%d\n%.9e,%.9e\n%s\n", i+1, i+1, i+1, b.b, b.h, vector(b.axes[1]))
}

func vector(v spaceframe.Vec) string { return fmt.Sprintf("%.9e,%.9e,%.9e", v[0], v[1], v[2]) }

// printFeet writes the springs of supports and what makes their plain nodes move with the frame.
func (d *deck) printFeet(element int) int {
	n := 0
	for i, feet := range d.feet {
		for k, f := range feet {
			if k == 0 {
				for j := 1; j <= 3; j++ {
					fmt.Fprintf(d, "*EQUATION\n2\n%d,%d,1.,%d,%d,-1.\n", f.plain, j, d.carrier(i+1), j)
				}
			}
			n++
			element++
			fmt.Fprintf(d, "*ELEMENT,TYPE=SPRING2,ELSET=S%d\n%d,%d,%d\n*SPRING,ELSET=S%d\n%d,%d\n%.9e\n", n, element, f.plain, f.ground, n, f.direction, f.direction, f.stiffness)
		}
	}
	return element
}

// printTies writes the members that only pull and press.
func (d *deck) printTies(element int) {
	for i, t := range d.ties {
		for k := range t.ends {
			for j := 1; j <= 3; j++ {
				fmt.Fprintf(d, "*EQUATION\n2\n%d,%d,1.,%d,%d,-1.\n", t.ends[k], j, t.moveWith[k], j)
			}
		}
		element++
		fmt.Fprintf(d, "*ELEMENT,TYPE=SPRINGA,ELSET=T%d\n%d,%d,%d\n*SPRING,ELSET=T%d\n\n%.9e\n", i+1, element, t.ends[0], t.ends[1], i+1, t.stiffness)
	}
}

// step writes one load case.
func (d *deck) step(i int) {
	c := d.cases[i]
	fmt.Fprintf(d, "** load case %s\n*STEP\n*STATIC\n*BOUNDARY,OP=NEW\n", printable(c.Name))
	for n, node := range d.model.Nodes {
		lifted := slices.Contains(d.results[i].Lifted, node.Name)
		for _, f := range d.feet[n] {
			for j := 1; j <= 3; j++ { // a ground node has only the direction of its spring to move in
				if !lifted || j != f.direction {
					fmt.Fprintf(d, "%d,%d,%d\n", f.ground, j, j)
				}
			}
		}
		for k := range 6 {
			if math.IsInf(node.Support.Hold[k], 1) && !lifted {
				fmt.Fprintf(d, "%d,%d,%d\n", d.carrier(n+1), k+1, k+1)
			}
		}
	}
	fmt.Fprintf(d, "*CLOAD,OP=NEW\n")
	d.loads(c)
	if g := length(c.Gravity); g > 0 {
		fmt.Fprintf(d, "*DLOAD,OP=NEW\nMEMBERS,GRAV,%.9e,%s\n", g, vector(spaceframe.Vec{c.Gravity[0] / g, c.Gravity[1] / g, c.Gravity[2] / g}))
	}
	fmt.Fprintf(d, "*NODE PRINT,NSET=NOUT\nU\n*END STEP\n")
}

// loads writes the forces of a case at nodes, each direction of each node once.
func (d *deck) loads(c spaceframe.Case) {
	sum := make([]spaceframe.Vec6, len(d.places)+1)
	put := func(node int, force, moment spaceframe.Vec, share float64) {
		for k := range 3 {
			sum[node][k] += share * force[k]
			sum[node][k+3] += share * moment[k]
		}
	}
	for _, l := range c.Nodal {
		put(d.carrier(d.at[l.Node]+1), l.Force, l.Moment, 1)
	}
	for i, b := range d.model.Members {
		for _, p := range c.Point {
			if p.Member == b.Name {
				put(d.bars[i].nodes[d.bars[i].nearest(p.At)], p.Force, p.Moment, 1)
			}
		}
		for _, w := range c.Spread {
			if w.Member == b.Name {
				d.bars[i].spread(w, put)
			}
		}
	}
	for n, v := range sum {
		for k, x := range v {
			if x != 0 {
				fmt.Fprintf(d, "%d,%d,%.9e\n", n, k+1, x)
			}
		}
	}
}

// nearest returns the index of the node of a bar nearest to a place.
func (b *bar) nearest(x float64) int {
	best := 0
	for k, at := range b.cuts {
		if math.Abs(at-x) < math.Abs(b.cuts[best]-x) {
			best = k
		}
	}
	return best
}

// spread shares a spread load out over the nodes of a member: 1/6, 4/6, 1/6 of each element's part, which a quadratic element takes exactly.
func (b *bar) spread(w spaceframe.SpreadLoad, put func(node int, force, moment spaceframe.Vec, share float64)) {
	from, to := w.From, w.To
	if from == 0 && to == 0 {
		to = b.cuts[len(b.cuts)-1]
	}
	for k := 0; k+2 < len(b.cuts); k += 2 {
		lo, hi := max(from, b.cuts[k]), min(to, b.cuts[k+2])
		if hi <= lo {
			continue
		}
		t := ((lo+hi)/2 - from) / (to - from)
		force := add(w.Start, add(w.End, w.Start, -1), t)
		for n, share := range []float64{1. / 6, 4. / 6, 1. / 6} {
			put(b.nodes[k+n], force, spaceframe.Vec{}, share*(hi-lo))
		}
	}
}
