package pattern

import (
	"fmt"
	"math"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"longgrain/internal/ground/unit"
)

// length is a length in a script. It adds to lengths, is multiplied and divided by numbers, and is
// compared with lengths; a length over a length is a number. Everything else is an error, so that a
// script cannot mix lengths with bare numbers.
type length struct{ unit.Measure }

var (
	_ starlark.HasBinary      = length{}
	_ starlark.HasUnary       = length{}
	_ starlark.TotallyOrdered = length{}
)

func (l length) Type() string          { return "length" }
func (l length) Freeze()               {}
func (l length) Truth() starlark.Bool  { return l.Length != 0 }
func (l length) Hash() (uint32, error) { return uint32(l.Length) ^ uint32(l.Length>>32), nil }

// Cmp orders lengths.
func (l length) Cmp(y starlark.Value, _ int) (int, error) {
	switch o := y.(length).Length; {
	case l.Length < o:
		return -1, nil
	case l.Length > o:
		return 1, nil
	}
	return 0, nil
}

func (l length) Unary(op syntax.Token) (starlark.Value, error) {
	switch op {
	case syntax.MINUS:
		return l.with(-l.Length), nil
	case syntax.PLUS:
		return l, nil
	}
	return nil, nil
}

func (l length) with(n unit.Length) length { return length{unit.Measure{Length: n, Family: l.Family}} }

func (l length) Binary(op syntax.Token, y starlark.Value, side starlark.Side) (starlark.Value, error) {
	if other, ok := y.(length); ok {
		return l.withLength(op, other, side)
	}
	f, ok := starlark.AsFloat(y)
	if !ok {
		return nil, nil
	}
	switch {
	case op == syntax.STAR:
		return l.scaled(f)
	case op == syntax.SLASH && side == starlark.Left:
		if f == 0 {
			return nil, fmt.Errorf("length divided by zero")
		}
		return l.scaled(1 / f)
	case op == syntax.PLUS || op == syntax.MINUS:
		return nil, fmt.Errorf("a length and the bare number %v cannot be added: write mm(%v) or inch(%v)", y, y, y)
	}
	return nil, nil
}

func (l length) scaled(f float64) (starlark.Value, error) {
	n := float64(l.Length) * f
	if math.IsNaN(n) || math.Abs(n) > float64(unit.MaxLength) {
		return nil, fmt.Errorf("length beyond 100 m")
	}
	return l.with(unit.Length(math.Round(n))), nil
}

func (l length) withLength(op syntax.Token, o length, side starlark.Side) (starlark.Value, error) {
	a, b := l, o
	if side == starlark.Right {
		a, b = o, l
	}
	switch op {
	case syntax.PLUS:
		return a.checked(a.Length + b.Length)
	case syntax.MINUS:
		return a.checked(a.Length - b.Length)
	case syntax.SLASH:
		if b.Length == 0 {
			return nil, fmt.Errorf("division by a length of zero")
		}
		return starlark.Float(float64(a.Length) / float64(b.Length)), nil
	case syntax.SLASHSLASH:
		if b.Length == 0 {
			return nil, fmt.Errorf("division by a length of zero")
		}
		return starlark.MakeInt64(int64(math.Floor(float64(a.Length) / float64(b.Length)))), nil
	}
	return nil, nil
}

func (l length) checked(n unit.Length) (starlark.Value, error) {
	if n.Abs() > unit.MaxLength {
		return nil, fmt.Errorf("length beyond 100 m")
	}
	return l.with(n), nil
}

// asLength takes a length, or a text like "18 mm", from a script value.
func asLength(v starlark.Value) (unit.Measure, error) {
	switch v := v.(type) {
	case length:
		return v.Measure, nil
	case starlark.String:
		return unit.ParseMeasure(string(v))
	case starlark.Int, starlark.Float:
		return unit.Measure{}, fmt.Errorf("%v is a bare number: write mm(%v), inch(%v) or a text like \"18 mm\"", v, v, v)
	}
	return unit.Measure{}, fmt.Errorf("got %s, want a length", v.Type())
}
