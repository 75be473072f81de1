package schedule

import (
	"slices"

	"longgrain/internal/solve/project"
)

// indexLimits gathers the limits that begin at each task.
func (b *builder) indexLimits() {
	b.limits = make([][]link, len(b.tasks))
	for _, l := range b.links {
		if l.limited {
			b.limits[l.from] = append(b.limits[l.from], l)
		}
	}
}

// layOut works out once when each task is worked on and how much of each resource is taken in every slot.
func (b *builder) layOut(answer project.Solution, k clock) {
	b.indexLimits()
	b.spans = make([][]project.Window, len(b.tasks))
	b.taken = make([][]int, len(b.capacity))
	for r := range b.taken {
		b.taken[r] = make([]int, k.days*slotsADay+1)
	}
	for i, t := range b.tasks {
		b.spans[i] = b.sittings(i, answer.Start[i], answer.End[i], k)
		for _, n := range t.needs {
			for _, w := range b.spans[i] {
				for slot := w.First; slot < w.End; slot++ {
					b.taken[n.Resource][slot] += n.Amount
				}
			}
		}
	}
	for _, h := range b.holds {
		for slot := answer.Start[h.from]; slot < answer.End[h.to]; slot++ {
			b.taken[h.resource][slot] += h.amount
		}
	}
}

// longestDay is the longest stretch that is believed to have been worked without a break, in slots. Judgement.
const longestDay = 12 * 60 / int(Slot)

// sittings returns the stretches in which a task is worked on.
func (b *builder) sittings(i, start, end int, k clock) []project.Window {
	windows := k.open.Windows
	switch t := b.tasks[i]; {
	case t.calendar == yardHours:
		windows = k.yard.Windows
	case t.fixed && t.Kind != Wait && end-start > longestDay:
		// Done over more than a day: nobody noted the breaks, so the hours of the shop are taken.
	case t.calendar == project.AnyTime:
		windows = []project.Window{{First: start, End: end}}
	}
	var out []project.Window
	for _, w := range windows {
		if w.First >= end {
			break
		}
		if from, to := max(start, w.First), min(end, w.End); from < to {
			out = append(out, project.Window{First: from, End: to})
		}
	}
	return out
}

// use returns how much of each resource is taken over time.
func (b *builder) use(k clock) []Use {
	var out []Use
	for r, res := range b.capacity {
		u := Use{Name: res.Name, Capacity: res.Capacity, Clamps: r > dryingPlaces}
		from := 0
		for slot := 1; slot < len(b.taken[r]); slot++ {
			if amount := b.taken[r][from]; b.taken[r][slot] != amount {
				if amount > 0 {
					u.Taken = append(u.Taken, Taken{Span{k.at(from), k.at(slot)}, amount})
					u.Most = max(u.Most, amount)
				}
				from = slot
			}
		}
		out = append(out, u)
	}
	return out
}

// critical marks the tasks that the end waits for: backwards from the end, every task whose end or whose wait fixes the
// start of a marked one, and, where no lag does, those whose people, bench or clamps it had to wait for.
func (b *builder) critical(answer project.Solution, k clock) []bool {
	marked := make([]bool, len(b.tasks))
	stack := []int{len(b.tasks) - 1}
	marked[len(b.tasks)-1] = true
	mark := func(i int) {
		if !marked[i] {
			marked[i] = true
			stack = append(stack, i)
		}
	}
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		held := false
		for _, l := range b.links {
			if l.to == i && !l.fromStart && b.firstStart(i, answer.End[l.from]+l.min, k) == answer.Start[i] {
				mark(l.from)
				held = true
			}
		}
		if held {
			continue
		}
		for j := range b.tasks {
			if j != i && answer.End[j] <= answer.Start[i] && b.firstStart(i, answer.End[j], k) == answer.Start[i] && b.gives(j, i, answer) {
				mark(j)
			}
		}
	}
	return marked
}

// firstStart returns the first start of a task at or after a slot that its calendar allows and that leaves the tasks tied
// to it by a limit a start in time; -1 when there is none.
func (b *builder) firstStart(i, from int, k clock) int {
	for {
		start, end := b.fits(i, from, k)
		if start < 0 || b.leavesRoom(i, end, k) {
			return start
		}
		from = start + 1
	}
}

// leavesRoom tells whether the tasks that must follow a task within a limit find a start when it ends at a slot.
func (b *builder) leavesRoom(i, end int, k clock) bool {
	for _, l := range b.limits[i] {
		if b.tasks[l.to].calendar == project.AnyTime {
			continue
		}
		if start, _ := b.fits(l.to, end+l.min, k); start < 0 || start > end+l.max {
			return false
		}
	}
	return true
}

// fits returns the first start at or after a slot that the calendar of a task allows, and the end that belongs to it; -1
// when there is none.
func (b *builder) fits(i, from int, k clock) (start, end int) {
	t := b.tasks[i]
	windows := k.open.Windows
	switch t.calendar {
	case project.AnyTime:
		return from, from + t.slots
	case yardHours:
		windows = k.yard.Windows
	}
	start, left := -1, t.slots
	begin, _ := slices.BinarySearchFunc(windows, from, func(w project.Window, at int) int { return w.End - at })
	for _, w := range windows[begin:] {
		first := max(from, w.First)
		switch {
		case first >= w.End:
		case first+left <= w.End:
			if start < 0 {
				start = first
			}
			return start, first + left
		case t.split:
			if start < 0 {
				start = first
			}
			left -= w.End - first
		}
	}
	return -1, -1
}

// gives tells whether a task gives back, when it ends, what another had too little of until then.
func (b *builder) gives(j, i int, answer project.Solution) bool {
	slot := answer.End[j] - 1
	if slot < 0 {
		return false
	}
	for _, mine := range b.takes(i) {
		given := 0
		for _, n := range b.tasks[j].needs {
			if n.Resource == mine.Resource && slices.ContainsFunc(b.spans[j], func(w project.Window) bool { return w.First <= slot && slot < w.End }) {
				given += n.Amount
			}
		}
		for _, h := range b.holds {
			if h.resource == mine.Resource && h.to == j && answer.Start[h.from] <= slot {
				given += h.amount
			}
		}
		if given > 0 && b.taken[mine.Resource][slot]+mine.Amount > b.capacity[mine.Resource].Capacity {
			return true
		}
	}
	return false
}

// takes returns what a task takes when it starts.
func (b *builder) takes(i int) []project.Need {
	out := slices.Clone(b.tasks[i].needs)
	for _, h := range b.holds {
		if h.from == i {
			out = append(out, project.Need{Resource: h.resource, Amount: h.amount})
		}
	}
	return out
}
