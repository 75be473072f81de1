package main

import (
	"context"
	"fmt"
	"os"
	"text/tabwriter"

	"longgrain/internal/design/joint"
	"longgrain/internal/plan"
)

// checkCommand is "longgrain check".
type checkCommand struct{ input }

// Run prints the verdicts.
func (c checkCommand) Run(ctx context.Context) error {
	made, err := c.make(ctx)
	if err != nil {
		return err
	}
	fmt.Printf("%s: %s\n\n", made.Name, sentence(made))
	out := tabwriter.NewWriter(os.Stdout, 0, 4, 2, ' ', 0)
	for _, k := range made.Chapters {
		fmt.Fprintf(out, "%s\t%s\t%s\n", k.Title, k.Word, k.Answer)
	}
	fmt.Fprintln(out)
	fmt.Fprintln(out, "Reserve\tVerdict\tWhat\tHardest case")
	for _, k := range made.HoldsChecks() {
		fmt.Fprintf(out, "%s\t%s\t%s\t%s\n", k.Reserve, k.Verdict, k.What, k.Case)
	}
	if err := out.Flush(); err != nil {
		return err
	}
	for _, f := range findings(made) {
		fmt.Println(f)
	}
	for _, n := range made.Structure.Notes {
		fmt.Println("Note: " + n)
	}
	printMends(made)
	if made.Verdict.Word == string(joint.DoesNotHold) {
		return doesNotHold
	}
	return nil
}

// printMends lists what would change the verdict.
func printMends(p plan.Plan) {
	if len(p.Mends) == 0 {
		return
	}
	fmt.Println("\nWhat one change does:")
	out := tabwriter.NewWriter(os.Stdout, 0, 4, 2, ' ', 0)
	fmt.Fprintln(out, "Change\tMends\tThen the piece\tMoney\tHours")
	for _, m := range p.Mends {
		then := m.Word
		if m.Short {
			then += " (not enough, but the most that one change does)"
		}
		fmt.Fprintf(out, "%s\t%s\t%s\t%s\t%+.1f\n", m.Change, m.Mended(), then, m.Money(p.Cost.Currency), m.Hours)
	}
	_ = out.Flush()
}

// findings lists what is wrong beside strength, a line each.
func findings(p plan.Plan) []string {
	var out []string
	for _, f := range p.Structure.Findings {
		out = append(out, fmt.Sprintf("%s: %s; %s", f.Where, f.What, f.Advice))
	}
	for _, f := range p.Fit {
		out = append(out, fmt.Sprintf("%s: %s; %s", f.Where, f.What, f.Advice))
	}
	for _, f := range p.Cutting.Findings {
		out = append(out, fmt.Sprintf("%s: %s; %s", f.Where, f.What, f.Advice))
	}
	return out
}
