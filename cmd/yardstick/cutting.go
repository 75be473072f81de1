package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"
)

// cuttingCommand runs every instance of one set folder.
type cuttingCommand struct {
	Dir   string        `arg:"" type:"existingdir" help:"Folder of a set; its name says how it is read."`
	Limit time.Duration `default:"1s" help:"Wall-clock limit of one instance."`
	CSV   string        `name:"csv" type:"path" help:"Also write the rows to this file."`
	Only  string        `help:"Run only instances whose set/name contains this text."`

	Effort int64 `help:"Also stop each run after this many elementary steps, which a busy machine does not change (0: no such limit)."`
}

// cuttingSets maps the name of a set folder to its reader. Each file of readers adds its own in init.
var cuttingSets = map[string]func(dir string) ([]cuttingCase, error){}

// cuttingCase is one instance, read and ready to run.
type cuttingCase struct {
	set, name string
	reference float64                                               // best known value; NaN when there is none
	maximise  bool                                                  // whether higher values are better
	run       func(ctx context.Context, effort int64) cuttingResult // effort 0: no limit but the context
}

// cuttingResult is what a solver made of an instance.
type cuttingResult struct {
	value, bound float64
	proven       bool
	verified     bool   // an independent check re-added the plan
	note         string // what the check or the status has to say
}

// cuttingRow is a result beside its instance and its time.
type cuttingRow struct {
	cuttingCase
	cuttingResult
	seconds float64
}

// Run reads the set, runs its instances one after another and prints rows and summaries.
func (c *cuttingCommand) Run() error {
	abs, err := filepath.Abs(c.Dir)
	if err != nil {
		return fmt.Errorf("find folder %s: %w", c.Dir, err)
	}
	read, ok := cuttingSets[filepath.Base(abs)]
	if !ok {
		return fmt.Errorf("folder %q is no known set; known are %s", filepath.Base(abs), strings.Join(knownSets(), ", "))
	}
	cases, err := read(abs)
	if err != nil {
		return fmt.Errorf("read set %s: %w", c.Dir, err)
	}
	var rows []cuttingRow
	fmt.Printf("%-14s %-28s %12s %12s %12s %-6s %-8s %8s  %s\n",
		"set", "instance", "value", "bound", "reference", "proven", "verified", "seconds", "note")
	for _, cs := range cases {
		if !strings.Contains(cs.set+"/"+cs.name, c.Only) {
			continue
		}
		row := c.runCase(cs)
		rows = append(rows, row)
		fmt.Printf("%-14s %-28s %12s %12s %12s %-6t %-8t %8.3f  %s\n", row.set, row.name, number(row.value), number(row.bound),
			number(row.reference), row.proven, row.verified, row.seconds, row.note)
	}
	summarise(os.Stdout, rows)
	if c.CSV == "" {
		return nil
	}
	return writeRows(c.CSV, rows)
}

func knownSets() []string {
	var names []string
	for name := range cuttingSets {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

func (c *cuttingCommand) runCase(cs cuttingCase) cuttingRow {
	ctx, cancel := context.WithTimeout(context.Background(), c.Limit)
	defer cancel()
	start := time.Now()
	result := cs.run(ctx, c.Effort)
	return cuttingRow{cs, result, time.Since(start).Seconds()}
}

// excess is how much worse than the reference a row's value is, as a share of the reference.
func (r cuttingRow) excess() float64 {
	e := (r.value - r.reference) / r.reference
	if r.maximise {
		return -e
	}
	return e
}

// gap is how far value and bound are apart, as a share of the value.
func (r cuttingRow) gap() float64 {
	g := (r.value - r.bound) / r.value
	if r.maximise {
		return -g
	}
	return g
}

// summarise prints one line a set.
func summarise(w io.Writer, rows []cuttingRow) {
	var sets []string
	bySet := map[string][]cuttingRow{}
	for _, r := range rows {
		if bySet[r.set] == nil {
			sets = append(sets, r.set)
		}
		bySet[r.set] = append(bySet[r.set], r)
	}
	fmt.Fprintf(w, "\n%-14s %5s %8s %8s %8s %10s %10s %9s %9s\n",
		"set", "n", "at best", "proven", "verified", "worst", "worst gap", "median s", "max s")
	for _, set := range sets {
		var best, proven, verified int
		worst, gap := 0.0, 0.0
		var seconds []float64
		for _, r := range bySet[set] {
			if r.excess() <= 0 {
				best++
			}
			if r.proven {
				proven++
			}
			if r.verified {
				verified++
			}
			worst = max(worst, r.excess())
			gap = max(gap, r.gap())
			seconds = append(seconds, r.seconds)
		}
		slices.Sort(seconds)
		fmt.Fprintf(w, "%-14s %5d %8d %8d %8d %9.3f%% %9.3f%% %9.3f %9.3f\n", set, len(seconds), best, proven, verified,
			100*worst, 100*gap, seconds[len(seconds)/2], seconds[len(seconds)-1])
	}
}

// writeRows writes the rows as CSV.
func writeRows(name string, rows []cuttingRow) error {
	f, err := os.Create(name)
	if err != nil {
		return fmt.Errorf("create %s: %w", name, err)
	}
	w := csv.NewWriter(f)
	w.Write([]string{"set", "instance", "value", "bound", "reference", "proven", "verified", "seconds", "note"})
	for _, r := range rows {
		w.Write([]string{r.set, r.name, number(r.value), number(r.bound), number(r.reference), strconv.FormatBool(r.proven),
			strconv.FormatBool(r.verified), strconv.FormatFloat(r.seconds, 'f', 4, 64), r.note})
	}
	w.Flush()
	if err := w.Error(); err != nil {
		f.Close()
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}

// number prints a value without needless decimals.
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// readTable reads a CSV file with a header line as one map a row.
func readTable(name string) ([]map[string]string, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(lines) == 0 {
		return nil, fmt.Errorf("%s: no header line", name)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, head := range lines[0] {
			row[head] = line[i]
		}
		rows = append(rows, row)
	}
	return rows, nil
}
