package joint

import "longgrain/internal/ground/unit"

// faced holds the kinds of specimens that hold by glue faces alone: loose tenons and laps.
var faced = map[Kind]makesSpecimen{
	LooseTenon: {
		func(p Specimen) []string {
			out := lacking(size{"the thickness of the tenon", p.Sizes.Thickness}, size{"the width of the tenon", p.Sizes.Width}, size{"the depth of the tenon in each part", min(p.depthA(), p.Sizes.DepthB)})
			if p.Width > 0 && p.Sizes.Width+p.Edge > p.Width {
				out = append(out, "a tenon that is no wider than its rail")
			}
			return out
		},
		func(p Specimen, s Site) Strength {
			middle := s.Height() / 2
			if p.Edge > 0 {
				middle = (p.Edge + p.Sizes.Width/2).MM()
			}
			return looseStrength(s, p.Sizes.Thickness, p.Sizes.Width, min(p.depthA(), p.Sizes.DepthB), middle)
		},
	},
	HalfLap: {
		func(p Specimen) []string {
			return p.lapped("the length of the lap, which is the width of the other part")
		},
		func(p Specimen, s Site) Strength {
			return lapStrength(s, p.Sizes.DepthB.MM(), s.Height(), p.Sizes.Thickness.MM(), s.Thick()-p.Sizes.Thickness.MM())
		},
	},
	Bridle: {
		func(p Specimen) []string {
			return p.lapped("the length of the tongue, which is the width of the other part")
		},
		func(p Specimen, s Site) Strength {
			return bridleStrength(s, p.Sizes.DepthB.MM(), s.Height(), p.Sizes.Thickness.MM(), s.Thick()-p.Sizes.Thickness.MM())
		},
	},
}

// depthA is the depth of a loose tenon in the rail: as noted, or as deep as in the other part.
func (p Specimen) depthA() unit.Length {
	if p.Sizes.DepthA > 0 {
		return p.Sizes.DepthA
	}
	return p.Sizes.DepthB
}

// lapped names what a lap lacks; both parts are taken to be as thick as the rail.
func (p Specimen) lapped(length string) []string {
	out := lacking(size{"the thickness of the tongue", p.Sizes.Thickness}, size{length, p.Sizes.DepthB})
	if p.Thickness > 0 && p.Sizes.Thickness >= p.Thickness {
		out = append(out, "a tongue thinner than the rail")
	}
	return out
}
