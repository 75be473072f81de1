// Package cards puts the order of work on bench cards: one task a card, in the order in which the tasks are begun, each with the
// drawing for this step, what to set, what to mind, what to tick and how long to wait.
//
// In goes a plan, out comes a Deck; File makes one HTML file of it that needs nothing else. The package chooses what stands on
// which card; every figure on one comes from the plan. Waits are no cards: they are timers on the card of the task before them.
package cards

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"longgrain/internal/book/drawing"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/paper/svg"
	"longgrain/internal/plan"
	"longgrain/internal/work/schedule"
)

// Deck is all cards of a piece with the drawings that they show.
type Deck struct {
	Piece   string   `json:"piece"`
	Shop    string   `json:"shop"`
	Copies  int      `json:"copies"`
	End     string   `json:"end" doc:"when everything is done, in words; empty when nothing could be dated"`
	Cards   []Card   `json:"cards" nullable:"false"`
	Figures []Figure `json:"figures" nullable:"false" doc:"each once, however many cards show it"`
	Notes   []string `json:"notes" nullable:"false" doc:"of the plan as a whole: dates that are not known, findings of the order"`
}

// Card is one task, or several of different copies that are done in one go.
type Card struct {
	Number   int           `json:"number" doc:"from 1"`
	Tasks    []Task        `json:"tasks" nullable:"false" doc:"tasks of the order of work: one, or the same of several copies"`
	Kind     schedule.Kind `json:"kind"`
	Title    string        `json:"title"`
	Parts    []Part        `json:"parts" nullable:"false"`
	Day      string        `json:"day" doc:"such as Tuesday 20 October"`
	At       string        `json:"at" doc:"such as 18:30"`
	Again    []string      `json:"again" nullable:"false" doc:"when it goes on"`
	Minutes  int           `json:"minutes" doc:"working time of each person"`
	People   int           `json:"people"`
	Critical bool          `json:"critical" doc:"the end waits for it"`
	Done     bool          `json:"done" doc:"every task of it is done"`
	After    []string      `json:"after" nullable:"false" doc:"what must be over before it is begun"`
	Figures  []string      `json:"figures" nullable:"false" doc:"ids of figures of the deck"`
	Settings []Setting     `json:"settings" nullable:"false"`
	Cautions []Caution     `json:"cautions" nullable:"false"`
	Notes    []string      `json:"notes" nullable:"false" doc:"what to mind, where nobody is hurt"`
	Steps    []string      `json:"steps" nullable:"false" doc:"what to tick"`
	Timers   []Timer       `json:"timers" nullable:"false"`
	Then     string        `json:"then,omitempty" doc:"what waits after it, in words"`
}

// Task is a task of the order of work.
type Task struct {
	ID    string         `json:"id"`
	Name  string         `json:"name"`
	State schedule.State `json:"state,omitempty" doc:"started or done; empty while it is still to be done"`
	Note  string         `json:"note,omitempty"`
	// Running says that somebody works on it now.
	Running bool `json:"running,omitempty"`
}

// Part is a part that a card is about.
type Part struct {
	Mark string `json:"mark"`
	Name string `json:"name"`
}

// Setting is one thing to set or to have ready.
type Setting struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// Caution is something that can hurt.
type Caution struct {
	Title string `json:"title,omitempty"`
	Text  string `json:"text,omitempty"`
	Stop  string `json:"stop,omitempty" doc:"what must not happen before it is dealt with"`
}

// Timer is a time to keep, started by hand.
type Timer struct {
	ID      string `json:"id" doc:"within the card"`
	Name    string `json:"name" doc:"such as Clamps stay on"`
	Minutes int    `json:"minutes"`
	Ring    string `json:"ring" doc:"what to do when it rings"`
	Note    string `json:"note,omitempty"`
}

// Figure is a drawing with its caption.
type Figure struct {
	ID      string      `json:"id"`
	Caption string      `json:"caption"`
	SVG     string      `json:"svg" doc:"made by the program; it holds no script, style or event"`
	Scene   scene.Scene `json:"-"`
}

// Options says how drawings are made.
type Options struct {
	Width, Height float64 // of a drawing, mm; 0 takes what suits a phone
}

// What a phone held upright shows with lettering that can be read. Judgement: 110 mm shrink to the 90 mm of a small phone.
const (
	phoneWidth  = 110
	phoneHeight = 150
)

// deck is a Deck that is being made.
type deck struct {
	Deck
	plan  plan.Plan
	style drawing.Style
	known map[string]bool // figures that were tried: whether they are in the deck
	carry map[int][]int   // task -> waits that follow it
	met   map[int]bool    // parts that a card of joints has dealt with before
}

// Make puts the tasks of a plan on cards.
func Make(p plan.Plan, o Options) Deck {
	if o.Width <= 0 {
		o.Width = phoneWidth
	}
	if o.Height <= 0 {
		o.Height = phoneHeight
	}
	s := p.Schedule
	d := &deck{plan: p, style: drawing.Style{Family: p.Family, Width: o.Width, Height: o.Height}, known: map[string]bool{}, met: map[int]bool{}, carry: waitsAfter(s),
		Deck: Deck{Piece: p.Name, Shop: p.ShopName, Copies: max(1, p.Copies), Cards: []Card{}, Figures: []Figure{}, Notes: append([]string{}, s.Notes...)}}
	for _, f := range s.Findings {
		d.Notes = append(d.Notes, sentence(f.Where)+" "+sentence(f.What)+" "+sentence(f.Advice))
	}
	if !s.End.IsZero() && s.Dated {
		d.End = s.End.DateFrom(s.Start)
	}
	d.lay()
	for i := range d.Cards {
		d.Cards[i].Number = i + 1
	}
	return d.Deck
}

// lay makes a card of everything that somebody does, where it is begun.
func (d *deck) lay() {
	s := d.plan.Schedule
	at := map[int]int{} // task -> its card
	for _, day := range s.Days {
		for _, e := range day.Entries {
			var fresh []int
			for _, t := range e.Tasks {
				if k, laid := at[t]; laid {
					d.goesOn(k, day.Title+", "+e.At.Clock())
				} else if k := s.Tasks[t].Kind; k != schedule.Wait && k != schedule.Finished {
					fresh = append(fresh, t)
				}
			}
			if len(fresh) == 0 {
				continue
			}
			for _, t := range fresh {
				at[t] = len(d.Cards)
			}
			c := d.card(fresh)
			c.Day, c.At = day.Title, e.At.Clock()
			d.Cards = append(d.Cards, c)
		}
	}
}

// goesOn notes a later sitting of a card.
func (d *deck) goesOn(card int, when string) {
	if c := &d.Cards[card]; !slices.Contains(c.Again, when) {
		c.Again = append(c.Again, when)
	}
}

// card makes the card of tasks that are done in one go: the same thing for several copies, or one task.
func (d *deck) card(tasks []int) Card {
	s := d.plan.Schedule
	first := s.Tasks[tasks[0]]
	c := Card{Kind: first.Kind, Title: upperFirst(first.Name), Minutes: int(first.Work + 0.5), People: max(1, first.People), Done: true, Parts: []Part{}, Again: []string{}, After: []string{},
		Figures: []string{}, Settings: []Setting{}, Cautions: []Caution{}, Notes: []string{}, Steps: []string{}, Timers: []Timer{}}
	if len(tasks) > 1 {
		c.Title = fmt.Sprintf("%s, %d pieces", upperFirst(first.What), len(tasks))
	}
	for _, i := range tasks {
		t := s.Tasks[i]
		c.Tasks = append(c.Tasks, Task{ID: t.ID, Name: t.Name, State: t.State, Note: t.Note})
		c.Done = c.Done && t.State == schedule.Done
		c.Critical = c.Critical || t.Critical
	}
	for _, p := range first.Parts {
		part := d.plan.Assembly.Parts[p]
		c.Parts = append(c.Parts, Part{part.Mark, part.Name})
	}
	if first.People > 1 {
		c.set("People", fmt.Sprint(first.People))
	}
	d.fill(&c, first)
	d.after(&c, tasks[0])
	d.then(&c, tasks[0])
	for _, text := range first.Cautions {
		c.hazardIn(text)
	}
	return c
}

// fill puts on a card what its kind of task asks for.
func (d *deck) fill(c *Card, t schedule.Task) {
	switch t.Kind {
	case schedule.Buy:
		d.buy(c)
	case schedule.Cut:
		d.saw(c)
	case schedule.Mill:
		d.mill(c, t)
	case schedule.Plane:
		d.plane(c, t)
	case schedule.Joints:
		d.joints(c, t)
	case schedule.Fit:
		d.dryFit(c)
	case schedule.Glue:
		d.glue(c, t)
	case schedule.Scrape:
		d.clampsOff(c, t)
	case schedule.Sand, schedule.Coat:
		d.finish(c, t)
	case schedule.Mask:
		d.mask(c)
	case schedule.Rags:
		d.rags(c)
	case schedule.Screw:
		d.screw(c, t)
	case schedule.FixTop:
		d.fixTop(c, t)
	case schedule.Own:
		c.step("Done as the shop asks")
	}
}

// waitsAfter lists the waits that begin when a task ends.
func waitsAfter(s schedule.Plan) map[int][]int {
	out := map[int][]int{}
	for i, t := range s.Tasks {
		if t.Kind != schedule.Wait {
			continue
		}
		for _, l := range t.After {
			out[l.Task] = append(out[l.Task], i)
		}
	}
	return out
}

// longOver is how long ago a wait ended that need not be told any more. Judgement.
const longOver = 48 * time.Hour

// after says which waits and limits must be over before a card is begun.
func (d *deck) after(c *Card, task int) {
	s := d.plan.Schedule
	for _, l := range s.Tasks[task].After {
		from := s.Tasks[l.Task]
		switch {
		case from.Kind == schedule.Wait && s.Tasks[task].Start.Sub(from.End.Time) > longOver:
		case from.Kind == schedule.Wait && from.End.After(from.Start.Time) && from.State != schedule.Done:
			when := ""
			if s.Dated {
				when = ", on " + from.End.Date() + ", " + from.End.Clock()
			}
			if what, dries := strings.CutPrefix(from.What, "dries: "); dries {
				c.After = append(c.After, "It must be dry: "+what+when)
				continue
			}
			c.After = append(c.After, upperFirst(from.What)+" first"+when)
		case l.AtLeast > 0:
			text := fmt.Sprintf("%s after: %s", duration(l.AtLeast), from.What)
			if l.Limited && l.AtMost > 0 {
				text = fmt.Sprintf("%s to %s after: %s", duration(l.AtLeast), duration(l.AtMost), from.What)
			}
			if l.Why != "" {
				text += " (" + l.Why + ")"
			}
			c.After = append(c.After, text)
		case l.Limited && l.AtMost > 0:
			c.After = append(c.After, fmt.Sprintf("within %s of: %s (%s)", duration(l.AtMost), from.What, l.Why))
		}
	}
}

// then says what waits when a card is done, and until when at the earliest.
func (d *deck) then(c *Card, task int) {
	for _, w := range d.carry[task] {
		t := d.plan.Schedule.Tasks[w]
		wait := unit.Minutes(t.End.Sub(t.Start.Time).Minutes())
		if wait <= 0 || strings.HasPrefix(t.ID, "dry-") { // the step of the finish has its own timer
			continue
		}
		c.Then = upperFirst(t.What) + ", " + duration(wait)
	}
}

func (c *Card) set(name, value string) {
	if value != "" {
		c.Settings = append(c.Settings, Setting{name, value})
	}
}

func (c *Card) step(text string) {
	if text != "" {
		c.Steps = append(c.Steps, upperFirst(text))
	}
}

// note puts something to mind on a card, once.
func (c *Card) note(text string) {
	if text = sentence(text); text != "" && !slices.Contains(c.Notes, text) {
		c.Notes = append(c.Notes, text)
	}
}

// mind puts a caution on a card, once.
func (c *Card) mind(x Caution) {
	for _, have := range c.Cautions {
		if strings.Contains(have.Text+" "+have.Stop, x.Text) || strings.HasPrefix(x.Text, strings.TrimSuffix(have.Text, ".")) && have.Text != "" {
			return
		}
	}
	x.Title, x.Text, x.Stop = upperFirst(x.Title), sentence(x.Text), sentence(x.Stop)
	c.Cautions = append(c.Cautions, x)
}

// wait puts a timer on a card for a time that must pass, in whole minutes, rather a little longer; none for no time.
func (c *Card) wait(name string, m unit.Minutes, ring, note string) {
	c.time(name, int(math.Ceil(float64(m)-1e-9)), ring, note)
}

// limit puts a timer on a card for a time that must not be passed, in whole minutes, rather a little shorter.
func (c *Card) limit(name string, m unit.Minutes, ring, note string) {
	c.time(name, int(math.Floor(float64(m)+1e-9)), ring, note)
}

func (c *Card) time(name string, minutes int, ring, note string) {
	if minutes > 0 {
		c.Timers = append(c.Timers, Timer{ID: fmt.Sprintf("t%d", len(c.Timers)+1), Name: name, Minutes: minutes, Ring: ring, Note: sentence(note)})
	}
}

// show puts a figure on a card. It is drawn once for the deck; one without a line is left out.
func (d *deck) show(c *Card, id, caption string, draw func() scene.Scene) {
	if there, tried := d.known[id]; !tried {
		s := draw()
		if d.known[id] = len(s.Items) > 0; d.known[id] {
			d.Figures = append(d.Figures, Figure{id, caption, svg.Inline(s, id+"-", true), s})
		}
	} else if !there {
		return
	}
	if d.known[id] && !slices.Contains(c.Figures, id) {
		c.Figures = append(c.Figures, id)
	}
}

func (d *deck) length(l unit.Length) string { return l.Show(d.plan.Family) }
