package schedule

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
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
		after = []int{b.addTimed(Task{Name: "buy timber, hardware, glue and finish", Kind: Buy}, unit.Minutes(rate("trip")))}
	}
	if days := b.in.GlueUps.Acclimatise; days > 0 && len(cut.Buy) > 0 {
		after = []int{b.addWait("timber takes on the air of the shop", unit.Minutes(24*60*days), nil, after...)}
	}
	if cuts, rips := countCuts(b.in); cuts+rips > 0 {
		after = []int{b.add(Task{Name: "cut the boards to rough sizes", Kind: Cut, Machine: true}, rate("saw")+rate("crosscut")*float64(cuts)+rate("rip")*float64(rips), after...)}
	}
	for i, g := range cut.Groups {
		w := cut.Ways[i]
		if w.Pieces == 0 {
			continue
		}
		pieces := len(g.Parts) * w.Pieces
		area := 2 * float64(unit.Area(w.Length, w.Width)+unit.Area(w.Length, w.Planed))
		minutes := float64(pieces) * (rate("mill") + rate("plane")*area)
		if !b.in.Shop.Has("planer") {
			minutes *= rate("by hand")
		}
		what := map[blank.Build]string{blank.OneBoard: "pieces", blank.Laminated: "strips", blank.Panel: "staves"}[w.Build]
		name := fmt.Sprintf("mill the %d %s of %s", pieces, what, glueup.Marked(b.in.Assembly, g.Parts))
		if w.Build == blank.OneBoard || w.Build == blank.Ready {
			name = "mill " + glueup.Marked(b.in.Assembly, g.Parts)
		}
		b.done(g.Parts, b.add(Task{Name: name, Kind: Mill, Machine: true}, minutes, after...))
	}
	if b.in.Finish.TestPiece != "" && len(after) > 0 {
		b.testPiece(after)
	}
}

// testPiece tries the finish on an offcut; its waits are over before colour or coat goes on the piece.
func (b *builder) testPiece(after []int) {
	var waits unit.Minutes
	for _, s := range b.in.Finish.Steps {
		if s.Action != coating.Wait {
			waits += s.Wait + s.Soak
		}
	}
	n := b.add(Task{Name: "start the test piece: the whole finish on an offcut, step by step", Kind: Coat, Bench: true}, rate("test"), after...)
	b.tasks[n].split = true
	b.tested = b.addWait("the test piece dries step by step", waits, nil, n)
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
			off := b.glueUp(g)
			b.machineAfter(g, off)
		}
	}
	b.joints()
}

// machineAfter adds the planing of a lamination, or of a panel that is whole.
func (b *builder) machineAfter(g glueup.GlueUp, off int) {
	parts := indices(g.Parts)
	b.done(parts, off)
	for _, later := range b.in.GlueUps.GlueUps {
		if later.Kind == glueup.Panel && slices.Contains(later.After, g.Number) {
			return // a group of staves that is joined to others first
		}
	}
	wait := max(0, slots(g.MachineAfter-g.ClampTime))
	t, minutes := Task{Name: "plane and cut to size " + glueup.Marked(b.in.Assembly, parts), Kind: Plane, Bench: true}, rate("square")*float64(len(parts))
	if g.Kind == glueup.Panel {
		minutes = 0
		for _, p := range parts {
			minutes += rate("flatten") * float64(unit.Area(b.in.Assembly.Parts[p].Length, b.in.Assembly.Parts[p].Width))
		}
	}
	n := b.add(t, minutes)
	b.link(link{from: off, to: n, min: wait, why: "the glue is at full strength"})
	b.done(parts, n)
}

func indices(parts []glueup.Part) []int {
	out := make([]int, len(parts))
	for i, p := range parts {
		out[i] = p.Index
	}
	return out
}

// glueUp adds a glue-up and taking its clamps off, with the clamps held in between, and returns the second task. Scraping
// while the glue is rubbery is a limit; it belongs to taking the clamps off when both can be done at once.
func (b *builder) glueUp(g glueup.GlueUp) int {
	parts := indices(g.Parts)
	t := Task{Name: g.Name, Kind: Glue, Bench: true, GlueUp: g.Number, Clamps: g.Clamps, People: 1}
	if g.Kind == glueup.Panel || g.Kind == glueup.Assembly {
		t.People = 2
	}
	on := b.add(t, rate("prepare")+rate("freshen")*float64(g.Lines)+float64(g.Closing), b.readyAll(parts)...)
	off := b.add(Task{Name: "clamps off and scrape: " + strings.TrimPrefix(g.Name, "glue "), Kind: Scrape, Bench: true, GlueUp: g.Number},
		rate("off")*float64(g.ClampCount())+rate("scrape")*float64(g.Lines))
	l := link{from: on, to: off, min: slots(g.ClampTime), why: "clamp time"}
	if low, high := slots(g.Scrape.Low), int(g.Scrape.High/Slot); g.Scrape.High > 0 && high >= l.min {
		l.min, l.max, l.limited, l.why = max(l.min, low), high, true, "squeeze-out is scraped while rubbery"
	}
	b.limited(l, "the squeeze-out will be hard when the clamps come off: scrape it with a sharp scraper, or glue on a day with a longer session")
	for _, c := range g.Clamps {
		b.holds = append(b.holds, hold{b.clampRow[c.Row], c.Count, on, off})
	}
	return off
}

// limited adds a lag with a limit that is dropped, as a finding, when no sessions of the shop can keep it.
func (b *builder) limited(l link, advice string) {
	from, to := b.tasks[l.from], b.tasks[l.to]
	if l.limited && b.longest > 0 && !reachable(b.in.Shop.Calendar, min(from.slots, b.longest), min(to.slots, b.longest), l.min, l.max) {
		b.find(from.Name, fmt.Sprintf("no sessions of the shop leave between %.0f and %.0f min until \"%s\": %s", float64(l.min)*float64(Slot), float64(l.max)*float64(Slot), to.Name, l.why), advice)
		l.limited = false
	}
	b.link(l)
}

// joints adds the cutting of each group of joints alike, and the dry fit of everything that is glued.
func (b *builder) joints() {
	a := b.in.Assembly
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
	for _, k := range order {
		minutes, entering, both := 0.0, []int{}, []int{}
		for _, i := range groups[k] {
			c := a.Connections[i]
			minutes += float64(b.in.Joints[i].Minutes)
			if !slices.Contains(entering, c.A.Part) {
				entering = append(entering, c.A.Part)
			}
			both = append(both, c.A.Part, c.B.Part)
			if c.Purpose == assembly.Joint {
				count++
			}
		}
		name := fmt.Sprintf("mark and cut the %d joints of %s: %s", len(groups[k]), glueup.Marked(a, entering), b.in.Joints[groups[k][0]].Kind)
		n := b.add(Task{Name: name, Kind: Joints, Bench: true}, minutes, b.readyAll(both)...)
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
			b.ready[p] = cut[p]
		}
	}
	if count > 0 {
		slices.Sort(fitted)
		n := b.add(Task{Name: "dry fit with all clamps, timed", Kind: Fit, Bench: true}, rate("fit all")+rate("fit")*float64(count), b.readyAll(fitted)...)
		b.done(fitted, n)
	}
}

// finish adds the steps of the finish, with frames and assembly after those that come before it, and what follows.
func (b *builder) finish() {
	steps := b.in.Finish.Steps
	split := slices.IndexFunc(steps, func(s finishing.Step) bool { return !s.Before })
	if split < 0 {
		split = len(steps)
	}
	last := b.steps(steps[:split], b.readyAll(b.allParts()))
	if len(last) > 0 {
		for p := range b.ready {
			b.ready[p] = last
		}
	}
	for _, g := range b.in.GlueUps.GlueUps {
		if g.Kind == glueup.Frame || g.Kind == glueup.Assembly {
			off := b.glueUp(g)
			for p := range b.ready {
				if b.joinedBy(g, p) {
					b.ready[p] = []int{off}
				}
			}
		}
	}
	b.screw()
	var cure []finishing.Step
	after := steps[split:]
	if n := len(after); n > 0 && after[n-1].Action == coating.Wait {
		cure, after = after[n-1:], after[:n-1]
	}
	end := b.steps(after, b.readyAll(b.allParts()))
	if len(end) == 0 {
		end = b.readyAll(b.allParts())
	}
	ends := slices.Clone(end)
	if n := b.fixTop(end); n >= 0 {
		ends = append(ends, n)
	}
	for _, c := range cure {
		ends = append(ends, b.addWait("cures; no load and no children before", c.Wait, nil, end...))
	}
	b.push(task{Task: Task{Name: "finished", Kind: Finished}, calendar: project.AnyTime}, ends)
}

// screw adds putting together the joints that hold without glue, once everything glued is out of the clamps.
func (b *builder) screw() {
	count, parts := 0, []int{}
	for _, i := range b.in.GlueUps.Loose {
		c := b.in.Assembly.Connections[i]
		if c.Purpose != assembly.Joint {
			continue
		}
		count++
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
	n := b.add(Task{Name: fmt.Sprintf("screw together %s", glueup.Marked(b.in.Assembly, parts)), Kind: Screw, Bench: true, People: 2}, rate("screw")*float64(count), b.readyAll(parts)...)
	b.done(parts, n)
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
func (b *builder) steps(steps []finishing.Step, after []int) []int {
	masked := false
	for i := 0; i < len(steps); i++ {
		s := steps[i]
		if s.Action == coating.Wait {
			after = []int{b.addWait("wait", s.Wait, nil, after...)}
			continue
		}
		t := Task{Name: describe(s), Kind: Coat, Bench: true, Steps: []int{s.Number}}
		minutes, soak := float64(s.Work), s.Soak
		final := s
		for i+1 < len(steps) && joinsWith(steps[i], steps[i+1]) {
			i++
			final = steps[i]
			t.Steps = append(t.Steps, final.Number)
			minutes += float64(final.Work)
			t.Name += map[bool]string{true: ", then " + final.Grit, false: ", rub dry"}[s.Action == coating.Sand]
		}
		if s.Action == coating.Sand {
			t.Kind = Sand
		}
		if s.Product != "" && s.Before && !masked && len(b.in.Finish.Masks) > 0 {
			masked = true
			after = []int{b.add(Task{Name: fmt.Sprintf("mask the %d glue surfaces", len(b.in.Finish.Masks)), Kind: Mask, Bench: true}, rate("mask")*float64(len(b.in.Finish.Masks)), after...)}
		}
		after = b.step(t, minutes, soak, s, final, after)
	}
	return after
}

// step adds the task of one step or of several that are done in one go, its rags and its wait.
func (b *builder) step(t Task, minutes float64, soak unit.Minutes, s, final finishing.Step, after []int) []int {
	pace := unit.Minutes(max(1, b.in.Shop.Pace))
	n := b.addTimed(t, unit.Minutes(minutes)*pace+soak)
	for _, from := range after {
		b.within(from, n, s)
	}
	if s.Product != "" && b.tested > 0 {
		b.link(link{from: b.tested, to: n, why: "the test piece comes first"})
	}
	if final.Rags || s.Rags {
		rags := b.addTimed(Task{Name: "oily rags: hang out one by one outdoors, or into the can of water", Kind: Rags}, unit.Minutes(rate("rags")))
		b.link(link{from: n, to: rags, limited: true, why: "rags heat up by themselves"})
		b.leaveTime(n, rags)
	}
	if final.Wait == 0 {
		return []int{n}
	}
	dry := b.addWait("dries: "+t.Name, final.Wait, []project.Need{{Resource: dryingPlaces, Amount: 1}})
	b.link(link{from: n, to: dry, limited: true})
	b.waitOf[dry] = n + 1
	return []int{dry}
}

// leaveTime shortens a coat that would leave its session no time for the rags, and says so.
func (b *builder) leaveTime(coat, rags int) {
	x := &b.tasks[coat]
	room := b.longest - b.tasks[rags].slots
	if b.longest == 0 || x.slots <= room || room < 1 {
		return
	}
	b.find(x.Name, fmt.Sprintf("it takes about %.0f min, and no session leaves that and time for the rags", float64(x.Work)), "work in two portions on two days, or make the session longer; planned as if it fitted")
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
		b.find(b.tasks[to].Name, fmt.Sprintf("it should follow \"%s\" within %.0f h, and no sessions of the shop lie so", b.tasks[before].Name, float64(s.Within)/60),
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
func (b *builder) fixTop(after []int) int {
	minutes := 0.0
	var tops []int
	for i, c := range b.in.Assembly.Connections {
		if c.Purpose != assembly.TopFastening {
			continue
		}
		if !slices.Contains(tops, c.B.Part) {
			tops = append(tops, c.B.Part)
		}
		if j := b.in.Joints[i]; j != nil {
			minutes += rate("fasten") * float64(j.Sizes.Count)
			continue
		}
		minutes += rate("fasten") * float64(fastenings(c))
	}
	if len(tops) == 0 {
		return -1
	}
	return b.add(Task{Name: "fasten " + glueup.Marked(b.in.Assembly, tops), Kind: FixTop, Bench: true}, minutes, after...)
}

// spacing is the distance between the fastenings of a top.
var spacing = hardware.Fastenings()[0].Spacing

// fastenings returns how many fastenings hold a contact: one for each spacing begun.
func fastenings(c assembly.Connection) int {
	long := max(c.A.Area.SizeU(), c.A.Area.SizeV())
	return int((long + spacing - 1) / spacing)
}
