package joint

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"longgrain/internal/design/strength"
	"longgrain/internal/ground/source"
)

//go:embed rules.csv
var rulesCSV string

// Rule is a rule of the trade with a name and an origin. Rules decide nothing and reorder nothing: strength comes from
// geometry and wood alone. A joint lists the rules that it breaks, and a plan says what keeping them would cost or give.
type Rule struct {
	ID     string      `json:"id"`
	Kind   Kind        `json:"kind"`
	Text   string      `json:"text"`
	Least  float64     `json:"least,omitempty"` // zero: no lower limit
	Most   float64     `json:"most,omitempty"`  // zero: no upper limit
	Unit   string      `json:"unit"`
	Guards string      `json:"guards"` // what it guards against
	Cite   source.Cite `json:"cite"`

	softOnly bool
	measure  measure
}

// Broken is a rule that a joint breaks, with the figure that breaks it.
type Broken struct {
	Rule  string  `json:"rule"`
	Text  string  `json:"text"`
	Value float64 `json:"value"`
	Limit float64 `json:"limit"`
	Unit  string  `json:"unit"`
}

// String says it in a line: "D07: dowels stand at least three diameters apart (here 2.7 D, the rule says at least 3 D)".
func (b Broken) String() string {
	short := func(x float64) string { return strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64) }
	limit := "at least"
	if b.Value > b.Limit {
		limit = "at most"
	}
	return fmt.Sprintf("%s: %s (here %s %s, the rule says %s %s %s)", b.Rule, b.Text, short(b.Value), b.Unit, limit, short(b.Limit), b.Unit)
}

// measure works out the figure that a rule limits; false where it does not apply.
type measure func(s Site, j Joint) (float64, bool)

// measures are the figures that rules name.
var measures = map[string]measure{
	"diameter over thickness":  func(s Site, j Joint) (float64, bool) { return j.Sizes.Diameter.MM() / s.Thick(), true },
	"diameter over a third":    func(s Site, j Joint) (float64, bool) { return j.Sizes.Diameter.MM() - s.Thick()/3, true },
	"thickness over rail":      func(s Site, j Joint) (float64, bool) { return j.Sizes.Thickness.MM() / s.Thick(), true },
	"wall beside the hole":     func(s Site, j Joint) (float64, bool) { return (s.Thick() - j.across()) / 2, true },
	"depth in A over diameter": func(s Site, j Joint) (float64, bool) { return j.Sizes.DepthA.MM() / j.Sizes.Diameter.MM(), true },
	"depth in B over diameter": func(s Site, j Joint) (float64, bool) { return j.Sizes.DepthB.MM() / j.Sizes.Diameter.MM(), true },
	"length over depth":        func(s Site, j Joint) (float64, bool) { return j.Sizes.DepthB.MM() / s.Depth.MM(), s.Depth > 0 },
	"wood to the far face":     func(s Site, j Joint) (float64, bool) { return (s.Depth - j.Sizes.DepthB - glueSpace).MM(), s.Depth > 0 },
	"width":                    func(s Site, j Joint) (float64, bool) { return j.Sizes.Width.MM(), true },
	"count":                    func(s Site, j Joint) (float64, bool) { return float64(j.Sizes.Count), true },
	"spacing":                  func(s Site, j Joint) (float64, bool) { return j.spacing() },
	"spacing over diameter": func(s Site, j Joint) (float64, bool) {
		x, ok := j.spacing()
		return x / j.Sizes.Diameter.MM(), ok
	},
	"edge": func(s Site, j Joint) (float64, bool) {
		low, high := j.edges(s)
		return math.Min(low, high), true
	},
	"edge over diameter": func(s Site, j Joint) (float64, bool) {
		low, high := j.edges(s)
		return math.Min(low, high) / j.Sizes.Diameter.MM(), true
	},
	"edge near the end": func(s Site, j Joint) (float64, bool) { return j.edgeNearEnd(s) },
	"edge near the end over diameter": func(s Site, j Joint) (float64, bool) {
		x, ok := j.edgeNearEnd(s)
		return x / j.Sizes.Diameter.MM(), ok
	},
}

// across is the extent of a pin, tenon or slot through the thickness of A, mm.
func (j Joint) across() float64 {
	if j.Sizes.Thickness > 0 {
		return j.Sizes.Thickness.MM()
	}
	return j.Sizes.Diameter.MM()
}

// spacing is the least distance between the middles of neighbouring pins, mm; false for a single one.
func (j Joint) spacing() (float64, bool) {
	least := math.Inf(1)
	for i := 1; i < len(j.spots); i++ {
		if j.spots[i].v == j.spots[i-1].v {
			least = math.Min(least, (j.spots[i].u - j.spots[i-1].u).Abs().MM())
		}
	}
	return least, !math.IsInf(least, 1)
}

// edges are the distances, mm, from the low and the high edge of the contact to the middle of the first and the last pin, or
// to the tenon itself.
func (j Joint) edges(s Site) (low, high float64) {
	low, high = math.Inf(1), math.Inf(1)
	half := 0.0
	if j.Sizes.Diameter == 0 {
		half = j.Sizes.Width.MM() / 2
	}
	for _, at := range j.spots {
		low, high = math.Min(low, at.u.MM()-half), math.Min(high, s.Height()-at.u.MM()-half)
	}
	return low, high
}

// edgeNearEnd is the distance to the edge that lies near an end of B; false where neither does.
func (j Joint) edgeNearEnd(s Site) (float64, bool) {
	low, high := j.edges(s)
	switch {
	case s.NearLow && s.NearHigh:
		return math.Min(low, high), true
	case s.NearLow:
		return low, true
	case s.NearHigh:
		return high, true
	}
	return 0, false
}

var rules = readRules()

func readRules() map[Kind][]Rule {
	out := map[Kind][]Rule{}
	for _, r := range source.Table("rules.csv", rulesCSV) {
		m, known := measures[r.Text("measure")]
		if !known {
			panic(fmt.Sprintf("joint: rules.csv: rule %s names an unknown measure %q", r.Text("id"), r.Text("measure")))
		}
		rule := Rule{ID: r.Text("id"), Text: r.Text("text"), Unit: r.Text("unit"), Guards: r.Text("guards"), Cite: r.Cite(),
			softOnly: r.Text("wood") == "softwood", measure: m}
		if r.Has("least") {
			rule.Least = r.Number("least")
		}
		if r.Has("most") {
			rule.Most = r.Number("most")
		}
		for _, k := range strings.Split(r.Text("kind"), ";") {
			rule.Kind = Kind(k)
			out[rule.Kind] = append(out[rule.Kind], rule)
		}
	}
	return out
}

// Rules returns the rules of the trade for a kind of joint.
func Rules(k Kind) []Rule { return slices.Clone(rules[k]) }

// RuleOf returns a rule by its name.
func RuleOf(id string) (Rule, bool) {
	for _, k := range Kinds() {
		for _, r := range rules[k] {
			if strings.EqualFold(r.ID, id) {
				return r, true
			}
		}
	}
	return Rule{}, false
}

// forgiven is how far a figure may miss a rule: rows of pins are rounded to whole marks. Half a percent is less than any mark.
const forgiven = 0.005

// brokenRules lists the rules that a joint breaks at a site, in the order of the table.
func brokenRules(s Site, j Joint) []Broken {
	var out []Broken
	for _, r := range rules[j.Kind] {
		if r.softOnly && !(s.TimberB.Rolling <= strength.RollingSoft) {
			continue
		}
		v, applies := r.measure(s, j)
		if !applies || math.IsNaN(v) || math.IsInf(v, 0) {
			continue
		}
		switch {
		case v < r.Least*(1-forgiven):
			out = append(out, Broken{r.ID, r.Text, v, r.Least, r.Unit})
		case r.Most > 0 && v > r.Most*(1+forgiven):
			out = append(out, Broken{r.ID, r.Text, v, r.Most, r.Unit})
		}
	}
	return out
}

// breaks tells whether a joint breaks a rule.
func (j Joint) breaks(id string) bool {
	return slices.ContainsFunc(j.Broken, func(b Broken) bool { return b.Rule == id })
}

// Keeping returns, of the joints of the same kind as the chosen one, the strongest under the loads of the choice that keeps
// a rule and breaks no other that the chosen one keeps. False when there is none.
func (c Choice) Keeping(rule string) (Ranked, bool) {
	chosen, ok := c.Pick()
	if !ok {
		return Ranked{}, false
	}
	for _, r := range c.Ranked { // strongest first
		if r.Joint.Kind != chosen.Joint.Kind || r.Joint.breaks(rule) {
			continue
		}
		if !slices.ContainsFunc(r.Joint.Broken, func(b Broken) bool { return !chosen.Joint.breaks(b.Rule) }) {
			return r, true
		}
	}
	return Ranked{}, false
}

// RuleFinding says what a rule that the chosen joint breaks costs or gives.
type RuleFinding struct {
	Group  int     `json:"group"` // of joints, by its place in the plan
	Where  string  `json:"where"`
	Broken Broken  `json:"broken"`
	Guards string  `json:"guards"`
	Chosen string  `json:"chosen"`
	As     Reserve `json:"as"`             // reserve of the chosen joint
	Kept   string  `json:"kept,omitempty"` // the joint that keeps the rule; empty when there is none
	With   Reserve `json:"with"`           // its reserve under the same forces
}

// String says it in sentences.
func (f RuleFinding) String() string {
	head := fmt.Sprintf("%s breaks rule %s. As it is, the reserve is %s.", f.Chosen, f.Broken, f.As)
	switch {
	case f.Kept == "":
		return head + " No joint of its kind keeps the rule here."
	case f.With >= f.As:
		return fmt.Sprintf("%s Keeping the rule gives %s, with %s.", head, f.With, f.Kept)
	}
	return fmt.Sprintf("%s Keeping the rule leaves %s, with %s: here the rule costs strength. It guards against %s.", head, f.With, f.Kept, f.Guards)
}
