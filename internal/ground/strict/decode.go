package strict

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// Places gives the position of each value that was decoded, by its path in the document, such as
// "parts[3].length". The path of the document itself is "".
type Places map[string]problem.Position

// At returns the position of a path, or of the nearest value around it that was written.
func (p Places) At(path string) problem.Position {
	for at := path; ; {
		if pos, ok := p[at]; ok {
			pos.Path = path
			return pos
		}
		cut := strings.LastIndexAny(at, ".[")
		if cut < 0 {
			pos := p[""]
			pos.Path = path
			return pos
		}
		at = at[:cut]
	}
}

// Decode fills the struct that target points to from a mapping, and reports every key that the struct
// does not have, every required key that is missing and every value that is not allowed. What is
// wrong keeps its zero value.
//
// The struct's tags say what is allowed, and Schema reads the same tags: json gives the key, and a key
// without omitempty is required; jsonschema lists allowed words as enum=a,enum=b; span gives the range
// of a length or number as "1 mm..20 m" or "1..99"; jsonschema_description says in words what to write.
// Fields may be string, bool, int, float64, unit.Measure, Value, structs, pointers to structs, slices and
// arrays of these. Any other field type panics, since it is a mistake of the programmer.
func (v Value) Decode(target any) Places {
	places := Places{}
	if v.Here() {
		places[""] = v.Position()
		v.fill(reflect.ValueOf(target).Elem(), "", places)
	}
	return places
}

var (
	measureType = reflect.TypeFor[unit.Measure]()
	valueType   = reflect.TypeFor[Value]()
)

func (v Value) fill(target reflect.Value, tag reflect.StructTag, places Places) {
	if !v.Here() {
		return
	}
	places[v.path] = v.Position()
	switch {
	case target.Type() == valueType:
		target.Set(reflect.ValueOf(v))
		return
	case target.Type() == measureType:
		if m, ok := v.Length(lengthSpan(tag)); ok {
			target.Set(reflect.ValueOf(m))
		}
		return
	}
	switch target.Kind() {
	case reflect.String:
		v.fillText(target, tag)
	case reflect.Bool:
		b, _ := v.Bool()
		target.SetBool(b)
	case reflect.Int:
		lo, hi := numberSpan(tag)
		n, _ := v.Int(int(lo), int(hi))
		target.SetInt(int64(n))
	case reflect.Float64:
		x, _ := v.Number(numberSpan(tag))
		target.SetFloat(x)
	case reflect.Pointer:
		target.Set(reflect.New(target.Type().Elem()))
		v.fill(target.Elem(), tag, places)
	case reflect.Struct:
		v.fillStruct(target, places)
	case reflect.Slice:
		items := v.List()
		target.Set(reflect.MakeSlice(target.Type(), len(items), len(items)))
		for i, item := range items {
			item.fill(target.Index(i), tag, places)
		}
	case reflect.Array:
		items := v.List()
		if v.IsList() && len(items) != target.Len() {
			v.Report(problem.WrongKind, fmt.Sprintf("has %d items", len(items)), fmt.Sprintf("%d items", target.Len()), "write exactly that many")
			return
		}
		for i, item := range items {
			item.fill(target.Index(i), tag, places)
		}
	default:
		panic("strict: cannot decode into " + target.Type().String())
	}
}

func (v Value) fillText(target reflect.Value, tag reflect.StructTag) {
	words := enumWords(tag)
	if len(words) == 0 {
		s, _ := v.Text()
		target.SetString(s)
		return
	}
	key := v.path[strings.LastIndex(v.path, ".")+1:]
	s, _ := v.Choice(key, words)
	target.SetString(s)
}

func (v Value) fillStruct(target reflect.Value, places Places) {
	fields := v.Fields()
	fields.fill(target, places)
	fields.Done()
}

// fill reads the keys of a struct and of the structs embedded in it.
func (f *Fields) fill(target reflect.Value, places Places) {
	for i := range target.NumField() {
		field := target.Type().Field(i)
		if field.Anonymous {
			f.fill(target.Field(i), places)
			continue
		}
		key, optional := jsonKey(field)
		if key == "" {
			continue
		}
		var child Value
		if optional {
			child = f.Optional(key)
		} else {
			child = f.Required(key, "add "+key+": "+lowerFirst(field.Tag.Get("jsonschema_description")))
		}
		child.fill(target.Field(i), field.Tag, places)
	}
}

// jsonKey returns the document key of a field, "" when it has none.
func jsonKey(f reflect.StructField) (key string, optional bool) {
	name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
	if name == "-" {
		name = ""
	}
	return name, strings.Contains(options, "omitempty")
}

func enumWords(tag reflect.StructTag) []string {
	var words []string
	for item := range strings.SplitSeq(tag.Get("jsonschema"), ",") {
		if word, ok := strings.CutPrefix(item, "enum="); ok {
			words = append(words, word)
		}
	}
	return words
}

// lengthSpan returns the range of a length from its span tag; without one, 0 to unit.MaxLength.
func lengthSpan(tag reflect.StructTag) (lo, hi unit.Length) {
	from, to, ok := strings.Cut(tag.Get("span"), "..")
	if !ok {
		return 0, unit.MaxLength
	}
	return mustLength(from), mustLength(to)
}

func mustLength(s string) unit.Length {
	m, err := unit.ParseMeasure(s)
	if err != nil {
		panic("strict: bad span tag: " + err.Error())
	}
	return m.Length
}

// numberSpan returns the range of a number from its span tag; without one, plus or minus 1e9.
func numberSpan(tag reflect.StructTag) (lo, hi float64) {
	from, to, ok := strings.Cut(tag.Get("span"), "..")
	if !ok {
		return -1e9, 1e9
	}
	lo, err1 := strconv.ParseFloat(from, 64)
	hi, err2 := strconv.ParseFloat(to, 64)
	if err1 != nil || err2 != nil {
		panic("strict: bad span tag " + tag.Get("span"))
	}
	return lo, hi
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
