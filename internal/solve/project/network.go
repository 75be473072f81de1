package project

// endpoint is the start or the end of a task: 2*task + 1 for the end.
type endpoint int32

func startOf(task int) endpoint   { return endpoint(2 * task) }
func endOf(task int) endpoint     { return endpoint(2*task + 1) }
func (e endpoint) task() int      { return int(e >> 1) }
func (e endpoint) isEnd() bool    { return e&1 == 1 }
func (e endpoint) flip() endpoint { return e ^ 1 }

// arc says to >= from + weight.
type arc struct {
	from, to endpoint
	weight   int
	lag      int // index in Instance.Lags
}

// network is an instance made ready for solving: the places of every mode and the lags as arcs.
type network struct {
	in     *Instance
	shapes [][]*shape // task, mode
	arcs   []arc
	out    [][]int32 // task -> arcs that leave its start or end
	into   [][]int32 // task -> arcs that reach its start or end
	plain  bool      // no maximum lags, no holds: whatever order is chosen, a task can wait
}

func newNetwork(in *Instance) *network {
	net := &network{in: in, plain: len(in.Holds) == 0}
	type key struct {
		calendar, duration int
		splittable         bool
	}
	known := map[key]*shape{}
	for _, t := range in.Tasks {
		var list []*shape
		for _, m := range t.Modes {
			k := key{t.Calendar, m.Duration, t.Splittable}
			if known[k] == nil {
				var windows []Window
				if t.Calendar != AnyTime {
					windows = in.Calendars[t.Calendar].Windows
				}
				known[k] = newShape(in.Horizon, m.Duration, windows, t.Calendar == AnyTime, t.Splittable)
			}
			list = append(list, known[k])
		}
		net.shapes = append(net.shapes, list)
		net.plain = net.plain && (t.Deadline == 0 || t.Deadline >= in.Horizon)
	}
	for i, l := range in.Lags {
		from := endOf(l.From)
		if l.FromStart {
			from = startOf(l.From)
		}
		net.arcs = append(net.arcs, arc{from, startOf(l.To), l.Min, i})
		net.plain = net.plain && !l.Limited && l.Min >= 0
		if l.Limited {
			net.arcs = append(net.arcs, arc{startOf(l.To), from, -l.Max, i})
		}
	}
	net.link()
	return net
}

// link fills the arc lists by task.
func (net *network) link() {
	n := len(net.in.Tasks)
	net.out, net.into = make([][]int32, n), make([][]int32, n)
	for a, arc := range net.arcs {
		net.out[arc.from.task()] = append(net.out[arc.from.task()], int32(a))
		net.into[arc.to.task()] = append(net.into[arc.to.task()], int32(a))
	}
}

// precedes reports whether an arc makes its head wait for its tail, so that the tail is best placed first.
func (net *network) precedes(a arc) bool {
	return a.from.task() != a.to.task() && !a.to.isEnd() && (a.weight >= 0 || (a.from.isEnd() && a.weight > -net.shortest(a.from.task())))
}

// shortest returns the least duration of a task over its modes.
func (net *network) shortest(task int) int {
	best := net.shapes[task][0].duration
	for _, s := range net.shapes[task] {
		best = min(best, s.duration)
	}
	return best
}

// mirror returns the instance with time running backwards: slot t becomes horizon - t, starts become ends.
// The mirrored lags keep their order only as arcs, so the result is a network, not an instance.
func (net *network) mirror() *network {
	in := *net.in
	h := in.Horizon
	in.Calendars = make([]Calendar, len(net.in.Calendars))
	for c, cal := range net.in.Calendars {
		for k := len(cal.Windows) - 1; k >= 0; k-- {
			if w := cal.Windows[k]; w.First < h {
				in.Calendars[c].Windows = append(in.Calendars[c].Windows, Window{h - min(w.End, h), h - w.First})
			}
		}
	}
	in.Tasks = make([]Task, len(net.in.Tasks))
	for i, t := range net.in.Tasks {
		in.Tasks[i] = t
		in.Tasks[i].Release = h - net.in.deadline(i)
		in.Tasks[i].Deadline = h - t.Release
	}
	in.Holds = make([]Hold, len(net.in.Holds))
	for k, hold := range net.in.Holds {
		in.Holds[k] = Hold{hold.Resource, hold.Amount, hold.To, hold.From}
	}
	in.Lags = nil
	m := newNetwork(&in)
	m.plain = net.plain
	for _, a := range net.arcs {
		m.arcs = append(m.arcs, arc{a.to.flip(), a.from.flip(), a.weight, a.lag})
	}
	m.link()
	return m
}

// quickest returns the shortest mode of every task among those whose needs fit the capacities.
func (net *network) quickest() []int {
	mode := make([]int, len(net.in.Tasks))
	for i, t := range net.in.Tasks {
		best := -1
		for k, m := range t.Modes {
			if net.in.fits(m) && (best < 0 || m.Duration < t.Modes[best].Duration) {
				best = k
			}
		}
		mode[i] = max(best, 0)
	}
	return mode
}

// fits reports whether a mode alone stays within all capacities.
func (in *Instance) fits(m Mode) bool { return in.tooMuch(m) < 0 }

// tooMuch returns a resource of which the mode alone needs more than there is, -1 if there is none.
func (in *Instance) tooMuch(m Mode) int {
	total := map[int]int{}
	for _, n := range m.Needs {
		if total[n.Resource] += n.Amount; total[n.Resource] > in.Resources[n.Resource].Capacity && m.Duration > 0 {
			return n.Resource
		}
	}
	return -1
}
