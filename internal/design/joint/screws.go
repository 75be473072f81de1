package joint

import (
	"fmt"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/hardware"
)

// Screws go straight through one part into the other, their heads sunk and covered with plugs. Into the end of A they go
// through B; where two long sides meet, through the thinner part.
const Screws Kind = "screws"

var screwKind = kind{
	name: Screws, needs: []hardware.Job{hardware.BoreFace, hardware.Drive}, model: screwModel,
	suits:    func(s Site) bool { return s.Alone && (meetsSide(s) || touches(s)) },
	possible: throughScrews, cut: cutScrew, words: counted,
	short: func(z Sizes) string {
		return fmt.Sprintf("%d screws ⌀%s × %s", z.Count, z.Diameter.ShowNumber(unit.Metric), z.length().ShowNumber(unit.Metric))
	},
}

// length of a screw is what stands in both parts.
func (z Sizes) length() unit.Length { return z.DepthA + z.DepthB }

// Rules for screws. Common practice: head twice as thick as the shank, sunk 6 mm under a plug; 3 D from the edges and 5 D
// apart; thread in the wood 4 D at least, and 20 mm in end grain; a long row has one every 150 mm.
const (
	screwModel    = 0.35
	screwHead     = 2.0
	plugDepth     = 6 * unit.Millimetre
	screwEdge     = 3.0
	screwSpacing  = 5.0
	screwBite     = 4.0
	screwInEnd    = 20 * unit.Millimetre
	screwRow      = 150 * unit.Millimetre
	mostScrews    = 5
	screwMostRows = 30
)

// screwsThroughB tells through which part the screws go, and returns how thick the two are there.
func screwsThroughB(s Site) (throughB bool, through, into unit.Length) {
	a := s.A.Size(s.Connection.A.Side.Axis())
	if s.Connection.A.Side.IsEnd() {
		return true, s.Depth, s.A.Length / 2
	}
	if s.Depth <= a {
		return true, s.Depth, a
	}
	return false, a, s.Depth
}

func throughScrews(s Site, m Means) []Joint {
	_, through, into := screwsThroughB(s)
	wish := s.wished(Screws)
	var out []Joint
	for _, screw := range hardware.Screws() {
		d := screw.Shank
		if screw.Gauge >= 0 || through < plugDepth+d.Scale(screwBite/2) || d.Scale(2*screwEdge) > s.Connection.A.Area.SizeV() {
			continue
		}
		under := through - plugDepth // of the screw in the part that it goes through
		bites := bitesOf(s, screw, under, into)
		if wish.Depth.Length > 0 {
			bites = slices.DeleteFunc(bites, func(b unit.Length) bool { return !same(wish.Depth.Length, b) })
		} else if len(bites) > 2 {
			bites = bites[len(bites)-2:]
		}
		for _, bite := range bites {
			for _, n := range screwCounts(s, wish.Count) {
				at, ok := s.spread(n, d.Scale(screwEdge), d.Scale(screwSpacing), m.Mark)
				if !ok {
					break
				}
				out = append(out, screwJoint(s, screw, at, under, bite))
			}
		}
	}
	return out
}

// bitesOf returns how deep screws as sold stand in the second part, shortest first.
func bitesOf(s Site, screw hardware.Screw, under, into unit.Length) []unit.Length {
	least := screw.Shank.Scale(screwBite)
	if s.Connection.A.Side.IsEnd() {
		least = max(least, screwInEnd)
	}
	var out []unit.Length
	for _, l := range screw.Lengths {
		if bite := l - under; bite >= least && bite <= into-bareWall {
			out = append(out, bite)
		}
	}
	return out
}

// screwCounts are the numbers of screws that are tried: two to five in a short contact, one every 150 mm in a long one.
func screwCounts(s Site, wish int) []int {
	if wish > 0 {
		return []int{wish}
	}
	if n := int(s.Connection.A.Area.SizeU()/screwRow) + 1; n > mostScrews {
		return []int{min(n, screwMostRows)}
	}
	var out []int
	for n := 2; n <= mostScrews; n++ {
		out = append(out, n)
	}
	return out
}

func screwJoint(s Site, screw hardware.Screw, at []unit.Length, under, bite unit.Length) Joint {
	n := len(at)
	product := fmt.Sprintf("wood screw %s × %s", screw.Shank.Show(unit.Metric), (under + bite).Show(unit.Metric))
	j := Joint{Kind: Screws, Sizes: Sizes{Count: n, Diameter: screw.Shank, DepthA: bite, DepthB: under, Product: product},
		Hardware: []Item{{product, n}, {"plug " + plugDiameter(screw.Shank).Show(unit.Metric), n}},
		Jobs:     []hardware.Job{hardware.BoreFace, hardware.Drive}, Minutes: minutes(Screws, n), Shows: Outside,
		Notes: []string{"bore the pilot at seven tenths of the root; the plugs show"}}
	if throughB, _, _ := screwsThroughB(s); !throughB {
		j.Sizes.DepthA, j.Sizes.DepthB = under, bite
	}
	if s.Connection.A.Side.IsEnd() {
		j.Glue.EndGrain = areaOf(s.Height() * s.Thick())
		j.Notes = append(j.Notes, "screws in end grain hold six tenths of what they hold in side grain, and less under lasting load")
	}
	j.place(s, at)
	j.Strength = screwStrength(s, screw, at, under, bite)
	k := strength.ScrewStiffness(screw.Shank, bite)
	j.Stiffness = pinStiffness(s, s.fromEdge(at), k, strength.LateralStiffness((s.TimberA.Density+s.TimberB.Density)/2, screw.Shank))
	return j
}

// plugDiameter is that of the plug over the head of a screw: the head and half a millimetre of play, in whole millimetres.
func plugDiameter(shank unit.Length) unit.Length {
	return (shank.Scale(screwHead) + unit.Millimetre/2).CeilTo(unit.Millimetre)
}

// screwStrength is that of pins whose pull is the least of thread, head and steel.
func screwStrength(s Site, screw hardware.Screw, at []unit.Length, under, bite unit.Length) Strength {
	d, n := screw.Shank, float64(len(at))
	throughB, _, _ := screwsThroughB(s)
	through, into, name := s.TimberA, s.TimberB, s.B.Name
	if throughB {
		through, into, name = s.TimberB, s.TimberA, s.A.Name
	}
	thread, grain := float64(strength.ScrewWithdrawal(into.Gravity, d, bite)), "side grain"
	if s.Connection.A.Side.IsEnd() {
		thread, grain = thread*strength.EndGrainScrew, "end grain"
	}
	one := []Limit{
		{"screw drawn from the " + grain + " of " + name, thread, strength.CiteScrew},
		{"head drawn through", float64(strength.HeadPull(d.Scale(screwHead), through.Density)), strength.CiteHead},
		{"screw torn in two", float64(strength.SteelTension(screw.Root)), source.Assumption()},
	}
	pull := least(screwModel, one...)
	pins := s.fromEdge(at)
	strong, strongName := strength.BothWaysOn(pins, s.Height(), pull.Mean, s.bedU())
	weak, weakName := strength.BothWaysOn(slices.Repeat([]float64{s.Thick() / 2}, len(at)), s.Thick(), pull.Mean, s.bedV())
	f1, f2 := strength.Embedding(d, through.Density, true), strength.Embedding(d, into.Density, true)
	side := Limit{"screw bent in its hole", float64(strength.Lateral(f1, f2, under, bite, d, strength.SteelYield(d))), strength.CiteLateral}
	st := Strength{
		Tension: least(screwModel, scaled(one, n)...),
		ShearU:  least(screwModel, scaled([]Limit{side}, n)...), ShearV: least(screwModel, scaled([]Limit{side}, n)...),
		BendU: least(screwModel, append(bendingLimits(s), Limit{strongName, float64(strong), strength.CiteScrew})...),
		BendV: least(screwModel, append(bendingLimitsWeak(s), Limit{weakName, float64(weak), strength.CiteScrew})...),
		Twist: least(screwModel, Limit{"screws pushed sideways", strength.TwistOf(pins, side.Mean), strength.CiteLateral}),
	}
	st.Working = append(working.Working{
		{Title: "Pull of one screw from the " + grain + " of " + name, Formula: "F = 108.25 G² D L, times 0.6 in end grain",
			Inputs: []working.Value{{Symbol: "G", Name: "specific gravity", Number: into.Gravity}, {Symbol: "D", Number: d.MM(), Unit: "mm"}, {Symbol: "L", Name: "thread in the wood", Number: bite.MM(), Unit: "mm"}},
			Result: working.Value{Symbol: "F", Number: thread, Unit: "N"}, Cite: strength.CiteScrew}}, limitsShown(st)...)
	return st
}

// cutScrew bores the clearance hole with the seat of the plug in the one part and the pilot in the other.
func cutScrew(s Site, j Joint, at spot) (onA, onB []assembly.Feature) {
	c, z := s.Connection, j.Sizes
	throughB, through, _ := screwsThroughB(s)
	onA, onB = facing(s, at, func(a, b *assembly.Feature) {
		clear, pilot := a, b
		bite := z.DepthB
		if throughB {
			clear, pilot, bite = b, a, z.DepthA
		}
		clear.Kind, clear.Diameter, clear.Depth, clear.Through = assembly.Bore, z.Diameter, through, true
		pilot.Kind, pilot.Diameter, pilot.Depth = assembly.Bore, pilotOf(z.Diameter), bite
	})
	plug := onA[0]
	if throughB {
		plug = onB[0]
	}
	plug.Side, plug.Diameter, plug.Depth = plug.Side.Opposite(), plugDiameter(z.Diameter), plugDepth
	plug.For = c.Name
	if throughB {
		return onA, append(onB, plug)
	}
	return append(onA, plug), onB
}

// pilotOf returns the bit for a pilot hole: seven tenths of the root, which is 0.65 of the shank, in tenths of a millimetre
// but no less than half the shank, so that bits as sold do.
// Source: [johnson-1960] 0.70 of the root diameter held well, read; the lower end of bits judged.
func pilotOf(shank unit.Length) unit.Length {
	return unit.MM(math.Max(shank.MM()*0.5, 0.70*0.65*shank.MM())).RoundTo(unit.Millimetre / 10)
}
