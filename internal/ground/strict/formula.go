package strict

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"longgrain/internal/ground/formula"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// WithNames returns the value with named dimensions: where a length or a number is asked for below it, a formula of lengths, numbers
// and these names may stand as well. Names without a value are known but could not be worked out: what uses them is left
// out in silence, since their own fault has been told.
func (v Value) WithNames(named map[string]formula.Value) Value {
	v.named = named
	return v
}

// Unknown is the value of a name that could not be worked out.
var Unknown = formula.Length(unit.Measure{Length: math.MinInt64})

// Dimensions reads a mapping of names to formulas, which may use each other in any order, and works them out. Names that cannot be
// worked out are reported once each and have the value Unknown. The order is that of the document.
func (v Value) Dimensions(most int) (order []string, named map[string]formula.Value) {
	named = map[string]formula.Value{}
	if !v.Here() {
		return nil, named
	}
	fields := v.Fields()
	order = fields.Keys()
	if len(order) > most {
		v.Report(problem.OutOfRange, "has too many names", "", "leave out what is used once")
		return nil, named
	}
	d := dimensions{fields: fields, named: named, read: map[string]formula.Expression{}}
	for _, name := range order {
		d.parse(name)
	}
	for _, name := range order {
		d.work(name, nil)
	}
	return order, named
}

type dimensions struct {
	fields *Fields
	named  map[string]formula.Value
	read   map[string]formula.Expression // those that can be read
}

func (d *dimensions) parse(name string) {
	key, v := d.fields.Key(name), d.fields.Optional(name)
	switch {
	case !formula.Name.MatchString(name):
		key.Report(problem.UnknownName, "cannot be the name of a dimension", "letters, digits and _, starting with a letter", "write for example inner_width")
	case slices.Contains(formula.Reserved, name):
		key.Report(problem.UnknownName, "is a word of formulas or a unit", "", "choose another name")
	case !v.scalar() || v.node.Tag == "!!null":
		v.wrongKind("a length, a number or a formula", "write for example 45 mm or width - 2 * leg")
	default:
		e, err := formula.Parse(v.node.Value)
		if err != nil {
			v.reportFormula(err, nil)
			break
		}
		d.read[name] = e
		return
	}
	d.named[name] = Unknown
}

// work works a dimension out after those that it uses; under holds the names that are being worked out.
func (d *dimensions) work(name string, under []string) {
	if _, done := d.named[name]; done {
		return
	}
	if at := slices.Index(under, name); at >= 0 {
		circle := under[at:]
		for _, n := range circle {
			d.named[n] = Unknown
		}
		d.fields.Optional(circle[0]).Report(problem.BadExpression, "goes round in a circle: "+strings.Join(append(slices.Clone(circle), name), " needs "), "",
			"give one of them a size of its own")
		return
	}
	for _, other := range d.read[name].Names() {
		if _, ok := d.read[other]; ok {
			d.work(other, append(under, name))
		}
	}
	if _, done := d.named[name]; done {
		return // it was part of a circle
	}
	value, ok := d.fields.Optional(name).WithNames(d.named).eval(d.read[name])
	if !ok {
		value = Unknown
	}
	d.named[name] = value
}

// formula works the scalar out as a formula. is tells whether it is one; when it is and is not ok, that has been reported.
func (v Value) formula(length bool) (worked formula.Value, is, ok bool) {
	text := v.Raw()
	e, err := formula.Parse(text)
	if err != nil {
		if !strings.ContainsAny(text, "+*()") && !slices.ContainsFunc(strings.Fields(text), func(w string) bool { _, known := v.named[w]; return known }) {
			return worked, false, false // no formula was meant
		}
		v.reportFormula(err, v.named)
		return worked, true, false
	}
	if e.Bare() || len(v.named) == 0 && len(e.Names()) > 0 && e.Names()[0] == text {
		return worked, false, false
	}
	if worked, ok = v.eval(e); !ok {
		return worked, true, false
	}
	if worked.IsLength != length {
		what, mend := "gives a bare number, not a length", "multiply it with a length, such as 1 mm"
		if !length {
			what, mend = "gives a length, not a number", "divide it by a length"
		}
		v.Report(problem.BadExpression, what, "", mend)
		return worked, true, false
	}
	return worked, true, true
}

// eval works an expression out and reports what is wrong with it; a name that could not be worked out gives no second message.
func (v Value) eval(e formula.Expression) (formula.Value, bool) {
	unknown := false
	worked, err := e.Eval(func(name string) (formula.Value, bool) {
		value, ok := v.named[name]
		unknown = unknown || ok && value == Unknown
		return value, ok
	})
	if unknown {
		return worked, false
	}
	if err != nil {
		v.reportFormula(err, v.named)
		return worked, false
	}
	return worked, true
}

// reportFormula reports a fault of a formula at its character.
func (v Value) reportFormula(err *formula.Error, named map[string]formula.Value) {
	p := problem.Problem{Code: problem.BadExpression, At: v.Position(), What: err.What, Mend: err.Mend}
	if err.Name != "" {
		var known []string
		for name := range named {
			known = append(known, name)
		}
		slices.Sort(known)
		if near := problem.Nearest(err.Name, known); near != "" {
			p.Mend = problem.DidYouMean(err.Name, known)
		}
		p.Code = problem.UnknownName
	}
	switch v.node.Style {
	case 0:
		p.At.Column += err.At
	case yaml.SingleQuotedStyle, yaml.DoubleQuotedStyle:
		p.At.Column += err.At + utf8.RuneLen('"')
	}
	v.problems.Add(p)
}
