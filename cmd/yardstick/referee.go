package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"longgrain/internal/solve/cutstock"
)

// refereeCommand solves one-dimensional instances with the solver here and with cbc over an arc-flow model, in the same run.
type refereeCommand struct {
	Dir   string        `arg:"" type:"existingdir" help:"Folder csp1d, or a folder of shop jobs (*.json)."`
	Only  []string      `help:"Instances by name; without it those of the table below that are there, else the first of each of its sets."`
	Limit time.Duration `default:"40s" help:"Wall-clock limit of one instance for each."`
	Keep  string        `type:"path" help:"Also keep the decks and answers of cbc in this folder."`
}

// refereeTable are the instances that were compared first, by set.
var refereeTable = [][2]string{
	{"falkenauer_u", "Falkenauer_u120_00"}, {"falkenauer_t", "Falkenauer_t60_00"}, {"scholl1", "N1C1W1_A"},
	{"scholl2", "N1W1B1R0"}, {"schwerin1", "Schwerin1_BPP1"}, {"hard28", "Hard28_BPP119"},
}

// duel is an instance for both.
type duel struct {
	name string
	in   cutstock.Instance
}

// Run prints a row an instance and the median of how many times faster the proof is here.
func (c *refereeCommand) Run() error {
	if _, err := exec.LookPath("cbc"); err != nil {
		return errors.New("cbc is not installed (Debian package coinor-cbc); there is nothing to compare with")
	}
	duels, err := c.read()
	if err != nil {
		return err
	}
	if len(duels) == 0 {
		return fmt.Errorf("no instance of that name in %s", c.Dir)
	}
	folder := c.Keep
	if folder == "" {
		if folder, err = os.MkdirTemp("", "referee-*"); err != nil {
			return err
		}
		defer os.RemoveAll(folder)
	} else if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	fmt.Printf("%-24s %6s %6s %7s  %10s %-6s %9s  %10s %-6s %9s  %8s\n", "instance", "types", "items", "arcs", "here", "proven", "seconds", "cbc", "proven", "seconds", "times")
	var ratios []float64
	for _, d := range duels {
		row, err := c.fight(d, folder)
		if err != nil {
			return err
		}
		fmt.Println(row.text)
		ratios = append(ratios, row.times)
	}
	slices.Sort(ratios)
	n := len(ratios)
	fmt.Printf("\nproven optimum %.1f times faster here on the median of %d; %.1f to %.1f\n", (ratios[(n-1)/2]+ratios[n/2])/2, n, ratios[0], ratios[n-1])
	return nil
}

func (c *refereeCommand) read() ([]duel, error) {
	if filepath.Base(c.Dir) != "csp1d" {
		names, err := filepath.Glob(filepath.Join(c.Dir, "*.json"))
		if err != nil {
			return nil, err
		}
		var out []duel
		for _, name := range names {
			base := strings.TrimSuffix(filepath.Base(name), ".json")
			if len(c.Only) > 0 && !slices.Contains(c.Only, base) {
				continue
			}
			in, err := readShopJob(name)
			if err != nil {
				return nil, err
			}
			out = append(out, duel{base, in})
		}
		return out, nil
	}
	var out []duel
	for _, entry := range refereeTable {
		names, err := filepath.Glob(filepath.Join(c.Dir, entry[0], "*.txt"))
		if err != nil {
			return nil, err
		}
		first := ""
		for _, name := range names {
			base := strings.TrimSuffix(filepath.Base(name), ".txt")
			switch {
			case slices.Contains(c.Only, base):
				if out, err = c.add(out, name); err != nil {
					return nil, err
				}
			case len(c.Only) == 0 && (first == "" || base == entry[1]):
				first = name
			}
		}
		if first != "" {
			if out, err = c.add(out, first); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}

func (c *refereeCommand) add(out []duel, name string) ([]duel, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	var numbers []int64
	for _, w := range strings.Fields(string(text)) {
		n, err := strconv.ParseInt(w, 10, 64)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		numbers = append(numbers, n)
	}
	if len(numbers) < 2 || int64(len(numbers)) < 2+2*numbers[0] {
		return nil, fmt.Errorf("%s ends too early", name)
	}
	in := cutstock.Instance{Stock: []cutstock.Stock{{Length: numbers[1], Cost: 1, Available: cutstock.Unlimited}}}
	for i := range numbers[0] {
		in.Items = append(in.Items, cutstock.Item{Length: numbers[2+2*i], Demand: numbers[3+2*i]})
	}
	return append(out, duel{strings.TrimSuffix(filepath.Base(name), ".txt"), in}), nil
}

type fought struct {
	text  string
	times float64
}

// fight runs both on one instance. A run that ends at the limit without a proof counts as having taken the limit.
func (c *refereeCommand) fight(d duel, folder string) (fought, error) {
	model := newArcModel(d.in)
	deck, answer := filepath.Join(folder, d.name+".lp"), filepath.Join(folder, d.name+".sol")
	f, err := os.Create(deck)
	if err != nil {
		return fought{}, err
	}
	if err := errors.Join(model.write(f), f.Close()); err != nil {
		return fought{}, err
	}
	ctx, stop := context.WithTimeout(context.Background(), c.Limit)
	defer stop()
	start := time.Now()
	own := cutstock.Solve(ctx, d.in, cutstock.Options{Effort: endless})
	ownTime := time.Since(start).Seconds()
	if err := cutstock.Verify(d.in, own); err != nil {
		return fought{}, fmt.Errorf("%s: %w", d.name, err)
	}
	start = time.Now()
	said, err := exec.Command("cbc", deck, "sec", fmt.Sprint(c.Limit.Seconds()), "timeMode", "elapsed", "ratio", "0", "allow", "0", "solve", "solution", answer).CombinedOutput()
	cbcTime := time.Since(start).Seconds()
	if err != nil {
		return fought{}, fmt.Errorf("cbc on %s: %w: %s", d.name, err, bytes.TrimSpace(said))
	}
	value, proven, err := readAnswer(answer)
	if err != nil {
		return fought{}, err
	}
	ownProven := own.Status == cutstock.Optimal
	if ownProven && proven && float64(own.Cost) != value {
		return fought{}, fmt.Errorf("%s: %d proven here, %g proven by cbc", d.name, own.Cost, value)
	}
	items := int64(0)
	for _, it := range d.in.Items {
		items += it.Demand
	}
	r := fought{times: cbcTime / ownTime}
	if !ownProven {
		r.times = min(1, r.times)
	}
	r.text = fmt.Sprintf("%-24s %6d %6d %7d  %10d %-6t %9.3f  %10s %-6t %9.3f  %8.1f", d.name, len(model.items), items, model.arcs(), own.Cost, ownProven, ownTime, number(value), proven, cbcTime, r.times)
	return r, nil
}

// readAnswer reads the first line of a solution file: "Optimal - objective value 48.00000000". Without a plan the value is NaN.
func readAnswer(name string) (value float64, proven bool, err error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return 0, false, err
	}
	first, _, _ := strings.Cut(string(text), "\n")
	words := strings.Fields(first)
	if len(words) == 0 {
		return 0, false, fmt.Errorf("%s is empty", name)
	}
	value, err = strconv.ParseFloat(words[len(words)-1], 64)
	if err != nil {
		return 0, false, fmt.Errorf("%s: %q", name, first)
	}
	if strings.Contains(first, "no integer solution") || strings.HasPrefix(first, "Infeasible") {
		value = math.NaN()
	}
	return value, strings.HasPrefix(first, "Optimal"), nil
}
