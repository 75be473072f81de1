package plan

import (
	"fmt"
	"slices"

	"longgrain/internal/check/movement"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
)

// Year is how the piece moves through the year where it will stand.
type Year struct {
	Moisture movement.Year   `json:"moisture"`
	Known    bool            `json:"known"` // false when the shop gives no climate of the place of use
	Months   []Month         `json:"months"`
	Parts    []PartMovement  `json:"parts"`
	Crossed  []Crossed       `json:"crossed"`
	Working  working.Working `json:"working"`
}

// Month is one season of the place of use.
type Month struct {
	Name     string        `json:"name"`
	Moisture wood.Moisture `json:"moisture"`
}

// PartMovement is the movement of one part across its grain.
type PartMovement struct {
	Part     int               `json:"part"`
	Name     string            `json:"name"`
	Movement movement.Movement `json:"movement"`
}

// Crossed is a joint that holds wide wood across its grain.
type Crossed struct {
	Connection string            `json:"connection"`
	Conflict   movement.Conflict `json:"conflict"`
}

// movesVisibly is the movement below which a part is not listed. Judgement: nobody sees or feels less.
const movesVisibly = unit.Millimetre / 4

// yearOf works out the movement of every part wide enough to matter, with flat-sawn boards, the safe choice.
func yearOf(a assembly.Assembly, s shop.Shop) Year {
	var y Year
	y.Moisture, y.Working, y.Known = movement.YearIn(s.Use, s.Habits.TargetMoisture, 1)
	if !y.Known {
		return y
	}
	for _, w := range s.Use.Weather {
		y.Months = append(y.Months, Month{w.Name, w.Moisture()})
	}
	seen := map[int]bool{}
	for i, p := range a.Parts {
		if seen[p.Kind] {
			continue
		}
		seen[p.Kind] = true
		species, _ := wood.Lookup(p.Species)
		if m, ok := movement.Across(p.Width, species, wood.FlatSawn, y.Moisture); ok && m.Total() > movesVisibly {
			y.Parts = append(y.Parts, PartMovement{i, p.Name, m})
		}
	}
	slices.SortStableFunc(y.Parts, func(a, b PartMovement) int { return int((b.Movement.Total() - a.Movement.Total()) / unit.Micrometre) })
	groups := map[int]bool{}
	for _, c := range a.Connections {
		if c.Purpose != assembly.Joint || !c.A.Side.IsEnd() || groups[c.Group] {
			continue
		}
		groups[c.Group] = true
		species, _ := wood.Lookup(a.Parts[c.A.Part].Species)
		span := heldAcross(a, c)
		if conflict, ok := movement.CrossGrain(span, species, wood.FlatSawn, y.Moisture); ok && conflict.Ratio > 1 {
			y.Crossed = append(y.Crossed, Crossed{c.Name, conflict})
		}
	}
	return y
}

// heldAcross returns how wide the end of A is held by wood of B whose grain runs that way. In a case both swell the same way, and
// nothing is held.
func heldAcross(a assembly.Assembly, c assembly.Connection) unit.Length {
	grain := a.Parts[c.B.Part].Pose.Axes[0]
	var span unit.Length
	if geom.Parallel(c.U, grain) {
		span = c.A.Area.SizeU()
	}
	if geom.Parallel(c.V, grain) {
		span = max(span, c.A.Area.SizeV())
	}
	return span
}

// fastenTops works out the buttons of every top fastening and cuts their slots.
func (p *Plan) fastenTops(s shop.Shop) {
	added := map[int][]assembly.Feature{}
	for i, c := range p.Assembly.Connections {
		if c.Purpose != assembly.TopFastening {
			continue
		}
		f := fasten.Fasten(p.Assembly, i, p.play(c), s.SmallestMark)
		p.Fastenings = append(p.Fastenings, f)
		rail, _ := p.Assembly.PartNamed(f.Rail)
		added[rail] = append(added[rail], f.Features...)
	}
	p.Assembly = p.Assembly.WithFeatures(added)
}

// play returns the travel of a fastening at a distance from the middle line of the top of a connection.
func (p *Plan) play(c assembly.Connection) func(unit.Length) fasten.Play {
	for _, index := range []int{c.A.Part, c.B.Part} {
		for _, m := range p.Year.Parts {
			if p.Assembly.Parts[m.Part].Kind == p.Assembly.Parts[index].Kind {
				return func(distance unit.Length) fasten.Play {
					slot := movement.SlotFor(m.Movement, distance, 0)
					return fasten.Play{Outward: slot.Outer, Inward: slot.Inner}
				}
			}
		}
	}
	return func(unit.Length) fasten.Play {
		return fasten.Play{Outward: movement.Clearance, Inward: movement.Clearance}
	}
}

// Span says in words how much a part moves.
func (m PartMovement) Span(f unit.Family) string {
	return fmt.Sprintf("%s moves by %s through the year", m.Name, m.Movement.Total().Show(f))
}
