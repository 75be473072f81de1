package joint

import (
	"fmt"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// HalfLap lays half the thickness of one part on that of the other: at the end of A, or where two parts cross.
const HalfLap Kind = "half-lap"

// Bridle is a tenon as wide as A in a slot that is open at the end of B.
const Bridle Kind = "bridle"

var lapKind = kind{
	name: HalfLap, needs: []hardware.Job{hardware.CutTenon, hardware.Crosscut}, model: faceModel, glued: true,
	suits:    func(s Site) bool { return s.Contact.Crossing || framed(s) },
	possible: laps, cut: cutLap, words: named, short: briefly,
}

var bridleKind = kind{
	name: Bridle, needs: []hardware.Job{hardware.CutTenon, hardware.Crosscut}, model: faceModel, glued: true,
	suits:    func(s Site) bool { return framed(s) && s.Contact.Corner },
	possible: bridles,
	cut: func(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
		return tongue(s, j, at, assembly.Notch, 0)
	},
	words: named, short: briefly,
}

// framed tells whether the whole end of A meets B as in a frame, and nothing else is joined to B there.
func framed(s Site) bool { return meetsSide(s) && s.uAlongB() && s.whole() && s.Alone }

// tongue returns a tongue of a joint on A, and a cut of some kind on B that takes it, deeper by a space.
func tongue(s Site, j Joint, at spot, kind assembly.FeatureKind, space unit.Length) (onA, onB []assembly.Feature) {
	z := j.Sizes
	return facing(s, at, func(a, b *assembly.Feature) {
		a.Kind, a.Length, a.Width, a.Depth = assembly.Tenon, z.Width, z.Thickness, z.DepthB
		b.Kind, b.Length, b.Width, b.Depth = kind, z.Width, z.Thickness, z.DepthB+space
		a.Rounded, b.Rounded = z.Rounded, z.Rounded
		b.Through = b.Depth == s.Depth
	})
}

func laps(s Site, m Means) []Joint {
	if s.Contact.Crossing {
		return crossLap(s, m)
	}
	size, low, high := s.acrossB()
	t := (s.A.Thickness / 2).RoundTo(m.Mark)
	if w := s.wished(HalfLap); w.Thickness.Length > 0 {
		t = w.Thickness.Length
	}
	// The tongue lies on the side on which the two parts are flush, and leaves as much of B as of A or more.
	if min(low, high) != 0 || t >= s.A.Thickness || size-t < min(t, s.A.Thickness-t) || t < lapLeast {
		return nil
	}
	j := lapJoint(s, m, HalfLap, t, fmt.Sprintf("half-lap %s thick, %s wide, %s long", t.Show(m.Family), s.A.Width.Show(m.Family), s.Depth.Show(m.Family)))
	long, high2, tt := s.Depth.MM(), s.Height(), t.MM()
	face := long * high2
	j.Glue.LongGrain, j.Glue.EndGrain = areaOf(face), areaOf(high2*(s.Thick()-tt))
	j.Strength = lapStrength(s, long, high2, tt, (size - t).MM())
	j.Stiffness = faceStiffness(s, 1, long, high2, tt)
	return finish(s, j)
}

// lapStrength is that of the lap of the end of A, long by high mm with a tongue tt thick, over B, of which a thickness of
// left mm stays.
func lapStrength(s Site, long, high, tt, left float64) Strength {
	face := long * high
	flat := Limit{"glue of the lap pulled along", s.cheekPulled() * face, citeCheek}
	peel := s.splits()
	return Strength{
		Tension: least(faceModel, flat, Limit{"the tongue torn", float64(s.TimberA.Bending) * tt * high, source.Assumption()}),
		ShearU:  least(faceModel, flat),
		ShearV:  least(faceModel, Limit{"the lap pulled off", peel * face, citeOwn}, s.sheared("the tongue sheared", tt, high)),
		BendU: least(faceModel, append(bendingLimits(s), Limit{"glue of the lap turned", s.faceTurned(long, high), strength.CiteTurn},
			Limit{"the tongue broken at the shoulder", oneSided * float64(s.TimberA.Bending) * tt * high * high / 6000, citeOneSided},
			broken("what is left of "+s.B.Name, s.TimberB.Bending, left, long))...),
		BendV: least(faceModel, append(bendingLimitsWeak(s), Limit{"the lap peeled off", peel * high * long * long / 6000, citeOwn},
			broken("the tongue broken at the shoulder", s.TimberA.Bending, high, tt))...),
		Twist: least(faceModel, Limit{"the lap twisted off", peel * long * high * high / 6000, citeOwn}),
	}
}

// oneSided is the strength of a tongue with a shoulder on one side over plain bending: the load runs round the corner.
// Source: [fww-joint-test] the half-lap carried 1.11 times as much as the 9.5 mm tenon, which 1.5 f t h²/6 gives; fitted.
const oneSided = 0.8

var citeOneSided = source.At("fww-joint-test", "half-lap 1603, tenon 1444: constant fitted", source.Secondary)

// lapLeast is the thinnest tongue. Judgement: thinner ones break while they are made.
const lapLeast = 5 * unit.Millimetre

// finish closes a joint of glue faces: where it stands, and its working.
func finish(s Site, j Joint) []Joint {
	if len(j.spots) == 0 {
		u, _ := s.Connection.A.Area.Centre()
		j.place(s, []unit.Length{u})
	}
	j.Strength.Working = limitsShown(j.Strength)
	return []Joint{j}
}

func lapJoint(s Site, m Means, k Kind, t unit.Length, product string) Joint {
	return Joint{Kind: k, Sizes: Sizes{Count: 1, Thickness: t, Width: s.Connection.A.Area.SizeU(), DepthB: s.Depth, Product: product},
		Jobs: []hardware.Job{hardware.CutTenon, hardware.Crosscut}, Minutes: minutes(k, 1), Shows: Outside}
}

func cutLap(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
	if s.Contact.Crossing {
		return facing(s, at, func(a, b *assembly.Feature) {
			r := s.Connection.A.Area
			a.Kind, a.Length, a.Width, a.Depth = assembly.Notch, r.SizeU(), r.SizeV(), j.Sizes.DepthA
			b.Kind, b.Length, b.Width, b.Depth = assembly.Notch, r.SizeU(), r.SizeV(), s.Connection.Lap-j.Sizes.DepthA
		})
	}
	r := s.Connection.A.Area
	_, _, high := s.acrossB()
	at.v = r.V0 + j.Sizes.Thickness/2
	if high == 0 {
		at.v = r.V1 - j.Sizes.Thickness/2
	}
	return tongue(s, j, at, assembly.Notch, 0)
}

// crossLap is the lap of two parts that cross: each is cut to half of what they share.
func crossLap(s Site, m Means) []Joint {
	c := s.Connection
	deep := (c.Lap / 2).RoundTo(m.Mark)
	if w := s.wished(HalfLap); w.Depth.Length > 0 {
		deep = c.Lap - w.Depth.Length
	}
	leftA, leftB := s.A.Size(c.A.Side.Axis())-deep, s.Depth-(c.Lap-deep)
	if deep <= 0 || deep >= c.Lap || min(leftA, leftB) < lapLeast {
		return nil
	}
	long, wide := s.Height(), s.Thick()
	j := Joint{Kind: HalfLap, Jobs: []hardware.Job{hardware.Crosscut, hardware.Pare}, Minutes: minutes(HalfLap, 1), Shows: Outside,
		Sizes: Sizes{Count: 1, Width: c.A.Area.SizeU(), DepthA: deep, DepthB: c.Lap - deep,
			Product: fmt.Sprintf("cross lap %s wide, %s and %s deep", c.A.Area.SizeU().Show(m.Family), deep.Show(m.Family), (c.Lap - deep).Show(m.Family))}}
	face := long * wide
	j.Glue.LongGrain, j.Glue.EndGrain = areaOf(face), areaOf(2*deep.MM()*(long+wide)/2)
	wall := Limit{"walls of the notches crushed", s.crush() * min(deep, c.Lap-deep).MM() * min(long, wide), citeOwn}
	peel := s.splits()
	netA, netB := broken("what is left of "+s.A.Name, s.TimberA.Bending, wide, leftA.MM()), broken("what is left of "+s.B.Name, s.TimberB.Bending, long, leftB.MM())
	j.Strength = Strength{
		Tension: least(faceModel, Limit{"the lap pulled off", peel * face, citeOwn}),
		ShearU:  least(faceModel, wall), ShearV: least(faceModel, wall),
		BendU: least(faceModel, Limit{"the lap peeled off", peel * wide * long * long / 6000, citeOwn}, netA),
		BendV: least(faceModel, Limit{"the lap peeled off", peel * long * wide * wide / 6000, citeOwn}, netB),
		Twist: least(faceModel, Limit{"glue of the lap turned", s.faceTurned(long, wide), strength.CiteTurn}),
	}
	j.Stiffness = faceStiffness(s, 1, long, wide, deep.MM())
	return finish(s, j)
}

func bridles(s Site, m Means) []Joint {
	size, low, high := s.acrossB()
	if size > s.A.Thickness*3/2 || min(low, high) < 0 {
		return nil
	}
	thicknesses := []unit.Length{(s.A.Thickness / 3).RoundTo(m.Mark), (s.A.Thickness * 2 / 5).RoundTo(m.Mark), (s.A.Thickness / 2).RoundTo(m.Mark)}
	if w := s.wished(Bridle); w.Thickness.Length > 0 {
		thicknesses = []unit.Length{w.Thickness.Length}
	}
	var out []Joint
	for _, t := range thicknesses {
		if t < lapLeast || t > s.A.Thickness/2 || size-t < 2*lapLeast || low+(s.A.Thickness-t)/2 < lapLeast || high+(s.A.Thickness-t)/2 < lapLeast {
			continue
		}
		j := lapJoint(s, m, Bridle, t, fmt.Sprintf("bridle %s thick, %s wide, %s long", t.Show(m.Family), s.A.Width.Show(m.Family), s.Depth.Show(m.Family)))
		long, tall, tt := s.Depth.MM(), s.Height(), t.MM()
		face := long * tall
		j.Glue.LongGrain, j.Glue.EndGrain = areaOf(2*face), areaOf(tall*(s.Thick()-tt))
		j.Strength = bridleStrength(s, long, tall, tt, (size - t).MM())
		j.Stiffness = faceStiffness(s, 2, long, tall, tt)
		out = append(out, finish(s, j)...)
	}
	return out
}

// bridleStrength is that of a tongue on the end of A, long by tall mm and tt thick, in a fork of B whose cheeks are left mm
// thick together.
func bridleStrength(s Site, long, tall, tt, left float64) Strength {
	face := long * tall
	flat := Limit{"glue of the cheeks pulled along", s.cheekPulled() * 2 * face, citeCheek}
	return Strength{
		Tension: least(faceModel, flat),
		ShearU:  least(faceModel, flat),
		ShearV:  least(faceModel, s.sheared("the tongue sheared", tt, tall), Limit{"a cheek of the fork split off", s.splits() * face, citeOwn}),
		BendU: least(faceModel, append(bendingLimits(s), Limit{"glue of the cheeks turned", 2 * s.faceTurned(long, tall), strength.CiteTurn},
			broken("the tongue broken at the shoulder", s.TimberA.Bending, tt, tall),
			broken("the fork of "+s.B.Name, s.TimberB.Bending, left, long))...),
		BendV: least(faceModel, append(bendingLimitsWeak(s), broken("the tongue broken at the shoulder", s.TimberA.Bending, tall, tt),
			Limit{"a cheek of the fork split off", s.splits() * tall * long * long / 6000, citeOwn})...),
		Twist: least(faceModel, Limit{"glue of the cheeks twisted", s.cheekPulled() * face * (tt + tall/3) / 2000, source.Assumption()}),
	}
}
