// Package formula works out expressions of lengths and numbers, as they stand in a piece file: "900 mm - 2 * (leg + 3/4 in)".
//
// Parse reads an expression and says at which character it goes wrong; Eval works it out with the values of its names. A length
// adds to lengths, is multiplied and divided by numbers, and a length over a length is a number; everything else is an error. Millimetres
// and inches mix freely. An expression is bounded in length and in nesting; it has no names of its own beside min and max.
package formula

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"longgrain/internal/ground/unit"
)

// Bounds of an expression. Judgement: what a person still reads.
const (
	maxText  = 400
	maxDepth = 30
)

// Value is a length or a plain number.
type Value struct {
	number   float64 // nanometres of a length
	IsLength bool
	Family   unit.Family // of a length: that in which it is shown
}

// Length returns the value of a length.
func Length(m unit.Measure) Value { return Value{float64(m.Length), true, m.Family} }

// Number returns the value of a plain number.
func Number(x float64) Value { return Value{number: x} }

// Measure returns a length, rounded to whole nanometres.
func (v Value) Measure() unit.Measure {
	return unit.Measure{Length: unit.Length(math.Round(v.number)), Family: v.Family}
}

// Number returns a plain number.
func (v Value) Number() float64 { return v.number }

func (v Value) String() string {
	if v.IsLength {
		return v.Measure().String()
	}
	return strconv.FormatFloat(v.number, 'g', 6, 64)
}

// Error says what is wrong with an expression.
type Error struct {
	At   int    // character that it goes wrong at, from 0
	What string // "there is no dimension "widht""
	Mend string
	Name string // the name that is not known, when that is what is wrong
}

func (e *Error) Error() string { return e.What + "; " + e.Mend }

// Expression is an expression that has been read.
type Expression struct {
	root  *node
	names []string
}

// Names returns the names that it uses, each once, in their order.
func (e Expression) Names() []string { return e.names }

// Bare tells whether the expression is nothing but a number.
func (e Expression) Bare() bool { return e.root.kind == '0' && !e.root.value.IsLength }

// node is an operation: '0' a value, 'a' a name, 'm' and 'M' the least and the largest, '-' with one side a change of sign.
type node struct {
	kind  byte
	at    int
	value Value
	name  string
	of    []*node
}

// literal matches a length with its unit: feet and inches, whole numbers with fractions, decimals.
var literal = regexp.MustCompile(`^(?:\d+(?:\.\d+)?\s*(?:'|′|’|ft\b|foot\b|feet\b)\s*)?(?:\d+[ -]\d+/\d+|\d+/\d+|\d+\.\d+|\.\d+|\d*[½¼¾⅛⅜⅝⅞]|\d+)\s*(?:mm\b|cm\b|m\b|inches\b|inch\b|in\b|"|″|”|''|'|′|’|ft\b|foot\b|feet\b)`)

var (
	number = regexp.MustCompile(`^(?:\d+(?:\.\d+)?|\.\d+)`)
	word   = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_]*`)
	// Name is the form of a name.
	Name = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_]*$`)
)

// Reserved are words that cannot be names: they are functions and units.
var Reserved = []string{"min", "max", "mm", "cm", "m", "in", "inch", "inches", "ft", "foot", "feet"}

type parser struct {
	text  string
	at    int // byte
	names []string
}

// Parse reads an expression.
func Parse(text string) (Expression, *Error) {
	if len(text) > maxText {
		return Expression{}, &Error{What: "the formula is too long", Mend: "give parts of it names under dimensions:"}
	}
	p := &parser{text: text}
	root, err := p.sum(0)
	if err == nil && p.peek() != 0 {
		err = p.fail(fmt.Sprintf("%q does not belong here", p.rest()), "put +, -, * or / between two values")
	}
	if err != nil {
		return Expression{}, err
	}
	return Expression{root, p.names}, nil
}

func (p *parser) fail(what, mend string) *Error {
	return &Error{At: utf8.RuneCountInString(p.text[:p.at]), What: what, Mend: mend}
}

// peek returns the next byte that is no blank; 0 at the end.
func (p *parser) peek() byte {
	for p.at < len(p.text) && (p.text[p.at] == ' ' || p.text[p.at] == '\t') {
		p.at++
	}
	if p.at == len(p.text) {
		return 0
	}
	return p.text[p.at]
}

// rest returns the beginning of what is left, for messages.
func (p *parser) rest() string {
	word, _, _ := strings.Cut(p.text[p.at:], " ")
	return word
}

func (p *parser) node(kind byte, of ...*node) *node {
	return &node{kind: kind, at: utf8.RuneCountInString(p.text[:p.at]), of: of}
}

func (p *parser) sum(depth int) (*node, *Error) {
	return p.chain(depth, "+-", p.product)
}

func (p *parser) product(depth int) (*node, *Error) {
	return p.chain(depth, "*/", p.factor)
}

// chain reads values with operators of one rank between them.
func (p *parser) chain(depth int, operators string, next func(int) (*node, *Error)) (*node, *Error) {
	left, err := next(depth)
	for err == nil {
		c := p.peek()
		if c == 0 || !strings.ContainsRune(operators, rune(c)) {
			return left, nil
		}
		op := p.node(c)
		p.at++
		var right *node
		if right, err = next(depth); err == nil {
			op.of = []*node{left, right}
			left = op
		}
	}
	return nil, err
}

func (p *parser) factor(depth int) (*node, *Error) {
	if depth > maxDepth {
		return nil, p.fail("the formula is nested too deep", "give parts of it names under dimensions:")
	}
	c := p.peek()
	rest := p.text[p.at:]
	switch {
	case c == 0:
		return nil, p.fail("the formula ends too early", "write a value after the last sign")
	case c == '-' || c == '+':
		n := p.node(c)
		p.at++
		of, err := p.factor(depth + 1)
		n.of = []*node{of}
		return n, err
	case c == '(':
		p.at++
		n, err := p.sum(depth + 1)
		return n, p.closed(err)
	case literal.MatchString(rest):
		n := p.node('0')
		text := literal.FindString(rest)
		m, err := unit.ParseMeasure(text)
		if err != nil {
			return nil, p.fail(fmt.Sprintf("%q is no length", text), "write for example 18 mm or 3/4 in")
		}
		n.value = Length(m)
		p.at += len(text)
		return n, nil
	case number.MatchString(rest):
		n := p.node('0')
		text := number.FindString(rest)
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return nil, p.fail(fmt.Sprintf("%q is no number", text), "write a plain number")
		}
		n.value = Number(x)
		p.at += len(text)
		return n, nil
	case word.MatchString(rest):
		return p.named(depth, word.FindString(rest))
	}
	return nil, p.fail(fmt.Sprintf("%q does not belong here", p.rest()), "write a length, a number, a name or a bracket")
}

func (p *parser) closed(err *Error) *Error {
	if err != nil {
		return err
	}
	if p.peek() != ')' {
		return p.fail("a bracket is not closed", "add )")
	}
	p.at++
	return nil
}

// named reads a name, or min or max with what stands in its brackets.
func (p *parser) named(depth int, name string) (*node, *Error) {
	n := p.node('a')
	n.name = name
	p.at += len(name)
	if name != "min" && name != "max" {
		if slices.Contains(Reserved, name) {
			p.at -= len(name)
			return nil, p.fail(fmt.Sprintf("the unit %s has no number before it", name), "write the number before its unit")
		}
		if !slices.Contains(p.names, name) {
			p.names = append(p.names, name)
		}
		return n, nil
	}
	n.kind = map[string]byte{"min": 'm', "max": 'M'}[name]
	if p.peek() != '(' {
		return nil, p.fail(name+" needs brackets", "write for example "+name+"(a, b)")
	}
	p.at++
	for {
		of, err := p.sum(depth + 1)
		if err != nil {
			return nil, err
		}
		n.of = append(n.of, of)
		if p.peek() != ',' {
			return n, p.closed(nil)
		}
		p.at++
	}
}

// Eval works an expression out. value gives the value of a name, false for one that is not known.
func (e Expression) Eval(value func(name string) (Value, bool)) (Value, *Error) {
	v, err := e.root.eval(value)
	if err == nil && (math.IsNaN(v.number) || math.IsInf(v.number, 0) || v.IsLength && math.Abs(v.number) > float64(unit.MaxLength)) {
		return Value{}, &Error{What: "the formula gives something beyond 100 m", Mend: "check its numbers and units"}
	}
	return v, err
}

func (n *node) eval(value func(string) (Value, bool)) (Value, *Error) {
	switch n.kind {
	case '0':
		return n.value, nil
	case 'a':
		v, ok := value(n.name)
		if !ok {
			return Value{}, &Error{At: n.at, Name: n.name, What: fmt.Sprintf("there is no dimension %q", n.name), Mend: "add it under dimensions:"}
		}
		return v, nil
	}
	var of []Value
	for _, x := range n.of {
		v, err := x.eval(value)
		if err != nil {
			return Value{}, err
		}
		of = append(of, v)
	}
	out := of[0]
	if len(of) == 1 && n.kind == '-' {
		out.number = -out.number
	}
	for _, v := range of[1:] {
		var what string
		if out, what = apply(n.kind, out, v); what != "" {
			return Value{}, &Error{At: n.at, What: what, Mend: "a length goes with lengths for + and -, and with numbers for * and /"}
		}
	}
	return out, nil
}

// apply works one operation out, or says what is wrong with it.
func apply(op byte, a, b Value) (Value, string) {
	family := a.Family
	if !a.IsLength {
		family = b.Family
	}
	switch op {
	case '*':
		if a.IsLength && b.IsLength {
			return Value{}, "a length times a length is an area"
		}
		return Value{a.number * b.number, a.IsLength || b.IsLength, family}, ""
	case '/':
		switch {
		case b.number == 0:
			return Value{}, "divides by zero"
		case b.IsLength && !a.IsLength:
			return Value{}, "a number over a length is nothing that can be made"
		case b.IsLength:
			return Number(a.number / b.number), ""
		}
		return Value{a.number / b.number, a.IsLength, family}, ""
	}
	if a.IsLength != b.IsLength {
		bare := a
		if a.IsLength {
			bare = b
		}
		return Value{}, fmt.Sprintf("%v has no unit, the other is a length", bare)
	}
	x := map[byte]float64{'+': a.number + b.number, '-': a.number - b.number, 'm': min(a.number, b.number), 'M': max(a.number, b.number)}[op]
	return Value{x, a.IsLength, family}, ""
}
