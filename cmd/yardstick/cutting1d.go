package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"longgrain/internal/solve/cutstock"
)

func init() {
	cuttingSets["csp1d"] = readCSP1D
	cuttingSets["vscsp1d"] = readVSCSP1D
	cuttingSets["shop1d"] = readShop1D
}

// endless is more steps than any run here takes, so that the wall clock is what ends it.
const endless = int64(1) << 50

// stockCase makes a case of a one-dimensional instance.
func stockCase(set, name, reference string, in cutstock.Instance) (cuttingCase, error) {
	ref, err := strconv.ParseFloat(reference, 64)
	if err != nil {
		return cuttingCase{}, fmt.Errorf("%s/%s: reference value %q: %w", set, name, reference, err)
	}
	run := func(ctx context.Context, effort int64) cuttingResult {
		if effort == 0 {
			effort = endless
		}
		sol := cutstock.Solve(ctx, in, cutstock.Options{Effort: effort})
		result := cuttingResult{value: float64(sol.Cost), bound: float64(sol.Bound), proven: sol.Status == cutstock.Optimal}
		result.note = strings.TrimSpace(sol.Status.String() + " " + sol.Reason)
		if err := cutstock.Verify(in, sol); err != nil {
			result.note = err.Error()
		} else {
			result.verified = sol.Solved()
		}
		return result
	}
	return cuttingCase{set: set, name: name, reference: ref, run: run}, nil
}

// readCSP1D reads sub-folders of one-length instances: item types, capacity, then a line `weight demand` a type.
func readCSP1D(dir string) ([]cuttingCase, error) {
	return readStockCases(dir, "best_known_rolls", func(next func() int64) cutstock.Instance {
		types, capacity := next(), next()
		in := cutstock.Instance{Stock: []cutstock.Stock{{Length: capacity, Cost: 1, Available: cutstock.Unlimited}}}
		for range types {
			in.Items = append(in.Items, cutstock.Item{Length: next(), Demand: next()})
		}
		return in
	})
}

// readVSCSP1D reads sub-folders of instances with several lengths: kinds, a line `length available cost` a kind, item
// types, then a line `length demand` a type.
func readVSCSP1D(dir string) ([]cuttingCase, error) {
	return readStockCases(dir, "best_known_cost", func(next func() int64) cutstock.Instance {
		var in cutstock.Instance
		for range next() {
			st := cutstock.Stock{Length: next()}
			st.Available = next()
			st.Cost = next()
			in.Stock = append(in.Stock, st)
		}
		for range next() {
			in.Items = append(in.Items, cutstock.Item{Length: next(), Demand: next()})
		}
		return in
	})
}

// readStockCases reads the instances that best_known.csv lists, each a file of whole numbers.
func readStockCases(dir, column string, build func(next func() int64) cutstock.Instance) ([]cuttingCase, error) {
	table, err := readTable(filepath.Join(dir, "best_known.csv"))
	if err != nil {
		return nil, err
	}
	var cases []cuttingCase
	for _, row := range table {
		name := filepath.Join(dir, row["set"], row["instance"]+".txt")
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		words, at := strings.Fields(string(text)), 0
		in := build(func() int64 {
			if at == len(words) {
				err = fmt.Errorf("%s ends too early", name)
				return 0
			}
			n, e := strconv.ParseInt(words[at], 10, 64)
			if e != nil {
				err = fmt.Errorf("%s: %w", name, e)
			}
			at++
			return n
		})
		if err != nil {
			return nil, err
		}
		cs, err := stockCase(row["set"], row["instance"], row[column], in)
		if err != nil {
			return nil, err
		}
		cases = append(cases, cs)
	}
	return cases, nil
}

// shopFile is the form of a shop1d instance.
type shopFile struct {
	Kerf    int64 `json:"kerf_mm"`
	EndTrim int64 `json:"end_trim_each_mm"`
	Stock   []struct {
		Length    int64  `json:"length_mm"`
		Cost      int64  `json:"cost_cents"`
		Available *int64 `json:"available"`
	} `json:"stock"`
	Parts []struct {
		ID     string `json:"id"`
		Length int64  `json:"length_mm"`
		Qty    int64  `json:"qty"`
	} `json:"parts"`
}

// instance writes the file as an instance.
func (f *shopFile) instance() cutstock.Instance {
	in := cutstock.Instance{Kerf: f.Kerf, Trim: f.EndTrim}
	for _, s := range f.Stock {
		st := cutstock.Stock{Length: s.Length, Cost: s.Cost, Available: cutstock.Unlimited}
		if s.Available != nil {
			st.Available = *s.Available
		}
		in.Stock = append(in.Stock, st)
	}
	for _, p := range f.Parts {
		in.Items = append(in.Items, cutstock.Item{ID: p.ID, Length: p.Length, Demand: p.Qty})
	}
	return in
}

// readShopJob reads one file of a workshop job.
func readShopJob(name string) (cutstock.Instance, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return cutstock.Instance{}, err
	}
	var file shopFile
	if err := json.Unmarshal(text, &file); err != nil {
		return cutstock.Instance{}, fmt.Errorf("%s: %w", name, err)
	}
	return file.instance(), nil
}

// readShop1D reads the workshop jobs; the production jobs form a set of their own.
func readShop1D(dir string) ([]cuttingCase, error) {
	table, err := readTable(filepath.Join(dir, "best_known.csv"))
	if err != nil {
		return nil, err
	}
	var cases []cuttingCase
	for _, row := range table {
		name := filepath.Join(dir, row["instance"]+".json")
		in, err := readShopJob(name)
		if err != nil {
			return nil, err
		}
		set := "shop1d"
		if strings.HasSuffix(row["instance"], "_production") {
			set = "production"
		}
		cs, err := stockCase(set, row["instance"], row["best_known_cost_cents"], in)
		if err != nil {
			return nil, err
		}
		cases = append(cases, cs)
	}
	return cases, nil
}
