package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"
)

// jointsCommand compares the joint models with a file of published measurements.
type jointsCommand struct {
	File string `arg:"" type:"existingfile" help:"CSV file of measured joints: id, joint, load_case, configuration, species, member_size_mm, joint_size_mm, quantity, value, unit and what else is known."`
	CSV  string `placeholder:"FILE" help:"Also write one row a measurement to this file."`
}

// Run reads the file, predicts its rows and prints the comparison.
func (c *jointsCommand) Run() error {
	text, err := os.ReadFile(c.File)
	if err != nil {
		return fmt.Errorf("read measured joints: %w", err)
	}
	results, seconds, err := compareJoints(text)
	if err != nil {
		return fmt.Errorf("read measured joints %s: %w", c.File, err)
	}
	printJoints(os.Stdout, results)
	if c.CSV == "" {
		return nil
	}
	set := strings.TrimSuffix(filepath.Base(c.File), ".csv")
	if err := writeJointCSV(c.CSV, set, results, seconds); err != nil {
		return fmt.Errorf("write %s: %w", c.CSV, err)
	}
	return nil
}

// compareJoints predicts every row of a file, in its order, and says how long each took.
func compareJoints(text []byte) ([]jointResult, []float64, error) {
	rows, err := readJointRows(text)
	if err != nil {
		return nil, nil, err
	}
	if len(rows) == 0 {
		return nil, nil, errors.New("no rows below the heading")
	}
	results, seconds := make([]jointResult, len(rows)), make([]float64, len(rows))
	for i, r := range rows {
		start := time.Now()
		results[i] = predictRow(r)
		seconds[i] = time.Since(start).Seconds()
	}
	takeOutLevers(results)
	return results, seconds, nil
}

// jointSummary says how well one kind of joint is predicted. Ratios are predicted over measured.
type jointSummary struct {
	kind          string
	rows, soft    int
	median        float64 // of the miss, as a share, whichever way
	low, high     float64 // 90 % band of the ratio
	bias          float64 // geometric mean of the ratio less 1
	softBias      float64 // the same over softwood rows
	relative      int
	notComputable int
}

// unsafeBias is the bias above which a kind counts as unsafe on its softwood rows.
const unsafeBias = 0.10

func summariseJoints(results []jointResult) []jointSummary {
	var kinds []string
	for _, r := range results {
		if !slices.Contains(kinds, r.kind) {
			kinds = append(kinds, r.kind)
		}
	}
	var out []jointSummary
	for _, k := range kinds {
		s := jointSummary{kind: k}
		var logs, misses []float64
		all, soft := 0.0, 0.0
		for _, r := range results {
			switch {
			case r.kind != k:
				continue
			case len(r.missing) > 0:
				s.notComputable++
				continue
			case !r.mean:
				continue
			}
			l := math.Log(r.ratio())
			logs, misses = append(logs, l), append(misses, math.Abs(math.Expm1(l)))
			all += l
			if r.relative {
				s.relative++
			}
			if r.softwood {
				soft += l
				s.soft++
			}
		}
		if s.rows = len(logs); s.rows > 0 {
			slices.Sort(logs)
			slices.Sort(misses)
			s.median = (misses[(s.rows-1)/2] + misses[s.rows/2]) / 2
			s.low, s.high = math.Exp(quantile(logs, 0.05)), math.Exp(quantile(logs, 0.95))
			s.bias = math.Expm1(all / float64(s.rows))
			if s.soft > 0 {
				s.softBias = math.Expm1(soft / float64(s.soft))
			}
		}
		out = append(out, s)
	}
	return out
}

// quantile interpolates in a sorted sample; with few values the outer quantiles are the outermost values.
func quantile(sorted []float64, p float64) float64 {
	at := p * float64(len(sorted)-1)
	i := int(at)
	if len(sorted) < 20 {
		if p < 0.5 {
			return sorted[0]
		}
		return sorted[len(sorted)-1]
	}
	if i+1 >= len(sorted) {
		return sorted[i]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// printJoints prints the comparison, then the summary of each kind, then what could not be worked out.
func printJoints(to io.Writer, results []jointResult) {
	out := tabwriter.NewWriter(to, 0, 4, 2, ' ', 0)
	fmt.Fprintln(out, "row\tkind\tmeasured\tpredicted\tunit\tpredicted/measured\tgoverns\tnote")
	for _, r := range results {
		if len(r.missing) == 0 {
			fmt.Fprintf(out, "%s\t%s\t%.4g\t%.4g\t%s\t%.2f\t%s\t%s\n", r.row.text("id"), r.kind, r.measured, r.predicted, r.unit, r.ratio(), r.governs, r.note())
		}
	}
	fmt.Fprintln(out, "\nkind\trows\tmedian error\t90 % band\tbias\tsoftwood rows\tsoftwood bias\t")
	for _, s := range summariseJoints(results) {
		if s.rows == 0 {
			continue
		}
		soft, verdict := "none", ""
		if s.soft > 0 {
			soft = fmt.Sprintf("%+.0f %%", 100*s.softBias)
			if s.softBias > unsafeBias {
				verdict = "UNSAFE"
			}
		}
		fmt.Fprintf(out, "%s\t%d\t%.0f %%\t%.2f to %.2f\t%+.0f %%\t%d\t%s\t%s\n", s.kind, s.rows, 100*s.median, s.low, s.high, 100*s.bias, s.soft, soft, verdict)
	}
	out.Flush()
	missing := 0
	for _, r := range results {
		if len(r.missing) == 0 {
			continue
		}
		if missing == 0 {
			fmt.Fprintln(to, "\nnot computable, and what is missing:")
		}
		missing++
		fmt.Fprintf(to, "  %s (%s): %s\n", r.row.text("id"), r.kind, strings.Join(r.missing, "; "))
	}
	fmt.Fprintf(to, "\n%d rows, %d predicted, %d not computable\n", len(results), len(results)-missing, missing)
}

func (r jointResult) note() string {
	var notes []string
	if r.relative {
		notes = append(notes, "proportion only: the lever of the rig is not known")
	}
	if !r.mean {
		notes = append(notes, r.row.text("statistic")+", not in the summary")
	}
	return strings.Join(notes, "; ")
}

// writeJointCSV writes one row a measurement. bound is the predicted lower 5 %; proven says that the measured figure does
// not lie below it; verified that it lies within the predicted 90 % interval of one joint.
func writeJointCSV(path, set string, results []jointResult, seconds []float64) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	w := csv.NewWriter(file)
	w.Write([]string{"set", "instance", "value", "bound", "reference", "proven", "verified", "seconds", "note"})
	for i, r := range results {
		rec := []string{set, r.row.text("id"), "", "", figure(r.measured), "", "", fmt.Sprintf("%.6f", seconds[i]), "not computable: " + strings.Join(r.missing, "; ")}
		if len(r.missing) == 0 {
			rec[2], rec[3] = figure(r.predicted), figure(r.lower)
			rec[5], rec[6] = strconv.FormatBool(r.measured >= r.lower), strconv.FormatBool(r.measured >= r.lower && r.measured <= r.upper)
			rec[8] = strings.Trim(fmt.Sprintf("%s, %s, predicted/measured %.3f; %s", r.kind, r.unit, r.ratio(), r.note()), "; ")
		}
		w.Write(rec)
	}
	w.Flush()
	if err := w.Error(); err != nil {
		file.Close()
		return err
	}
	return file.Close()
}
