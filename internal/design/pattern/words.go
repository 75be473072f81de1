package pattern

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"go.starlark.net/starlark"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
)

// predeclared returns the words that a script may use besides the language itself.
func predeclared(b *budget) starlark.StringDict {
	words := guardedBuiltins(b)
	for name, f := range map[string]func(*starlark.Thread, *starlark.Builtin, starlark.Tuple, []starlark.Tuple) (starlark.Value, error){
		"mm": mm, "inch": inch, "length": declareLength, "count": declareCount, "choice": declareChoice,
		"sine": trig(math.Sin), "cosine": trig(math.Cos), "tangent": trig(math.Tan), "arctangent": arctangent,
		"yes_no": declareYesNo, "part": part, "connect": connect, "taper": taper, "fixed_joint": fixedJoint,
	} {
		words[name] = starlark.NewBuiltin(name, f)
	}
	return words
}

func mm(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	return inUnit(b, args, kw, unit.Measure{Length: unit.Millimetre, Family: unit.Metric})
}

func inch(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	return inUnit(b, args, kw, unit.Measure{Length: unit.Inch, Family: unit.Imperial})
}

func inUnit(b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple, one unit.Measure) (starlark.Value, error) {
	var n starlark.Value
	if err := starlark.UnpackPositionalArgs(b.Name(), args, kw, 1, &n); err != nil {
		return nil, err
	}
	f, ok := starlark.AsFloat(n)
	if !ok {
		return nil, fmt.Errorf("%s: got %s, want a number", b.Name(), n.Type())
	}
	return length{one}.scaled(f)
}

// length(name, default, low, high, help): declares a length.
func declareLength(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	s := Size{Kind: LengthSize}
	var def, low, high measureArg
	if err := starlark.UnpackArgs(b.Name(), args, kw, "name", &s.Name, "default", &def, "low", &low, "high", &high, "help", &s.Help, "title?", &s.Title); err != nil {
		return nil, err
	}
	s.Default, s.Low, s.High = def.Measure, low.Measure, high.Measure
	s.Length = s.Default
	if s.Default.Length < s.Low.Length || s.Default.Length > s.High.Length {
		return nil, fmt.Errorf("length %q: the default %v is not between %v and %v", s.Name, s.Default, s.Low, s.High)
	}
	return s.declared()
}

// count(name, default, low, high, help): declares a whole number.
func declareCount(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	s := Size{Kind: CountSize}
	if err := starlark.UnpackArgs(b.Name(), args, kw, "name", &s.Name, "default", &s.DefaultCount, "low", &s.LowCount, "high", &s.HighCount, "help", &s.Help, "title?", &s.Title); err != nil {
		return nil, err
	}
	s.Count = s.DefaultCount
	if s.Count < s.LowCount || s.Count > s.HighCount {
		return nil, fmt.Errorf("count %q: the default %d is not between %d and %d", s.Name, s.Count, s.LowCount, s.HighCount)
	}
	return s.declared()
}

// choice(name, default, choices, help): declares a choice of words; the first word is not special.
func declareChoice(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	s := Size{Kind: ChoiceSize}
	var choices *starlark.List
	if err := starlark.UnpackArgs(b.Name(), args, kw, "name", &s.Name, "default", &s.DefaultText, "choices", &choices, "help", &s.Help, "title?", &s.Title); err != nil {
		return nil, err
	}
	for i := range choices.Len() {
		word, ok := starlark.AsString(choices.Index(i))
		if !ok {
			return nil, fmt.Errorf("choice %q: %s is not a text", s.Name, choices.Index(i).Type())
		}
		s.Choices = append(s.Choices, word)
	}
	s.Text = s.DefaultText
	if !slices.Contains(s.Choices, s.Text) {
		return nil, fmt.Errorf("choice %q: the default %q is not one of %s", s.Name, s.Text, strings.Join(s.Choices, ", "))
	}
	return s.declared()
}

// yes_no(name, default, help): declares something that is there or not.
func declareYesNo(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	s := Size{Kind: YesNoSize}
	var yes bool
	if err := starlark.UnpackArgs(b.Name(), args, kw, "name", &s.Name, "default", &yes, "help", &s.Help, "title?", &s.Title); err != nil {
		return nil, err
	}
	s.DefaultText = yesNo(yes)
	s.Text = s.DefaultText
	return s.declared()
}

func (s Size) declared() (starlark.Value, error) {
	if s.Name == "" {
		return nil, fmt.Errorf("a size needs a name")
	}
	if s.Title == "" {
		s.Title = titleOf(s.Name)
	}
	return sizeValue{s}, nil
}

// part(name, role, size=(length, width, thickness), at=(x, y, z), along, across, build, tapers, species, lean=(right, back), turn,
// about=(x, y), angled=[(side, to)]): makes a part.
func part(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	var p piece.Part
	var size, at starlark.Tuple
	var tapers *starlark.List
	var stance stanceArgs
	if err := starlark.UnpackArgs(b.Name(), args, kw, "name", &p.Name, "role", &p.Role, "size", &size, "at", &at,
		"along", &p.Along, "across", &p.Across, "build?", &p.Build, "tapers?", &tapers, "species?", &p.Species,
		"lean?", &stance.lean, "turn?", &stance.turn, "about?", &stance.about, "angled?", &stance.angled); err != nil {
		return nil, err
	}
	if err := stance.read(&p.Stance); err != nil {
		return nil, fmt.Errorf("part %q: %w", p.Name, err)
	}
	if err := three(size, &p.Length, &p.Width, &p.Thickness); err != nil {
		return nil, fmt.Errorf("part %q: size %w", p.Name, err)
	}
	if err := three(at, &p.At[0], &p.At[1], &p.At[2]); err != nil {
		return nil, fmt.Errorf("part %q: at %w", p.Name, err)
	}
	for _, m := range []unit.Measure{p.Length, p.Width, p.Thickness} {
		if m.Length <= 0 {
			return nil, fmt.Errorf("part %q would have a size of %v: the sizes of the piece leave no room for it", p.Name, m)
		}
	}
	axes := []string{"x", "y", "z"}
	if !slices.Contains(axes, p.Along) || !slices.Contains(axes, p.Across) || p.Along == p.Across {
		return nil, fmt.Errorf("part %q: along and across must be two of x, y and z", p.Name)
	}
	if tapers != nil {
		for i := range tapers.Len() {
			t, ok := tapers.Index(i).(taperValue)
			if !ok {
				return nil, fmt.Errorf("part %q: tapers holds %s: use taper()", p.Name, tapers.Index(i).Type())
			}
			p.Tapers = append(p.Tapers, t.Taper)
		}
	}
	return partValue{p}, nil
}

func three(t starlark.Tuple, a, b, c *unit.Measure) (err error) {
	if len(t) != 3 {
		return fmt.Errorf("needs three lengths, has %d", len(t))
	}
	for i, m := range []*unit.Measure{a, b, c} {
		if *m, err = asLength(t[i]); err != nil {
			return err
		}
	}
	return nil
}

// connect(a, b, purpose="joint", name=""): says that two parts are joined where they touch.
func connect(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	var c piece.Connection
	var first, second starlark.Value
	var joint *jointValue
	if err := starlark.UnpackArgs(b.Name(), args, kw, "a", &first, "b", &second, "purpose?", &c.Purpose, "name?", &c.Name, "joint?", &joint); err != nil {
		return nil, err
	}
	for i, v := range []starlark.Value{first, second} {
		switch v := v.(type) {
		case partValue:
			c.Between[i] = v.Name
		case starlark.String:
			c.Between[i] = string(v)
		default:
			return nil, fmt.Errorf("connect: got %s, want a part or its name", v.Type())
		}
	}
	if !slices.Contains([]string{"", "joint", "top fastening", "fastening"}, c.Purpose) {
		return nil, fmt.Errorf("connect: there is no purpose %q: use \"joint\", \"top fastening\" or \"fastening\"", c.Purpose)
	}
	if joint != nil {
		c.Joint = &joint.Joint
	}
	return connectionValue{c}, nil
}

type taperValue struct {
	sizeValue
	piece.Taper
}

func (taperValue) Type() string   { return "taper" }
func (taperValue) String() string { return "taper" }

// taper(side, toward, start, by): wood taken off one side of a part.
func taper(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	var t piece.Taper
	var start, by measureArg
	if err := starlark.UnpackArgs(b.Name(), args, kw, "side", &t.Side, "toward", &t.Toward, "start", &start, "by", &by); err != nil {
		return nil, err
	}
	for _, word := range []string{t.Side, t.Toward} {
		if !slices.Contains([]string{"left", "right", "front", "back", "bottom", "top"}, word) {
			return nil, fmt.Errorf("taper: %q is not left, right, front, back, bottom or top", word)
		}
	}
	t.Start, t.By = start.Measure, by.Measure
	return taperValue{Taper: t}, nil
}

type jointValue struct {
	sizeValue
	piece.Joint
}

func (*jointValue) Type() string   { return "joint" }
func (*jointValue) String() string { return "joint" }

// fixed_joint(kind, count=0, diameter=None, ...): a joint that the pattern fixes.
func fixedJoint(_ *starlark.Thread, b *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
	var j piece.Joint
	var diameter, depth, thickness, width measureArg
	if err := starlark.UnpackArgs(b.Name(), args, kw, "kind", &j.Kind, "count?", &j.Count,
		"diameter?", &diameter, "depth?", &depth, "thickness?", &thickness, "width?", &width); err != nil {
		return nil, err
	}
	j.Diameter, j.Depth, j.Thickness, j.Width = diameter.Measure, depth.Measure, thickness.Measure, width.Measure
	return &jointValue{Joint: j}, nil
}
