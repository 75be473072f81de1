package joint

import (
	"fmt"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// Glued is a plain glue line, long side on long side: edges of a panel, a doubled part, a glued-on batten.
const Glued Kind = "glued"

// TongueAndGroove is a tongue along one edge in a groove of the other, glued.
const TongueAndGroove Kind = "tongue and groove"

var gluedKind = kind{
	name: Glued, needs: []hardware.Job{hardware.Edge}, model: faceModel, glued: true, suits: touches,
	possible: func(s Site, m Means) []Joint { return finish(s, glueLine(s, Glued)) },
	cut:      func(Site, Joint, spot) (onA, onB []assembly.Feature) { return nil, nil },
	words:    func(Sizes) string { return "glued plain" }, short: func(Sizes) string { return "glued plain" },
}

var tongueKind = kind{
	name: TongueAndGroove, needs: []hardware.Job{hardware.Groove, hardware.Rabbet}, model: faceModel, glued: true,
	suits: func(s Site) bool {
		return touches(s) && s.Contact.Along && s.Connection.A.Side.Axis() == 1 && geom.Parallel(s.Connection.U, s.A.Pose.Axes[0])
	},
	possible: tongues,
	cut: func(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
		return tongue(s, j, at, assembly.Groove, tongueSpace)
	},
	words: named, short: briefly,
}

// glueLine works out a glue line of the whole contact. Where the grain of both parts runs the same way it holds like the
// wood beside it; where it crosses, like a tenon's cheek.
func glueLine(s Site, k Kind) Joint {
	long, high := s.Height(), s.Thick()
	area := long * high
	j := Joint{Kind: k, Sizes: Sizes{Count: 1, Width: s.Connection.A.Area.SizeU()}, Jobs: []hardware.Job{hardware.Edge}, Minutes: minutes(k, 1), Shows: Hidden}
	j.Glue.LongGrain = areaOf(area)
	along, across := s.weaker(), s.cheekPulled()
	turned := across * strength.TurnOfFace(long, high) / 1000 // the ends of a long glue line slide across the grain
	if !s.Contact.Along {
		along, turned = across, s.faceTurned(long, high)
	}
	peel := s.splits()
	opened := Limit{"wood beside the glue line torn across its grain", peel * area, citeOwn}
	// U runs along the grain on every long side of A.
	j.Strength = Strength{
		Tension: least(faceModel, opened),
		ShearU:  least(faceModel, Limit{"wood beside the glue line sheared", along * area, citeOwn}),
		ShearV:  least(faceModel, Limit{"wood beside the glue line sheared across its grain", across * area, citeCheek}),
		BendU:   least(faceModel, broken("wood beside the glue line torn across its grain", unit.MPa(peel), high, long)),
		BendV:   least(faceModel, broken("wood beside the glue line torn across its grain", unit.MPa(peel), long, high)),
		Twist:   least(faceModel, Limit{"the glue line turned", turned, strength.CiteTurn}),
	}
	j.Stiffness = faceStiffness(s, 1, long, high, min(high, long))
	return j
}

// Tongues: a third of the thickness, as deep as it is thick or a little more. Common practice. The groove is deeper.
const (
	tongueLeast = 4 * unit.Millimetre
	tongueSpace = unit.Millimetre
)

func tongues(s Site, m Means) []Joint {
	thick := s.Connection.A.Area.SizeV()
	thicknesses := []unit.Length{(thick / 3).RoundTo(m.Mark)}
	depths := []unit.Length{6 * unit.Millimetre, 8 * unit.Millimetre, 10 * unit.Millimetre, 12 * unit.Millimetre}
	w := s.wished(TongueAndGroove)
	if w.Thickness.Length > 0 {
		thicknesses[0] = w.Thickness.Length
	}
	if w.Depth.Length > 0 {
		depths = []unit.Length{w.Depth.Length}
	}
	var out []Joint
	size, low, high := s.acrossB()
	for _, t := range thicknesses {
		lip := min(thick-t, size-t) / 2
		if t < tongueLeast || t > thick/2 || lip < bareWall || min(low, high) < 0 {
			continue
		}
		for _, d := range depths {
			if d < tongueLeast || d > 3*t || d+tongueSpace > s.Room {
				continue
			}
			j := glueLine(s, TongueAndGroove)
			j.Jobs = []hardware.Job{hardware.Groove, hardware.Rabbet}
			j.Sizes.Thickness, j.Sizes.DepthB = t, d
			j.Sizes.Product = fmt.Sprintf("tongue and groove %s thick, %s deep", t.Show(m.Family), d.Show(m.Family))
			j.Glue.LongGrain = areaOf(s.Height() * (s.Thick() + 2*d.MM()))
			j.Notes = []string{"the tongue lines the edges up; the wood beside the glue line governs with it as without"}
			out = append(out, finish(s, j)...)
		}
	}
	return out
}
