package cutstock_test

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"longgrain/internal/solve/cutstock"
)

// benchDir holds the workshop jobs; its README says what they are.
const benchDir = "../../../bench/cutstock"

// benchEffort is less than the bar allows (one second), so that the test stays quick.
const benchEffort = 200_000_000

func readJob(t testing.TB, name string) cutstock.Instance {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(benchDir, name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Kerf  int64 `json:"kerf_mm"`
		Trim  int64 `json:"end_trim_each_mm"`
		Stock []struct {
			Length    int64  `json:"length_mm"`
			Cost      int64  `json:"cost_cents"`
			Available *int64 `json:"available"`
		} `json:"stock"`
		Parts []struct {
			ID     string `json:"id"`
			Length int64  `json:"length_mm"`
			Demand int64  `json:"qty"`
		} `json:"parts"`
	}
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	in := cutstock.Instance{Kerf: file.Kerf, Trim: file.Trim}
	for _, s := range file.Stock {
		st := cutstock.Stock{Length: s.Length, Cost: s.Cost, Available: cutstock.Unlimited}
		if s.Available != nil {
			st.Available = *s.Available
		}
		in.Stock = append(in.Stock, st)
	}
	for _, p := range file.Parts {
		in.Items = append(in.Items, cutstock.Item{ID: p.ID, Length: p.Length, Demand: p.Demand})
	}
	return in
}

func TestWorkshopJobsReachTheBestKnownCostAndBound(t *testing.T) {
	f, err := os.Open(filepath.Join(benchDir, "best.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		best, _ := strconv.ParseInt(row[1], 10, 64)
		bound, _ := strconv.ParseInt(row[2], 10, 64)
		sol := solve(t, readJob(t, row[0]), cutstock.Options{Effort: benchEffort})
		switch {
		case sol.Cost > best || sol.Bound < bound:
			t.Errorf("%s: cost %d, bound %d; known are %d and %d", row[0], sol.Cost, sol.Bound, best, bound)
		case sol.Cost < best || sol.Bound > bound:
			t.Errorf("%s: cost %d, bound %d are better than the known %d and %d: enter them in best.csv", row[0], sol.Cost, sol.Bound, best, bound)
		}
	}
}

func TestTableJobsAreProvenWithinTheInteractiveEffort(t *testing.T) {
	proven, gap := 0, 0.0
	for seed := range int64(40) {
		in := newGenerator(seed).workshop(3, 3, 9)
		in.Leftover = cutstock.Leftover{MinLength: 4000, SharePerMille: 500 * (seed % 2)}
		sol := solve(t, in, cutstock.Options{Effort: cutstock.InteractiveEffort})
		gap = max(gap, sol.Gap())
		if sol.Status == cutstock.Optimal {
			proven++
		}
	}
	if proven < 30 || gap > 0.02 {
		t.Errorf("%d of 40 proven, largest gap %.2f %%; want 30 and 2 %%", proven, 100*gap)
	}
}

func BenchmarkTableJob(b *testing.B) {
	for _, leftovers := range []bool{false, true} {
		name := "leftovers worth nothing"
		in := newGenerator(7).workshop(3, 3, 9)
		if leftovers {
			name = "leftovers worth half"
			in.Leftover = cutstock.Leftover{MinLength: 4000, SharePerMille: 500}
		}
		b.Run(strings.ReplaceAll(name, " ", "_"), func(b *testing.B) {
			for b.Loop() {
				solve(b, in, cutstock.Options{Effort: cutstock.InteractiveEffort})
			}
		})
	}
}

func BenchmarkWorkshopJobs(b *testing.B) {
	for _, name := range []string{"shop1d_3", "shop1d_6", "shop1d_42_production"} {
		in := readJob(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				solve(b, in, cutstock.Options{})
			}
		})
	}
}
