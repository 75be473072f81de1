package main

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"strings"
	"text/tabwriter"

	"longgrain/internal/check/chance"
	"longgrain/internal/design/joint"
	"longgrain/internal/plan"
)

// checkCommand is "longgrain check".
type checkCommand struct {
	input
	Trials int     `help:"Also draw so many pieces with scattered wood, joints and stiffness, and say how likely it is to give way." placeholder:"10000"`
	Accept float64 `help:"With --trials: accept that 1 in so many pieces gives way in its life." placeholder:"1000"`
}

// Run prints the verdicts.
func (c checkCommand) Run(ctx context.Context) error {
	made, err := c.make(ctx, false)
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
	if d, taken := made.Shop.DefaultOf("tools"); taken {
		fmt.Printf("Note: the shop file names no tools; %s is taken: %s\n", d.Note, strings.ReplaceAll(d.Text, ";", ", "))
	}
	for _, n := range made.Structure.Notes {
		fmt.Println("Note: " + n)
	}
	printMends(made)
	if c.Trials > 0 || c.Accept > 0 {
		c.printChance(&made)
	} else if made.Chance.Known {
		fmt.Printf("\n%s\n", made.Chance.Sentence)
	}
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

// printChance works the full chance of giving way out and prints it with what it rests on.
func (c checkCommand) printChance(p *plan.Plan) {
	o := chance.Options{Trials: cmp.Or(c.Trials, chance.FullTrials), Stiff: true}
	if c.Accept > 0 {
		o.Wanted = 1 / c.Accept
	}
	a := p.ChanceOf(o)
	if !a.Known {
		fmt.Println("\nHow likely it is to give way cannot be said: the frame has no answer.")
		return
	}
	fmt.Printf("\n%s\n\n", a.Sentence)
	e := a.Best()
	fmt.Printf("Probability %.3g, 95 %% bounds %.3g to %.3g from %d draws, index %.2f.\n", e.Probability, e.Low, e.High, a.Trials, e.Index)
	for _, k := range e.Causes {
		fmt.Printf("%3.0f of 100 go first at: %s, under %s\n", 100*k.Share, k.What, k.Load)
	}
	fmt.Println()
	for _, text := range a.Assumptions {
		fmt.Println("-", text)
	}
}

// Validate refuses numbers that mean nothing.
func (c checkCommand) Validate() error {
	switch {
	case c.Trials < 0 || c.Trials > mostTrials:
		return fmt.Errorf("--trials is %d; give 1 to %d", c.Trials, mostTrials)
	case c.Accept != 0 && !(c.Accept >= 2 && c.Accept <= 1e9):
		return fmt.Errorf("--accept is %g; give 2 to 1000000000", c.Accept)
	}
	return nil
}

// mostTrials takes some minutes, and keeps the memory within some hundred megabytes.
const mostTrials = 2_000_000

// findings lists what is wrong beside strength, a line each.
func findings(p plan.Plan) []string {
	var out []string
	for _, f := range p.Structure.Findings {
		out = append(out, fmt.Sprintf("%s: %s; %s", f.Where, f.What, f.Advice))
	}
	for _, f := range p.Fit {
		out = append(out, fmt.Sprintf("%s: %s; %s", f.Where, f.What, f.Advice))
	}
	for _, f := range p.Rules {
		out = append(out, fmt.Sprintf("%s: %s", f.Where, f))
	}
	for _, f := range p.Cutting.Findings {
		out = append(out, fmt.Sprintf("%s: %s; %s", f.Where, f.What, f.Advice))
	}
	return out
}
