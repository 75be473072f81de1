package schedule

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/project"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/work/blank"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/glueup"
)

// prepare adds buying, acclimatising, cutting and milling.
func (b *builder) prepare() {
	cut := b.in.Cutting
	var after []int
	if len(cut.Buy) > 0 {
		after = []int{b.addTimed(Task{ID: "buy", What: "buy timber, hardware, glue and finish", Kind: Buy, Copies: b.all()}, unit.Minutes(b.in.Shop.Time("trip").Value))}
	}
	if days := b.in.GlueUps.Acclimatise; days > 0 && len(cut.Buy) > 0 {
		after = []int{b.addWait(Task{ID: "acclimatise", What: "timber takes on the air of the shop", Copies: b.all()}, unit.Minutes(24*60*days), nil, after...)}
	}
	cuts, rips := countCuts(b.in)
	sawing := b.rate("crosscut")*float64(cuts) + b.rate("rip")*float64(rips)
	b.dealLots()
	for _, lot := range b.lots {
		ready := after
		if cuts+rips > 0 {
			ready = []int{b.add(Task{ID: "cut", What: "cut the boards to rough sizes", Kind: Cut, Machine: true, Copies: lot}, b.rate("saw")+sawing*float64(len(lot))/float64(b.made), after...)}
		}
		for i, g := range cut.Groups {
			if cut.Ways[i].Pieces > 0 {
				t := Task{ID: fmt.Sprintf("mill-%d", i+1), What: b.millingName(i), Kind: Mill, Machine: true, Copies: lot, Parts: g.Parts}
				b.done(lot, g.Parts, b.add(t, b.milling(i)*float64(len(lot)), ready...))
			}
		}
	}
	if b.in.Finish.TestPiece != "" && len(after) > 0 {
		b.testPiece(after)
	}
}

// milling returns the minutes of milling a group of parts of one piece.
func (b *builder) milling(group int) float64 {
	g, w := b.in.Cutting.Groups[group], b.in.Cutting.Ways[group]
	area := 2 * float64(unit.Area(w.Length, w.Width)+unit.Area(w.Length, w.Planed))
	minutes := float64(len(g.Parts)*w.Pieces) * (b.rate("mill") + b.rate("plane")*area)
	if !b.in.Shop.Has("planer") {
		minutes *= b.in.Shop.Time("by hand").Value
	}
	return minutes
}

func (b *builder) millingName(group int) string {
	g, w := b.in.Cutting.Groups[group], b.in.Cutting.Ways[group]
	marked := glueup.Marked(b.in.Assembly, g.Parts)
	what := map[blank.Build]string{blank.Laminated: "strips", blank.Panel: "staves"}[w.Build]
	if what == "" {
		return "mill " + marked
	}
	return fmt.Sprintf("mill the %d %s of %s", len(g.Parts)*w.Pieces, what, marked)
}

// testPiece tries the finish on an offcut; its waits are over before colour or coat goes on the piece.
func (b *builder) testPiece(after []int) {
	var waits unit.Minutes
	for _, s := range b.in.Finish.Steps {
		if s.Action != coating.Wait {
			waits += s.Wait + s.Soak
		}
	}
	n := b.add(Task{ID: "test", What: "start the test piece: the whole finish on an offcut, step by step", Kind: Coat, Bench: true, Cautions: cautions(b.in.Finish.Steps...)}, b.rate("test"), after...)
	b.tasks[n].split = true
	b.tested = b.addWait(Task{ID: "test-dries", What: "the test piece dries step by step"}, waits, nil, n)
}

func countCuts(in Input) (cross, rip int) {
	for _, board := range in.Cutting.Boards {
		for _, c := range board.Cuts {
			if c.Rip {
				rip++
			} else {
				cross++
			}
		}
	}
	return cross, rip
}

// glue adds laminations and panels with their planing, the joints and the dry fit. Frames and the assembly come after
// the first steps of the finish.
func (b *builder) glue() {
	for _, g := range b.in.GlueUps.GlueUps {
		if g.Kind == glueup.Lamination || g.Kind == glueup.Panel {
			for i := range g.Runs {
				if run := b.run(g, i); len(run) > 0 {
					b.machineAfter(g, run, b.glueUp(g, i))
				}
			}
		}
	}
	for _, c := range b.all() {
		b.joints(c)
	}
}

// machineAfter adds the planing of a lamination, or of a panel that is whole.
func (b *builder) machineAfter(g glueup.GlueUp, run []int, off int) {
	parts := indices(g.Parts)
	b.done(run, parts, off)
	for _, later := range b.in.GlueUps.GlueUps {
		if later.Kind == glueup.Panel && slices.Contains(later.After, g.Number) {
			return // a group of staves that is joined to others first
		}
	}
	wait := max(0, slots(g.MachineAfter-g.ClampTime))
	minutes := b.rate("square") * float64(len(parts)*len(run))
	if g.Kind == glueup.Panel {
		minutes = 0
		for _, p := range parts {
			minutes += b.rate("flatten") * float64(unit.Area(b.in.Assembly.Parts[p].Length, b.in.Assembly.Parts[p].Width))
		}
	}
	t := Task{ID: fmt.Sprintf("plane-%d", g.Number), What: "plane and cut to size " + glueup.Marked(b.in.Assembly, parts), Kind: Plane, Bench: true, Copies: run, Parts: parts}
	n := b.add(t, minutes)
	b.link(link{from: off, to: n, min: wait, why: "the glue is at full strength"})
	b.done(run, parts, n)
}

func indices(parts []glueup.Part) []int {
	out := make([]int, len(parts))
	for i, p := range parts {
		out[i] = p.Index
	}
	return out
}

// run returns the copies of a go, as far as they are planned one by one.
func (b *builder) run(g glueup.GlueUp, number int) []int {
	return slices.DeleteFunc(slices.Clone(g.Runs[number]), func(c int) bool { return c > b.copies })
}

// glueUp adds one go of a glue-up and taking its clamps off, with the clamps held in between, and returns the second task. Scraping
// while the glue is rubbery is a limit; it belongs to taking the clamps off when both can be done at once.
func (b *builder) glueUp(g glueup.GlueUp, number int) int {
	run, parts, with := b.run(g, number), indices(g.Parts), g.ForRun(number)
	t := Task{ID: fmt.Sprintf("glue-%d", g.Number), What: g.Name, Kind: Glue, Bench: true, GlueUp: g.Number, Clamps: with.Clamps, People: 1, Copies: run, Parts: parts, Joints: g.Connections}
	if g.Kind == glueup.Panel || g.Kind == glueup.Assembly {
		t.People = 2
	}
	on := b.add(t, b.rate("prepare")+b.rate("freshen")*float64(g.Lines)+b.rate("close")*float64(with.Closing), b.readyAll(run, parts)...)
	t = Task{ID: fmt.Sprintf("off-%d", g.Number), What: "clamps off and scrape: " + strings.TrimPrefix(g.Name, "glue "), Kind: Scrape, Bench: true, GlueUp: g.Number, Copies: run, Parts: parts, Joints: g.Connections}
	count := 0
	for _, c := range with.Clamps {
		count += c.Count
	}
	off := b.add(t, b.rate("off")*float64(count)+b.rate("scrape")*float64(g.Lines))
	l := link{from: on, to: off, min: slots(g.ClampTime), why: "clamp time"}
	if low, high := slots(g.Scrape.Low), int(g.Scrape.High/Slot); g.Scrape.High > 0 && high >= l.min {
		l.min, l.max, l.limited, l.why = max(l.min, low), high, true, "squeeze-out is scraped while rubbery"
	}
	b.limited(l, "the squeeze-out will be hard when the clamps come off: scrape it with a sharp scraper, or glue on a day with a longer session")
	for _, c := range with.Clamps {
		b.holds = append(b.holds, hold{b.clampRow[c.Row], c.Count, on, off})
	}
	return off
}

// limited adds a lag with a limit that is dropped, as a finding, when no sessions of the shop can keep it.
func (b *builder) limited(l link, advice string) {
	from, to := b.tasks[l.from], b.tasks[l.to]
	if l.limited && b.longest > 0 && !reachable(b.in.Shop.Calendar, min(from.slots, b.longest), min(to.slots, b.longest), l.min, l.max) {
		b.find(from.What, fmt.Sprintf("no sessions of the shop leave between %.0f and %.0f min until \"%s\": %s", float64(l.min)*float64(Slot), float64(l.max)*float64(Slot), to.What, l.why), advice)
		l.limited = false
	}
	b.link(l)
}

// joints adds the cutting of each group of joints alike of a copy, and the dry fit of everything that is glued.
func (b *builder) joints(piece int) {
	a, run := b.in.Assembly, []int{piece}
	ready := b.ready[piece-1]
	groups := map[int][]int{}
	var order []int
	for i, c := range a.Connections {
		if b.in.Joints[i] == nil {
			continue
		}
		if groups[c.Group] == nil {
			order = append(order, c.Group)
		}
		groups[c.Group] = append(groups[c.Group], i)
	}
	cut := make([][]int, len(a.Parts))
	fitted, count := []int{}, 0
	for number, k := range order {
		minutes, entering, both := 0.0, []int{}, []int{}
		for _, i := range groups[k] {
			c := a.Connections[i]
			minutes += b.rate("joints") * float64(b.in.Joints[i].Minutes)
			if !slices.Contains(entering, c.A.Part) {
				entering = append(entering, c.A.Part)
			}
			both = append(both, c.A.Part, c.B.Part)
			if c.Purpose == assembly.Joint {
				count++
			}
		}
		name := fmt.Sprintf("cut the joints of %s: mark and cut %d, %s", glueup.Marked(a, entering), len(groups[k]), b.in.Joints[groups[k][0]].Kind)
		n := b.add(Task{ID: fmt.Sprintf("joints-%d", number+1), What: name, Kind: Joints, Bench: true, Copies: run, Parts: each(both), Joints: groups[k]}, minutes, b.readyAll(run, both)...)
		for _, p := range both {
			if !slices.Contains(cut[p], n) {
				cut[p] = append(cut[p], n)
			}
			if !slices.Contains(fitted, p) {
				fitted = append(fitted, p)
			}
		}
	}
	for p := range cut {
		if len(cut[p]) > 0 {
			ready[p] = cut[p]
		}
	}
	if count > 0 {
		slices.Sort(fitted)
		n := b.add(Task{ID: "fit", What: "dry fit with all clamps, timed", Kind: Fit, Bench: true, Copies: run, Parts: slices.Clone(fitted)}, b.rate("fit all")+b.rate("fit")*float64(count), b.readyAll(run, fitted)...)
		b.done(run, fitted, n)
	}
}

// each returns every index once, in rising order.
func each(indices []int) []int {
	out := slices.Clone(indices)
	slices.Sort(out)
	return slices.Compact(out)
}

// finish adds the steps of the finish for every copy, with frames and assembly after those that come before it, what
// follows, and the end that waits for all.
func (b *builder) finish() {
	var ends []int
	for _, c := range b.all() {
		ends = append(ends, b.finishPiece(c)...)
	}
	b.push(task{Task: Task{ID: "finished", What: "finished", Kind: Finished, Copies: b.all()}, calendar: project.AnyTime}, ends)
	b.tasks[len(b.tasks)-1].Name = "finished"
}

func (b *builder) finishPiece(piece int) (ends []int) {
	run, ready := []int{piece}, b.ready[piece-1]
	steps := b.in.Finish.Steps
	split := slices.IndexFunc(steps, func(s finishing.Step) bool { return !s.Before })
	if split < 0 {
		split = len(steps)
	}
	last := b.steps(run, steps[:split], b.readyAll(run, b.allParts()))
	if len(last) > 0 {
		for p := range ready {
			ready[p] = last
		}
	}
	for _, g := range b.in.GlueUps.GlueUps {
		if g.Kind == glueup.Frame || g.Kind == glueup.Assembly {
			off := b.glueUp(g, slices.IndexFunc(g.Runs, func(r []int) bool { return slices.Contains(r, piece) }))
			for p := range ready {
				if b.joinedBy(g, p) {
					ready[p] = []int{off}
				}
			}
		}
	}
	b.screw(run)
	var cure []finishing.Step
	after := steps[split:]
	if n := len(after); n > 0 && after[n-1].Action == coating.Wait {
		cure, after = after[n-1:], after[:n-1]
	}
	end := b.steps(run, after, b.readyAll(run, b.allParts()))
	if len(end) == 0 {
		end = b.readyAll(run, b.allParts())
	}
	ends = slices.Clone(end)
	if n := b.fixTop(run, end); n >= 0 {
		ends = append(ends, n)
	}
	for _, c := range cure {
		ends = append(ends, b.addWait(Task{ID: "cure", What: "cures; no load and no children before", Copies: run}, c.Wait, nil, end...))
	}
	return ends
}

// screw adds putting together the joints that hold without glue, once everything glued is out of the clamps.
func (b *builder) screw(run []int) {
	count, parts, joints := 0, []int{}, []int{}
	for _, i := range b.in.GlueUps.Loose {
		c := b.in.Assembly.Connections[i]
		if c.Purpose != assembly.Joint {
			continue
		}
		count++
		joints = append(joints, i)
		for _, p := range []int{c.A.Part, c.B.Part} {
			if !slices.Contains(parts, p) {
				parts = append(parts, p)
			}
		}
	}
	if count == 0 {
		return
	}
	slices.Sort(parts)
	t := Task{ID: "screw", What: fmt.Sprintf("screw together %s", glueup.Marked(b.in.Assembly, parts)), Kind: Screw, Bench: true, People: 2, Copies: run, Parts: parts, Joints: joints}
	b.done(run, parts, b.add(t, b.rate("screw")*float64(count), b.readyAll(run, parts)...))
}

// joinedBy tells whether a part is in the body that a glue-up closes: one of its parts, or glued to one before.
func (b *builder) joinedBy(g glueup.GlueUp, part int) bool {
	if slices.ContainsFunc(g.Parts, func(p glueup.Part) bool { return p.Index == part }) {
		return true
	}
	for _, n := range g.After {
		before := b.in.GlueUps.GlueUps[n-1]
		if (before.Kind == glueup.Frame || before.Kind == glueup.Assembly) && b.joinedBy(before, part) {
			return true
		}
	}
	return false
}

// steps adds steps of the finish one after the other and returns the tasks that the next work waits for. Sandings that
// follow each other are one task, putting oil on and rubbing it dry another; the wait after a step takes a drying place.
func (b *builder) steps(run []int, steps []finishing.Step, after []int) []int {
	masked := false
	for i := 0; i < len(steps); i++ {
		s := steps[i]
		if s.Action == coating.Wait {
			after = []int{b.addWait(Task{ID: fmt.Sprintf("wait-%d", s.Number), What: "wait", Copies: run}, s.Wait, nil, after...)}
			continue
		}
		t := Task{ID: fmt.Sprintf("step-%d", s.Number), What: describe(s), Kind: Coat, Bench: true, Steps: []int{s.Number}, Copies: run}
		minutes, soak := b.stepMinutes(s), s.Soak
		final := s
		for i+1 < len(steps) && joinsWith(steps[i], steps[i+1]) {
			i++
			final = steps[i]
			t.Steps = append(t.Steps, final.Number)
			minutes += b.stepMinutes(final)
			t.What += map[bool]string{true: ", then " + final.Grit, false: ", rub dry"}[s.Action == coating.Sand]
		}
		if s.Action == coating.Sand {
			t.Kind = Sand
		}
		if s.Product != "" && s.Before && !masked && len(b.in.Finish.Masks) > 0 {
			masked = true
			mask := Task{ID: "mask", What: fmt.Sprintf("mask the %d glue surfaces", len(b.in.Finish.Masks)), Kind: Mask, Bench: true, Copies: run}
			after = []int{b.add(mask, b.rate("mask")*float64(len(b.in.Finish.Masks)), after...)}
		}
		after = b.step(t, minutes, soak, s, final, after)
	}
	return after
}

// stepMinutes is the work of a step on one piece, by a practised maker.
func (b *builder) stepMinutes(s finishing.Step) float64 {
	if s.Action == coating.Sand {
		return b.rate("sand") * float64(s.Work)
	}
	return b.rate("coat") * float64(s.Work)
}

// step adds the task of one step or of several that are done in one go, its rags and its wait.
func (b *builder) step(t Task, minutes float64, soak unit.Minutes, s, final finishing.Step, after []int) []int {
	t.Cautions = cautions(s, final)
	n := b.addTimed(t, unit.Minutes(minutes*max(1, b.pace()))+soak)
	for _, from := range after {
		b.within(from, n, s)
	}
	if s.Product != "" && b.tested > 0 {
		b.link(link{from: b.tested, to: n, why: "the test piece comes first"})
	}
	if final.Rags || s.Rags {
		rags := Task{ID: fmt.Sprintf("rags-%d", s.Number), What: "oily rags: hang out one by one outdoors, or into the can of water", Kind: Rags, Copies: t.Copies, Cautions: t.Cautions}
		r := b.addTimed(rags, unit.Minutes(b.in.Shop.Time("rags").Value))
		b.link(link{from: n, to: r, limited: true, why: "rags heat up by themselves"})
		b.leaveTime(n, r)
	}
	if final.Wait == 0 {
		return []int{n}
	}
	dry := b.addWait(Task{ID: fmt.Sprintf("dry-%d", s.Number), What: "dries: " + t.What, Copies: t.Copies}, final.Wait, []project.Need{{Resource: dryingPlaces, Amount: 1}})
	b.link(link{from: n, to: dry, limited: true})
	b.waitOf[dry] = n + 1
	return []int{dry}
}

// cautions are what must be said of vapours and rags in the session in which a product is in hand.
func cautions(steps ...finishing.Step) []string {
	var out []string
	for _, s := range steps {
		for _, h := range s.Hazards {
			if h.ID != "solvent" && !strings.HasPrefix(h.ID, "rags") {
				continue
			}
			text := h.Control
			if h.Stop != "" {
				text += " " + h.Stop
			}
			if !slices.Contains(out, text) {
				out = append(out, text)
			}
		}
	}
	return out
}

// leaveTime shortens a coat that would leave its session no time for the rags, and says so.
func (b *builder) leaveTime(coat, rags int) {
	x := &b.tasks[coat]
	room := b.longest - b.tasks[rags].slots
	if b.longest == 0 || x.slots <= room || room < 1 {
		return
	}
	b.find(x.What, fmt.Sprintf("it takes about %.0f min, and no session leaves that and time for the rags", float64(x.Work)), "work in two portions on two days, or make the session longer; planned as if it fitted")
	x.slots = room
}

// within links a step to what it follows. A limit counts from the end of the step before, whether a wait lies between or
// not; where the sessions of the shop cannot keep it, only the order stays.
func (b *builder) within(from, to int, s finishing.Step) {
	l := link{from: from, to: to}
	before, wait := from, 0
	if w := b.waitOf[from]; w > 0 {
		before, wait = w-1, b.tasks[from].slots
	}
	if s.Within == 0 || b.longest == 0 || b.tasks[before].Kind != Coat && b.tasks[before].Kind != Sand {
		b.link(l)
		return
	}
	whole := int(s.Within / Slot)
	l.max, l.limited, l.why = whole-wait, true, "the step before must not be too old"
	if !reachable(b.in.Shop.Calendar, min(b.tasks[before].slots, b.longest), min(b.tasks[to].slots, b.longest), wait, whole) {
		b.find(b.tasks[to].What, fmt.Sprintf("it should follow \"%s\" within %.0f h, and no sessions of the shop lie so", b.tasks[before].What, float64(s.Within)/60),
			"do it as soon as the shop is open; roughen a coat that has grown hard, wet raised grain again lightly")
		l.limited = false
	}
	b.link(l)
}

// joinsWith tells whether a step is done in one go with the one before it.
func joinsWith(before, s finishing.Step) bool {
	if before.Wait > 0 || before.Before != s.Before {
		return false
	}
	return before.Action == coating.Sand && s.Action == coating.Sand || s.Action == coating.Rub
}

// describe names a step in words.
func describe(s finishing.Step) string {
	switch s.Action {
	case coating.Sand:
		return "sand " + s.Grit
	case coating.RaiseGrain:
		return "raise the grain with a wet sponge"
	case coating.Colour, coating.Condition, coating.Seal:
		return "put on " + s.Product
	case coating.OilIn:
		return "put on " + s.Product
	case coating.Coat:
		return "brush on " + s.Product
	}
	return string(s.Action) + " " + s.Product
}

// fixTop adds fastening the top and everything else that is held without glue; -1 when nothing is.
func (b *builder) fixTop(run, after []int) int {
	minutes := 0.0
	var tops, joints []int
	for i, c := range b.in.Assembly.Connections {
		if c.Purpose != assembly.TopFastening {
			continue
		}
		joints = append(joints, i)
		top, own := c.B.Part, unit.Minutes(-1)
		for _, h := range b.in.Held {
			if h.Connection == i && h.Way != fasten.Buttons && h.Way != fasten.SlottedScrews {
				top, _ = b.in.Assembly.PartNamed(h.Top)
				own = h.Minutes
			}
		}
		if !slices.Contains(tops, top) {
			tops = append(tops, top)
		}
		if own >= 0 {
			minutes += float64(own)
			continue
		}
		if j := b.in.Joints[i]; j != nil {
			minutes += b.rate("fasten") * float64(j.Sizes.Count)
			continue
		}
		minutes += b.rate("fasten") * float64(fastenings(c))
	}
	if len(tops) == 0 {
		return -1
	}
	return b.add(Task{ID: "top", What: "fasten " + glueup.Marked(b.in.Assembly, tops), Kind: FixTop, Bench: true, Copies: run, Parts: tops, Joints: joints}, minutes, after...)
}

// spacing is the distance between the fastenings of a top.
var spacing = hardware.Fastenings()[0].Spacing

// fastenings returns how many fastenings hold a contact: one for each spacing begun.
func fastenings(c assembly.Connection) int {
	long := max(c.A.Area.SizeU(), c.A.Area.SizeV())
	return int((long + spacing - 1) / spacing)
}
