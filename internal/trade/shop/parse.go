package shop

import (
	_ "embed"
	"fmt"
	"io/fs"
	"strconv"
	"strings"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/strict"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/adhesive"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/wood"
)

//go:embed defaults.csv
var defaultsCSV string

var defaults = readDefaults()

func readDefaults() []Default {
	var out []Default
	for _, r := range source.Table("defaults.csv", defaultsCSV) {
		out = append(out, Default{r.Text("path"), r.Text("value"), r.Text("note"), r.Cite()})
	}
	return out
}

// Parse reads a shop file. The list holds every problem found, sorted; the shop is usable only when
// the list is empty.
func Parse(name string, text []byte) (Shop, problem.List) {
	r := reader{}
	root := strict.Read(name, text, &r.problems)
	if !root.Is("longgrain-shop", "longgrain") {
		r.problems.Sort()
		return Shop{}, r.problems
	}
	r.places = root.Decode(&r.file)
	s := r.shop()
	r.problems.Sort()
	return s, r.problems
}

// Unknown returns the shop of a person who has described none: nothing but defaults.
func Unknown() Shop {
	s, problems := Parse("shop", []byte("longgrain-shop: 1\nname: Shop\n"))
	if len(problems) > 0 {
		panic("shop: the defaults are not a shop: " + problems.Error())
	}
	return s
}

// reader turns a file into a shop and keeps what is wrong and what is missing.
type reader struct {
	file     File
	places   strict.Places
	problems problem.List
	defaults []Default
}

func (r *reader) report(code problem.Code, path, what, expected, mend string) {
	r.problems.Add(problem.Problem{Code: code, At: r.places.At(path), What: what, Expected: expected, Mend: mend})
}

func (r *reader) given(path string) bool {
	_, ok := r.places[path]
	return ok
}

// fallBack notes that the default of a path is used and returns its text.
func (r *reader) fallBack(path string) string {
	for _, d := range defaults {
		if d.Path == path {
			r.defaults = append(r.defaults, d)
			return d.Text
		}
	}
	panic("shop: no default for " + path)
}

// length returns what the file gives at a path, else its default.
func (r *reader) length(path string, given unit.Measure) unit.Length {
	if r.given(path) {
		return given.Length
	}
	m, err := unit.ParseMeasure(r.fallBack(path))
	if err != nil {
		panic("shop: defaults.csv: " + err.Error())
	}
	return m.Length
}

// number returns what the file gives at a path, else its default.
func (r *reader) number(path string, given float64) float64 {
	if r.given(path) {
		return given
	}
	v, err := strconv.ParseFloat(r.fallBack(path), 64)
	if err != nil {
		panic("shop: defaults.csv: " + err.Error())
	}
	return v
}

// words returns what the file gives at a path, else its default.
func (r *reader) words(path, given string) string {
	if r.given(path) {
		return given
	}
	return r.fallBack(path)
}

func (r *reader) unknown(path, what, name string, known []string) {
	if name == "" {
		return // reported where it was read
	}
	r.report(problem.UnknownName, path, fmt.Sprintf("there is no %s %q", what, name), "", problem.DidYouMean(name, known))
}

func money(v float64) unit.Money { return unit.Cents(v * 100) }

func (r *reader) shop() Shop {
	f := &r.file
	if f.Format != FormatVersion && r.given("longgrain-shop") && f.Format != 0 {
		r.report(problem.BadVersion, "longgrain-shop", fmt.Sprintf("version %d of the format is not known", f.Format), "",
			fmt.Sprintf("this program reads version %d", FormatVersion))
	}
	s := Shop{Name: f.Name, Note: f.Note, Tests: f.Tests}
	if f.Tests != "" && !fs.ValidPath(f.Tests) {
		r.report(problem.WrongKind, "tests", fmt.Sprintf("%q does not name a file beside the shop file", f.Tests), "", "write the name of a file in the same folder or below it, such as tests.csv")
	}
	if r.words("units", f.Units) == "in" {
		s.Family = unit.Imperial
	}
	s.Currency = r.words("currency", f.Currency)
	s.SmallestMark = r.smallestMark(s.Family)
	s.Marking = r.marking()
	s.Workshop, s.Use = r.climates()
	s.Tools = r.tools()
	s.Clamps = r.clamps()
	s.People = r.people()
	s.Calendar = r.calendar()
	s.LabourRate = money(r.number("labour_rate", f.LabourRate))
	s.Pace = r.number("pace", f.Pace)
	s.Benches = int(r.number("benches", float64(f.Benches)))
	s.DryingPlaces = int(r.number("drying_places", float64(f.DryingPlaces)))
	s.Habits = r.habits(s.Use)
	s.Timber = r.timber(s.Habits)
	s.Boards, s.Offcuts = r.boards(s.Habits, s.Workshop)
	s.Dowels, s.Screws = r.fasteners()
	s.Glues, s.Finishes = r.products()
	s.Times, s.Tasks = r.times(), r.tasks()
	s.Defaults = r.defaults
	return s
}

// smallestMark falls back on the finest line of an ordinary rule in the units of the shop.
func (r *reader) smallestMark(f unit.Family) unit.Length {
	if r.given("smallest_mark") {
		return r.file.SmallestMark.Length
	}
	mark := f.SmallestMark()
	r.defaults = append(r.defaults, Default{"smallest_mark", mark.Exact(f), "finest line of an ordinary rule", source.Practice()})
	return mark
}

func (r *reader) habits(use Climate) Habits {
	var f HabitsFile
	if r.file.Habits != nil {
		f = *r.file.Habits
	}
	h := Habits{
		Kerf:                     r.length("habits.kerf", f.Kerf),
		EndTrim:                  r.length("habits.end_trim", f.EndTrim),
		LengthAllowance:          r.length("habits.length_allowance", f.LengthAllowance),
		WidthAllowance:           r.length("habits.width_allowance", f.WidthAllowance),
		RoughThicknessAllowance:  r.length("habits.rough_thickness_allowance", f.RoughThicknessAllowance),
		PlanedThicknessAllowance: r.length("habits.planed_thickness_allowance", f.PlanedThicknessAllowance),
		GluedEdgeAllowance:       r.length("habits.glued_edge_allowance", f.GluedEdgeAllowance),
		PanelAllowance:           r.length("habits.panel_allowance", f.PanelAllowance),
		StaveWidth:               r.length("habits.stave_width", f.StaveWidth),
		PlanerMinimumLength:      r.length("habits.planer_minimum_length", f.PlanerMinimumLength),
		PlanerMaximumWidth:       r.length("habits.planer_maximum_width", f.PlanerMaximumWidth),
		JointerMinimumLength:     r.length("habits.jointer_minimum_length", f.JointerMinimumLength),
		JointerMaximumWidth:      r.length("habits.jointer_maximum_width", f.JointerMaximumWidth),
		Snipe:                    r.length("habits.snipe", f.Snipe),
		Condition:                wood.Condition(r.words("habits.condition", f.Condition)),
		TimberMoisture:           wood.Moisture(r.number("habits.timber_moisture", f.TimberMoisture)),
		TargetMoisture:           wood.Moisture(f.TargetMoisture),
	}
	if !r.given("habits.target_moisture") {
		low, high := use.MoistureRange()
		h.TargetMoisture = (low + high) / 2
		r.fallBack("habits.target_moisture")
		r.defaults[len(r.defaults)-1].Text = fmt.Sprintf("%.1f", float64(h.TargetMoisture))
	}
	glue, finish := r.words("habits.glue", f.Glue), r.words("habits.finish", f.Finish)
	var ok bool
	if h.Glue, ok = adhesive.Find(glue); !ok {
		r.unknown("habits.glue", "glue", glue, adhesive.Names())
	}
	if h.Finish, ok = coating.FindSchedule(finish); !ok {
		r.unknown("habits.finish", "finish", finish, coating.ScheduleNames())
	}
	return h
}

func (r *reader) products() ([]Glue, []Product) {
	glues, finishes := []Glue{}, []Product{}
	for i, g := range r.file.Glues {
		kind, ok := adhesive.Find(g.Kind)
		if !ok {
			r.unknown(fmt.Sprintf("glues[%d].kind", i), "glue", g.Kind, adhesive.Names())
		}
		glues = append(glues, Glue{kind, unit.Litres(g.Litres), money(g.Price)})
	}
	for i, p := range r.file.Finishes {
		product, ok := coating.FindProduct(p.Product)
		if !ok {
			r.unknown(fmt.Sprintf("finishes[%d].product", i), "product", p.Product, coating.ProductNames())
		}
		finishes = append(finishes, Product{product, unit.Litres(p.Litres), money(p.Price)})
	}
	return glues, finishes
}

func (r *reader) fasteners() ([]Dowels, []Screws) {
	dowels, screws := []Dowels{}, []Screws{}
	for i, d := range r.file.Dowels {
		if d.Length.Length > 0 && d.Length.Length < d.Diameter.Length {
			r.report(problem.BadGeometry, fmt.Sprintf("dowels[%d].length", i), fmt.Sprintf("the length %s is below the diameter %s", d.Length, d.Diameter), "", "swap them")
		}
		dowels = append(dowels, Dowels{d.Diameter.Length, d.Length.Length, d.Count, money(d.Price), r.given(fmt.Sprintf("dowels[%d].price", i))})
	}
	for i, s := range r.file.Screws {
		if s.Length.Length > 0 && s.Length.Length < s.Diameter.Length {
			r.report(problem.BadGeometry, fmt.Sprintf("screws[%d].length", i), fmt.Sprintf("the length %s is below the diameter %s", s.Length, s.Diameter), "", "swap them")
		}
		screws = append(screws, Screws{s.Kind == "pocket screw", s.Diameter.Length, s.Length.Length, s.Count, money(s.Price), r.given(fmt.Sprintf("screws[%d].price", i))})
	}
	return dowels, screws
}

// list splits the text of a default list.
func list(text string) []string { return strings.Split(text, ";") }
