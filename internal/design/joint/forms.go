package joint

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/wood"
)

// Forms of the mortise and tenon.
const (
	ThroughTenon  Kind = "through tenon"  // its end shows on the far side of B
	HaunchedTenon Kind = "haunched tenon" // a short step beside it keeps the rail from twisting at the end of B
	TwinTenons    Kind = "twin tenons"    // two beside each other in thick parts
	LooseTenon    Kind = "loose tenon"    // a separate piece in mortises of both parts
)

var mortiseJobs = []hardware.Job{hardware.CutMortise, hardware.CutTenon}

var throughKind = kind{
	name: ThroughTenon, slant: true, needs: mortiseJobs, model: tenonModel,
	suits:    func(s Site) bool { return mortised(s) && s.Alone },
	possible: throughTenons,
	cut: func(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
		return tongue(s, j, at, assembly.Mortise, 0)
	},
	words: named, short: briefly,
}

var haunchedKind = kind{
	name: HaunchedTenon, needs: mortiseJobs, model: tenonModel,
	suits:    func(s Site) bool { return mortised(s) && s.Contact.Corner && s.NearLow != s.NearHigh },
	possible: haunchedTenons, cut: cutHaunched, words: named, short: briefly,
}

var twinKind = kind{
	name: TwinTenons, slant: true, needs: mortiseJobs, model: tenonModel, suits: mortised,
	possible: twinTenons, cut: cutTenon, words: named, short: briefly,
}

var looseKind = kind{
	name: LooseTenon, slant: true, needs: []hardware.Job{hardware.CutLooseTenon}, model: looseModel, loose: true, suits: mortised,
	possible: looseTenons, words: named, short: briefly,
	cut: func(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
		z := j.Sizes
		return facing(s, at, func(a, b *assembly.Feature) {
			a.Kind, a.Length, a.Width, a.Depth, a.Rounded = assembly.Mortise, z.Width, z.Thickness, z.DepthA+glueSpace, true
			b.Kind, b.Length, b.Width, b.Depth, b.Rounded = assembly.Mortise, z.Width, z.Thickness, z.DepthB+glueSpace, true
		})
	},
}

// formed returns tenons of one form at every thickness of a chisel and the lengths given, worked out by make.
func formed(s Site, m Means, k Kind, lengths []unit.Length, shoulder, setback unit.Length, most unit.Length, form func(j *Joint, lo, hi, t, l unit.Length) bool) []Joint {
	lo, hi, ok := s.tenonSpan(k, m, shoulder, setback)
	if !ok {
		return nil
	}
	var out []Joint
	for _, t := range s.tenonThicknesses(k, m.Family) {
		if t > most || t < tenonThinnest || hi-lo < 2*t {
			continue
		}
		for _, l := range lengths {
			j := Joint{Kind: k, Jobs: mortiseJobs, Minutes: minutes(k, 1), Shows: Hidden,
				Sizes: Sizes{Count: 1, DepthB: l, Thickness: t, Width: hi - lo,
					Product: fmt.Sprintf("%s %s thick, %s wide, %s long", k, t.Show(m.Family), (hi - lo).Show(m.Family), l.Show(m.Family))}}
			if form(&j, lo, hi, t, l) {
				out = append(out, j)
			}
		}
	}
	return out
}

// tenonThinnest is the narrowest chisel that a mortise is cut with. Common practice.
const tenonThinnest = 6 * unit.Millimetre

// third tells whether a tenon is between three tenths and half of the thickness, rule M01.
func third(s Site, t unit.Length) bool {
	thick := unit.MM(s.Thick())
	return t >= thick*3/10 && t <= thick/2
}

func throughTenons(s Site, m Means) []Joint {
	if w := s.wished(ThroughTenon).Depth.Length; w > 0 && !same(w, s.Depth) {
		return nil // it is as long as B is thick
	}
	return formed(s, m, ThroughTenon, []unit.Length{s.Depth}, tenonShoulder, tenonSetback, unit.MM(s.Thick())/2, func(j *Joint, lo, hi, t, l unit.Length) bool {
		if !third(s, t) {
			return false
		}
		j.Shows = Outside
		j.place(s, []unit.Length{(lo + hi) / 2})
		j.tenoned(s, t, hi-lo, l, ((lo+hi)/2 - s.Connection.A.Area.U0).MM())
		return true
	})
}

// haunchShare is the share of the rail's width that the haunch takes at the end of B, and a haunch is as long as the tenon is
// thick. Common practice.
const haunchShare = 3

func haunchedTenons(s Site, m Means) []Joint {
	r := s.Connection.A.Area
	haunch := (r.SizeU() / haunchShare).RoundTo(m.Mark)
	return formed(s, m, HaunchedTenon, s.tenonLengths(HaunchedTenon), tenonShoulder, haunch, unit.MM(s.Thick())/2, func(j *Joint, lo, hi, t, l unit.Length) bool {
		if !third(s, t) || t >= l || t > s.Room {
			return false
		}
		j.place(s, []unit.Length{(lo + hi) / 2})
		j.tenoned(s, t, hi-lo, l, ((lo+hi)/2 - r.U0).MM())
		j.Notes = append(j.Notes, "the haunch keeps the rail flat; a test found no change of strength against a plain tenon of the same width, so it is not counted")
		return true
	})
}

// cutHaunched cuts the tenon, and the haunch between it and the edge of A at the end of B: a short tongue in an open notch.
func cutHaunched(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
	onA, onB = cutTenon(s, j, at)
	r := s.Connection.A.Area
	z := j.Sizes
	lo, hi := r.U0, at.u-z.Width/2
	if s.NearHigh {
		lo, hi = at.u+z.Width/2, r.U1
	}
	j.Sizes = Sizes{Width: hi - lo, Thickness: z.Thickness, DepthB: z.Thickness}
	a, b := tongue(s, j, spot{lo + (hi-lo)/2, at.v}, assembly.Notch, 0)
	return append(onA, a...), append(onB, b...)
}

// twinTenons are two side by side through the thickness, with as much between and outside them: five equal parts.
func twinTenons(s Site, m Means) []Joint {
	thick := unit.MM(s.Thick())
	return formed(s, m, TwinTenons, s.tenonLengths(TwinTenons), tenonShoulder, tenonSetback, thick/4, func(j *Joint, lo, hi, t, l unit.Length) bool {
		if t < thick*15/100 {
			return false
		}
		u, apart := (lo+hi)/2, ((thick + t) / 3).RoundTo(m.Mark)
		wall := (thick - apart - t) / 2
		if apart-t < bareWall || wall < bareWall {
			return false
		}
		j.Sizes.Count = 2
		j.place(s, []unit.Length{u, u})
		j.spots[0].v, j.spots[1].v = -apart/2, apart-apart/2
		j.tenoned(s, t, hi-lo, l, (u - s.Connection.A.Area.U0).MM())
		j.Strength = doubled(j.Strength)
		j.Stiffness = Stiffness{Axial: 2 * j.Stiffness.Axial, Shear: 2 * j.Stiffness.Shear, BendU: 2 * j.Stiffness.BendU, BendV: 2 * j.Stiffness.BendV,
			Twist: 2 * j.Stiffness.Twist, Cite: j.Stiffness.Cite}
		j.Glue.LongGrain *= 2
		j.Glue.EndGrain = areaOf(s.Height()*s.Thick() - 2*(hi-lo).MM()*t.MM())
		return true
	})
}

// doubled returns the strength of two equal tenons beside each other: twice each limit of the tenon, its glue and its
// mortise; the rail itself and the wood pressed beside the shoulder stay what they are. Derived, docs/methods/joints.md.
func doubled(st Strength) Strength {
	for _, r := range []*Resistance{&st.Tension, &st.ShearU, &st.ShearV, &st.BendU, &st.BendV, &st.Twist} {
		limits := slices.Clone(r.Limits)
		for i, l := range limits {
			if !strings.Contains(l.Name, "rail") && !strings.Contains(l.Name, "pressed") {
				limits[i].Mean *= 2
			}
		}
		*r = least(tenonModel, limits...)
	}
	st.Working = limitsShown(st)
	return st
}

// looseModel is the coefficient of variation of the loose tenon's model, a prior. Source: docs/methods/joints.md.
const looseModel = 0.30

// looseTenons are of beech, in mortises of the same depth in both parts. Their length is twice that depth.
func looseTenons(s Site, m Means) []Joint {
	lengths := slices.DeleteFunc(s.tenonLengths(LooseTenon), func(l unit.Length) bool { return l+glueSpace > s.reach() })
	return formed(s, m, LooseTenon, lengths, tenonShoulder, tenonSetback, unit.MM(s.Thick())/2, func(j *Joint, lo, hi, t, l unit.Length) bool {
		if !third(s, t) {
			return false
		}
		j.place(s, []unit.Length{(lo + hi) / 2})
		j.Jobs = []hardware.Job{hardware.CutLooseTenon}
		j.Sizes.DepthA = l
		width := hi - lo - t.Scale(1-math.Pi/4) // round ends
		j.Glue.LongGrain = 2 * unit.Area(width, l)
		j.Glue.EndGrain = areaOf(s.Height()*s.Thick() - width.MM()*t.MM())
		st := looseStrength(s, t, width, l, ((lo+hi)/2 - s.Connection.A.Area.U0).MM())
		j.Strength = st
		one := tenonStiffness(s, t, width, l)
		j.Stiffness = Stiffness{Axial: one.Axial / 2, Shear: one.Shear / 2, BendU: one.BendU / 2, BendV: one.BendV / 2, Twist: one.Twist / 2, Cite: one.Cite}
		product := fmt.Sprintf("loose tenon %s × %s × %s", t.Show(m.Family), (hi - lo).Show(m.Family), (2 * l).Show(m.Family))
		j.Hardware = []Item{{product, 1}}
		return true
	})
}

// looseStrength is that of a loose tenon of beech that stands as deep in both parts: a tenon whose own wood is that of the
// loose piece, and the rail beside it.
func looseStrength(s Site, t, width, l unit.Length, middle float64) Strength {
	beech, _ := wood.Lookup(dowelTimber)
	bending, _ := beech.Mean(wood.BendingStrength)
	own := s
	own.TimberA.Bending = bending.Value
	own.TimberA.Name = beech.Name
	st := tenonStrength(own, t, width, l, middle)
	for _, r := range []struct {
		res  *Resistance
		rail []Limit
	}{{&st.Tension, nil}, {&st.ShearU, nil}, {&st.ShearV, nil}, {&st.BendU, bendingLimits(s)}, {&st.BendV, bendingLimitsWeak(s)}, {&st.Twist, nil}} {
		limits := slices.DeleteFunc(slices.Clone(r.res.Limits), func(l Limit) bool { return l.Name == "the rail itself" })
		*r.res = least(looseModel, append(r.rail, limits...)...)
	}
	st.Working = limitsShown(st)
	return st
}
