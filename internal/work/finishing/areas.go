package finishing

import (
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
)

// PartArea is the surface of a part.
type PartArea struct {
	Part     int               `json:"part"` // index into the assembly
	Mark     string            `json:"mark"`
	Total    unit.SquareMetres `json:"total"`    // of the part as cut, without joints
	Masked   unit.SquareMetres `json:"masked"`   // meets other parts in joints
	Exposed  unit.SquareMetres `json:"exposed"`  // gets the finish
	EndGrain unit.SquareMetres `json:"endGrain"` // of Exposed
}

// areas works out the surface of every part.
func (p *Plan) areas(a assembly.Assembly) {
	for i, part := range a.Parts {
		sides := Surface(part)
		x := PartArea{Part: i, Mark: part.Mark}
		for _, s := range sides {
			x.Total += s
		}
		for _, c := range a.Connections {
			if c.Purpose != assembly.Joint {
				continue
			}
			for _, at := range []assembly.Place{c.A, c.B} {
				if at.Part == i {
					area := min(sides[at.Side], unit.Area(at.Area.SizeU(), at.Area.SizeV()))
					sides[at.Side] -= area
					x.Masked += area
				}
			}
		}
		for _, f := range part.Features {
			if !masked(a, i, f) {
				sides[f.Side] = max(0, sides[f.Side]+opening(f))
			}
		}
		for s, area := range sides {
			x.Exposed += area
			if assembly.Side(s).IsEnd() {
				x.EndGrain += area
			}
		}
		p.Areas = append(p.Areas, x)
		p.Total, p.Exposed, p.EndGrain = p.Total+x.Total, p.Exposed+x.Exposed, p.EndGrain+x.EndGrain
	}
	var hidden unit.SquareMetres
	for _, x := range p.Areas {
		hidden += x.Masked
	}
	p.Working = append(p.Working, working.Step{Title: "Surface that gets the finish", Formula: "A = Σ sides − glue surfaces − openings",
		Inputs: []working.Value{{Symbol: "Σ sides", Name: "all sides of all parts", Number: float64(p.Total), Unit: "m²"}, {Symbol: "glue surfaces", Name: "where parts meet in joints, both sides", Number: float64(hidden), Unit: "m²"},
			{Symbol: "A_end", Name: "end grain within A", Number: float64(p.EndGrain), Unit: "m²"}},
		Result: working.Value{Symbol: "A", Number: float64(p.Exposed), Unit: "m²"}, Cite: source.Choice("docs/methods/finishing.md")})
}

// Surface returns the area of the six sides of a part, with its tapers and before its joints, by assembly.Side.
//
// A taper of depth D over the run R takes R D/2 off each neighbouring long side and D off the height of the end, and makes its
// own side longer by sqrt(R² + D²) - R. Where two tapers meet at a corner the end is D₁ D₂ too small, which is left out.
//
// A side between four corners is half the product of its diagonals, where a side of the part is cut at an angle.
//
// Source: geometry, closed form.
func Surface(p assembly.Part) [6]unit.SquareMetres {
	var out [6]unit.SquareMetres
	for _, s := range assembly.Sides {
		u, v := s.UV()
		out[s] = unit.Area(p.Size(u), p.Size(v))
	}
	if p.Angled() {
		for _, s := range assembly.Sides {
			r := p.Ring(s)
			out[s] = unit.SquareMetres((r[2].Sub(r[0]).Cross(r[3].Sub(r[1])).Length() / 2) * 1e-6)
		}
	}
	for _, f := range p.Features {
		if f.Kind != assembly.TaperCut {
			continue
		}
		across := 3 - f.Side.Axis() // the axis that is neither the grain nor that of the side: 1 and 2 change places
		slope := unit.MM(math.Hypot(f.Length.MM(), f.Depth.MM())) - f.Length
		out[f.Side] += unit.Area(slope, p.Size(across))
		for _, s := range assembly.Sides {
			if s.Axis() == across {
				out[s] -= unit.Area(f.Length, f.Depth) / 2
			}
		}
		end := assembly.EndLow
		if f.Rising {
			end = assembly.EndHigh
		}
		out[end] = max(0, out[end]-unit.Area(f.Depth, p.Size(across)))
	}
	return out
}

// masked tells whether a feature lies in a surface that meets another part in a joint, and so is taken off with it.
func masked(a assembly.Assembly, part int, f assembly.Feature) bool {
	for _, c := range a.Connections {
		for _, at := range []assembly.Place{c.A, c.B} {
			if at.Part == part && at.Side == f.Side && c.Name == f.For && c.Purpose == assembly.Joint {
				return true
			}
		}
	}
	return false
}

// opening returns how much a cut changes the surface that gets the finish. Holes are not coated inside; the walls of
// grooves are.
func opening(f assembly.Feature) unit.SquareMetres {
	switch f.Kind {
	case assembly.Bore:
		d := f.Diameter.Metres()
		return -unit.SquareMetres(math.Pi / 4 * d * d / math.Max(0.1, math.Cos(float64(f.Tilt)*math.Pi/180)))
	case assembly.Mortise, assembly.Slot:
		return -unit.Area(f.Length, f.Width)
	case assembly.Groove:
		return 2 * unit.Area(max(f.Length, f.Width), f.Depth)
	}
	return 0
}

// masks lists the surfaces that stay bare for the glue, part by part.
func masks(a assembly.Assembly) []Mask {
	var out []Mask
	for i, part := range a.Parts {
		for _, c := range a.Connections {
			if c.Purpose != assembly.Joint {
				continue
			}
			for _, at := range []assembly.Place{c.A, c.B} {
				if at.Part != i {
					continue
				}
				out = append(out, Mask{Part: i, Mark: part.Mark, Where: a.SideName(i, at.Side), What: cutsOf(part, c.Name),
					Area: unit.Area(at.Area.SizeU(), at.Area.SizeV())})
			}
		}
	}
	return out
}

// cutsOf names what a joint leaves on a part, in words.
func cutsOf(p assembly.Part, connection string) string {
	count := map[assembly.FeatureKind]int{}
	for _, f := range p.Features {
		if f.For == connection {
			count[f.Kind]++
		}
	}
	for _, k := range []struct {
		kind      assembly.FeatureKind
		one, many string
	}{{assembly.Tenon, "the tenon and its shoulder", "tenons and their shoulders"}, {assembly.Mortise, "the mortise and the wood round it", "mortises and the wood round them"},
		{assembly.Notch, "the notch and the wood round it", "notches and the wood round them"}, {assembly.Groove, "the groove and the wood round it", "grooves and the wood round them"},
		{assembly.Rebate, "the rebate", "rebates"},
		{assembly.Bore, "the hole and the wood round it", "holes and the wood round them"}, {assembly.Slot, "the slot and the wood round it", "slots and the wood round them"}} {
		switch n := count[k.kind]; {
		case n == 1:
			return k.one
		case n > 1:
			return plural(n, k.many)
		}
	}
	return "the glue surface"
}
