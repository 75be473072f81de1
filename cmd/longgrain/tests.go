package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"text/tabwriter"

	"longgrain/internal/book/drawing"
	"longgrain/internal/check/testlog"
	"longgrain/internal/paper/svg"
)

// testsCommand is "longgrain tests".
type testsCommand struct {
	Stats testStatsCommand `cmd:"" help:"Say what a table of joint tests means: mean, spread, lower bound, comparisons."`
}

// testStatsCommand is "longgrain tests stats".
type testStatsCommand struct {
	File string `arg:"" help:"Table of tests as CSV, a row per test. Headings: ${test_columns}, and sizes.NAME for sizes."`
	JSON bool   `name:"json" help:"Print everything as JSON, with the working."`
	Plot string `help:"Also draw the tests: an SVG file, one drawing per quantity." placeholder:"FILE.svg"`
}

// mostComplaints is how many problems of a table are printed; a table of many rows repeats the same few.
const mostComplaints = 100

// mostUnused is how many reasons are printed why tests are not set beside the book.
const mostUnused = 20

// Run reads the table and prints what it says.
func (c testStatsCommand) Run() error {
	tests, err := readTests(c.File)
	if err != nil {
		return err
	}
	report := testlog.Analyse(tests)
	if c.Plot != "" {
		if err := plotTests(report, c.Plot); err != nil {
			return err
		}
	}
	if c.JSON {
		out := json.NewEncoder(os.Stdout)
		out.SetIndent("", " ")
		return out.Encode(report)
	}
	return printTests(os.Stdout, report)
}

// readTests reads a log of tests. Problems are printed and returned as an exit status.
func readTests(name string) ([]testlog.Test, error) {
	table, err := readTable(name)
	if err != nil {
		return nil, err
	}
	tests, problems := testlog.Read(name, table)
	if n := len(problems); n > 0 {
		err := complain(problems[:min(n, mostComplaints)])
		if n > mostComplaints {
			fmt.Fprintf(os.Stderr, "and %d more problems\n", n-mostComplaints)
		}
		return nil, err
	}
	return tests, nil
}

// readTable reads a file that may be larger than a piece.
func readTable(name string) ([]byte, error) { return readUpTo(name, testlog.MaxSize+1) }

// printTests prints a report: a table of groups, then plain sentences.
func printTests(to io.Writer, r testlog.Report) error {
	out := tabwriter.NewWriter(to, 0, 4, 2, ' ', 0)
	if len(r.Groups) > 0 {
		fmt.Fprintln(out, "Group\tTests\tHeld\tWithdrawn\tMean\tSpread\tLower 5 %\tPredicted")
	}
	for _, g := range r.Groups {
		mean, spread, lower, predicted := "-", "-", "no bound", "-"
		if g.Failed > 0 {
			mean = g.Quantity.Show(g.Mean)
		}
		if g.Failed > 1 {
			spread = fmt.Sprintf("%.0f %%", 100*g.COV)
		}
		if g.Lower5 != nil {
			lower = g.Quantity.Show(g.Lower5.Value)
		}
		if g.Predicted > 0 {
			predicted = g.Quantity.Show(g.Predicted)
		}
		fmt.Fprintf(out, "%s\t%d\t%d\t%d\t%s\t%s\t%s\t%s\n", g.Group, g.Failed+g.Held, g.Held, g.Withdrawn, mean, spread, lower, predicted)
	}
	if err := out.Flush(); err != nil {
		return err
	}
	var b strings.Builder
	section := func(title string, lines []string) {
		if len(lines) > 0 {
			fmt.Fprintf(&b, "\n%s\n%s\n", title, strings.Join(lines, "\n"))
		}
	}
	var groups, comparisons, calibration, unused []string
	for _, g := range r.Groups {
		groups = append(groups, g.Sentence)
		for _, w := range g.Warnings {
			groups = append(groups, "  "+w)
		}
	}
	for _, c := range r.Comparisons {
		comparisons = append(comparisons, c.Sentence)
	}
	for _, m := range r.Calibration.Kinds {
		calibration = append(calibration, m.Sentence)
		if m.Warning != "" {
			calibration = append(calibration, "  "+m.Warning)
		}
	}
	for i, u := range r.Calibration.Unused {
		if i == mostUnused {
			unused = append(unused, fmt.Sprintf("and %d more reasons", len(r.Calibration.Unused)-mostUnused))
			break
		}
		unused = append(unused, u.Sentence())
	}
	section("What the tests say", groups)
	section("Which is stronger", comparisons)
	section("Beside the book", calibration)
	section("Not set beside the book", unused)
	section("Notes", r.Notes)
	_, err := io.WriteString(to, b.String())
	return err
}

// plotTests draws the groups of each quantity. With two quantities the name of the file gets the quantity before
// its ending.
func plotTests(r testlog.Report, name string) error {
	groups := map[string][]testlog.Summary{}
	var order []string
	for _, g := range r.Groups {
		q := g.Quantity.Name
		if groups[q] == nil {
			order = append(order, q)
		}
		groups[q] = append(groups[q], g)
	}
	if len(order) == 0 {
		return errors.New("there is no test to draw")
	}
	for _, q := range order {
		file := name
		if len(order) > 1 {
			file = strings.TrimSuffix(name, ".svg") + "-" + q + ".svg"
		}
		if err := write(file, svg.File(drawing.TestChart(drawing.TestResultsOf(groups[q]), drawing.Style{}))); err != nil {
			return err
		}
	}
	return nil
}
