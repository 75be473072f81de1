package chance

import (
	"math"
	"slices"

	"longgrain/internal/check/structure"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/stats"
	"longgrain/internal/solve/reliability"
	"longgrain/internal/solve/spaceframe"
)

// model is a piece as a chain of parts and joints that can fail.
type model struct {
	in         Input
	frame      structure.Frame
	actions    []string // kinds of load, by index
	members    map[string]int
	components []component
	stiff      []stiffness
	book       bool // joints as in the book, without the shop's tests
}

// component is a part in bending or shear, or a joint.
type component struct {
	told       string
	part       int // -1 for a joint
	connection int // -1 for a part
	shear      bool
	picks      []pick
	states     []reliability.State // demand over the book's mean strength
}

func newModel(in Input, frame structure.Frame, o Options) *model {
	m := &model{in: in, frame: frame, book: o.Book, members: map[string]int{}}
	for i, b := range frame.Model.Members {
		m.members[b.Name] = i
	}
	for _, c := range in.Answer.Cases {
		if !slices.Contains(m.actions, c.Action) {
			m.actions = append(m.actions, c.Action)
		}
	}
	for i, p := range frame.Parts {
		if len(p.Members) == 0 {
			continue
		}
		word := partWord(in.Assembly.Parts[i].Role, in.Assembly.Parts[i].Name)
		m.components = append(m.components, component{told: word + ", bent", part: i, connection: -1}, component{told: word + ", sheared", part: i, connection: -1, shear: true})
	}
	for k, e := range frame.Ends {
		if e.Member == "" || in.Joints[k] == nil {
			continue
		}
		c := in.Assembly.Connections[k]
		a, b := in.Assembly.Parts[c.A.Part], in.Assembly.Parts[c.B.Part]
		m.components = append(m.components, component{told: "joint of " + partWord(a.Role, a.Name) + " to " + partWord(b.Role, b.Name), part: -1, connection: k})
	}
	m.load(o)
	return m
}

// partWord names a part by its role.
func partWord(role, name string) string {
	switch role {
	case "", "other":
		return name
	case "stretcher":
		return "low rail"
	}
	return role
}

// variables gathers the random variables of a problem.
type variables struct {
	list   []reliability.Variable
	blocks []reliability.Block
}

func (v *variables) add(name string, law stats.Law, cov float64) int {
	v.list = append(v.list, reliability.Variable{Name: name, Law: law, COV: cov})
	return len(v.list) - 1
}

// row adds a variable of a row of the table of scatter.
func (v *variables) row(name, id string) int { return v.add(name, scatter[id].law, scatter[id].cov) }

// wood are the variables of one part.
type woodVariables struct{ bending, modulus, shear int }

// problem sets up the chain.
func (m *model) problem() reliability.Problem {
	var v variables
	var p reliability.Problem
	for _, a := range m.actions {
		l := scatter["load"]
		p.Loads = append(p.Loads, reliability.Load{Name: a, Law: l.law, Mean: loadMean(), COV: l.cov})
	}
	wood := map[int]woodVariables{}
	for i, part := range m.frame.Parts {
		if len(part.Members) == 0 {
			continue
		}
		name := m.in.Assembly.Parts[i].Name
		w := woodVariables{v.row(name+" bending", "bending"), v.row(name+" modulus", "modulus"), v.row(name+" shear", "shear")}
		v.blocks = append(v.blocks, reliability.Block{Variables: []int{w.bending, w.modulus, w.shear}, Factor: woodFactor})
		wood[i] = w
	}
	all := v.row("model of parts", "model")
	kinds := map[joint.Kind]int{}
	give := map[int]int{}
	for _, c := range m.components {
		if c.part >= 0 {
			w := wood[c.part]
			strength := w.bending
			if c.shear {
				strength = w.shear
			}
			p.Components = append(p.Components, reliability.Component{Name: c.told, Strength: []int{strength, all}, States: c.states})
			continue
		}
		j := m.in.Joints[c.connection]
		name := m.in.Assembly.Connections[c.connection].Name
		model, test := m.jointScatter(j)
		if _, known := kinds[j.Kind]; !known {
			kinds[j.Kind] = v.add("model of "+string(j.Kind), stats.LognormalLaw, model)
		}
		strength := []int{kinds[j.Kind], v.add(name, stats.LognormalLaw, test)}
		if m.stiff != nil {
			give[c.connection] = v.row(name+" give", "give")
		}
		p.Components = append(p.Components, reliability.Component{Name: c.told, Strength: strength, States: c.states})
	}
	m.shift(&p, wood, give)
	p.Variables, p.Blocks = v.list, v.blocks
	return p
}

// fromShop returns what the shop's tests say of a joint being opened, or else slid; nil where no test speaks of it.
func fromShop(j *joint.Joint) *joint.FromShop {
	if j.Strength.BendU.Shop != nil {
		return j.Strength.BendU.Shop
	}
	return j.Strength.ShearU.Shop
}

// jointScatter returns what is common to all joints of a kind and what each has by itself.
//
//	book: v_model = √(v² − v_test²);  own tests: exp of a normal variable with the doubt and with the scatter of the shift
//
// v is the variation of the joint, v_test joint.TestScatter.
//
// Source: [longgrain] docs/methods/scatter.md; the parts are those of package joint.
func (m *model) jointScatter(j *joint.Joint) (model, test float64) {
	shop := fromShop(j)
	if shop != nil && !m.book {
		return covOf(shop.Doubt), covOf(shop.Scatter)
	}
	v := j.Strength.BendU.COV
	if b := j.Strength.BendU.Shop; b != nil {
		v = bookVariation(b)
	}
	return math.Sqrt(max(0, v*v-joint.TestScatter*joint.TestScatter)), joint.TestScatter
}

// covOf returns the coefficient of variation of a lognormal variable from the standard deviation of its logarithm.
//
// Source: moments of a lognormal variable.
func covOf(s float64) float64 { return math.Sqrt(math.Expm1(s * s)) }

// bookVariation returns the coefficient of variation that a joint has in the book, from its mean and lower 5 %.
//
//	ln(lower/mean) = -1.645 s - s²/2
//
// Source: quantile and mean of a lognormal variable, solved for s.
func bookVariation(b *joint.FromShop) float64 {
	return covOf(math.Sqrt(1.645*1.645-2*math.Log(b.BookLower5/b.BookMean)) - 1.645)
}

// mean returns the mean of a resistance as it is counted: with the shop's tests, or as in the book.
func (m *model) mean(r joint.Resistance) float64 {
	if m.book && r.Shop != nil {
		return r.Shop.BookMean
	}
	return r.Mean
}

// load solves the frame under its own weight and under each case, and picks for each component the cases that can break it.
func (m *model) load(o Options) {
	system, findings := spaceframe.Prepare(m.frame.Model, spaceframe.Options{})
	if len(findings) > 0 {
		return
	}
	r := system.Solve([]spaceframe.Case{m.frame.Weight})
	if len(r.Cases) == 0 || r.Cases[0].Status != spaceframe.Solved {
		return
	}
	s := solved{weight: &r.Cases[0], at: make([]*spaceframe.CaseResult, len(m.frame.Cases))}
	for k := range m.frame.Results {
		if m.frame.Results[k].Status == spaceframe.Solved {
			s.at[k] = &m.frame.Results[k]
		}
	}
	for i := range m.components {
		m.pick(&m.components[i], s, o.Every)
	}
	m.goBeyond(system, &s, m.pickedCases())
	for i := range m.components {
		c := &m.components[i]
		for _, p := range c.picks {
			c.states = append(c.states, m.state(c, p, s))
		}
	}
	if o.Stiff {
		m.shiftStiffness(system, s)
	}
}

// solved holds the frame's answers: under its own weight, at each case, and beyond where feet lift.
type solved struct {
	weight *spaceframe.CaseResult
	at     []*spaceframe.CaseResult // by case; nil where there is no answer
	beyond []*spaceframe.CaseResult // by case, at the multiplier beyond; nil where not needed or without answer
}

// beyond is the multiplier at which a case is solved again where feet have lifted: from there on fewer feet carry, and demand grows faster.
const beyond = 1.5

// solve solves some of the cases.
func (m *model) solve(system *spaceframe.System, only []int) solved {
	s := solved{at: make([]*spaceframe.CaseResult, len(m.frame.Cases))}
	cases := []spaceframe.Case{m.frame.Weight}
	for _, k := range only {
		cases = append(cases, m.frame.Cases[k])
	}
	r := system.Solve(cases)
	if len(r.Cases) == 0 || r.Cases[0].Status != spaceframe.Solved {
		return s
	}
	s.weight = &r.Cases[0]
	for i, k := range only {
		if r.Cases[i+1].Status == spaceframe.Solved {
			s.at[k] = &r.Cases[i+1]
		}
	}
	m.goBeyond(system, &s, only)
	return s
}

// goBeyond solves those of the cases in which feet have lifted again at the multiplier beyond. A case that tips over there keeps growing as it
// did before, the safe side.
func (m *model) goBeyond(system *spaceframe.System, s *solved, only []int) {
	s.beyond = make([]*spaceframe.CaseResult, len(m.frame.Cases))
	var lifted []int
	var cases []spaceframe.Case
	for _, k := range only {
		if c := s.at[k]; c != nil && len(c.Lifted) > 0 {
			lifted, cases = append(lifted, k), append(cases, m.times(k, beyond))
		}
	}
	if len(cases) == 0 {
		return
	}
	r := system.Solve(cases)
	for i, k := range lifted {
		if r.Cases[i].Status == spaceframe.Solved {
			s.beyond[k] = &r.Cases[i]
		}
	}
}

// times returns a case with all but the piece's own weight raised by a factor. Every case begins with the loads of that weight.
func (m *model) times(k int, factor float64) spaceframe.Case {
	c, w := m.frame.Cases[k], m.frame.Weight
	c.Nodal, c.Point, c.Spread = slices.Clone(c.Nodal), slices.Clone(c.Point), slices.Clone(c.Spread)
	for i := len(w.Nodal); i < len(c.Nodal); i++ {
		c.Nodal[i].Force, c.Nodal[i].Moment = scale(c.Nodal[i].Force, factor), scale(c.Nodal[i].Moment, factor)
	}
	for i := len(w.Point); i < len(c.Point); i++ {
		c.Point[i].Force, c.Point[i].Moment = scale(c.Point[i].Force, factor), scale(c.Point[i].Moment, factor)
	}
	for i := len(w.Spread); i < len(c.Spread); i++ {
		c.Spread[i].Start, c.Spread[i].End = scale(c.Spread[i].Start, factor), scale(c.Spread[i].End, factor)
	}
	return c
}

func scale(v spaceframe.Vec, k float64) spaceframe.Vec {
	return spaceframe.Vec{v[0] * k, v[1] * k, v[2] * k}
}
