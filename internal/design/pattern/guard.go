package pattern

import (
	"fmt"
	"slices"
	"strings"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"
)

// A script is bounded in steps by the interpreter, but one step may take any amount of memory: doubling
// a string a few dozen times fills the machine. So the operations that can make something large are
// rewritten, before the script is compiled, into calls that charge their result to a budget:
// x + y, x * y, x % y, x << y and x[a:b] become guarded calls, methods of texts, lists and dicts are
// limited to a few that cannot grow their receiver beyond what is charged, and the built-in functions that copy are
// wrapped. What remains costs a bounded number of bytes per step.
const (
	maxSteps = 400_000  // a pattern of 60 parts takes about 10,000
	maxBytes = 16 << 20 // charged bytes of one run
	maxItems = 20_000   // longest range

	maxText    = 64 << 10 // bytes of a script; those that ship take under 10,000
	maxBracket = 60       // brackets inside brackets of a script
	maxIndent  = 120      // blanks at the start of a line: blocks inside blocks
	maxNesting = 20       // lists inside lists that build returns
	maxSizes   = 100      // sizes that a pattern declares

	budgetKey = "budget"

	guardBinary = "checked"
	guardSlice  = "checked slice"
	guardDot    = "checked method"
)

// readable refuses a script that would use the parser up: one that is too long, or nested too deep. What is left over, such as a long
// row of signs, is bounded by the length.
func readable(text string) error {
	if len(text) > maxText {
		return fmt.Errorf("the script is too long: at most %d characters", maxText)
	}
	depth, line, blanks, start := 0, 1, 0, true
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case c == '\n':
			line, blanks, start = line+1, 0, true
			continue
		case start && (c == ' ' || c == '\t'):
			if blanks++; blanks > maxIndent && depth == 0 {
				return fmt.Errorf("line %d is nested too deep", line)
			}
			continue
		case c == '#':
			for i+1 < len(text) && text[i+1] != '\n' {
				i++
			}
		case c == '"' || c == '\'':
			end := closed(text, i)
			line += strings.Count(text[i:end], "\n")
			i = end - 1
		case strings.IndexByte("([{", c) >= 0:
			if depth++; depth > maxBracket {
				return fmt.Errorf("line %d has brackets nested too deep", line)
			}
		case strings.IndexByte(")]}", c) >= 0:
			depth--
		}
		start = false
	}
	return nil
}

// closed returns where the text that begins at a quote ends; a text that is not closed ends with its line, or with the script.
func closed(text string, at int) int {
	quote := text[at : at+1]
	triple := strings.HasPrefix(text[at:], strings.Repeat(quote, 3))
	if triple {
		quote = strings.Repeat(quote, 3)
	}
	for i := at + len(quote); i < len(text); i++ {
		switch {
		case text[i] == '\\':
			i++
		case strings.HasPrefix(text[i:], quote):
			return i + len(quote)
		case text[i] == '\n' && !triple:
			return i
		}
	}
	return len(text)
}

// budget counts down the bytes that a run may still charge.
type budget struct{ left int }

func (b *budget) charge(n int) error {
	b.left -= n
	if b.left < 0 {
		return fmt.Errorf("the script uses too much memory: it makes a text or list too long")
	}
	return nil
}

func budgetOf(thread *starlark.Thread) *budget { return thread.Local(budgetKey).(*budget) }

// sizeOf estimates the bytes of a text, list, tuple, dict or whole number.
func sizeOf(v starlark.Value) int {
	switch v := v.(type) {
	case starlark.String:
		return len(v)
	case starlark.Bytes:
		return len(v)
	case starlark.Int:
		return v.BigInt().BitLen() / 8
	case starlark.Sequence:
		return 16 * v.Len()
	}
	return 0
}

// allowedMethods of the built-in types. Those that make several copies of their receiver or argument
// (join, replace, format, extend, update) are left out.
var allowedMethods = map[string][]string{
	"string": {"upper", "lower", "title", "capitalize", "strip", "startswith", "endswith", "split", "find", "removeprefix", "removesuffix"},
	"list":   {"append", "index", "insert", "pop"},
	"dict":   {"get", "keys", "values", "items"},
	"tuple":  {}, "bytes": {}, "set": {},
}

// guardedBuiltins returns the guards and the wrapped built-in functions.
func guardedBuiltins(*budget) starlark.StringDict {
	words := starlark.StringDict{
		guardBinary: starlark.NewBuiltin(guardBinary, binary),
		guardSlice:  starlark.NewBuiltin(guardSlice, slice),
		guardDot:    starlark.NewBuiltin(guardDot, dot),
	}
	for _, name := range []string{"list", "tuple", "sorted", "reversed", "zip", "enumerate", "dict", "str", "repr", "range"} {
		words[name] = charged(name, starlark.Universe[name].(*starlark.Builtin))
	}
	for _, name := range []string{"bytes", "set", "getattr", "print", "dir", "hash"} {
		words[name] = unavailable(name)
	}
	return words
}

func charged(name string, f *starlark.Builtin) *starlark.Builtin {
	return starlark.NewBuiltin(name, func(thread *starlark.Thread, _ *starlark.Builtin, args starlark.Tuple, kw []starlark.Tuple) (starlark.Value, error) {
		for _, a := range args {
			if r, ok := a.(starlark.Sequence); ok && r.Len() > maxItems {
				return nil, fmt.Errorf("%d items are too many; at most %d", r.Len(), maxItems)
			}
			if err := budgetOf(thread).charge(2 * sizeOf(a)); err != nil {
				return nil, err
			}
		}
		out, err := f.CallInternal(thread, args, kw)
		if r, ok := out.(starlark.Sequence); err == nil && ok && r.Len() > maxItems {
			return nil, fmt.Errorf("%s of %d items is too long; at most %d", name, r.Len(), maxItems)
		}
		return out, err
	})
}

func unavailable(name string) *starlark.Builtin {
	return starlark.NewBuiltin(name, func(*starlark.Thread, *starlark.Builtin, starlark.Tuple, []starlark.Tuple) (starlark.Value, error) {
		return nil, fmt.Errorf("%s is not available in patterns", name)
	})
}

// binary works out a guarded operation: its arguments are the operator's number and both operands.
func binary(thread *starlark.Thread, _ *starlark.Builtin, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
	n, _ := starlark.AsInt32(args[0])
	op, x, y := syntax.Token(n), args[1], args[2]
	cost := sizeOf(x) + sizeOf(y)
	switch op {
	case syntax.STAR:
		if k, err := starlark.AsInt32(y); err == nil && k > 1 {
			cost = sizeOf(x) * k
		}
		if k, err := starlark.AsInt32(x); err == nil && k > 1 {
			cost = max(cost, sizeOf(y)*k)
		}
	case syntax.LTLT:
		k, err := starlark.AsInt32(y)
		if err != nil || k > 62 {
			return nil, fmt.Errorf("shifted too far")
		}
	case syntax.PERCENT:
		if t, ok := y.(starlark.Tuple); ok {
			for _, v := range t {
				cost += sizeOf(v)
			}
		}
	}
	if err := budgetOf(thread).charge(cost); err != nil {
		return nil, err
	}
	return starlark.Binary(op, x, y)
}

// slice works out a guarded slice: its arguments are the sequence, from, to and step.
func slice(thread *starlark.Thread, _ *starlark.Builtin, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
	s, ok := args[0].(starlark.Sliceable)
	if !ok {
		return nil, fmt.Errorf("%s cannot be sliced", args[0].Type())
	}
	at := [3]int{0, s.Len(), 1}
	for i := range at {
		if args[i+1] == starlark.None {
			continue
		}
		n, err := starlark.AsInt32(args[i+1])
		if err != nil {
			return nil, err
		}
		if n < 0 && i < 2 {
			n += s.Len()
		}
		at[i] = n
	}
	if at[2] != 1 {
		return nil, fmt.Errorf("slices in patterns have no step")
	}
	from, to := min(max(at[0], 0), s.Len()), min(max(at[1], 0), s.Len())
	if err := budgetOf(thread).charge(sizeOf(args[0])); err != nil {
		return nil, err
	}
	return s.Slice(from, max(from, to), 1), nil
}

// dot works out a guarded attribute: its arguments are the value and the name.
func dot(thread *starlark.Thread, _ *starlark.Builtin, args starlark.Tuple, _ []starlark.Tuple) (starlark.Value, error) {
	name, _ := starlark.AsString(args[1])
	if allowed, limited := allowedMethods[args[0].Type()]; limited && !slices.Contains(allowed, name) {
		return nil, fmt.Errorf("%s.%s is not available in patterns", args[0].Type(), name)
	}
	if err := budgetOf(thread).charge(sizeOf(args[0])); err != nil {
		return nil, err
	}
	x, ok := args[0].(starlark.HasAttrs)
	if !ok {
		return nil, fmt.Errorf("%s has no .%s", args[0].Type(), name)
	}
	v, err := x.Attr(name)
	if err != nil {
		return nil, err
	}
	if v == nil {
		return nil, fmt.Errorf("there is no .%s here", name)
	}
	return v, nil
}
