package pattern

import (
	"errors"
	"fmt"
	"strings"

	"go.starlark.net/resolve"
	"go.starlark.net/starlark"
	"go.starlark.net/starlarkstruct"
	"go.starlark.net/syntax"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// program is a script that has been loaded: its declarations and its build function.
type program struct {
	name    string
	info    Info
	buildFn *starlark.Function
	at      problem.Position // where the piece names the pattern
}

// made is what a build function returned.
type made struct {
	parts       []piece.Part
	connections []piece.Connection
	seen        int // items of lists that were looked at
}

var options = &syntax.FileOptions{}

// load runs the top level of a script and reads its declarations.
func load(s Script, at problem.Position, problems *problem.List) (*program, bool) {
	p := &program{name: s.Name, at: at}
	globals, err := p.run(s, func(thread *starlark.Thread, budget *budget) (starlark.StringDict, error) {
		if err := readable(s.Text); err != nil {
			return nil, err
		}
		file, err := options.Parse(s.Name+".star", s.Text, 0)
		if err != nil {
			return nil, err
		}
		guardFile(file)
		compiled, err := starlark.FileProgram(file, predeclared(budget).Has)
		if err != nil {
			return nil, err
		}
		globals, err := compiled.Init(thread, predeclared(budget))
		globals.Freeze()
		return globals, err
	})
	if err != nil {
		p.fail(problems, err)
		return nil, false
	}
	if err := p.declarations(s.Name, globals); err != nil {
		p.fail(problems, err)
		return nil, false
	}
	return p, true
}

// run calls f with a bounded thread.
func (p *program) run(s Script, f func(*starlark.Thread, *budget) (starlark.StringDict, error)) (starlark.StringDict, error) {
	thread := &starlark.Thread{Name: s.Name, Print: func(*starlark.Thread, string) {}}
	thread.SetMaxExecutionSteps(maxSteps)
	b := &budget{left: maxBytes}
	thread.SetLocal(budgetKey, b)
	return f(thread, b)
}

func (p *program) declarations(name string, globals starlark.StringDict) error {
	text := func(key string) string {
		s, _ := starlark.AsString(globals[key])
		return s
	}
	p.info = Info{Name: name, Title: text("title"), Help: text("help"), Use: text("use")}
	if p.info.Title == "" {
		return errors.New(name + ".star: the script has no title: write title = \"...\" at its top")
	}
	build, ok := globals["build"].(*starlark.Function)
	if !ok {
		return errors.New(name + ".star: the script has no function build(s)")
	}
	p.buildFn = build
	sizes, ok := globals["sizes"].(*starlark.List)
	if !ok {
		return errors.New(name + ".star: the script has no list sizes = [...]")
	}
	if sizes.Len() > maxSizes {
		return fmt.Errorf("%s.star: more than %d sizes", name, maxSizes)
	}
	seen := map[string]bool{}
	for i := range sizes.Len() {
		size, ok := sizes.Index(i).(sizeValue)
		if !ok {
			return fmt.Errorf("%s.star: sizes[%d] is %s: declare it with length(), count(), choice() or yes_no()", name, i, sizes.Index(i).Type())
		}
		if seen[size.Name] {
			return fmt.Errorf("%s.star: two sizes are named %q", name, size.Name)
		}
		seen[size.Name] = true
		p.info.Sizes = append(p.info.Sizes, size.Size)
	}
	return nil
}

// build calls the script's build function with the sizes.
func (p *program) build(sizes []Size, at problem.Position, problems *problem.List) (made, bool) {
	var out made
	members := starlark.StringDict{}
	for _, s := range sizes {
		members[s.Name] = s.value()
	}
	argument := starlarkstruct.FromStringDict(starlark.String("sizes"), members)
	_, err := p.run(Script{Name: p.name}, func(thread *starlark.Thread, b *budget) (starlark.StringDict, error) {
		thread.SetLocal(budgetKey, b)
		result, err := starlark.Call(thread, p.buildFn, starlark.Tuple{argument}, nil)
		if err != nil {
			return nil, err
		}
		list, ok := result.(*starlark.List)
		if !ok {
			return nil, fmt.Errorf("build returned %s: return a list of part() and connect() values", result.Type())
		}
		return nil, out.take(list, 1)
	})
	if err != nil {
		p.at = at
		p.fail(problems, err)
		return made{}, false
	}
	return out, true
}

// take takes the lists inside a list apart. A list may hold itself, or another list many times over, so depth and number are bounded.
func (m *made) take(list *starlark.List, depth int) error {
	if depth > maxNesting {
		return fmt.Errorf("build returned lists inside lists, more than %d deep", maxNesting)
	}
	for i := range list.Len() {
		if m.seen++; m.seen > maxItems {
			return fmt.Errorf("build returned more than %d items", maxItems)
		}
		switch v := list.Index(i).(type) {
		case partValue:
			if len(m.parts) == piece.MaxParts {
				return fmt.Errorf("build returned more than %d parts", piece.MaxParts)
			}
			m.parts = append(m.parts, v.Part)
		case connectionValue:
			m.connections = append(m.connections, v.Connection)
		case *starlark.List:
			if err := m.take(v, depth+1); err != nil {
				return err
			}
		default:
			return fmt.Errorf("build returned %s in its list: only part() and connect() values belong there", v.Type())
		}
	}
	return nil
}

// value gives a size to the script.
func (s Size) value() starlark.Value {
	switch s.Kind {
	case LengthSize:
		return length{s.Length}
	case CountSize:
		return starlark.MakeInt(s.Count)
	case YesNoSize:
		return starlark.Bool(s.Text == "yes")
	}
	return starlark.String(s.Text)
}

// fail turns an error of the interpreter into a problem at the script's line; the place in the piece
// file is the second place.
func (p *program) fail(problems *problem.List, err error) {
	at, what := problem.Position{File: p.name + ".star"}, err.Error()
	var evalErr *starlark.EvalError
	var syntaxErr syntax.Error
	var unresolved resolve.ErrorList
	switch {
	case errors.As(err, &evalErr):
		what = plainError(evalErr.Msg)
		for i := range evalErr.CallStack {
			if pos := evalErr.CallStack.At(i).Pos; pos.Line > 0 && pos.Filename() != "<builtin>" {
				at = problem.Position{File: pos.Filename(), Line: int(pos.Line), Column: int(pos.Col)}
				break
			}
		}
	case errors.As(err, &syntaxErr):
		at = problem.Position{File: syntaxErr.Pos.Filename(), Line: int(syntaxErr.Pos.Line), Column: int(syntaxErr.Pos.Col)}
		what = syntaxErr.Msg
	case errors.As(err, &unresolved) && len(unresolved) > 0:
		pos := unresolved[0].Pos
		at = problem.Position{File: pos.Filename(), Line: int(pos.Line), Column: int(pos.Col)}
		what = unresolved[0].Msg
	default:
		what = strings.TrimPrefix(what, p.name+".star: ")
	}
	also := p.at
	problems.Add(problem.Problem{Code: problem.BadPattern, At: at, What: what, Mend: "mend the script, or change the sizes that it was given", Also: &also})
}

// plainError takes the names of the guards out of a message.
func plainError(msg string) string {
	for _, g := range []string{guardBinary, guardSlice, guardDot} {
		msg = strings.ReplaceAll(msg, g+": ", "")
	}
	return strings.Replace(msg, "Starlark computation cancelled: too many steps", "the script runs too long: it may hold an endless loop", 1)
}

// sizeValue, partValue and connectionValue are opaque values that scripts pass around.
type (
	sizeValue       struct{ Size }
	partValue       struct{ piece.Part }
	connectionValue struct{ piece.Connection }
)

func (sizeValue) String() string        { return "size" }
func (sizeValue) Type() string          { return "size" }
func (sizeValue) Freeze()               {}
func (sizeValue) Truth() starlark.Bool  { return true }
func (sizeValue) Hash() (uint32, error) { return 0, errors.New("a size cannot be a key") }

func (partValue) String() string        { return "part" }
func (partValue) Type() string          { return "part" }
func (partValue) Freeze()               {}
func (partValue) Truth() starlark.Bool  { return true }
func (partValue) Hash() (uint32, error) { return 0, errors.New("a part cannot be a key") }

func (connectionValue) String() string        { return "connection" }
func (connectionValue) Type() string          { return "connection" }
func (connectionValue) Freeze()               {}
func (connectionValue) Truth() starlark.Bool  { return true }
func (connectionValue) Hash() (uint32, error) { return 0, errors.New("a connection cannot be a key") }

// measureArg is a keyword argument that holds a length; it implements starlark.Unpacker.
type measureArg struct{ unit.Measure }

func (m *measureArg) Unpack(v starlark.Value) (err error) {
	m.Measure, err = asLength(v)
	return err
}
