package schedule

import (
	"fmt"
	"slices"
	"time"
)

// line is a task, or a sitting of one, to be told at a time.
type line struct {
	at    Local
	what  string // without the copies, for what is told together
	tail  string
	task  int
	group string
	done  bool
}

// days lists what is done day by day, with waits at the day on which they begin. What is done to several copies at the
// same time is told once.
func (p *Plan) days() {
	lines := p.lines()
	slices.SortStableFunc(lines, func(a, b line) int { return a.at.Compare(b.at.Time) })
	for len(lines) > 0 {
		first := lines[0]
		var together, others []line
		for i, l := range lines {
			if !l.at.Equal(first.at.Time) {
				others = append(others, lines[i:]...)
				break
			}
			if l.group == first.group {
				together = append(together, l)
			} else {
				others = append(others, l)
			}
		}
		lines = others
		p.tell(together)
	}
}

// tell adds an entry.
func (p *Plan) tell(together []line) {
	l := together[0]
	title := l.at.DateFrom(p.Start)
	if !p.Dated {
		day := int(l.at.Sub(p.Start.Time).Hours() / 24)
		title = fmt.Sprintf("week %d, %s", day/7+1, l.at.Weekday())
	}
	if n := len(p.Days); n == 0 || p.Days[n-1].Title != title {
		p.Days = append(p.Days, Day{Date: Local{l.at.Truncate(24 * time.Hour)}, Title: title})
	}
	e := Entry{At: l.at, Text: l.at.Clock() + " " + l.what, Done: true}
	var copies []int
	for _, x := range together {
		e.Tasks = append(e.Tasks, x.task)
		e.Done = e.Done && x.done
		for _, c := range p.Tasks[x.task].Copies {
			if !slices.Contains(copies, c) {
				copies = append(copies, c)
			}
		}
	}
	slices.Sort(copies)
	if p.Copies > 1 && len(copies) > 0 && p.Tasks[l.task].Kind != Finished {
		if len(copies) == p.Copies {
			e.Text += fmt.Sprintf(", all %d pieces", p.Copies)
		} else {
			e.Text += ", " + pieces(copies)
		}
	}
	e.Text += l.tail
	if n := len(together); n > 1 && l.tail != "" {
		e.Text += " each"
	}
	d := &p.Days[len(p.Days)-1]
	d.Entries = append(d.Entries, e)
}

// lines lists everything that is told, task by task.
func (p *Plan) lines() []line {
	var out []line
	for i, t := range p.Tasks {
		l := line{at: t.Start, what: t.What, task: i, done: t.State == Done}
		switch {
		case t.Kind == Wait && t.End.Sub(t.Start.Time) > 0:
			l.tail = fmt.Sprintf(" until %s, %s", t.End.Date(), t.End.Clock())
			if !p.Dated {
				l.tail = fmt.Sprintf(" for %s", inWords(t.End.Sub(t.Start.Time)))
			}
			l.group = l.what + l.tail
			out = append(out, l)
		case t.Kind == Finished:
			l.group = l.what
			out = append(out, l)
		}
		for n, s := range t.Sittings {
			l.at, l.what, l.tail = s.From, t.What, ""
			if n > 0 || t.State == Started {
				l.what = "go on: " + t.What
			}
			count := 0
			for _, c := range t.Clamps {
				count += c.Count
			}
			if count > 0 {
				l.tail += fmt.Sprintf(", %d clamps", count)
			}
			if t.People > 1 {
				l.tail += fmt.Sprintf(", %d people", t.People)
			}
			l.group = l.what + l.tail
			out = append(out, l)
		}
	}
	return out
}

// inWords prints a wait: "36 h", "7 days".
func inWords(d time.Duration) string {
	if d < 48*time.Hour {
		return fmt.Sprintf("%.0f h", d.Hours())
	}
	return fmt.Sprintf("%.0f days", d.Hours()/24)
}
