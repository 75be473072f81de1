package markout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
)

// Gauge is one setting of the two pins of a mortise gauge, and everything that is scribed with it. The pins stand as far apart as
// the chisel is wide; only the stock is moved between its rows, by the set-back between a tenon and its mortise.
type Gauge struct {
	Pins unit.Length `json:"pins"` // from pin to pin
	Rows []GaugeRow  `json:"rows"`
}

// GaugeRow is one setting of the stock.
type GaugeRow struct {
	Near    unit.Length          `json:"near"`    // from the reference to the near pin
	Against string               `json:"against"` // the reference that the stock runs on: "face" or "edge"
	Kind    assembly.FeatureKind `json:"kind"`    // mortise or tenon
	Long    unit.Length          `json:"long"`    // of the mortise; of a tenon, from its end to the shoulder
	Deep    unit.Length          `json:"deep"`    // of a mortise, with room for glue; 0 for a tenon
	Cuts    []Cuts               `json:"cuts"`
	Where   string               `json:"where"`
}

// findGauges groups mortises and tenons by the distance of their cheeks and by how far these lie from the reference.
func findGauges(a assembly.Assembly, m Markout) []Gauge {
	type row struct {
		near, long, deep unit.Length
		against          string
		kind             assembly.FeatureKind
	}
	found := map[unit.Length]map[row]tally{}
	for i, s := range m.Sheets {
		for _, k := range s.Marks {
			if (k.Kind != assembly.Tenon && k.Kind != assembly.Mortise) || k.Mate == nil {
				continue
			}
			// The cheeks run the long way of the cut.
			pins, at, from := k.Width, k.Across, k.AcrossFrom
			long := k.Length
			if k.Length < k.Width {
				pins, at, from, long = k.Length, k.Along, k.AlongFrom, k.Width
			}
			r := row{near: at - pins/2, long: long, deep: k.Stop, against: s.References.Role(from), kind: k.Kind}
			if k.Kind == assembly.Tenon {
				r.long, r.deep = k.Depth, 0
			}
			if found[pins] == nil {
				found[pins] = map[row]tally{}
			}
			if found[pins][r] == nil {
				found[pins][r] = tally{}
			}
			found[pins][r][Cuts{Part: i, Side: k.Side, Against: r.against}]++
		}
	}
	var out []Gauge
	for pins, rows := range found {
		g := Gauge{Pins: pins}
		for r, cuts := range rows {
			x := GaugeRow{Near: r.near, Against: r.against, Kind: r.kind, Long: r.long, Deep: r.deep, Cuts: cuts.sorted()}
			x.Where = where(a, x.Cuts)
			g.Rows = append(g.Rows, x)
		}
		slices.SortFunc(g.Rows, func(x, y GaugeRow) int {
			return cmp.Or(cmp.Compare(x.Near, y.Near), comparePlace(x.Cuts[0], y.Cuts[0]), cmp.Compare(x.Long, y.Long))
		})
		out = append(out, g)
	}
	slices.SortFunc(out, func(x, y Gauge) int { return cmp.Compare(x.Pins, y.Pins) })
	return out
}

// Sentence says how to set the gauge and what to scribe with it.
func (g Gauge) Sentence(f unit.Family) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Pins %s apart, by the chisel itself.", g.Pins.Show(f))
	for _, r := range g.Rows {
		fmt.Fprintf(&b, " Stock on the %s, near pin at %s: %ss on %s", r.Against, r.Near.Show(f), r.Kind, r.Where)
		if r.Kind == assembly.Tenon {
			fmt.Fprintf(&b, ", shoulder line %s from the end.", r.Long.Show(f))
		} else {
			fmt.Fprintf(&b, ", %s long, chopped %s deep.", r.Long.Show(f), r.Deep.Show(f))
		}
	}
	return b.String()
}
