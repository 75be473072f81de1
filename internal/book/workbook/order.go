package workbook

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"longgrain/internal/book/drawing"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/document"
	"longgrain/internal/work/schedule"
)

// order writes what is done on which day, what holds up the end, and what would bring it nearer.
func (b *book) order() {
	s := b.plan.Schedule
	b.findings(len(s.Findings), func(i int) (string, string, string) {
		return s.Findings[i].Where, s.Findings[i].What, s.Findings[i].Advice
	})
	if len(s.Days) == 0 {
		b.times()
		return
	}
	pairs := []document.Pair{
		{Name: "Work", Value: document.Words(fmt.Sprintf("%.1f hours of all people together%s", float64(s.Attended)/60, forAll(s.Copies)))},
		{Name: "Sessions", Value: document.Words(fmt.Sprint(s.Sessions))},
		{Name: "Waiting", Value: document.Words(minutes(s.Waiting))},
		{Name: "Done", Value: document.Words(EndOf(s) + ", " + ProofOfEnd(s))},
	}
	if !s.Now.IsZero() {
		pairs = append(pairs, document.Pair{Name: "Ticked off", Value: document.Words(fmt.Sprintf("%d of %d tasks; what is left is planned from %s, %s", s.Done, worked(s), s.Now.Date(), s.Now.Clock()))})
	}
	b.Add(document.Summary{Pairs: pairs})
	b.holdUps(s)
	for _, n := range s.Notes {
		b.Paragraph(upperFirst(n))
	}
	b.timeChart()
	for _, d := range s.Days {
		var items []document.Text
		for _, e := range d.Entries {
			text := document.Words(e.Text)
			if e.Done {
				text = document.Words("").Plain(e.Text + ", ").Strong("done")
			}
			items = append(items, text)
		}
		blocks := []document.Block{document.Heading{Level: 3, Text: d.Title, Plain: true}, document.Checklist{Items: items}}
		if cautions := cautionsOf(s, d); len(cautions) > 0 {
			blocks = append(blocks, document.Box{Kind: document.Warning, Title: "Vapour and rags on this day", Text: texts(cautions)})
		}
		b.Add(document.Together{Blocks: blocks})
	}
	b.measured(s)
	b.times()
}

// cautionsOf gathers what must be said on a day on which something that gives off vapours or heats rags is in hand.
func cautionsOf(s schedule.Plan, d schedule.Day) []string {
	var out []string
	for _, e := range d.Entries {
		for _, i := range e.Tasks {
			for _, c := range s.Tasks[i].Cautions {
				if !slices.Contains(out, c) && s.Tasks[i].State != schedule.Done {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// worked counts the tasks that somebody does.
func worked(s schedule.Plan) int {
	n := 0
	for _, t := range s.Tasks {
		if t.Kind != schedule.Wait && t.Kind != schedule.Finished {
			n++
		}
	}
	return n
}

// EndOf says when everything is done, in words.
func EndOf(s schedule.Plan) string {
	if s.Dated {
		return s.End.DateFrom(s.Start)
	}
	return fmt.Sprintf("after %s", minutes(s.Elapsed))
}

// ProofOfEnd says whether the end could be earlier, in words.
func ProofOfEnd(s schedule.Plan) string {
	switch {
	case s.Proven:
		return "no order of these tasks ends earlier"
	case !s.Dated:
		return fmt.Sprintf("at most %s more than the shortest order", minutes(unit.Minutes(s.End.Sub(s.Bound.Time).Minutes())))
	}
	return fmt.Sprintf("no order ends before %s, which is %s earlier", s.Bound.DateFrom(s.Start), minutes(unit.Minutes(s.End.Sub(s.Bound.Time).Minutes())))
}

// holdUps names what the end waits for and what one thing more in the shop would bring.
func (b *book) holdUps(s schedule.Plan) {
	if stretches, critical := longestStretches(s); critical > 0 {
		b.Add(document.Paragraph{Text: document.Words("").Strong("What holds everything up: ").Plain(fmt.Sprintf("%d of %d tasks and waits, bold in the chart. If one of them is late, the end is late; the others have room. The longest stretches: %s.", critical, len(s.Tasks)-1, strings.Join(stretches, "; ")))})
	}
	var items []document.Text
	for _, c := range s.Changes {
		saved := fmt.Sprintf("%d hours", c.Hours)
		switch {
		case c.Days == 1:
			saved = "a day"
		case c.Days > 1:
			saved = fmt.Sprintf("%d days", c.Days)
		}
		proof := ""
		if c.Proven && s.Proven {
			proof = ", proven"
		}
		when := ""
		if s.Dated {
			when = ": done on " + c.End.DateFrom(s.Start)
		}
		items = append(items, document.Words("").Strong(upperFirst(c.What)).Plain(" would save "+saved+when+proof+"."))
	}
	if len(items) > 0 {
		b.Paragraph("What would end it earlier, each planned anew by itself:")
		b.Add(document.List{Items: items})
	}
}

// stretchesTold is how many of the longest stretches are told.
const stretchesTold = 5

// longestStretches names the critical tasks after which the next critical one begins latest, and counts all critical ones.
func longestStretches(s schedule.Plan) (told []string, critical int) {
	type stretch struct {
		what  string
		hours float64
	}
	var tasks []schedule.Task
	for _, t := range s.Tasks {
		if t.Critical {
			tasks = append(tasks, t)
		}
	}
	slices.SortStableFunc(tasks, func(a, b schedule.Task) int { return a.Start.Compare(b.Start.Time) })
	var all []stretch
	for i := 0; i+1 < len(tasks); i++ {
		all = append(all, stretch{tasks[i].Name, tasks[i+1].Start.Sub(tasks[i].Start.Time).Hours()})
	}
	slices.SortStableFunc(all, func(a, b stretch) int { return int(b.hours) - int(a.hours) })
	for _, x := range all[:min(len(all), stretchesTold)] {
		told = append(told, fmt.Sprintf("%s, %s", x.what, minutes(unit.Minutes(60*x.hours))))
	}
	return told, max(0, len(tasks)-1)
}

// measured compares what was noted at the bench with what was planned.
func (b *book) measured(s schedule.Plan) {
	if len(s.Measured) == 0 {
		return
	}
	t := document.NewTable(document.TextColumn("Work"), document.NumberColumn("Tasks"), document.NumberColumn("Planned"), document.NumberColumn("Took"), document.NumberColumn("Times as long"))
	t.Caption = "What was noted, beside what was planned"
	for _, m := range s.Measured {
		t.Row(upperFirst(string(m.Kind)), fmt.Sprint(m.Tasks), minutes(m.Planned), minutes(m.Actual), fmt.Sprintf("%.1f", float64(m.Actual/m.Planned)))
	}
	b.Add(*t)
}

// times prints the time model with the origin of every figure.
func (b *book) times() {
	t := document.NewTable(document.TextColumn("Work"), document.NumberColumn("Value"), document.TextColumn("Unit"), document.TextColumn("Origin"), document.TextColumn("Note"))
	t.Caption = fmt.Sprintf("Times of a practised maker, taken %.2g times for the pace of this shop; times measured here stand as they are", max(b.plan.Shop.Pace, 0.01))
	for _, x := range b.plan.Shop.Times {
		origin := x.Cite.String()
		if x.Measured {
			origin = "measured in this shop"
		}
		u := x.Unit
		if u == "" {
			u = "times"
		}
		t.Row(upperFirst(x.Work), strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", x.Value), "0"), "."), u, origin, upperFirst(x.Note))
	}
	b.Heading(2, "order-times", "Where the times are from")
	b.Add(*t)
	b.Paragraph("Joints, sanding, coats and closing have times of their own, by size; the factors stand here. Write down what a task really took: the next plan is better for it.")
}

// chartRows is the number of tasks on one time chart: more do not go on a page.
const chartRows = 38

// timeChart draws the tasks over the days, on as many charts as it takes, and what they take of people, places and clamps.
func (b *book) timeChart() {
	s := b.plan.Schedule
	day, marks := sessions(s)
	now, kinds := 0.0, []drawing.BarKind{drawing.WorkBar, drawing.ClampedBar, drawing.WaitBar}
	caption := "Hours of work are to scale, what lies between sessions is narrowed. The end waits for what is bold"
	if !s.Now.IsZero() {
		now = day(s.Now)
		kinds = append(kinds, drawing.DoneBar)
		caption += ". The heavy line is now"
	}
	number := 0
	for chunk := range slices.Chunk(timeRows(s, day), chartRows) {
		number++
		chart := drawing.Times{Title: fmt.Sprintf("Order of work, %d", number), Rows: chunk, Marks: marks, Now: now, Kinds: kinds}
		b.Figure(fmt.Sprintf("order-%d", number), drawing.TimeChart(chart, b.style()), caption)
	}
	var rows []drawing.TimeRow
	for _, u := range s.Use {
		if u.Capacity == 0 || len(u.Taken) == 0 {
			continue
		}
		row := drawing.TimeRow{Name: fmt.Sprintf("%s, %d", u.Name, u.Capacity), Strong: u.Most == u.Capacity}
		kind := drawing.WorkBar
		if u.Clamps {
			kind = drawing.ClampedBar
		}
		for _, t := range u.Taken {
			row.Bars = append(row.Bars, drawing.TimeBar{From: day(t.From), To: day(t.To), Kind: kind, Share: float64(t.Amount) / float64(u.Capacity)})
		}
		rows = append(rows, row)
	}
	if len(rows) > 0 {
		chart := drawing.Times{Title: "Hands, places and clamps", Rows: rows, Marks: marks, Now: now, Kinds: []drawing.BarKind{drawing.WorkBar, drawing.ClampedBar}}
		b.Figure("order-use", drawing.TimeChart(chart, b.style()), "How many are taken; a full bar is all of them, and what runs out is bold")
	}
}

// timeRows returns a row for each task, or for the same task of all copies. Taking clamps off stands in the row of the
// gluing, drying in that of the coat.
func timeRows(s schedule.Plan, day func(schedule.Local) float64) []drawing.TimeRow {
	var rows []drawing.TimeRow
	index := map[string]int{}
	rowOf := make([]int, len(s.Tasks))
	for i, t := range s.Tasks {
		var bars []drawing.TimeBar
		for _, span := range t.Sittings {
			kind := drawing.WorkBar
			if t.State == schedule.Done {
				kind = drawing.DoneBar
			}
			bars = append(bars, drawing.TimeBar{From: day(span.From), To: day(span.To), Kind: kind})
		}
		if t.Kind == schedule.Wait && t.End.After(t.Start.Time) {
			bars = append(bars, drawing.TimeBar{From: day(t.Start), To: day(t.End), Kind: drawing.WaitBar})
		}
		k, known := index[t.What]
		if into := belongsTo(s, i); into >= 0 {
			k, known = rowOf[into], true
			if t.Kind == schedule.Scrape {
				bars = append(bars, drawing.TimeBar{From: day(s.Tasks[into].End), To: day(t.Start), Kind: drawing.ClampedBar})
			}
		} else if s.Copies == 1 {
			known = false
		}
		if len(bars) == 0 {
			continue
		}
		if !known {
			k = len(rows)
			index[t.What] = k
			rows = append(rows, drawing.TimeRow{Name: shortened(t.What)})
		}
		rowOf[i] = k
		rows[k].Bars = append(rows[k].Bars, bars...)
		rows[k].Strong = rows[k].Strong || t.Critical
	}
	return rows
}

// belongsTo returns the task in whose row another is drawn; -1 where it has its own.
func belongsTo(s schedule.Plan, i int) int {
	t := s.Tasks[i]
	for _, l := range t.After {
		from := s.Tasks[l.Task]
		switch {
		case t.Kind == schedule.Scrape && from.Kind == schedule.Glue && from.GlueUp == t.GlueUp,
			t.Kind == schedule.Wait && t.ID != "cure" && (from.Kind == schedule.Coat || from.Kind == schedule.Sand) && strings.HasPrefix(t.What, "dries"):
			return l.Task
		}
	}
	return -1
}

const (
	// apart is the rest from which two sittings count as two sessions.
	apart = 3 * time.Hour
	// closedShare is the part of a time chart that the closed hours between sessions get, all together. Judgement.
	closedShare = 0.3
)

// sessions lays out the axis of a time chart: hours in which somebody works are drawn to scale, and what lies between two
// sessions, an evening or a week, is drawn equally narrow. It returns the place of a time and a mark at each session.
func sessions(s schedule.Plan) (place func(schedule.Local) float64, marks []drawing.TimeMark) {
	var spans []schedule.Span
	for _, t := range s.Tasks {
		spans = append(spans, t.Sittings...)
	}
	slices.SortFunc(spans, func(a, b schedule.Span) int { return a.From.Compare(b.From.Time) })
	var open []schedule.Span
	for _, x := range spans {
		if n := len(open); n > 0 && x.From.Sub(open[n-1].To.Time) < apart {
			if x.To.After(open[n-1].To.Time) {
				open[n-1].To = x.To
			}
			continue
		}
		open = append(open, x)
	}
	hours := 0.0
	for _, o := range open {
		hours += o.To.Sub(o.From.Time).Hours()
	}
	gap := closedShare / (1 - closedShare) * max(1, hours) / float64(max(1, len(open)))
	// Corners of the scale: times with their places.
	at, where := []schedule.Local{s.Start}, []float64{0}
	add := func(l schedule.Local, w float64) {
		if l.After(at[len(at)-1].Time) {
			at, where = append(at, l), append(where, where[len(where)-1]+w)
		}
	}
	for _, o := range open {
		add(o.From, gap)
		name := o.From.Format("2 Jan")
		if !s.Dated {
			name = fmt.Sprintf("week %d", int(o.From.Sub(s.Start.Time).Hours()/24)/7+1)
		}
		marks = append(marks, drawing.TimeMark{At: where[len(where)-1], Name: name})
		add(o.To, o.To.Sub(o.From.Time).Hours())
	}
	add(s.End, gap)
	marks = append(marks, drawing.TimeMark{At: where[len(where)-1]})
	return func(l schedule.Local) float64 {
		for i := 1; i < len(at); i++ {
			if !l.After(at[i].Time) {
				whole := at[i].Sub(at[i-1].Time).Hours()
				return where[i-1] + (where[i]-where[i-1])*max(0, l.Sub(at[i-1].Time).Hours())/whole
			}
		}
		return where[len(where)-1]
	}, marks
}

// longestTask is how many letters of a task's name a time chart shows.
const longestTask = 34

func shortened(name string) string {
	runes := []rune(name)
	if len(runes) <= longestTask {
		return name
	}
	return strings.TrimSpace(string(runes[:longestTask-1])) + "…"
}
