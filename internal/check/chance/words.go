package chance

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"longgrain/internal/ground/stats"
	"longgrain/internal/ground/working"
)

func probability(index float64) float64 { return figures(stats.NormalCDF(-index)) }

func sortCauses(c []cause) {
	slices.SortStableFunc(c, func(a, b cause) int {
		return cmp.Or(cmp.Compare(b.probability, a.probability), strings.Compare(a.what, b.what), strings.Compare(a.load, b.load))
	})
}

// twoFigures rounds to two significant figures.
func twoFigures(x float64) float64 {
	if x < 10 {
		return math.Round(x)
	}
	k := math.Pow(10, math.Floor(math.Log10(x))-1)
	return math.Round(x/k) * k
}

// thousands prints a whole number with commas.
func thousands(x float64) string {
	s := strconv.FormatFloat(x, 'f', 0, 64)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// sentence says the answer.
func (a Chance) sentence(use string) string {
	e := a.Best()
	made := "pieces like this"
	var b strings.Builder
	if e.Probability == 0 || e.Probability < 1e-7 {
		fmt.Fprintf(&b, "Fewer than 1 in 10 million %s give way in their life", made)
	} else {
		fmt.Fprintf(&b, "About %s %s gives way in its life; the draws leave it between %s and %s", OneIn(e.Probability), made, OneIn(e.High), OneIn(e.Low))
	}
	if len(e.Causes) > 0 && e.Probability >= 1e-7 {
		fmt.Fprintf(&b, ". First to go is most often the %s under %s", e.Causes[0].What, e.Causes[0].Load)
	}
	fmt.Fprintf(&b, ". No more than %s is accepted for a %s", OneIn(a.Wanted), use)
	if e.Reserve > 0 {
		fmt.Fprintf(&b, ", which takes a lowest reserve of %.1f", e.Reserve)
	}
	b.WriteString(".")
	if a.Own != nil {
		fmt.Fprintf(&b, " That is with the shop's own tests; with the species alone it would be %s.", OneIn(a.Species.Probability))
	}
	return b.String()
}

// assumptions are what the answer rests on.
func assumptions(stiff bool) []string {
	out := []string{
		fmt.Sprintf("The heaviest load of each kind in a life follows Gumbel's law and varies by %.0f %%; 95 of 100 pieces never meet more than the load of the table (assumed: nobody has published loads of homes).", 100*scatter["load"].cov),
		"The heaviest load acts at the worst place and in the worst direction, with all of what stands on the piece in that load case.",
		fmt.Sprintf("Wood scatters as structural timber with knots does, bending strength by %.0f %%, which is more than small clear parts do; parts are independent of each other.", 100*scatter["bending"].cov),
		"What a joint model may be off is the same for all joints of one kind in the piece; each joint scatters by itself on top.",
		"The piece fails with the first part or joint that gives way.",
		"Not in it: bad glue, knots beside joints, damp, wear by repeated load, falls and jumps, tipping over.",
	}
	if stiff {
		return append(out, fmt.Sprintf("Stiffness scatters too: wood by %.0f %%, joints by %.0f %% (assumed).", 100*scatter["modulus"].cov, 100*scatter["give"].cov))
	}
	return append(out, "Stiffness is taken at its mean; ask for the full answer to let it scatter too.")
}

// working shows how the answer came about.
func (m *model) working(a Chance) working.Working {
	e := a.Best()
	load := scatter["load"]
	out := working.Working{
		{Title: "Heaviest load of a life over the load of the table", Formula: "X Gumbel, P(X > 1) = 5 %",
			Inputs: []working.Value{{Symbol: "v", Name: "variation", Number: load.cov, Cite: load.cite}},
			Result: working.Value{Symbol: "X_m", Name: "mean", Number: loadMean()}, Cite: load.cite},
		{Title: "Strength of a part", Formula: "R = R_m · X_R · X_M, lognormal",
			Inputs: []working.Value{{Symbol: "v_R", Name: "bending strength", Number: scatter["bending"].cov, Cite: scatter["bending"].cite},
				{Symbol: "v_M", Name: "model, all parts alike", Number: scatter["model"].cov, Cite: scatter["model"].cite},
				{Symbol: "λ", Name: "smallest eigenvalue of the published correlations, which were repaired", Number: repaired.smallest, Cite: repaired.cite}},
			Result: working.Value{Symbol: "v", Name: "variation", Number: math.Sqrt((1+sq(scatter["bending"].cov))*(1+sq(scatter["model"].cov)) - 1)}, Cite: scatter["bending"].cite},
	}
	step := working.Step{Title: "Chance that the piece fails", Formula: "P = mean of 1 − Π (1 − P(X_k > x_k))", Cite: citeMethod,
		Inputs: []working.Value{{Symbol: "n", Name: "draws of the strengths", Number: float64(a.Trials)}, {Symbol: "c", Name: "parts and joints that can fail", Number: float64(len(m.components))}},
		Result: working.Value{Symbol: "P", Number: e.Probability}, Note: fmt.Sprintf("x_k is the load at which the first part or joint fails in a draw. 95 %% bounds %s to %s.", working.Figures(e.Low), working.Figures(e.High))}
	out = append(out, step)
	if e.Reserve > 0 {
		out = append(out, working.Step{Title: "Reserve for the accepted chance", Formula: "all strengths raised or lowered alike until P is the accepted one", Cite: citeMethod,
			Inputs: []working.Value{{Symbol: "P₀", Name: "accepted", Number: a.Wanted}},
			Result: working.Value{Symbol: "r", Name: "lowest reserve", Number: e.Reserve}})
	}
	return out
}

func sq(x float64) float64 { return x * x }
