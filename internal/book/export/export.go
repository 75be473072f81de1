// Package export writes a plan in open formats: tables as CSV and in one spreadsheet, the parts as solids, the bench cards as
// one page, the whole plan as JSON. Drawings go out through the writers in paper/. Nothing is computed here.
package export

import (
	"encoding/json"
	"fmt"

	"longgrain/internal/book/cards"
	"longgrain/internal/ground/strict"
	"longgrain/internal/plan"
)

// File is one file of an export.
type File struct {
	Name string // "parts.csv"
	Type string // media type
	Data []byte
}

// format is one file that can be made from a plan.
type format struct {
	name string
	kind string                          // media type
	make func(plan.Plan) ([]byte, error) // nil for a plan that has nothing to put in it
}

var formats = makeFormats()

func makeFormats() []format {
	out := []format{{"plan.json", "application/json", inJSON}}
	for _, t := range tables {
		name := t(plan.Plan{}).name + ".csv"
		out = append(out, format{name, "text/csv; charset=utf-8", func(p plan.Plan) ([]byte, error) { return t(p).csv(), nil }})
	}
	return append(out,
		format{"tables.xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", spreadsheet},
		format{cards.FileName, "text/html; charset=utf-8", inCards},
		format{CalendarName, "text/calendar; charset=utf-8", inCalendar},
		format{"piece.step", "model/step", inSTEP},
		format{"piece.glb", "model/gltf-binary", inGLTF},
		format{"piece.stl", "model/stl", inSTL})
}

// Names returns the names of all files that Make makes, in a fixed order.
func Names() []string {
	var out []string
	for _, f := range formats {
		out = append(out, f.name)
	}
	return out
}

// Make returns the file of a name, and false when there is none of that name or nothing to put in it.
func Make(p plan.Plan, name string) (File, bool, error) {
	for _, f := range formats {
		if f.name == name {
			data, err := f.make(p)
			return File{f.name, f.kind, data}, data != nil || err != nil, err
		}
	}
	return File{}, false, nil
}

// All returns every file that there is something to put in.
func All(p plan.Plan) ([]File, error) {
	var out []File
	for _, f := range formats {
		data, err := f.make(p)
		if err != nil {
			return nil, err
		}
		if data != nil {
			out = append(out, File{f.name, f.kind, data})
		}
	}
	return out, nil
}

// inCards returns all bench cards as one page that needs nothing else; nil when there is nothing to do.
func inCards(p plan.Plan) ([]byte, error) {
	deck := cards.Make(p, cards.Options{})
	if len(deck.Cards) == 0 {
		return nil, nil
	}
	return cards.File(deck, ""), nil
}

// inJSON returns the whole plan, indented; Schema describes it.
func inJSON(p plan.Plan) ([]byte, error) {
	data, err := json.MarshalIndent(p, "", " ")
	if err != nil {
		return nil, fmt.Errorf("write the plan as JSON: %w", err)
	}
	return append(data, '\n'), nil
}

// Schema returns the JSON Schema of plan.json.
func Schema() []byte { return strict.Schema(plan.Plan{}, "Longgrain plan") }
