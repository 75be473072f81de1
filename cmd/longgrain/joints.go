package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"text/tabwriter"

	"longgrain/examples"
	"longgrain/internal/book/workbook"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/svg"
	"longgrain/internal/plan"
	"longgrain/internal/trade/shop"
)

// jointsCommand is "longgrain joints".
type jointsCommand struct {
	Compare compareCommand `cmd:"" help:"Compare every joint that the tools of the shop can make at a connection."`
}

// compareCommand is "longgrain joints compare".
type compareCommand struct {
	Piece      string  `arg:"" optional:"" help:"Piece file; without it --wood and --sizes say what is to be joined."`
	Connection string  `help:"Compare one connection of the piece, by its name or by that of its kind, such as \"apron to leg\"; otherwise every kind." placeholder:"NAME"`
	Wood       string  `help:"Wood of both parts, without a piece." placeholder:"SPECIES"`
	Sizes      string  `help:"What is joined, without a piece: width and thickness of the rail and depth of the post, such as \"110 mm x 23 mm into 45 mm\"." placeholder:"SIZES"`
	Bend       float64 `help:"Moment that bends the joint the strong way, N·m." placeholder:"N·m"`
	Sideways   float64 `help:"Moment that bends it the weak way, N·m." placeholder:"N·m"`
	Pull       string  `help:"Force that pulls it apart, such as \"200 N\"." placeholder:"FORCE"`
	Shear      string  `help:"Force along the width of the rail, such as \"300 N\"." placeholder:"FORCE"`
	Reserve    float64 `help:"Wanted reserve, without a piece." placeholder:"RATIO"`
	Shop       string  `help:"Shop file; without it the shop of the examples is used." placeholder:"FILE"`
	JSON       bool    `name:"json" help:"Print everything as JSON."`
	Plot       string  `help:"Also draw the comparison: an SVG file, one drawing per connection." placeholder:"FILE.svg"`
}

// Run prints the comparison.
func (c compareCommand) Run(ctx context.Context) error {
	all, family, err := c.comparisons(ctx)
	if err != nil {
		return err
	}
	if c.Plot != "" {
		for i, x := range all {
			file := c.Plot
			if len(all) > 1 {
				file = fmt.Sprintf("%s-%d.svg", strings.TrimSuffix(file, ".svg"), i+1)
			}
			if err := write(file, svg.File(workbook.JointPicture(x, workbook.Options{}))); err != nil {
				return err
			}
		}
	}
	if c.JSON {
		out := json.NewEncoder(os.Stdout)
		out.SetIndent("", " ")
		return out.Encode(all)
	}
	for i, x := range all {
		if i > 0 {
			fmt.Println()
		}
		if err := printComparison(os.Stdout, x, family); err != nil {
			return err
		}
	}
	return nil
}

// comparisons works out what was asked for.
func (c compareCommand) comparisons(ctx context.Context) ([]plan.Comparison, unit.Family, error) {
	if c.Piece == "" {
		x, family, err := c.alone()
		return []plan.Comparison{x}, family, err
	}
	var problems problem.List
	for flag, given := range map[string]bool{"--wood": c.Wood != "", "--sizes": c.Sizes != "", "--bend": c.Bend != 0, "--sideways": c.Sideways != 0, "--pull": c.Pull != "", "--shear": c.Shear != "", "--reserve": c.Reserve != 0} {
		if given {
			problems.Add(problem.Problem{Code: problem.UnknownKey, At: problem.Position{File: flag}, What: "a piece says itself what is joined and loaded", Mend: "leave " + flag + " out, or the piece"})
		}
	}
	if len(problems) > 0 {
		return nil, 0, complain(problems)
	}
	made, err := input{Piece: c.Piece, Shop: c.Shop}.make(ctx, false)
	if err != nil {
		return nil, 0, err
	}
	if len(made.Joints) == 0 {
		return nil, 0, fmt.Errorf("%s has no joints to compare", made.Name)
	}
	if c.Connection != "" {
		i, names := made.GroupOf(c.Connection)
		if i < 0 {
			mend := "its kinds of connection are " + strings.Join(slices.Compact(slices.Clone(names[:min(len(names), len(made.Joints))])), ", ")
			if near := problem.Nearest(c.Connection, names); near != "" {
				mend = fmt.Sprintf("did you mean %q?", near)
			}
			return nil, 0, complain(problem.List{{Code: problem.UnknownName, At: problem.Position{File: "--connection"}, What: fmt.Sprintf("%s has no connection %q", made.Name, c.Connection), Mend: mend}})
		}
		return []plan.Comparison{made.Compare(i)}, made.Family, nil
	}
	var all []plan.Comparison
	for i := range made.Joints {
		all = append(all, made.Compare(i))
	}
	return all, made.Family, nil
}

var sizesForm = regexp.MustCompile(`^\s*(.+?)\s*(?:x|×|by)\s*(.+?)\s+into\s+(.+?)\s*$`)

// alone compares an end joint that is given by wood, sizes and loads.
func (c compareCommand) alone() (plan.Comparison, unit.Family, error) {
	var problems problem.List
	add := func(flag, what, mend string) {
		problems.Add(problem.Problem{Code: problem.BadLength, At: problem.Position{File: flag}, What: what, Mend: mend})
	}
	if c.Connection != "" {
		add("--connection", "there is no piece to take a connection from", "name a piece file, or leave --connection out")
	}
	e := plan.EndJoint{Species: c.Wood, Bend: unit.NewtonMetres(c.Bend), BendSideways: unit.NewtonMetres(c.Sideways), Wanted: c.Reserve}
	if c.Wood == "" {
		add("--wood", "no wood is given", "name a piece file, or give --wood and --sizes")
	}
	e.Width, e.Thickness, e.Depth = unit.Millimetre, unit.Millimetre, unit.Millimetre
	if m := sizesForm.FindStringSubmatch(c.Sizes); m != nil {
		for i, to := range []*unit.Length{&e.Width, &e.Thickness, &e.Depth} {
			size, err := unit.ParseMeasure(m[i+1])
			if err != nil {
				add("--sizes", err.Error(), "")
				continue
			}
			*to = size.Length
		}
	} else {
		add("--sizes", fmt.Sprintf("%q does not say what is joined", c.Sizes), `write for example "110 mm x 23 mm into 45 mm": width and thickness of the rail, depth of the post`)
	}
	for _, f := range []struct {
		flag, text string
		to         *unit.Newtons
	}{{"--pull", c.Pull, &e.Pull}, {"--shear", c.Shear, &e.Shear}} {
		if f.text == "" {
			continue
		}
		v, err := unit.ParseForce(f.text)
		if err != nil {
			problems.Add(problem.Problem{Code: problem.BadForce, At: problem.Position{File: f.flag}, What: err.Error()})
			continue
		}
		*f.to = v
	}
	s, text, name := shop.Shop{}, []byte(examples.Shop()), "the shop of the examples"
	if c.Shop != "" {
		var err error
		if text, err = readFile(c.Shop); err != nil {
			return plan.Comparison{}, 0, err
		}
		name = c.Shop
	}
	s, wrong := shop.Parse(name, text)
	problems = append(problems, wrong...)
	if len(problems) > 0 {
		return plan.Comparison{}, 0, complain(problems)
	}
	x, problems := plan.CompareEnd(e, s)
	if len(problems) > 0 {
		for i := range problems {
			problems[i].At = problem.Position{File: "--" + problems[i].At.Path}
		}
		return plan.Comparison{}, 0, complain(problems)
	}
	return x, s.Family, nil
}

// printComparison prints the table of a comparison, strongest first, and why one of them was chosen.
func printComparison(to io.Writer, c plan.Comparison, family unit.Family) error {
	fmt.Fprintf(to, "%s: %d joints\n", c.Title, len(c.Joints))
	out := tabwriter.NewWriter(to, 0, 4, 2, ' ', 0)
	fmt.Fprintln(out, "\tJoint\tReserve\tVerdict\tGives way first\tLong grain, cm²\tEnd grain, cm²\tMinutes\tHardware\tSeen\tRules broken")
	for _, j := range c.Joints {
		mark := ""
		if j.Chosen {
			mark = ">"
		}
		verdict := string(j.Verdict)
		if math.IsInf(float64(j.Reserve), 1) {
			verdict = "no load"
		}
		fmt.Fprintf(out, "%s\t%s\t%s\t%s\t%s\t%.0f\t%.0f\t%.0f\t%s\t%s\t%s\n", mark, j.Name, j.Reserve, verdict, j.Limit, float64(j.Glue.LongGrain)*1e4, float64(j.Glue.EndGrain)*1e4, float64(j.Minutes), j.Cost(c.Currency), j.Shows, ruleNames(j.Broken))
	}
	if err := out.Flush(); err != nil {
		return err
	}
	for _, p := range c.Problems {
		fmt.Fprintln(to, p)
	}
	for _, j := range c.Joints {
		if j.Chosen {
			fmt.Fprintf(to, "Chosen: %s, %s.\n", j.Name, c.Why)
		}
	}
	if len(c.Joints) == 0 {
		fmt.Fprintln(to, c.Why)
	}
	for _, f := range c.Rules {
		fmt.Fprintln(to, f)
	}
	return nil
}

func ruleNames(broken []joint.Broken) string {
	var names []string
	for _, b := range broken {
		names = append(names, b.Rule)
	}
	return strings.Join(names, " ")
}
