package drawing

import (
	"fmt"
	"math"
	"slices"

	"longgrain/internal/check/fit"
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/paper/scene"
)

// Small pictures of the steps of an assembly.
const (
	stepColumns = 3
	stepHeight  = 44.0 // mm of paper for a picture
	stepNumber  = 3.6  // radius of the ring around the number of a step
	stepGap     = 5.0
)

// Together draws the steps of putting a piece together, from one step to another, as small pictures in rows: the parts that
// stay with light fill, those that come with dark fill, drawn back, and an arrow in the direction in which they are pushed. All
// pictures look from the front right and above and have one scale, which is not written.
func Together(a assembly.Assembly, o fit.Order, from, to int, st Style) scene.Scene {
	s := scene.New("Steps of the assembly of " + a.Name)
	s.ID = fmt.Sprintf("together-%d", from+1)
	s.Description = "Small pictures of the steps, each with its number: parts that come are dark and drawn back, an arrow shows the way that they are pushed."
	width, _ := st.frame()
	cell := (width - (stepColumns-1)*stepGap) / stepColumns
	k := stepScale(a, o, cell-2*stepNumber, stepHeight)
	for i := from; i < to; i++ {
		n := i - from
		at := scene.Point{X: float64(n%stepColumns) * (cell + stepGap), Y: -float64(n/stepColumns) * (stepHeight + stepGap)}
		s.Add(stepPicture(a, o.Steps[i], i+1, k, at, cell))
	}
	return *s
}

// StepsPerPicture is how many steps one picture of Together takes, so that it fits a page with its caption.
const StepsPerPicture = 4 * stepColumns

// drawnBack is how far parts that come are drawn back, as a share of the size of the whole step in that direction.
const drawnBack = 0.45

// DrawnBack returns how far the parts that come are drawn back in the picture of a step, mm: enough to see what goes where, and
// three times as far as anything holds them.
func DrawnBack(a assembly.Assembly, step fit.Step) float64 {
	reach := 0.0
	for _, i := range append(slices.Clone(step.Moving), step.Onto...) {
		b := a.Parts[i].Box()
		reach = max(reach, math.Abs(b.Support(step.Direction).Sub(b.Support(step.Direction.Neg())).Dot(step.Direction)))
	}
	return max(drawnBack*reach, 3*step.Travel)
}

// stepSolids returns the bodies of a step, those that come drawn back, and how far.
func stepSolids(a assembly.Assembly, step fit.Step) (all []solid, back geom.Vec) {
	back = step.Direction.Scale(-DrawnBack(a, step))
	for i := range a.Parts {
		coming := slices.Contains(step.Moving, i)
		if !coming && !slices.Contains(step.Onto, i) {
			continue
		}
		for _, b := range solids(a, i) {
			if coming {
				b = b.moved(back)
			}
			all = append(all, b)
		}
	}
	return all, back
}

// stepScale returns the paper mm per model mm at which all steps fit their cells.
func stepScale(a assembly.Assembly, o fit.Order, width, height float64) float64 {
	k := math.Inf(1)
	for _, step := range o.Steps {
		all, _ := stepSolids(a, step)
		b := shadow(all[0], isometric)
		for _, s := range all {
			b = b.Union(shadow(s, isometric))
		}
		k = min(k, width/b.Width(), height/b.Height())
	}
	return k
}

// stepPicture draws one step in a cell whose upper left corner is at.
func stepPicture(a assembly.Assembly, step fit.Step, number int, k float64, at scene.Point, width float64) scene.Group {
	all, back := stepSolids(a, step)
	b := shadow(all[0], isometric)
	for _, s := range all {
		b = b.Union(shadow(s, isometric))
	}
	middle := scene.Point{X: at.X + stepNumber + width/2, Y: at.Y - stepHeight/2}
	place := func(p scene.Point) scene.Point {
		return middle.Plus((p.X-(b.Min.X+b.Max.X)/2)*k, (p.Y-(b.Min.Y+b.Max.Y)/2)*k)
	}
	s := scene.New("")
	for _, i := range backToFront(all, isometric) {
		for _, f := range all[i].faces {
			if f.n.Dot(isometric.toward) <= 1e-9 {
				continue
			}
			fill := scene.PaperFill
			if slices.Contains(step.Moving, all[i].part) {
				fill = scene.PartFill2
			}
			var ring []scene.Point
			for _, v := range f.ring {
				ring = append(ring, place(isometric.onPaper(v)))
			}
			s.Add(scene.Polygon{Style: scene.NoLine, Fill: fill, Points: ring})
		}
	}
	for _, l := range strokes(all, isometric) {
		if !l.hidden {
			s.Line(scene.Detail, place(l.from), place(l.to))
		}
	}
	stepArrow(s, a, step, back, place)
	ring(s, at.Plus(stepNumber, -stepNumber), number)
	return scene.Group{ID: fmt.Sprintf("step-%d", number), Title: fmt.Sprintf("Step %d", number), Items: s.Items}
}

// stepArrow draws the way of the parts that come, beside them: from the middle of their near side as drawn to half way in.
func stepArrow(s *scene.Scene, a assembly.Assembly, step fit.Step, back geom.Vec, place func(scene.Point) scene.Point) {
	var sum geom.Vec
	for _, i := range step.Moving {
		sum = sum.Add(a.Parts[i].Box().Centre())
	}
	start := sum.Scale(1 / float64(len(step.Moving))).Add(back)
	front := math.Inf(-1)
	for _, i := range step.Moving {
		front = max(front, a.Parts[i].Box().Support(step.Direction).Add(back).Dot(step.Direction))
	}
	start = start.Add(step.Direction.Scale(front - start.Dot(step.Direction)))
	s.Arrow(scene.Outline, place(isometric.onPaper(start)), place(isometric.onPaper(start.Sub(back.Scale(0.6)))))
}
