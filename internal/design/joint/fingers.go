package joint

import (
	"fmt"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// BoxJoint interlocks square fingers at the corner of a case.
const BoxJoint Kind = "box joint"

// Dovetails interlock tails on A with pins on B at the corner of a case.
const Dovetails Kind = "dovetails"

var boxKind = kind{
	name: BoxJoint, needs: []hardware.Job{hardware.CutTenon, hardware.Groove}, model: faceModel, glued: true, suits: cornered,
	possible: boxJoints, cut: cutFinger, words: named, short: briefly,
}

var dovetailKind = kind{
	name: Dovetails, needs: []hardware.Job{hardware.CutDovetail}, model: faceModel, glued: true, suits: cornered,
	possible: dovetails, cut: cutFinger, words: named, short: briefly,
}

// cornered tells whether the whole end of A meets the face of B as at the corner of a case, and nothing else is there.
func cornered(s Site) bool { return cased(s) && s.Contact.Corner && s.Alone }

// cutFinger cuts one finger or tail and its socket. j.Sizes.Flare is zero for square fingers.
func cutFinger(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
	onA, onB = tongue(s, j, at, assembly.Notch, 0)
	onA[0].Flare, onB[0].Flare = j.Sizes.Flare, j.Sizes.Flare
	return onA, onB
}

// Rules of fingers and tails. Common practice: fingers about as wide as the part is thick, and none narrower than 6 mm;
// tails in softwood lean 1 in 6.
const (
	fingerLeast = 6 * unit.Millimetre
	tailSlope   = 6
)

// boxJoints are of odd numbers of equal fingers, so that both edges belong to B; what does not come out in whole marks goes to
// the outer fingers of B.
func boxJoints(s Site, m Means) []Joint {
	height, thick := s.Connection.A.Area.SizeU(), s.Connection.A.Area.SizeV()
	wish := s.wished(BoxJoint)
	var out []Joint
	for n := 1; n <= 40; n++ {
		w := (height / unit.Length(2*n+1)).RoundTo(m.Mark)
		if wish.Width.Length > 0 {
			w = wish.Width.Length
		}
		rest := height - unit.Length(2*n-1)*w
		if w < fingerLeast || rest < 2*fingerLeast || rest > 4*w {
			continue
		}
		if wish.Count == 0 && wish.Width.Length == 0 && (w < thick/2 || w > 2*thick) {
			continue
		}
		first := s.Connection.A.Area.U0 + (rest / 2).RoundTo(m.Mark)
		at := make([]unit.Length, n)
		for i := range at {
			at[i] = first + unit.Length(2*i)*w + w/2
		}
		out = append(out, interlocked(s, m, BoxJoint, at, w, 0)...)
	}
	return out
}

// dovetails are of some tails of equal pitch, with half pins at the edges of B.
func dovetails(s Site, m Means) []Joint {
	height, thick := s.Connection.A.Area.SizeU(), s.Connection.A.Area.SizeV()
	flare := (s.Depth / tailSlope).RoundTo(m.Mark)
	wish := s.wished(Dovetails)
	var out []Joint
	for n := 1; n <= 20; n++ {
		pitch := height / unit.Length(n)
		pin := max(fingerLeast, (thick / 2).RoundTo(m.Mark)) // narrow side of a pin
		w := (pitch - pin - 2*flare).RoundTo(m.Mark)         // narrow side of a tail
		if wish.Width.Length > 0 {
			w = wish.Width.Length
		}
		if w < fingerLeast || pitch-w-2*flare < fingerLeast-m.Mark {
			continue
		}
		if wish.Count == 0 && wish.Width.Length == 0 && (pitch < thick || pitch > 6*thick) {
			continue
		}
		at := make([]unit.Length, n)
		for i := range at {
			at[i] = s.Connection.A.Area.U0 + (pitch*unit.Length(i) + (pitch-w)/2).RoundTo(m.Mark) + w/2
		}
		out = append(out, interlocked(s, m, Dovetails, at, w, flare)...)
	}
	return out
}

// interlocked works out fingers or tails of A of a width, with their middles along U.
func interlocked(s Site, m Means, k Kind, at []unit.Length, w, flare unit.Length) []Joint {
	n := len(at)
	what, job := "fingers", hardware.Groove
	if flare > 0 {
		what, job = "tails", hardware.CutDovetail
	}
	j := Joint{Kind: k, Jobs: []hardware.Job{hardware.CutTenon, job}, Minutes: minutes(k, n), Shows: Outside,
		Sizes: Sizes{Count: n, Width: w, Thickness: s.Connection.A.Area.SizeV(), DepthB: s.Depth, Flare: flare,
			Product: fmt.Sprintf("%s of %d %s %s wide", k, n, what, w.Show(m.Family))}}
	long, thick, tall, each := s.Depth.MM(), s.Thick(), s.Height(), w.MM()
	face, count := long*thick, float64(n)
	var faces []float64
	for _, x := range s.fromEdge(at) {
		faces = append(faces, x-each/2, x+each/2)
	}
	tau := s.cheekPulled()
	pulled, opened := strength.SideFaces(tau, face, faces)
	glue := Limit{"glue of the sides pulled along", float64(pulled), citeCheek}
	tension := glue
	if flare > 0 {
		// The tails wedge: on each side the flare presses into the pins across the grain, once the glue has gone.
		if lock := count * 2 * s.crush() * flare.MM() * thick; lock > glue.Mean {
			tension = Limit{"tails pressed into the pins", lock, citeOwn}
		}
	}
	left := tall - count*each // of B at the narrow side of its pins, or fingers
	if flare > 0 {
		left -= 2 * count * flare.MM()
	}
	fingers := s.sheared(what+" sheared", thick, count*each)
	j.Strength = Strength{
		Tension: least(faceModel, tension, Limit{what + " torn", float64(s.TimberA.Bending) * thick * count * each, citeOwn}),
		ShearU:  least(faceModel, Limit{what + " pressed on each other", s.crush() * face * count, citeOwn}, fingers),
		ShearV:  least(faceModel, glue, fingers),
		BendU: least(faceModel, append(bendingLimits(s), Limit{"glue of the sides opened", float64(opened), citeCheek},
			broken(what+" broken at the shoulder", s.TimberA.Bending, thick*count*each/tall, tall))...),
		BendV: least(faceModel, append(bendingLimitsWeak(s),
			Limit{"glue of the sides turned", 2 * count * s.faceTurned(long, thick), strength.CiteTurn},
			broken(what+" broken at the shoulder", s.TimberA.Bending, count*each, thick),
			broken("what is left of "+s.B.Name, s.TimberB.Bending, left, long))...),
		Twist: least(faceModel, Limit{"glue of the sides opened", float64(opened), citeCheek}),
	}
	j.Glue.LongGrain = areaOf(2 * count * face)
	j.Glue.EndGrain = areaOf(tall*thick - count*each*thick + left*thick)
	perArea := faceStiffness(s, 2*count, long, thick, min(each, thick))
	j.Stiffness = perArea
	j.place(s, at)
	return finish(s, j)
}
