package cutting

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
)

// mind notes what a person should know of the timber: what has no price, and boards that are knottier than the piece reckons
// with.
func (p *Plan) mind(a assembly.Assembly, s shop.Shop) {
	if len(p.Unpriced) > 0 {
		p.Notes = append(p.Notes, fmt.Sprintf("the shop file has no price for %s: it was chosen to need the least wood, and the total leaves it out", strings.Join(p.Unpriced, ", ")))
	}
	wanted := map[string]string{} // condition that a part is reckoned with
	for _, part := range a.Parts {
		wanted[part.Name] = part.Condition
	}
	rank := func(c string) int { return slices.Index(wood.Conditions, c) }
	var names []string
	worst := ""
	for _, b := range p.Boards {
		for _, x := range b.Areas {
			if x.Kind != PartArea || rank(wanted[x.Part]) < 0 || rank(b.Condition) <= rank(wanted[x.Part]) {
				continue
			}
			if name := fmt.Sprintf("%s (%s)", b.Name, b.Condition); !slices.Contains(names, name) {
				names = append(names, name)
			}
			worst = wanted[x.Part]
		}
	}
	if len(names) > 0 {
		p.Notes = append(p.Notes, fmt.Sprintf("the piece is reckoned with %s wood, and %s may be worse: choose boards by their look, and cut round larger knots", worst, strings.Join(names, ", ")))
	}
}
