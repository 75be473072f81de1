// Package template draws paper templates at full size: the ends and the places on long sides where joints are bored or cut, to be
// cut out, laid on the reference face, edge and end, and pricked through; and the sides of tapered parts, to be drawn round.
//
// In go an assembly and its mark-out, out come scenes at 1:1, one millimetre for one millimetre, each no larger than a sheet where it
// can be: several small templates share one. Larger ones are shared among sheets by package pdf, which adds the marks to join
// them and the bars to check the print. Every place on a template is the marked one, as on the mark-out sheets; nothing is decided
// here. Templates that are the same on paper are drawn once, with the names of all parts that they are for.
//
// Not covered: dovetails, whose slope needs a template of the face and of the end together, and slanted bores, of which only the
// middle of the mouth is marked.
package template

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/work/markout"
)

// Room is what one sheet of paper leaves for templates, mm.
type Room struct{ Width, Height float64 }

// Sheet is a drawing to be printed at full size: one template, or several small ones beside each other.
type Sheet struct {
	ID      string
	Caption string
	Scene   scene.Scene
}

// single is one template.
type single struct {
	names []string // what it is for: "B1 left end"
	marks []string // of the parts
	what  []string // what is to be done with it, a line each
	draws scene.Scene
}

// Sizes on paper, mm.
const (
	lettering = 3.0
	lineStep  = 4.6
	between   = 9.0 // free paper between templates, for the scissors
	outside   = 1.4 // how far outside the outline the heavy line of a reference lies
)

// Make returns the templates of a piece, small ones first.
func Make(a assembly.Assembly, m markout.Markout, room Room) []Sheet {
	var small, large []single
	seen := map[string]int{}
	var all []single
	for _, v := range views(a, m) {
		key := v.key()
		if k, known := seen[key]; known {
			all[k].names, all[k].marks = append(all[k].names, v.name(a)), append(all[k].marks, v.part.Mark)
			continue
		}
		seen[key] = len(all)
		all = append(all, single{names: []string{v.name(a)}, marks: []string{v.part.Mark}, what: v.instructions(a), draws: v.draw()})
	}
	for _, t := range all {
		t.label()
		if w, h := t.draws.Size(); w <= room.Width && h <= room.Height {
			small = append(small, t)
		} else {
			large = append(large, t)
		}
	}
	out := pack(small, room)
	for _, t := range large {
		out = append(out, Sheet{Caption: captionOf(t.marks), Scene: t.draws})
	}
	for i := range out {
		out[i].ID = fmt.Sprintf("template-%d", i+1)
		out[i].Scene.ID, out[i].Scene.Title, out[i].Scene.Ratio = out[i].ID, "Template: "+out[i].Caption, scene.Full
	}
	return out
}

// label writes below a template what it is for.
func (t *single) label() {
	b := t.draws.Bounds()
	y := b.Min.Y - lineStep
	put := func(text string, w scene.Weight) {
		t.draws.Add(scene.Text{Style: scene.Words, At: scene.Point{X: b.Min.X, Y: y}, Text: text, Height: lettering, Weight: w})
		y -= lineStep
	}
	const perLine = 2
	for line := range slices.Chunk(t.names, perLine) {
		put(strings.Join(line, ", "), scene.Bold)
	}
	for _, w := range t.what {
		put(w, scene.Regular)
	}
}

// pack puts templates on as few sheets as rows of equal beginnings take, the tallest first.
func pack(all []single, room Room) []Sheet {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	height := func(i int) float64 { _, h := all[i].draws.Size(); return h }
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(height(y), height(x)) })
	var out []Sheet
	var marks []string
	x, top, row := 0.0, 0.0, 0.0 // where the next one goes; the height of the row that it goes into
	for _, i := range order {
		w, h := all[i].draws.Size()
		if x > 0 && x+w > room.Width {
			x, top = 0, top-row-between
			row = 0
		}
		if len(out) == 0 || -top+h > room.Height {
			out, marks = append(out, Sheet{}), nil
			x, top, row = 0, 0, 0
		}
		b := all[i].draws.Bounds()
		s := &out[len(out)-1]
		s.Scene.Add(all[i].draws.Moved(1, scene.Point{X: x - b.Min.X, Y: top - b.Max.Y})...)
		x, row = x+w+between, max(row, h)
		marks = append(marks, all[i].marks...)
		s.Caption = captionOf(marks)
	}
	return out
}

// captionOf names the parts that a sheet is for, the first of many.
func captionOf(marks []string) string {
	const most = 12
	marks = slices.Clone(marks)
	slices.Sort(marks)
	marks = slices.Compact(marks)
	if len(marks) > most {
		return fmt.Sprintf("for %s and %d more parts", strings.Join(marks[:most], " "), len(marks)-most)
	}
	return "for " + strings.Join(marks, " ")
}

// count writes "3 × Ø10, 33.5 deep" for the cuts of each size, in order of first use.
func counts(marks []markout.Mark, f unit.Family) []string {
	var order []string
	n := map[string]int{}
	for _, m := range marks {
		size := m.Size(f)
		if n[size] == 0 {
			order = append(order, size)
		}
		n[size]++
	}
	for i, size := range order {
		if n[size] > 1 {
			order[i] = fmt.Sprintf("%d × %s", n[size], size)
		}
	}
	return order
}
