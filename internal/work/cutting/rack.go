package cutting

import (
	"fmt"
	"slices"

	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
)

// AfterJob returns what the job does to the timber on hand: the boards and offcuts that are cut up, and what stays over and is
// worth keeping, named after the board it comes from.
func (p Plan) AfterJob(s shop.Shop) shop.RackChange {
	var c shop.RackChange
	for _, b := range p.Boards {
		if b.Source == Buy {
			continue
		}
		k := slices.IndexFunc(c.Take, func(t shop.Taken) bool { return t.Name == b.Name })
		if k < 0 {
			c.Take = append(c.Take, shop.Taken{Name: b.Name})
			k = len(c.Take) - 1
		}
		c.Take[k].Count++
	}
	for _, x := range p.Rest {
		b := p.Boards[x.Board]
		left := shop.Board{Name: x.Of + " rest", Species: x.Species, Thickness: x.Thickness, Width: x.Width, Length: x.Length, Rough: x.Rough, Panel: x.Panel,
			Condition: wood.Condition(x.Condition), Count: 1, Defects: x.Defects}
		if from, key := s.Boards, "boards"; b.Source != Buy {
			if b.Source == Offcut {
				from, key = s.Offcuts, "offcuts"
			}
			if _, settled := s.DefaultOf(fmt.Sprintf("%s[%d].moisture", key, b.index)); !settled && b.index < len(from) {
				left.Moisture = from[b.index].Moisture
			}
		}
		c.Put = append(c.Put, left)
	}
	return c
}
