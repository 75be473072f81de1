package guillotine

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"strings"
	"testing"
)

// record is an instance of testdata/published.txt with its optima by kind of pattern.
type record struct {
	name   string
	in     Instance
	optima map[string]int64
}

func readPublished(t *testing.T) []*record {
	t.Helper()
	f, err := os.Open("testdata/published.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []*record
	for lines := bufio.NewScanner(f); lines.Scan(); {
		word, rest, _ := strings.Cut(lines.Text(), " ")
		switch word {
		case "", "#":
		case "name":
			out = append(out, &record{name: rest, in: Instance{Objective: MaxProfit}, optima: map[string]int64{}})
		case "plate":
			s := Stock{ID: "plate", Count: 1}
			fmt.Sscan(rest, &s.W, &s.H)
			out[len(out)-1].in.Stock = []Stock{s}
		case "part":
			p := Part{ID: rest}
			fmt.Sscan(rest, &p.W, &p.H, &p.Profit, &p.Demand)
			out[len(out)-1].in.Parts = append(out[len(out)-1].in.Parts, p)
		default:
			var value int64
			fmt.Sscan(rest, &value)
			out[len(out)-1].optima[word] = value
		}
	}
	return out
}

func TestPublishedOptimaAreReached(t *testing.T) {
	patterns := map[string]Cutting{
		"unlimited":  {Stages: Unlimited},
		"horizontal": {Stages: 2, First: Horizontal},
		"vertical":   {Stages: 2, First: Vertical},
	}
	for _, r := range readPublished(t) {
		for kind, optimum := range r.optima {
			in := r.in
			in.Cuts = patterns[kind]
			rounds := 3
			if r.name == "Hchl8s" && kind == "unlimited" { // the one that takes longer
				if testing.Short() {
					continue
				}
				rounds = 5
			}
			sol := Solve(context.Background(), in, Options{Rounds: rounds})
			if sol.Value != optimum || sol.Bound < optimum {
				t.Errorf("%s %s: %v, published optimum %d", r.name, kind, sol, optimum)
			}
			if kind != "unlimited" && sol.Status != Optimal {
				t.Errorf("%s %s: %v, should be proven", r.name, kind, sol)
			}
			for _, f := range Verify(in, sol) {
				t.Errorf("%s %s: %v", r.name, kind, f)
			}
		}
	}
}

// The instance gcut1d with three sizes of bin, from data/rectangle/cintra2008 of GitHub fontanf/packingsolver (MIT);
// first published by Cintra, Miyazawa, Wakabayashi, Xavier, EJOR 191 (2008). Bound published there for two stages,
// horizontal first, oriented: 14 823 125.
func TestVariableSizedBinsStayNearThePublishedBound(t *testing.T) {
	const publishedBound, tolerance = 14_823_125, 0.005 // the best published plan is 0.33 % above
	in := Instance{Cuts: Cutting{Stages: 2, First: Horizontal}}
	for _, s := range [][2]int{{250, 250}, {275, 225}, {300, 200}} {
		in.Stock = append(in.Stock, Stock{W: s[0], H: s[1], Cost: int64(s[0] * s[1]), Count: Unlimited})
	}
	for _, p := range [][3]int{{167, 184, 90}, {114, 118, 75}, {167, 152, 71}, {83, 140, 13}, {70, 86, 39}, {143, 166, 79},
		{120, 160, 63}, {66, 148, 93}, {87, 141, 61}, {69, 165, 85}} {
		in.Parts = append(in.Parts, Part{W: p[0], H: p[1], Demand: p[2]})
	}
	sol := Solve(context.Background(), in, Options{Rounds: 2})
	if faults := Verify(in, sol); len(faults) > 0 {
		t.Fatal(faults)
	}
	if float64(sol.Value) > publishedBound*(1+tolerance) || sol.Bound < publishedBound {
		t.Errorf("%v, published bound %d", sol, publishedBound)
	}
}
