package project

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

// positiveCycle returns the lags of a cycle that no schedule can keep, in order, nil if there is none: the
// longest-path check over starts and ends with shortest and longest durations (Bellman and Ford).
func (net *network) positiveCycle() []arc {
	n := 2 * len(net.in.Tasks)
	arcs := append([]arc(nil), net.arcs...)
	for i := range net.in.Tasks {
		least, most, rests := net.shortest(i), 0, false
		for _, s := range net.shapes[i] {
			most = max(most, s.duration)
			rests = rests || s.endTable != nil
		}
		arcs = append(arcs, arc{startOf(i), endOf(i), least, -1})
		if !rests {
			arcs = append(arcs, arc{endOf(i), startOf(i), -most, -1})
		}
	}
	dist, parent := make([]int, n), make([]int, n)
	for round := 0; ; round++ {
		changed := -1
		for a, arc := range arcs {
			if d := dist[arc.from] + arc.weight; d > dist[arc.to] {
				dist[arc.to], parent[arc.to] = d, a
				changed = int(arc.to)
			}
		}
		if changed < 0 {
			return nil
		}
		if round < n {
			continue
		}
		node := changed
		for range n {
			node = int(arcs[parent[node]].from)
		}
		var cycle []arc
		for at := node; ; {
			a := arcs[parent[at]]
			cycle = append([]arc{a}, cycle...)
			if at = int(a.from); at == node {
				return cycle
			}
		}
	}
}
