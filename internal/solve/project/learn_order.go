package project

// order decides what to branch on. An atom is the statement "start of task x is k or later" for one x and
// k; those that took part in recent dead ends have high activity and are decided first (VSIDS).
type order struct {
	increment float64
	activity  []float64 // atom
	base      []int32   // variable -> its first atom less the rank of its least value
	atomOf    []int32   // atom -> variable
	heap      []int32   // atoms, most active first
	inHeap    []int32   // atom -> place in heap + 1
	popped    []int32   // atoms taken out of the heap, in order
	poppedAt  []int32   // level -> how many were taken out before it
	guide     []int32   // variable -> its value in the best schedule, nil if none
	bySlot    bool      // ignore activity: place tasks by earliest start
	seen      []int32
}

// decay of activity after each dead end.
const activityDecay = 0.95

// tooActive bounds activities before they are scaled down.
const tooActive = 1e100

func (l *learner) initOrder() {
	l.increment = 1
	atoms := 0
	for x := range int32(len(l.shapes)) {
		l.base = append(l.base, int32(atoms-l.rank(x, l.min(x))))
		atoms += l.rank(x, l.max(x)) - l.rank(x, l.min(x)) + 1
	}
	l.activity, l.atomOf, l.inHeap = make([]float64, atoms), make([]int32, atoms), make([]int32, atoms)
	for x := range int32(len(l.shapes)) {
		for a := l.atom(x, l.min(x)); a <= l.atom(x, l.max(x)); a++ {
			l.atomOf[a] = x
		}
	}
}

// rank numbers the possible values of a variable; atom numbers all atoms.
func (l *learner) rank(x int32, value int) int {
	if s := l.shapes[x]; s != nil {
		return s.rank(value)
	}
	return value
}

func (l *learner) atom(x int32, value int) int32 { return l.base[x] + int32(l.rank(x, value)) }

// valueOf returns the value of an atom of x.
func (l *learner) valueOf(x, atom int32) int {
	rank := int(atom - l.base[x])
	if s := l.shapes[x]; s != nil {
		return s.nth(rank)
	}
	return rank
}

// bump raises the activity of the atom of p.
func (l *learner) bump(p literal) {
	x, k := p.v>>1, int(p.at)
	if p.v&1 == 1 {
		k = 1 - k
	}
	if s := l.shapes[x]; s != nil {
		if k = s.up(k); k > s.horizon {
			return
		}
	}
	atom := l.atom(x, k)
	if int(atom) >= len(l.activity) || atom < 0 || l.atomOf[atom] != x {
		return
	}
	l.activity[atom] += l.increment
	if l.activity[atom] > tooActive {
		for a := range l.activity {
			l.activity[a] /= tooActive
		}
		l.increment /= tooActive
	}
	if place := l.inHeap[atom]; place > 0 {
		l.siftUp(int(place - 1))
	} else {
		l.seen = append(l.seen, atom)
	}
}

// decayActivity makes later dead ends count more, and lets new atoms into the heap.
func (l *learner) decayActivity() {
	l.increment /= activityDecay
	for _, a := range l.seen {
		l.insert(a)
	}
	l.seen = l.seen[:0]
}

// mark notes the state of the heap before a new level.
func (l *learner) mark() { l.poppedAt = append(l.poppedAt, int32(len(l.popped))) }

// restore puts back the atoms taken out above a level.
func (l *learner) restore(level int) {
	from := l.poppedAt[level]
	for _, a := range l.popped[from:] {
		l.insert(a)
	}
	l.popped, l.poppedAt = l.popped[:from], l.poppedAt[:level]
}

// choose returns the next decision; ok is false if every variable has a value.
func (l *learner) choose() (p literal, ok bool) {
	for len(l.heap) > 0 && !l.bySlot {
		a := l.heap[0]
		x := l.atomOf[a]
		k := l.valueOf(x, a)
		l.pop()
		l.popped = append(l.popped, a)
		if l.min(x) < k && k <= l.max(x) {
			if l.guide != nil && int(l.guide[x]) >= k {
				return atLeast(x, k), true
			}
			return atMost(x, k-1), true
		}
	}
	best := int32(-1)
	for x := range int32(len(l.net.in.Tasks)) {
		if l.min(x) == l.max(x) {
			continue
		}
		if best < 0 || l.min(x) < l.min(best) || (l.min(x) == l.min(best) && l.max(x) < l.max(best)) {
			best = x
		}
	}
	if best < 0 {
		for x := int32(len(l.net.in.Tasks)); int(x) < len(l.shapes); x++ {
			if l.min(x) < l.max(x) {
				return atMost(x, l.min(x)), true
			}
		}
		return p, false
	}
	return atMost(best, l.min(best)), true
}

// above orders atoms by activity, then number.
func (l *learner) above(a, b int32) bool {
	if l.activity[a] != l.activity[b] {
		return l.activity[a] > l.activity[b]
	}
	return a < b
}

func (l *learner) insert(a int32) {
	if l.inHeap[a] > 0 {
		return
	}
	l.heap = append(l.heap, a)
	l.inHeap[a] = int32(len(l.heap))
	l.siftUp(len(l.heap) - 1)
}

func (l *learner) pop() {
	l.inHeap[l.heap[0]] = 0
	last := l.heap[len(l.heap)-1]
	l.heap = l.heap[:len(l.heap)-1]
	if len(l.heap) > 0 {
		l.heap[0] = last
		l.inHeap[last] = 1
		l.siftDown(0)
	}
}

func (l *learner) siftUp(k int) {
	a := l.heap[k]
	for k > 0 {
		up := (k - 1) / 2
		if !l.above(a, l.heap[up]) {
			break
		}
		l.heap[k] = l.heap[up]
		l.inHeap[l.heap[k]] = int32(k + 1)
		k = up
	}
	l.heap[k] = a
	l.inHeap[a] = int32(k + 1)
}

func (l *learner) siftDown(k int) {
	a := l.heap[k]
	for {
		child := 2*k + 1
		if child >= len(l.heap) {
			break
		}
		if child+1 < len(l.heap) && l.above(l.heap[child+1], l.heap[child]) {
			child++
		}
		if !l.above(l.heap[child], a) {
			break
		}
		l.heap[k] = l.heap[child]
		l.inHeap[l.heap[k]] = int32(k + 1)
		k = child
	}
	l.heap[k] = a
	l.inHeap[a] = int32(k + 1)
}
