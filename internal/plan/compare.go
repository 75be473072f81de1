package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/cost"
)

// Compared is one joint in a comparison, in the words and figures that a reader wants.
type Compared struct {
	Name     string         `json:"name"`
	Kind     joint.Kind     `json:"kind"`
	Reserve  joint.Reserve  `json:"reserve"` // lower strength over load; null without load
	Verdict  joint.Verdict  `json:"verdict"`
	Bending  float64        `json:"bending"`           // lower 5 % of bending the strong way, N·m
	Book     float64        `json:"book"`              // mean of the same by the book, before the shop's own tests, N·m
	Governs  string         `json:"governs,omitempty"` // the force that uses most of the strength
	Limit    string         `json:"limit"`             // what gives way first under it
	Glue     joint.GlueArea `json:"glue"`
	Minutes  unit.Minutes   `json:"minutes"`
	Hardware unit.Money     `json:"hardware"` // what its hardware costs; see priced
	Priced   bool           `json:"priced"`   // false when the shop gives no price for some of it
	Shows    joint.Shows    `json:"shows"`
	Broken   []joint.Broken `json:"broken,omitempty"` // rules of the trade
	Chosen   bool           `json:"chosen,omitempty"`
}

// Cost prints what the hardware of a joint costs: "none" where it has none, "no price" where the shop gives none.
func (c Compared) Cost(currency string) string {
	switch {
	case !c.Priced:
		return "no price"
	case c.Hardware == 0:
		return "none"
	}
	return currency + c.Hardware.String()
}

// Comparison is every joint that can be made at a connection, strongest first.
type Comparison struct {
	Title    string              `json:"title"`
	Wanted   float64             `json:"wantedReserve"`
	Joints   []Compared          `json:"joints"`
	Currency string              `json:"currency,omitempty"`
	Why      string              `json:"why"` // why the chosen one was chosen
	Problems []string            `json:"problems,omitempty"`
	Rules    []joint.RuleFinding `json:"rules,omitempty"` // what the rules that the chosen one breaks cost
}

// Compare returns the comparison of the joints of a group, as the choice was made.
func (p *Plan) Compare(group int) Comparison {
	g := p.Joints[group]
	c := compared(g.Choice, p.Shop, p.Wanted)
	c.Title = p.GroupName(g)
	for _, f := range p.Rules {
		if f.Group == group {
			c.Rules = append(c.Rules, f)
		}
	}
	return c
}

// GroupOf returns the group of joints that a connection belongs to, by the name of the connection ("apron front to leg front
// left") or of its group ("apron to leg"); of several groups with one name the first. Otherwise the names there are.
func (p *Plan) GroupOf(name string) (int, []string) {
	var names []string
	for i, g := range p.Joints {
		if strings.EqualFold(p.groupName(g), name) || strings.EqualFold(p.groupKind(g), name) {
			return i, nil
		}
		for _, n := range []string{p.groupKind(g), p.groupName(g)} {
			if !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	for i, g := range p.Joints {
		for _, c := range g.Connections {
			if n := p.Assembly.Connections[c].Name; strings.EqualFold(n, name) {
				return i, nil
			} else if !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	return -1, names
}

func compared(choice joint.Choice, s shop.Shop, wanted float64) Comparison {
	c := Comparison{Wanted: wanted, Currency: s.Currency, Why: choice.Why, Problems: choice.Problems}
	for i, r := range choice.Ranked {
		j := r.Joint
		row := Compared{Name: j.Short(), Kind: j.Kind, Reserve: r.Reserve, Verdict: r.Verdict, Bending: j.Strength.BendU.Lower5, Governs: r.Governs, Limit: r.Limit(),
			Glue: j.Glue, Minutes: j.Minutes, Priced: true, Shows: j.Shows, Broken: j.Broken, Chosen: i == choice.Picked}
		if row.Book = j.Strength.BendU.Mean; j.Strength.BendU.Shop != nil {
			row.Book = j.Strength.BendU.Shop.BookMean
		}
		for _, item := range j.Hardware {
			each, priced := cost.HardwarePrice(item.Name, s)
			row.Hardware += each * unit.Money(item.Count)
			row.Priced = row.Priced && priced
		}
		c.Joints = append(c.Joints, row)
	}
	return c
}

// EndJoint is a joint to be compared without a piece: the end of a rail against the middle of the side of a post, with the
// loads that it must carry.
type EndJoint struct {
	Species          string      // name or id
	Width, Thickness unit.Length // of the rail where it meets
	Depth            unit.Length // of the post, square to the rail's end
	// Loads, all positive: what bends it the strong and the weak way, pulls it off and shears it along its height.
	Bend, BendSideways unit.NewtonMetres
	Pull, Shear        unit.Newtons
	Wanted             float64 // reserve; zero: the usual one
}

// The sizes and loads between which a furniture joint is compared. Judgement: beyond them somebody has mistaken the unit.
const (
	leastRail, mostRail = 6 * unit.Millimetre, 1000 * unit.Millimetre
	mostMoment          = 100_000 // N·m
)

// CompareEnd compares the joints of an end joint with the means of a shop. The list names everything that is wrong with the
// question.
func CompareEnd(e EndJoint, s shop.Shop) (Comparison, problem.List) {
	var problems problem.List
	bad := func(path, what, mend string) {
		problems.Add(problem.Problem{Code: problem.OutOfRange, At: problem.Position{Path: path}, What: what, Mend: mend})
	}
	species, known := wood.Find(e.Species)
	if !known {
		mend := "longgrain knows the species of the handbook and four of Europe"
		if near := problem.Nearest(strings.ToLower(e.Species), wood.Names()); near != "" {
			mend = fmt.Sprintf("did you mean %q?", near)
		}
		problems.Add(problem.Problem{Code: problem.UnknownName, At: problem.Position{Path: "wood"}, What: fmt.Sprintf("there is no wood %q", e.Species), Mend: mend})
	}
	for _, z := range []struct {
		name string
		size unit.Length
	}{{"width of the rail", e.Width}, {"thickness of the rail", e.Thickness}, {"depth of the post", e.Depth}} {
		if z.size < leastRail || z.size > mostRail {
			bad("sizes", fmt.Sprintf("the %s is %s", z.name, z.size.Show(unit.Metric)), fmt.Sprintf("between %s and %s can be joined", leastRail.Show(unit.Metric), mostRail.Show(unit.Metric)))
		}
	}
	if e.Thickness > e.Width && e.Width >= leastRail {
		bad("sizes", fmt.Sprintf("the rail is thicker than it is wide, %s by %s", e.Width.Show(unit.Metric), e.Thickness.Show(unit.Metric)), "give the width first, then the thickness")
	}
	for _, f := range []struct {
		name string
		v    float64
		most float64
	}{{"bend", float64(e.Bend), mostMoment}, {"bend-sideways", float64(e.BendSideways), mostMoment}, {"pull", float64(e.Pull), float64(unit.MaxForce)}, {"shear", float64(e.Shear), float64(unit.MaxForce)}} {
		switch {
		case math.IsNaN(f.v) || math.Abs(f.v) > f.most:
			bad(f.name, fmt.Sprintf("a load of %g is no load of furniture", f.v), "check the number and its unit")
		case f.v < 0:
			bad(f.name, fmt.Sprintf("a load of %g is below 0", f.v), "give its size without a sign: a joint is taken to be as strong both ways")
		}
	}
	if e.Wanted == 0 {
		e.Wanted = joint.DefaultReserve
	}
	if !(e.Wanted >= 1 && e.Wanted <= 100) {
		bad("reserve", fmt.Sprintf("a wanted reserve of %g", e.Wanted), "give 1 to 100")
	}
	if len(problems) > 0 {
		return Comparison{}, problems
	}
	site, problems := e.site(species, s)
	if len(problems) > 0 {
		return Comparison{}, problems
	}
	sets := []joint.Forces{{N: e.Pull, ShearU: e.Shear, BendU: e.Bend, BendV: e.BendSideways}}
	choice := joint.Choose(site, means(s), sets, e.Wanted)
	c := compared(choice, s, e.Wanted)
	c.Title = fmt.Sprintf("rail %s × %s to post %s, %s", e.Width.Show(s.Family), e.Thickness.Show(s.Family), e.Depth.Show(s.Family), species.Name)
	c.Rules = ruleFindings(choice, "rail to post", func(j joint.Joint) joint.Reserve { return joint.Check(j, sets, e.Wanted).Reserve })
	return c, nil
}

// site builds the two parts of the question and returns where they meet.
func (e EndJoint) site(species wood.Species, s shop.Shop) (joint.Site, problem.List) {
	mm := func(l unit.Length) string { return fmt.Sprintf("%v mm", l.MM()) }
	text := fmt.Sprintf(`
longgrain: 1
name: one joint
wood: {species: %s}
parts:
  - {name: post, length: %s, width: %s, thickness: %s, along: z, across: x}
  - {name: rail, length: 300 mm, width: %s, thickness: %s, at: [%s, 0 mm, 200 mm], along: x, across: z}
connections:
  - between: [rail, post]
`, species.ID, mm(e.Width+400*unit.Millimetre), mm(e.Depth), mm(e.Thickness), mm(e.Width), mm(e.Thickness), mm(e.Depth))
	p, problems := piece.Parse("one joint", []byte(text))
	if len(problems) > 0 {
		return joint.Site{}, problems
	}
	p, _, problems = pattern.Expand(p, pattern.Library{})
	if len(problems) > 0 {
		return joint.Site{}, problems
	}
	a, problems := assembly.Build(p)
	if len(problems) > 0 {
		return joint.Site{}, problems
	}
	sites, err := joint.Sites(a, moisture(s))
	if err != nil || len(sites) != 1 {
		problems.Add(problem.Problem{Code: problem.UnknownName, At: problem.Position{Path: "wood"}, What: fmt.Sprint(err), Mend: "choose a wood whose strength is published"})
		return joint.Site{}, problems
	}
	return sites[0], nil
}

// ruleFindings says of every rule of the trade that the chosen joint breaks what keeping it would cost or give; reserve
// gives that of a joint under the loads.
func ruleFindings(choice joint.Choice, where string, reserve func(joint.Joint) joint.Reserve) []joint.RuleFinding {
	chosen, ok := choice.Pick()
	if !ok {
		return nil
	}
	var out []joint.RuleFinding
	for _, b := range chosen.Joint.Broken {
		rule, _ := joint.RuleOf(b.Rule)
		f := joint.RuleFinding{Where: where, Broken: b, Guards: rule.Guards, Chosen: chosen.Joint.Describe(), As: reserve(chosen.Joint)}
		if kept, ok := choice.Keeping(b.Rule); ok {
			f.Kept, f.With = kept.Joint.Describe(), reserve(kept.Joint)
		}
		out = append(out, f)
	}
	return out
}
