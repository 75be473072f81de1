package cutstock

import (
	"context"
	"math/rand"
	"testing"
)

// pricerFor returns a pricer over one kind of stock with a leftover rule, and random prices.
func pricerFor(r *rand.Rand) (*pricer, []int64) {
	in := &Instance{Kerf: int64(r.Intn(3)), Stock: []Stock{{Length: 80 + int64(r.Intn(80)), Cost: 100, Available: Unlimited}}}
	if r.Intn(2) == 0 {
		in.Leftover = Leftover{MinLength: int64(r.Intn(40)), SharePerMille: int64(r.Intn(1000))}
	}
	for range 2 + r.Intn(6) {
		in.Items = append(in.Items, Item{Length: 5 + int64(r.Intn(70)), Demand: 1 + int64(r.Intn(4))})
	}
	p := reduce(in, newBudget(context.Background(), 1<<60))
	prices := make([]int64, len(p.size))
	for i := range prices {
		prices[i] = int64(r.Intn(60)) * 1000
	}
	return &pricer{p: p, scale: 1000}, prices
}

func TestSearchAndTablePriceAlike(t *testing.T) {
	for seed := range int64(2000) {
		pr, prices := pricerFor(rand.New(rand.NewSource(seed)))
		free := pr.p.task().free
		pr.load(prices, pr.p.demand)
		found := pr.search(0, -1, lateSteps)
		out := make([]priced, 1)
		passes, width := pr.passes(free)
		pr.table(passes, width)
		pr.readTable(out, free, passes, width)
		if found.value != out[0].value || found.bound != found.value {
			t.Errorf("seed %d: search says %d (bound %d), table %d", seed, found.value, found.bound, out[0].value)
		}
		for name, ans := range map[string]priced{"search": found, "table": out[0]} {
			worth := pr.p.leftoverValue(0, pr.p.kinds[0].capacity-pr.p.used(ans.items)) * pr.scale
			for _, e := range ans.items {
				worth += e.qty * prices[e.item]
				if e.qty > pr.p.demand[e.item] {
					t.Errorf("seed %d: %s takes %d of type %d", seed, name, e.qty, e.item)
				}
			}
			if worth != ans.value {
				t.Errorf("seed %d: %s claims %d, its pattern is worth %d", seed, name, ans.value, worth)
			}
		}
	}
}

func TestSearchThatIsStoppedStillBounds(t *testing.T) {
	for seed := range int64(500) {
		pr, prices := pricerFor(rand.New(rand.NewSource(seed)))
		pr.load(prices, pr.p.demand)
		exact := pr.search(0, -1, lateSteps)
		short := pr.search(0, -1, 3)
		if short.bound < exact.value || short.value > exact.value {
			t.Errorf("seed %d: stopped early says %d to %d, the best is %d", seed, short.value, short.bound, exact.value)
		}
	}
}

func TestRepairedMasterAgreesWithAFreshOne(t *testing.T) {
	for seed := range int64(300) {
		r := rand.New(rand.NewSource(seed))
		pr, _ := pricerFor(r)
		p := pr.p
		kept := newColgen(p)
		kept.relax(p.task(), 0, noFloor, 1<<60)
		for step := range 4 {
			tk := p.task()
			for i := range tk.need {
				tk.need[i] = int64(r.Intn(int(p.demand[i]) + 1))
			}
			tk.low[0] = int64(r.Intn(2))
			fresh := newColgen(p)
			fresh.relax(tk, 0, noFloor, 1<<60)
			kept.relax(tk, 0, noFloor, 1<<60)
			a, c := kept.master.value(), fresh.master.value()
			if whole(tk.need) && tk.low[0] == 0 {
				continue
			}
			if p.roundUp(kept.bound) != p.roundUp(fresh.bound) {
				t.Errorf("seed %d, step %d: bound %g (value %g) after repair, %g (%g) afresh", seed, step, kept.bound, a, fresh.bound, c)
			}
		}
	}
}
