package joint

import (
	"fmt"
	"math"

	"longgrain/internal/design/strength"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// DowelRows are dowels in two rows, in parts too thick for one.
const DowelRows Kind = "dowels in two rows"

var rowsKind = kind{
	name: DowelRows, slant: true, needs: []hardware.Job{hardware.BoreEnd, hardware.BoreFace}, model: dowelModel, loose: true, suits: meetsSide,
	possible: dowelRows, cut: cutDowel, words: counted,
	short: func(z Sizes) string { return fmt.Sprintf("2 rows of %d dowels %s", z.Count/2, dowelSize(z)) },
}

// rowsThinnest is the thinnest dowel for two rows, as a share of the thickness. Judgement: thinner ones are not worth two rows.
const rowsThinnest = 0.15

func dowelRows(s Site, m Means) []Joint {
	thick := unit.MM(s.Thick())
	var out []Joint
	for _, stock := range m.Dowels {
		d := stock.Diameter
		apart := min(thick/2, thick-d.Scale(2*dowelEdge)).RoundTo(m.Mark)
		if apart > thick-d.Scale(2*dowelEdge) {
			apart -= m.Mark
		}
		wall := (thick - apart - d) / 2
		if d.MM() < rowsThinnest*s.Thick() || apart < d.Scale(dowelSpacing) || wall < max(dowelWall, d.Scale(dowelEdge)-d/2) {
			continue
		}
		inA, inB, ok := dowelDepths(s, stock, DowelRows)
		if !ok {
			continue
		}
		for n := 2; n <= maxDowels; n++ {
			at, ok := s.spread(n, d.Scale(dowelEdge), d.Scale(dowelSpacing), m.Mark)
			if !ok {
				break
			}
			j := dowelJoint(s, stock, at, inA, inB)
			j.Kind, j.Sizes.Count = DowelRows, 2*n
			j.Hardware[0].Count, j.Minutes = 2*n, minutes(DowelRows, 2*n)
			j.Notes = nil
			round := math.Pi * d.MM()
			j.Glue.LongGrain *= 2
			j.Glue.EndGrain = areaOf(s.Height()*s.Thick() - float64(2*n)*round*d.MM()/4)
			low := append([]spot(nil), j.spots...)
			for i := range low {
				j.spots[i].v = -apart / 2
				low[i].v = apart - apart/2
			}
			j.spots = append(j.spots, low...)
			rows := []float64{(s.Thick() - apart.MM()) / 2, (s.Thick() + apart.MM()) / 2}
			j.Strength = dowelRowsStrength(s, d, at, rows, inA, inB)
			one := j.Stiffness
			half := apart.MM() / 2
			weak := float64(one.Axial) * 2 * (half*half + s.Thick()*s.Thick()/4) / 1000
			j.Stiffness = Stiffness{Axial: 2 * one.Axial, Shear: 2 * one.Shear, BendU: 2 * one.BendU, BendV: unit.NewtonMetresPerRadian(weak),
				Twist: 2*one.Twist + unit.NewtonMetresPerRadian(2*float64(one.Shear)*half*half/1000), Cite: strength.CiteStiffness}
			out = append(out, j)
		}
	}
	return out
}
