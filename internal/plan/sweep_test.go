package plan

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/trade/shop"
	"longgrain/patterns"
)

// sizeRanges are the sizes of the pattern with their limits, mm.
var sizeRanges = []struct {
	name   string
	lo, hi float64
}{
	{"length", 300, 2400}, {"width", 250, 1200}, {"height", 200, 1100}, {"top_thickness", 12, 60}, {"overhang", 0, 200}, {"leg", 25, 120},
	{"apron_width", 40, 200}, {"apron_thickness", 12, 45}, {"set_back", 0, 60}, {"taper", 0, 60}, {"below_height", 40, 600}, {"rail_width", 25, 120}, {"shelf_thickness", 12, 45},
}

// randomTable is a table of sizes anywhere between the limits; most are near what people build.
func randomTable(rng *rand.Rand) string {
	var b strings.Builder
	pick := func(list ...string) string { return list[rng.IntN(len(list))] }
	fmt.Fprintf(&b, "longgrain: 1\nname: Random\nuse: %s\nsetting: %s\nunits: %s\nwood: {species: %s, condition: %s}\npattern: leg-and-apron-table\nsizes:\n",
		pick("table", "bench", "seat", "step", "chest", "shelf"), pick("home", "school"), pick("mm", "in"),
		pick("eastern white pine", "eastern white pine", "white oak", "black cherry", "yellow-poplar", "sugar maple"), pick("clear", "small tight knots", "ordinary knotty"))
	below := pick("nothing", "low rails", "shelf")
	fmt.Fprintf(&b, "  below: %s\n", below)
	sensible := map[string][2]float64{"length": {400, 1400}, "width": {300, 700}, "height": {350, 760}, "top_thickness": {16, 30}, "overhang": {0, 60}, "leg": {36, 70},
		"apron_width": {60, 120}, "apron_thickness": {16, 28}, "set_back": {0, 8}, "taper": {0, 0}, "below_height": {60, 150}, "rail_width": {40, 70}, "shelf_thickness": {16, 22}}
	wild := rng.IntN(4) == 0
	for _, r := range sizeRanges {
		if rng.IntN(6) == 0 {
			continue // the pattern's own size
		}
		lo, hi := r.lo, r.hi
		if !wild {
			lo, hi = sensible[r.name][0], sensible[r.name][1]
		}
		x := lo + rng.Float64()*(hi-lo)
		if r.name == "taper" && below == "nothing" && rng.IntN(3) == 0 {
			x = 10
		}
		switch rng.IntN(3) {
		case 0:
			fmt.Fprintf(&b, "  %s: %.0f mm\n", r.name, x)
		case 1:
			fmt.Fprintf(&b, "  %s: %.1f mm\n", r.name, x)
		default:
			fmt.Fprintf(&b, "  %s: %d/16 in\n", r.name, max(1, int(x/25.4*16)))
		}
	}
	if rng.IntN(5) == 0 {
		fmt.Fprintf(&b, "joints:\n  - {between: [apron, leg], kind: %s}\n", pick("dowels", "mortise and tenon", "pocket screws", "biscuits"))
	}
	if rng.IntN(8) == 0 {
		fmt.Fprintf(&b, "copies: %d\n", 2+rng.IntN(3))
	}
	return b.String()
}

// shops are the class with all it has, with few tools, and with oak and rough timber.
func shops(t *testing.T) []shop.Shop {
	t.Helper()
	var out []shop.Shop
	for _, text := range []string{
		examples.Shop(),
		"longgrain-shop: 1\nname: Beginner\nunits: in\nsmallest_mark: 1/32 in\ntools: [hand saws, hand drill, pocket-hole guide]\ntimber:\n  - {size: 1x6, species: eastern white pine, lengths: [8 ft], price: 1.4, per: foot}\n  - {size: 2x4, species: eastern white pine, lengths: [8 ft], price: 1, per: foot}\n",
		"longgrain-shop: 1\nname: Oak\ntools: [table saw, thickness planer, jointer, chisels and mallet, hand saws]\ntimber:\n" +
			"  - {thickness: 27 mm, width: 180 mm, species: white oak, rough: true, lengths: [2500 mm], price: 4000, per: cubic metre}\n  - {thickness: 52 mm, width: 150 mm, species: white oak, rough: true, lengths: [2500 mm], price: 4500, per: cubic metre}\n",
	} {
		s, problems := shop.Parse("shop.yaml", []byte(text))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		out = append(out, s)
	}
	return out
}

// Sizes anywhere within the limits of the pattern: a list of problems or a plan that adds up, and never a panic.
func TestRandomTablesGiveConsistentPlans(t *testing.T) {
	pieces, seed := 300, uint64(1)
	if !testing.Short() {
		pieces = 900
	}
	for worker := range 2 {
		t.Run(fmt.Sprint("half ", worker), func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(seed, uint64(worker)))
			workshops := shops(t)
			made, refused := 0, 0
			for range pieces / 2 {
				text := randomTable(rng)
				in, problems := Read(Text{"piece.yaml", []byte(text)}, Text{"shop.yaml", []byte(examples.Shop())}, patterns.All())
				in.Shop = workshops[rng.IntN(2)]
				if strings.Contains(in.Piece.Wood.Species, "oak") != (rng.IntN(8) == 0) {
					in.Shop = workshops[2] // nearly always one that has the wood
				}
				var p Plan
				if len(problems) == 0 {
					p, problems = Make(context.Background(), in)
				}
				if len(problems) > 0 {
					refused++
					clear(t, text, problems)
					continue
				}
				made++
				consistent(t, p)
				sensibleNumbers(t, p)
				if t.Failed() {
					t.Fatalf("the piece was:\n%s\nin the shop %s", text, in.Shop.Name)
				}
			}
			if made < pieces/8 || refused == 0 {
				t.Errorf("%d plans, %d refused", made, refused)
			}
		})
	}
}

// sensibleNumbers reports numbers that no piece of furniture has.
func sensibleNumbers(t *testing.T, p Plan) {
	t.Helper()
	if p.Structure.Mass <= 0 || p.Structure.Mass > 1000 {
		t.Errorf("it weighs %v kg", p.Structure.Mass)
	}
	for _, c := range p.HoldsChecks() {
		if c.Demand.Number > 1e5 {
			t.Errorf("%s: %v %s", c.What, c.Demand.Number, c.Demand.Unit)
		}
	}
	for _, f := range p.Fit {
		if f.Wall < -200 {
			t.Errorf("%+v", f)
		}
	}
}
