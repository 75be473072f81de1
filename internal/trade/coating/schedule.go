package coating

import (
	_ "embed"
	"slices"
	"strings"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/source"
)

// Action is what is done in a step.
type Action string

// The actions.
const (
	Sand       Action = "sand"
	RaiseGrain Action = "raise grain" // wet the wood so that loose fibres stand up
	Condition  Action = "condition"   // even out how the wood drinks
	Colour     Action = "colour"
	Seal       Action = "seal"
	OilIn      Action = "oil"  // put oil on and leave it to soak
	Rub        Action = "rub"  // wipe off what the wood did not take
	Coat       Action = "coat" // brush a film
	Wait       Action = "wait"
)

// Step is one step of a schedule.
type Step struct {
	Action      Action      `json:"action"`
	Product     string      `json:"product,omitempty"`     // id of a Product
	Grit        string      `json:"grit,omitempty"`        // "P180", or what is rubbed with
	WaitHours   float64     `json:"waitHours,omitempty"`   // at least, from the end of this step to the next
	WithinHours float64     `json:"withinHours,omitempty"` // at most, from the end of the step before to this one; 0 is no limit
	SoakMinutes float64     `json:"soakMinutes,omitempty"` // between putting on and wiping off
	Cautions    []string    `json:"cautions,omitempty"`    // ids of hazards
	Note        string      `json:"note,omitempty"`
	Cite        source.Cite `json:"cite"`
}

// Schedule is a whole finish, step by step.
type Schedule struct {
	ID           string      `json:"id"` // as written in piece and shop files: "dye-and-oil"
	Name         string      `json:"name"`
	EvensColour  string      `json:"evensColour"`  // how even its colour comes out on pine
	WaterResists string      `json:"waterResists"` // how well it keeps water out
	ChildNote    string      `json:"childNote"`    // what to mind on children's furniture
	Note         string      `json:"note,omitempty"`
	Steps        []Step      `json:"steps"`
	Cite         source.Cite `json:"cite"`
}

//go:embed schedules.csv
var schedulesCSV string

//go:embed finishes.csv
var finishesCSV string

var schedules = readSchedules()

func readSchedules() []Schedule {
	steps := map[string][]Step{}
	for _, r := range source.Table("schedules.csv", schedulesCSV) {
		steps[r.Text("schedule")] = append(steps[r.Text("schedule")], readStep(r))
	}
	var out []Schedule
	for _, r := range source.Table("finishes.csv", finishesCSV) {
		id := r.Text("id")
		out = append(out, Schedule{
			ID: id, Name: r.Text("name"), EvensColour: r.Text("evens-colour"), WaterResists: r.Text("water-resists"),
			ChildNote: r.Text("child-note"), Note: r.Text("note"), Steps: steps[id], Cite: r.Cite(),
		})
	}
	return out
}

func readStep(r source.Row) Step {
	number := func(column string) float64 {
		if !r.Has(column) {
			return 0
		}
		return r.Number(column)
	}
	s := Step{
		Action: Action(r.Text("action")), Product: r.Text("product"), Grit: r.Text("grit"),
		WaitHours: number("wait-hours"), WithinHours: number("within-hours"), SoakMinutes: number("minutes"),
		Note: r.Text("note"), Cite: r.Cite(),
	}
	if s.Product != "" {
		_, ok := LookupProduct(s.Product)
		mustKnow(ok, "schedules.csv", "product "+s.Product)
	}
	if r.Has("cautions") {
		s.Cautions = strings.Split(r.Text("cautions"), ";")
	}
	for _, c := range s.Cautions {
		_, ok := LookupHazard(c)
		mustKnow(ok, "schedules.csv", "hazard "+c)
	}
	return s
}

// LookupSchedule returns the finish of an id. Its slices are shared: read only.
func LookupSchedule(id string) (Schedule, bool) {
	i := slices.IndexFunc(schedules, func(s Schedule) bool { return s.ID == id })
	if i < 0 {
		return Schedule{}, false
	}
	return schedules[i], true
}

// ScheduleIDs returns the ids of all finishes in the order of the table.
func ScheduleIDs() []string {
	out := make([]string, len(schedules))
	for i, s := range schedules {
		out[i] = s.ID
	}
	return out
}

// Coats returns how many coats of each product the schedule puts on, in the order of first use.
func (s Schedule) Coats() (products []string, coats []int) {
	for _, step := range s.Steps {
		if step.Product == "" {
			continue
		}
		i := slices.Index(products, step.Product)
		if i < 0 {
			products, coats = append(products, step.Product), append(coats, 0)
			i = len(products) - 1
		}
		coats[i]++
	}
	return products, coats
}

// SelfHeats tells whether any step leaves rags that can catch fire by themselves.
func (s Schedule) SelfHeats() bool {
	return slices.ContainsFunc(s.Steps, func(step Step) bool {
		p, ok := LookupProduct(step.Product)
		return ok && p.SelfHeats
	})
}

// FindSchedule returns the finish that a person means by its id or name, whatever the case and hyphens.
func FindSchedule(name string) (Schedule, bool) {
	for _, x := range schedules {
		if problem.SameName(x.ID, name) || problem.SameName(x.Name, name) {
			return x, true
		}
	}
	return Schedule{}, false
}

// ScheduleNames returns the names of all finishes as a person writes them, in the order of the table.
func ScheduleNames() []string {
	out := make([]string, len(schedules))
	for i, x := range schedules {
		out[i] = x.Name
	}
	return out
}
