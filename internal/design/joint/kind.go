package joint

import (
	"fmt"
	"slices"
	"sync"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

// Kind is a kind of joint, in the words of the piece file.
type Kind string

// Buttons hold a top and are worked out in package fasten; the name stands here because shop tests name it beside joints.
const Buttons Kind = "buttons"

// kind is all that the package knows of one kind of joint. Possible, Cut, Check and Describe read it and know no kind
// by name.
type kind struct {
	name  Kind
	needs []hardware.Job // it cannot be made without a tool for each of these
	model float64        // coefficient of variation of its strength model, a prior
	loose bool           // held by loose pieces of wood that are glued in
	glued bool           // glued, though it may have no long-grain glue surface
	slant bool           // can be made square to a shoulder that is cut at an angle
	// suits tells whether it is made at a contact of this class.
	suits func(s Site) bool
	// possible returns it at every sensible size for a site, with geometry, strength and all.
	possible func(s Site, m Means) []Joint
	// cut returns what one of its pins, tenons or plates takes from both parts.
	cut func(s Site, j Joint, at spot) (onA, onB []assembly.Feature)
	// words and short name it in full and for tables.
	words, short func(z Sizes) string
}

// kinds is the table of kinds, one row a kind, in the order in which equals are listed.
var kinds = []kind{dowelKind, tenonKind, pocketKind, biscuitKind, lapKind, bridleKind, housingKind, rebateKind,
	throughKind, haunchedKind, twinKind, looseKind, rowsKind, screwKind, boxKind, dovetailKind, gluedKind, tongueKind, blockKind}

// row returns the row of a kind.
func row(name Kind) (kind, bool) {
	i := slices.IndexFunc(kinds, func(k kind) bool { return k.name == name })
	if i < 0 {
		return kind{}, false
	}
	return kinds[i], true
}

// Kinds returns the kinds that can be worked out, in the order of the table.
func Kinds() []Kind {
	out := make([]Kind, len(kinds))
	for i, k := range kinds {
		out[i] = k.name
	}
	return out
}

// ModelScatter returns the coefficient of variation of the strength model of a kind, a prior; false for a kind that is
// not worked out. Source: docs/methods/joints.md, judgement.
func ModelScatter(name Kind) (float64, bool) {
	k, ok := row(name)
	return k.model, ok
}

// spot is where a pin, tenon or plate stands on the end of A.
type spot struct{ u, v unit.Length }

// counted names joints of some pieces: "3 × fluted dowel 10 mm × 60 mm".
func counted(z Sizes) string { return fmt.Sprintf("%d × %s", z.Count, z.Product) }

// Possible returns every joint that can be made at a site with the means of a shop, at every sensible size.
func Possible(s Site, m Means) []Joint {
	// Kinds know nothing of each other, so they are worked out side by side and put together in their order.
	made := make([][]Joint, len(kinds))
	slanted := s.angled()
	var all sync.WaitGroup
	for i, k := range kinds {
		if !k.suits(s) || slanted && !k.slant || slices.ContainsFunc(k.needs, func(j hardware.Job) bool { return !m.Can(j) }) {
			continue
		}
		all.Go(func() {
			made[i] = k.possible(s, m)
			if slanted {
				made[i] = slices.DeleteFunc(made[i], func(j Joint) bool { return !fitsSlant(s, j) })
			}
			for n := range made[i] {
				j := &made[i][n]
				j.Broken = brokenRules(s, *j)
				j.ToBuy = m.Has != nil && slices.ContainsFunc(j.Hardware, func(i Item) bool { return !m.Has(i.Name) })
			}
		})
	}
	all.Wait()
	return slices.Concat(made...)
}

// Describe names a joint in words: "3 × fluted dowel 10 mm × 60 mm".
func (j Joint) Describe() string {
	if k, ok := row(j.Kind); ok {
		return k.words(j.Sizes)
	}
	return fmt.Sprintf("%d %s", j.Sizes.Count, j.Kind)
}

// Short names a joint in few words for tables: "3 dowels ⌀10 × 60", "tenon 10 × 92 × 28". Sizes are in the units of the
// thing as sold: millimetres, or inches where the name of the product has them.
func (j Joint) Short() string {
	if k, ok := row(j.Kind); ok {
		return k.short(j.Sizes)
	}
	return fmt.Sprintf("%d %s", j.Sizes.Count, j.Kind)
}

// Glued tells whether the joint is glued.
func (j Joint) Glued() bool {
	k, ok := row(j.Kind)
	return j.Glue.LongGrain > 0 || ok && k.glued
}

// LoosePieces returns how many loose pieces of wood are glued into the joint: dowels, biscuits.
func (j Joint) LoosePieces() int {
	if k, ok := row(j.Kind); ok && k.loose {
		return j.Sizes.Count
	}
	return 0
}

// PinLength returns the length of the round pins that stand in both parts, such as dowels; zero where there are none.
func (j Joint) PinLength() unit.Length {
	if j.LoosePieces() == 0 || j.Sizes.Diameter == 0 {
		return 0
	}
	return j.Sizes.DepthA + j.Sizes.DepthB
}
