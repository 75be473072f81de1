package pattern

import (
	"fmt"
	"math"
	"slices"

	"go.starlark.net/starlark"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
)

// trig makes a function of an angle in degrees.
func trig(f func(float64) float64) func(*starlark.Thread, *starlark.Builtin, starlark.Tuple, []starlark.Tuple) (starlark.Value, error) {
	return func(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
		var v starlark.Value
		if err := starlark.UnpackPositionalArgs(b.Name(), args, kw, 1, &v); err != nil {
			return nil, err
		}
		d, err := degrees(v, 360)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", b.Name(), err)
		}
		return starlark.Float(f(d * math.Pi / 180)), nil
	}
}

// arctangent(x): the angle in degrees whose tangent is x.
func arctangent(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	var v starlark.Value
	if err := starlark.UnpackPositionalArgs(b.Name(), args, kw, 1, &v); err != nil {
		return nil, err
	}
	x, ok := starlark.AsFloat(v)
	if !ok {
		return nil, fmt.Errorf("%s: got %s, want a number", b.Name(), v.Type())
	}
	return starlark.Float(math.Atan(x) * 180 / math.Pi), nil
}

// degrees reads an angle in degrees, at most a limit to either side.
func degrees(v starlark.Value, limit float64) (float64, error) {
	d, ok := starlark.AsFloat(v)
	if !ok {
		return 0, fmt.Errorf("got %s, want a number of degrees", v.Type())
	}
	if !(math.Abs(d) <= limit) {
		return 0, fmt.Errorf("%v degrees is not between %v and %v", d, -limit, limit)
	}
	return d, nil
}

// stanceArgs are the arguments of part() that turn it and cut its sides at an angle.
type stanceArgs struct {
	lean, about starlark.Tuple
	turn        starlark.Value
	angled      *starlark.List
}

// Limits of the piece file, degrees.
const (
	mostLean = 60
	mostTurn = 360
)

func (a stanceArgs) read(s *piece.Stance) (err error) {
	if a.lean != nil {
		if len(a.lean) != 2 {
			return fmt.Errorf("lean needs two angles, to the right and to the back, has %d", len(a.lean))
		}
		var l piece.Lean
		if l.Right, err = degrees(a.lean[0], mostLean); err == nil {
			l.Back, err = degrees(a.lean[1], mostLean)
		}
		if err != nil {
			return fmt.Errorf("lean: %w", err)
		}
		if l != (piece.Lean{}) {
			s.Lean = &l
		}
	}
	if a.turn != nil {
		if s.Turn, err = degrees(a.turn, mostTurn); err != nil {
			return fmt.Errorf("turn: %w", err)
		}
	}
	if a.about != nil {
		if len(a.about) != 2 {
			return fmt.Errorf("about needs two lengths, right and back, has %d", len(a.about))
		}
		s.About = make([]unit.Measure, 2)
		for i := range s.About {
			if s.About[i], err = asLength(a.about[i]); err != nil {
				return fmt.Errorf("about: %w", err)
			}
		}
	}
	if a.angled != nil {
		for i := range a.angled.Len() {
			cut, err := angledSide(a.angled.Index(i))
			if err != nil {
				return err
			}
			s.Angled = append(s.Angled, cut)
		}
	}
	return nil
}

// angledSide reads a pair of a side and what it meets, a part or its name or "floor".
func angledSide(v starlark.Value) (piece.Angled, error) {
	pair, ok := v.(starlark.Tuple)
	if !ok || len(pair) != 2 {
		return piece.Angled{}, fmt.Errorf("angled holds %s: write pairs of a side and what it meets, such as (\"bottom\", \"floor\")", v.Type())
	}
	side, ok := starlark.AsString(pair[0])
	if !ok || !slices.Contains([]string{"left", "right", "front", "back", "bottom", "top"}, side) {
		return piece.Angled{}, fmt.Errorf("angled: %v is not left, right, front, back, bottom or top", pair[0])
	}
	switch to := pair[1].(type) {
	case partValue:
		return piece.Angled{Side: side, To: to.Name}, nil
	case starlark.String:
		return piece.Angled{Side: side, To: string(to)}, nil
	}
	return piece.Angled{}, fmt.Errorf("angled: got %s, want a part, its name or \"floor\"", pair[1].Type())
}
