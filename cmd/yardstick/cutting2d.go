package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"longgrain/internal/solve/guillotine"
)

func init() {
	cuttingSets["g2kp_unlimited"] = readUnlimitedKnapsack
	cuttingSets["guillotine2d"] = readGuillotine2D
	cuttingSets["defects_roadef2018"] = readGlass
}

// endlessRounds is more than any machine does in the limit, so that the wall clock is what ends a run here.
const endlessRounds = 24

// plateCase makes a case of a two-dimensional instance. The solver's values less base are those of the reference. Effort
// counts rounds of the search, each about doubling the work.
func plateCase(set, name string, reference float64, in guillotine.Instance, base int64) cuttingCase {
	run := func(ctx context.Context, effort int64) cuttingResult {
		rounds := endlessRounds
		if effort > 0 {
			rounds = int(min(effort, endlessRounds))
		}
		sol := guillotine.Solve(ctx, in, guillotine.Options{Rounds: rounds})
		result := cuttingResult{
			value: float64(sol.Value - base), bound: float64(sol.Bound - base), proven: sol.Status == guillotine.Optimal,
			verified: sol.Status == guillotine.Optimal || sol.Status == guillotine.Feasible,
		}
		if !result.verified {
			result.note, result.value = sol.Status.String(), math.NaN()
		}
		for _, f := range append(sol.Faults, guillotine.Verify(in, sol)...) {
			result.verified, result.note = false, f.String()
		}
		return result
	}
	return cuttingCase{set: set, name: name, reference: reference, maximise: in.Objective == guillotine.MaxProfit, run: run}
}

// readUnlimitedKnapsack reads one-plate instances: plate sizes, number of types, then a line `l w profit demand` a type.
func readUnlimitedKnapsack(dir string) ([]cuttingCase, error) {
	rows, err := readTable(filepath.Join(dir, "best_known.csv"))
	if err != nil {
		return nil, err
	}
	var cases []cuttingCase
	for _, row := range rows {
		name := row["instance"]
		text, err := os.ReadFile(filepath.Join(dir, name+".txt"))
		if err != nil {
			return nil, err
		}
		in, err := parseUnlimitedKnapsack(text)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		reference, err := strconv.ParseFloat(row["optimal_profit"], 64)
		if err != nil {
			return nil, fmt.Errorf("%s: optimal profit: %w", name, err)
		}
		cases = append(cases, plateCase("g2kp_unlimited", name, reference, in, 0))
	}
	return cases, nil
}

func parseUnlimitedKnapsack(text []byte) (guillotine.Instance, error) {
	var numbers []int
	for _, word := range bytes.Fields(text) {
		n, err := strconv.Atoi(string(word))
		if err != nil {
			return guillotine.Instance{}, err
		}
		numbers = append(numbers, n)
	}
	if len(numbers) < 3 || len(numbers) < 3+4*numbers[2] {
		return guillotine.Instance{}, fmt.Errorf("file ends early")
	}
	in := guillotine.Instance{
		Stock:     []guillotine.Stock{{ID: "plate", W: numbers[0], H: numbers[1], Count: 1}},
		Cuts:      guillotine.Cutting{Stages: guillotine.Unlimited},
		Objective: guillotine.MaxProfit,
	}
	for i := range numbers[2] {
		f := numbers[3+4*i:]
		in.Parts = append(in.Parts, guillotine.Part{ID: strconv.Itoa(i), W: f[0], H: f[1], Profit: int64(f[2]), Demand: f[3]})
	}
	return in, nil
}

// readGuillotine2D reads the rows of best_known.csv whose pattern this solver knows: two and three stages, not those
// whose strips must hold one type of part.
func readGuillotine2D(dir string) ([]cuttingCase, error) {
	rows, err := readTable(filepath.Join(dir, "best_known.csv"))
	if err != nil {
		return nil, err
	}
	var cases []cuttingCase
	for _, row := range rows {
		if strings.Contains(row["pattern"], "homogenous") || strings.Contains(row["status"], "inconsistent") {
			continue
		}
		in, err := readPatternInstance(dir, row)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", row["instance"], err)
		}
		column := "best_known"
		if row["problem"] == "variable-sized bin packing" {
			column = "bound"
		}
		reference, err := strconv.ParseFloat(row[column], 64)
		if err != nil {
			return nil, fmt.Errorf("%s: %s: %w", row["instance"], column, err)
		}
		name := strings.TrimSuffix(row["source_table"], "_"+filepath.Dir(row["instance"])) + "/" + row["first_cut"] + "/" + row["instance"]
		cases = append(cases, plateCase("guillotine2d", name, reference, in, 0))
	}
	return cases, nil
}

// readPatternInstance reads bins and items of a row and sets the kind of pattern from its words.
func readPatternInstance(dir string, row map[string]string) (guillotine.Instance, error) {
	pattern := row["pattern"] + " " + strings.ToLower(row["first_cut"])
	in := guillotine.Instance{Cuts: guillotine.Cutting{Stages: 3}}
	if strings.Contains(pattern, "2-stage") {
		in.Cuts.Stages = 2
	}
	if !strings.Contains(pattern, "non-exact") {
		in.Cuts.Last = guillotine.NoLastCut
	}
	switch {
	case strings.Contains(pattern, "horizontal"):
		in.Cuts.First = guillotine.Horizontal
	case strings.Contains(pattern, "vertical"):
		in.Cuts.First = guillotine.Vertical
	}
	if row["problem"] == "knapsack" {
		in.Objective = guillotine.MaxProfit
	}
	base := filepath.Join(dir, filepath.FromSlash(row["instance"]))
	bins, err := readTable(base + "_bins.csv")
	if err != nil {
		return in, err
	}
	for n, bin := range bins {
		f := fields{row: bin}
		s := guillotine.Stock{ID: strconv.Itoa(n), W: f.number("WIDTH", 0), H: f.number("HEIGHT", 0), Count: guillotine.Unlimited}
		s.Cost = 1
		if row["problem"] == "variable-sized bin packing" {
			s.Cost = int64(f.number("COST", s.W*s.H))
		}
		if f.err != nil {
			return in, f.err
		}
		in.Stock = append(in.Stock, s)
	}
	items, err := readTable(base + "_items.csv")
	if err != nil {
		return in, err
	}
	for n, item := range items {
		f := fields{row: item}
		p := guillotine.Part{ID: strconv.Itoa(n), W: f.number("WIDTH", 0), H: f.number("HEIGHT", 0), Demand: f.number("COPIES", 1)}
		p.Profit = int64(f.number("PROFIT", p.W*p.H))
		p.MayTurn = strings.Contains(pattern, "rotation")
		if f.err != nil {
			return in, f.err
		}
		in.Parts = append(in.Parts, p)
	}
	return in, nil
}

// fields reads numbers of a row and remembers the first error.
type fields struct {
	row map[string]string
	err error
}

// number returns the column, or the other value if the file has none.
func (f *fields) number(column string, other int) int {
	text, ok := f.row[column]
	if !ok || text == "" {
		return other
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil && f.err == nil {
		f.err = fmt.Errorf("%s: %w", column, err)
	}
	return int(x)
}

// glass plates of the 2018 ROADEF/EURO challenge and its cutting rules, see the set's README.
const (
	glassWidth, glassHeight = 6000, 3210
	glassPlates             = 100
)

// readGlass reads the instances of the challenge; values are waste areas.
func readGlass(dir string) ([]cuttingCase, error) {
	rows, err := readTable(filepath.Join(dir, "best_known.csv"))
	if err != nil {
		return nil, err
	}
	var cases []cuttingCase
	for _, row := range rows {
		name := row["instance"]
		in, area, err := readGlassInstance(filepath.Join(dir, name))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		reference, err := strconv.ParseFloat(row["best_known_waste_mm2"], 64)
		if err != nil {
			return nil, fmt.Errorf("%s: best known: %w", name, err)
		}
		cases = append(cases, plateCase("defects_roadef2018", name, reference, in, area))
	}
	return cases, nil
}

// readGlassInstance also returns the area of all items.
func readGlassInstance(base string) (guillotine.Instance, int64, error) {
	in := guillotine.Instance{
		Cuts: guillotine.Cutting{Stages: 3, First: guillotine.Vertical, Last: guillotine.PairCut,
			MinFirst: 100, MaxFirst: 3500, MinSecond: 100, MinWaste: 20, AroundDefects: true},
		Leftover: guillotine.Leftover{Permille: 1000, MinH: glassHeight, LastOnly: true},
		InOrder:  true,
	}
	for n := range glassPlates {
		in.Stock = append(in.Stock, guillotine.Stock{ID: strconv.Itoa(n), W: glassWidth, H: glassHeight, Cost: glassWidth * glassHeight, Count: 1})
	}
	items, err := readTable(base + "_items.csv")
	if err != nil {
		return in, 0, err
	}
	area := int64(0)
	for n, item := range items {
		f := fields{row: item}
		p := guillotine.Part{ID: strconv.Itoa(n), W: f.number("WIDTH", 0), H: f.number("HEIGHT", 0), Demand: 1, MayTurn: true,
			Stack: 1 + f.number("STACK_ID", 0)}
		if f.err != nil {
			return in, 0, f.err
		}
		area += int64(p.W) * int64(p.H)
		in.Parts = append(in.Parts, p)
	}
	defects, err := readTable(base + "_defects.csv")
	if err != nil {
		return in, 0, err
	}
	for _, defect := range defects {
		f := fields{row: defect}
		bin := f.number("BIN", 0)
		r := guillotine.Rect{X: f.number("X", 0), Y: f.number("Y", 0), W: f.number("WIDTH", 0), H: f.number("HEIGHT", 0)}
		if f.err != nil {
			return in, 0, f.err
		}
		if bin < len(in.Stock) {
			in.Stock[bin].Defects = append(in.Stock[bin].Defects, r)
		}
	}
	return in, area, nil
}
