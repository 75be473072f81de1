package shop

import (
	_ "embed"
	"fmt"
	"slices"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

//go:embed times.csv
var timesCSV string

var usualTimes = readTimes()

// Time is a row of the time model: how long a piece of work takes a practised maker. Nobody has published such
// times; they are assumed until the shop measures its own.
type Time struct {
	Work     string      `json:"work"`  // "crosscut"
	Value    float64     `json:"value"` // in Unit; a factor where there is none
	Unit     string      `json:"unit,omitempty"`
	Note     string      `json:"note,omitempty"`
	Measured bool        `json:"measured"` // in this shop, so that its pace is in it
	Cite     source.Cite `json:"cite"`
}

func readTimes() []Time {
	var out []Time
	for _, r := range source.Table("times.csv", timesCSV) {
		out = append(out, Time{Work: r.Text("id"), Value: r.Number("value"), Unit: r.Text("unit"), Note: r.Text("note"), Cite: r.Cite()})
	}
	return out
}

// Time returns a row of the time model by what is done. Panics when the table has none, which is a mistake of the caller.
func (s Shop) Time(work string) Time {
	for _, list := range [2][]Time{s.Times, usualTimes} {
		if i := slices.IndexFunc(list, func(t Time) bool { return t.Work == work }); i >= 0 {
			return list[i]
		}
	}
	panic("shop: times.csv has no " + work)
}

// times reads what the shop measured over the table of assumed times.
func (r *reader) times() []Time {
	out := slices.Clone(usualTimes)
	var names []string
	for _, t := range usualTimes {
		names = append(names, t.Work)
	}
	seen := map[string]bool{}
	for i, f := range r.file.Times {
		path := fmt.Sprintf("times[%d]", i)
		k := slices.IndexFunc(out, func(t Time) bool { return problem.SameName(t.Work, f.Work) })
		if k < 0 {
			r.unknown(path+".work", "work in the table of times", f.Work, names)
			continue
		}
		t := &out[k]
		minutes, factor := r.given(path+".minutes"), r.given(path+".factor")
		switch {
		case seen[t.Work]:
			r.report(problem.DuplicateName, path+".work", fmt.Sprintf("the time of %s stands twice", t.Work), "", "take one of them out")
		case minutes == factor:
			r.report(problem.MissingKey, path, "must give minutes or a factor, one of the two", "", "write for example minutes: 2")
		case minutes && t.Unit == "":
			r.report(problem.WrongKind, path+".minutes", fmt.Sprintf("%s is worked out from sizes", t.Work), "a factor", "write factor: with how many times as long it took")
		case minutes:
			t.Value, t.Measured = f.Minutes, true
		default:
			t.Value, t.Measured = t.Value*f.Factor, true
		}
		seen[t.Work] = true
		t.Cite, t.Note = source.Cite{Place: "measured in this shop", Confidence: source.Read}, f.Note
	}
	return out
}

// Stages are the words by which own tasks name stretches of the work, in working order.
var Stages = []string{"buy", "cut", "mill", "glue", "clamps off", "plane", "joints", "dry fit", "sand", "finish", "assemble", "fix top", "finished"}

// OwnTask is a task of the shop's own. After and Before hold stages or names of own tasks.
type OwnTask struct {
	Name    string       `json:"name"`
	Minutes unit.Minutes `json:"minutes"` // of each person
	People  int          `json:"people"`
	After   []string     `json:"after,omitempty"`
	Before  []string     `json:"before,omitempty"`
	Wait    unit.Minutes `json:"wait,omitempty"` // until what waits for it may begin
	Bench   bool         `json:"bench,omitempty"`
	Machine bool         `json:"machine,omitempty"`
	Once    bool         `json:"once,omitempty"` // for all copies together
}

// tasks reads the shop's own tasks. What they wait for must be a stage or another of them.
func (r *reader) tasks() []OwnTask {
	known := slices.Clone(Stages)
	for i, f := range r.file.Tasks {
		if slices.ContainsFunc(known, func(n string) bool { return problem.SameName(n, f.Name) }) && f.Name != "" {
			r.report(problem.DuplicateName, fmt.Sprintf("tasks[%d].name", i), fmt.Sprintf("%q is a stage of the work or another task", f.Name), "", "give it a name of its own")
			continue
		}
		known = append(known, f.Name)
	}
	var out []OwnTask
	for i, f := range r.file.Tasks {
		t := OwnTask{Name: f.Name, Minutes: unit.Minutes(f.Minutes), People: max(1, f.People), Wait: unit.Minutes(60 * f.Wait), Bench: f.Bench, Machine: f.Machine, Once: f.Once}
		for _, side := range []struct {
			key   string
			names []string
			to    *[]string
		}{{"after", f.After, &t.After}, {"before", f.Before, &t.Before}} {
			for j, name := range side.names {
				k := slices.IndexFunc(known, func(n string) bool { return problem.SameName(n, name) })
				if k < 0 {
					r.unknown(fmt.Sprintf("tasks[%d].%s[%d]", i, side.key, j), "stage or task", name, known)
					continue
				}
				*side.to = append(*side.to, known[k])
			}
		}
		out = append(out, t)
	}
	return out
}
