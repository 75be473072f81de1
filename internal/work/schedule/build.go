package schedule

import (
	"fmt"
	"math"
	"slices"
	"time"

	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/project"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/shop"
)

// task is a task with what the solver needs to know.
type task struct {
	Task
	slots    int
	calendar int
	split    bool // may rest between sessions
	needs    []project.Need
	pair     *pair // the way of two people; nil where there is none
	release  int
	fixed    bool // done: it lies where it lay
	at       int  // start of a task that is done
}

// pair is a task done by two people at two benches.
type pair struct {
	slots int
	needs []project.Need
}

// The calendars of the instance; project.AnyTime is for waits.
const (
	shopHours = 0
	yardHours = 1
)

// link is a lag between two tasks. Limits are of quality, not of safety: what cannot be kept is dropped and reported.
type link struct {
	from, to  int
	fromStart bool // copies alike begin in the order of their numbers
	min, max  int
	limited   bool
	why       string
}

// hold is an amount of a resource from the start of one task to the end of another.
type hold struct{ resource, amount, from, to int }

// builder gathers tasks, lags and holds.
type builder struct {
	in       Input
	made     int     // copies that are made
	copies   int     // that are planned one by one: all, or one where there are too many
	lots     [][]int // copies whose machine work is done in one go
	first    time.Time
	tasks    []task
	links    []link
	holds    []hold
	ready    [][][]int // copy - 1, part -> tasks after which it can be worked on
	findings []Finding
	notes    []string
	longest  int // session, in slots
	shortest int
	capacity []project.Resource
	clampRow []int              // row of the shop's clamps -> resource
	tested   int                // wait for the test piece; 0 when there is none
	waitOf   map[int]int        // wait after a step of the finish -> 1 + the task that it follows
	stuck    bool               // nothing can be dated; a finding says why
	spans    [][]project.Window // when each task is worked on, once there is a schedule
	taken    [][]int            // of each resource in each slot
	limits   [][]link           // by the task that they begin at
}

// The resources, before those of the clamps.
const (
	people = iota
	operators
	benches
	dryingPlaces
)

// mostCopies is how many copies are planned one by one. Judgement: a shop that makes more works in batches, and a list of
// some thousand tasks helps nobody.
const mostCopies = 48

// splitFrom is the length from which a task that can be left lying may go on in the next session. Judgement.
const splitFrom = 60 / int(Slot)

func newBuilder(in Input) *builder {
	s := in.Shop
	b := &builder{in: in, first: in.Start, made: max(1, in.Assembly.Copies), waitOf: map[int]int{}}
	if b.copies = b.made; b.made > mostCopies {
		b.copies = 1
		b.find("the order of work", fmt.Sprintf("%d pieces are more than are planned one by one, which are %d", b.made, mostCopies), "the order below is that of one piece; plan a batch with fewer copies:")
	}
	b.ready = make([][][]int, b.copies)
	for c := range b.ready {
		b.ready[c] = make([][]int, len(in.Assembly.Parts))
	}
	if b.first.IsZero() {
		b.first = s.Calendar.Starts
	}
	if b.first.IsZero() {
		b.first = undated
		b.notes = append(b.notes, "No first day is known: days are counted from a Monday. Give starts: in the shop file.")
	}
	_, b.longest, b.shortest = sessionsAWeek(s.Calendar)
	b.capacity = []project.Resource{{Name: "people", Capacity: s.Workers()}, {Name: "people at machines", Capacity: b.operators()},
		{Name: "benches", Capacity: s.Benches}, {Name: "drying places", Capacity: s.DryingPlaces}}
	if s.Benches == 0 {
		b.capacity[benches].Capacity = 1
		b.find("the shop", "it has no bench", "planned as if it had one; give benches:")
	}
	if s.DryingPlaces == 0 {
		b.capacity[dryingPlaces].Capacity = 1
		b.find("the shop", "it has no place to dry coated parts", "planned as if it had one; give drying_places:")
	}
	for _, c := range s.Clamps {
		b.clampRow = append(b.clampRow, len(b.capacity))
		b.capacity = append(b.capacity, project.Resource{Name: c.Kind.Name, Capacity: c.Count})
	}
	if !slices.ContainsFunc(s.Times, func(t shop.Time) bool { return t.Measured }) {
		b.notes = append(b.notes, "Working times are assumed; note your own, and give them as times: or change the pace of the shop.")
	}
	return b
}

// operators returns how many people may use the machines that the shop mills with, at least 1.
func (b *builder) operators() int {
	n := 0
	for _, p := range b.in.Shop.People {
		allowed := true
		for _, id := range p.Barred {
			tool, ok := hardware.LookupTool(id)
			if ok && b.in.Shop.Has(id) && (tool.Can(hardware.Rip) || tool.Can(hardware.Flatten) || tool.Can(hardware.Thickness)) {
				allowed = false
			}
		}
		if allowed {
			n += p.Number
		}
	}
	if n == 0 && len(b.in.Shop.People) > 0 {
		b.find("the machines", "nobody in the shop may use all machines that the timber is milled with", "name an adult for these tasks; planned as if there were one")
	}
	return max(1, n)
}

func (b *builder) find(where, what, advice string) {
	f := Finding{What: what, Where: where, Advice: advice}
	if !slices.Contains(b.findings, f) {
		b.findings = append(b.findings, f)
	}
}

// pace is the time that the shop takes over that of a practised maker.
func (b *builder) pace() float64 {
	if b.in.Shop.Pace <= 0 {
		return 1
	}
	return b.in.Shop.Pace
}

// rate returns a figure of the time model for add, which counts the pace: a time measured in this shop has it already.
func (b *builder) rate(work string) float64 {
	t := b.in.Shop.Time(work)
	if t.Measured {
		return t.Value / b.pace()
	}
	return t.Value
}

// slots rounds minutes up to whole slots.
func slots(m unit.Minutes) int { return int(math.Ceil(float64(m/Slot) - 1e-9)) }

// add appends a task of some minutes of a practised maker, each of the people busy for the whole time, and links it to
// tasks that must have ended. The pace of the shop is counted here.
func (b *builder) add(t Task, minutes float64, after ...int) int {
	return b.addTimed(t, unit.Minutes(minutes*b.pace()), after...)
}

// addTimed is add for a time that already counts the pace.
func (b *builder) addTimed(t Task, minutes unit.Minutes, after ...int) int {
	x := task{Task: t, slots: max(1, slots(minutes)), calendar: shopHours}
	x.People = max(1, min(x.People, b.capacity[people].Capacity))
	x.Work = minutes
	x.needs = append(x.needs, project.Need{Resource: people, Amount: x.People})
	if x.Machine {
		x.needs = append(x.needs, project.Need{Resource: operators, Amount: 1})
	}
	if x.Bench {
		x.needs = append(x.needs, project.Need{Resource: benches, Amount: 1})
	}
	switch x.Kind {
	case Cut, Mill, Plane, Joints, Sand, Mask, Own:
		x.split = x.slots >= splitFrom || x.slots > b.shortest
		x.pair = b.shared(x)
	case Buy:
		x.calendar, x.needs = yardHours, nil
	default:
		if b.longest > 0 && x.slots > b.longest {
			b.find(x.What, fmt.Sprintf("it takes about %.0f min without a break and the longest session has %.0f", float64(minutes), float64(b.longest)*float64(Slot)),
				"work longer on that day or get help; planned as if it filled the longest session")
			x.slots = b.longest
		}
	}
	return b.push(x, after)
}

// shared returns how two people share a task: each at a bench, in half the time. Only where one piece is made: copies alike
// begin in order, which holds for tasks of one length. Nothing is published on it; that nobody waits is assumed.
func (b *builder) shared(x task) *pair {
	if b.copies > 1 || x.People != 1 || x.Machine || !x.Bench || x.slots < splitFrom || b.capacity[people].Capacity < 2 || b.capacity[benches].Capacity < 2 {
		return nil
	}
	return &pair{(x.slots + 1) / 2, []project.Need{{Resource: people, Amount: 2}, {Resource: benches, Amount: 2}}}
}

// choose takes the way of doing each task that a schedule has chosen.
func (b *builder) choose(mode []int, tasks []Task) {
	for i := range b.tasks {
		t := &b.tasks[i]
		if t.pair == nil || mode[i] == 0 {
			continue
		}
		t.slots, t.needs, t.People, t.Work = t.pair.slots, t.pair.needs, 2, t.Work/2
		tasks[i].People, tasks[i].Work = t.People, t.Work
	}
}

// addWait appends a wait that nobody attends.
func (b *builder) addWait(t Task, minutes unit.Minutes, needs []project.Need, after ...int) int {
	t.Kind = Wait
	return b.push(task{Task: t, slots: slots(minutes), calendar: project.AnyTime, needs: needs}, after)
}

func (b *builder) push(x task, after []int) int {
	x.Name = x.What + b.ofCopies(x.Copies)
	if b.copies > 1 && len(x.Copies) > 0 && len(x.Copies) < b.copies {
		x.ID += fmt.Sprintf("/%d", x.Copies[0])
	}
	b.tasks = append(b.tasks, x)
	n := len(b.tasks) - 1
	for _, from := range after {
		b.link(link{from: from, to: n})
	}
	return n
}

func (b *builder) link(l link) { b.links = append(b.links, l) }

// readyAll returns the tasks that some parts of some copies wait for, each once.
func (b *builder) readyAll(copies, parts []int) []int {
	var out []int
	seen := map[int]bool{}
	for _, c := range copies {
		for _, p := range parts {
			for _, t := range b.ready[c-1][p] {
				if !seen[t] {
					seen[t] = true
					out = append(out, t)
				}
			}
		}
	}
	return out
}

// done says that parts of some copies can be worked on after a task.
func (b *builder) done(copies, parts []int, task int) {
	for _, c := range copies {
		for _, p := range parts {
			b.ready[c-1][p] = []int{task}
		}
	}
}

func (b *builder) allParts() []int {
	out := make([]int, len(b.in.Assembly.Parts))
	for i := range out {
		out[i] = i
	}
	return out
}
