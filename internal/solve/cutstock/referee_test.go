package cutstock_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"longgrain/internal/solve/cutstock"
)

var update = flag.Bool("update", false, "write the decks of the referee afresh; solve them with cbc as testdata/cbc/README.md says")

// deck writes an instance without leftover values as a mixed-integer program in LP format. It knows no patterns: y_b says
// whether board b is taken, x_b_i how many items i are cut from it.
func deck(in cutstock.Instance) string {
	var objective, rows, whole, binary []string
	supply := make([][]string, len(in.Items))
	b := 0
	for s, st := range in.Stock {
		count := st.Available
		if count == cutstock.Unlimited {
			count = 0
			for _, it := range in.Items {
				count += it.Demand
			}
		}
		for n := range count {
			b++
			objective = append(objective, fmt.Sprintf("%d y_%d", st.Cost, b))
			binary = append(binary, fmt.Sprintf("y_%d", b))
			var fill []string
			for i, it := range in.Items {
				x := fmt.Sprintf("x_%d_%d", b, i+1)
				fill = append(fill, fmt.Sprintf("%d %s", it.Length+in.Kerf, x))
				supply[i] = append(supply[i], x)
				whole = append(whole, x)
			}
			rows = append(rows, fmt.Sprintf("board_%d: %s - %d y_%d <= 0", b, strings.Join(fill, " + "), in.UsableLength(s)+in.Kerf, b))
			if n > 0 {
				rows = append(rows, fmt.Sprintf("order_%d: y_%d - y_%d >= 0", b, b-1, b))
			}
		}
	}
	for i, it := range in.Items {
		rows = append(rows, fmt.Sprintf("item_%d: %s = %d", i+1, strings.Join(supply[i], " + "), it.Demand))
	}
	return "Minimize\n cost: " + strings.Join(objective, " + ") + "\nSubject To\n " + strings.Join(rows, "\n ") +
		"\nGenerals\n " + strings.Join(whole, " ") + "\nBinaries\n " + strings.Join(binary, " ") + "\nEnd\n"
}

// refereed are the seeds whose decks cbc has solved.
var refereed = []int64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}

// jobFor returns the instance of a seed: up to three boards and two offcuts, four or five parts, in centimetres.
func jobFor(seed int64) cutstock.Instance {
	g := newGenerator(seed)
	in := cutstock.Instance{Kerf: g.between(0, 1), Trim: g.between(0, 3)}
	for s := range g.between(1, 3) {
		length := g.between(15, 26) * 10
		in.Stock = append(in.Stock, cutstock.Stock{ID: fmt.Sprint("board ", s+1), Length: length,
			Cost: length * g.between(17, 24) / 10, Available: cutstock.Unlimited})
	}
	for s := range g.between(0, 2) {
		length := g.between(50, 140)
		in.Stock = append(in.Stock, cutstock.Stock{ID: fmt.Sprint("offcut ", s+1), Length: length, Cost: length / 4, Available: 1})
	}
	for i := range g.between(4, 5) {
		in.Items = append(in.Items, cutstock.Item{ID: fmt.Sprint("part ", i+1), Length: g.between(20, 140), Demand: g.between(1, 3)})
	}
	return in
}

func TestCostsAgreeWithTheRefereesOptima(t *testing.T) {
	for _, seed := range refereed {
		in := jobFor(seed)
		base := filepath.Join("testdata", "cbc", fmt.Sprintf("job%02d", seed))
		if *update {
			if err := os.WriteFile(base+".lp", []byte(deck(in)), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		saved, err := os.ReadFile(base + ".lp")
		if err != nil {
			t.Fatal(err)
		}
		if string(saved) != deck(in) {
			t.Fatalf("%s.lp is not the deck of the job; write and solve the decks afresh", base)
		}
		answer, err := os.ReadFile(base + ".sol")
		if err != nil {
			t.Fatal(err)
		}
		var want float64
		if _, err := fmt.Sscanf(string(answer), "Optimal - objective value %g", &want); err != nil {
			t.Fatalf("%s.sol: %v", base, err)
		}
		sol := solve(t, in, cutstock.Options{})
		if sol.Status != cutstock.Optimal || float64(sol.Cost) != want {
			t.Errorf("job %d: %s with cost %d, bound %d; the referee says %g", seed, sol.Status, sol.Cost, sol.Bound, want)
		}
	}
}
