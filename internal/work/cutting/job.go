package cutting

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/blank"
)

// job is everything to be cut from timber of one kind and of thicknesses from low to high.
type job struct {
	kind      blank.Kind
	low, high unit.Length
	members   []member
	items     []item
	wanted    string // condition of the wood that the pieces are reckoned with, the best of them
}

// member is a group of parts with its way.
type member struct{ group, way int }

// key names a job: the same groups got in the same ways.
func (j job) key() string {
	var b strings.Builder
	for _, m := range j.members {
		fmt.Fprintf(&b, "%d:%d ", m.group, m.way)
	}
	return b.String()
}

// item is a rough piece that is needed a number of times.
type item struct {
	length, width unit.Length
	whole         bool
	pieces        []piece
}

// piece is one copy of an item: a strip, a stave, a part; or several that are milled in one length.
type piece struct {
	labels []label
	each   unit.Length // of each label
}

type label struct{ mark, part string }

// run names the part that pieces belong to together: A1 of "A1 strip 2". Pieces milled in one length stand for themselves.
func (p piece) run() string {
	mark, _, _ := strings.Cut(p.labels[0].mark, " ")
	return mark
}

// add puts the pieces of a group on the list; pieces of equal size are one item.
func (j *job) add(a assembly.Assembly, g blank.Group, w blank.Way, copies int, kerf unit.Length) {
	var labels []label
	word := map[blank.Build]string{blank.Laminated: "strip", blank.Panel: "stave"}[w.Build]
	for c := range copies {
		for _, index := range g.Parts {
			part := a.Parts[index]
			for n := range w.Pieces {
				mark := part.Mark
				if copies > 1 {
					mark = fmt.Sprintf("%d.%s", c+1, mark)
				}
				if word != "" {
					mark += fmt.Sprintf(" %s %d", word, n+1)
				}
				labels = append(labels, label{mark, part.Name})
			}
		}
	}
	for len(labels) > 0 {
		n, length := w.Gang(len(labels), kerf)
		k := slices.IndexFunc(j.items, func(x item) bool { return x.length == length && x.width == w.Width })
		if k < 0 {
			k = len(j.items)
			j.items = append(j.items, item{length: length, width: w.Width, whole: w.Whole})
		}
		j.items[k].pieces = append(j.items[k].pieces, piece{labels[:n], w.Length})
		labels = labels[n:]
	}
}

// want notes the condition of the wood that a part is reckoned with.
func (j *job) want(c string) {
	have, now := slices.Index(wood.Conditions, j.wanted), slices.Index(wood.Conditions, c)
	if now >= 0 && (have < 0 || now < have) {
		j.wanted = c
	}
}

// jobs sorts the groups with chosen ways into jobs: one for each kind of timber, and more where no thickness of it serves all.
// A group whose way is below 0 is left out.
func (d *decision) jobs(chosen []int) []job {
	var out []job
	type placed struct {
		kind int
		member
	}
	var all []placed
	for g, w := range chosen {
		if w >= 0 {
			all = append(all, placed{d.kindOf[g][w], member{g, w}})
		}
	}
	way := func(m member) blank.Way { return d.ways[m.group][m.way] }
	slices.SortStableFunc(all, func(a, b placed) int {
		return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(way(a.member).Stock, way(b.member).Stock))
	})
	kind := -1
	for _, x := range all {
		w := way(x.member)
		last := len(out) - 1
		if x.kind != kind || w.Stock > out[last].high {
			kind = x.kind
			out = append(out, job{kind: d.kinds[kind], low: w.Stock, high: w.Thickest})
			last++
		}
		j := &out[last]
		j.low, j.high = max(j.low, w.Stock), min(j.high, w.Thickest)
		j.members = append(j.members, x.member)
	}
	for i := range out {
		slices.SortFunc(out[i].members, func(a, b member) int { return cmp.Compare(a.group, b.group) })
		for _, m := range out[i].members {
			out[i].want(d.assembly.Parts[d.groups[m.group].Parts[0]].Condition)
			out[i].add(d.assembly, d.groups[m.group], way(m), d.copies, d.shop.Habits.Kerf)
		}
	}
	return out
}

// oneWidth tells whether the job is one of crosscutting only: every piece takes the whole width of boards of one width.
func (j job) oneWidth(available []stock) (unit.Length, bool) {
	width := j.items[0].width
	for _, x := range j.items {
		if !x.whole || x.width != width {
			return 0, false
		}
	}
	return width, slices.ContainsFunc(available, func(st stock) bool { return st.board.Width == width && len(st.bad) == 0 })
}

// noTimber says why a part cannot be got from the shop's timber.
func noTimber(g blank.Group, s shop.Shop) Finding {
	show := func(l unit.Length) string { return l.Show(s.Family) }
	f := Finding{Where: g.Name,
		What:   fmt.Sprintf("no timber gives the %s: it needs %s × %s × %s finished, %s × %s off the saw", g.Name, show(g.Length), show(g.Width), show(g.Thick), show(g.Length+s.Habits.LengthAllowance), show(g.Width+s.Habits.WidthAllowance)),
		Advice: "add thicker or wider timber of that species to the shop's timber list, or change the size"}
	var thick, wide unit.Length
	for _, k := range blank.Kinds(s, g.Species) {
		thick = max(thick, k.High)
	}
	for _, t := range s.Timber {
		if t.Species == g.Species {
			wide = max(wide, t.Width)
		}
	}
	for _, b := range slices.Concat(s.Boards, s.Offcuts) {
		if b.Species == g.Species {
			wide = max(wide, b.Width)
		}
	}
	if thick > 0 {
		f.What += fmt.Sprintf("; the thickest timber is %s, the widest board %s", show(thick), show(wide))
	} else {
		f.What += "; the shop has no timber of that species"
	}
	if g.Build != "" {
		f.Advice = fmt.Sprintf("the description asks for %s; leave build: out, or add timber that allows it", g.Build)
	}
	return f
}

// misfits reports the items that no board can hold: with the rough size and the largest board.
func (j job) misfits(s shop.Shop) []Finding {
	var out []Finding
	show := func(l unit.Length) string { return l.Show(s.Family) }
	var all []Board
	for _, b := range slices.Concat(s.Offcuts, s.Boards) {
		if j.takes(b.Species, b.Thickness, b.Rough, b.Panel) {
			all = append(all, Board{Length: b.Length, Width: b.Width, Panel: b.Panel})
		}
	}
	for _, t := range s.Timber {
		for _, piece := range t.Pieces {
			if j.takes(t.Species, t.Thickness, t.Rough, t.Panel) {
				all = append(all, Board{Length: piece.Length, Width: t.Width, Panel: t.Panel})
			}
		}
	}
	for _, x := range j.items {
		if slices.ContainsFunc(all, func(b Board) bool { return j.holds(b, x, s) }) {
			continue
		}
		part := x.pieces[0].labels[0].part
		f := Finding{Where: part, Advice: "buy wider timber, or change the size"}
		f.What = fmt.Sprintf("%s needs a rough piece of %s × %s, and no board of %s timber holds it", part, show(x.length), show(x.width), show(j.low))
		if len(all) > 0 {
			big := slices.MaxFunc(all, func(a, b Board) int { return cmp.Or(cmp.Compare(a.Length, b.Length), cmp.Compare(a.Width, b.Width)) })
			f.What += fmt.Sprintf("; the longest is %s × %s, less %s at each end", show(big.Length), show(big.Width), show(trim(big, s)))
			if big.Length-2*trim(big, s) < x.length {
				f.Advice = "buy longer timber, or scarf two pieces where the joint carries nothing; or change the size"
			}
		}
		out = append(out, f)
	}
	return out
}
