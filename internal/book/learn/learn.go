// Package learn opens the figures of a plan to their working: one lesson for each question that a maker asks, with inputs to be
// changed, the picture that explains the answer, a curve of the answer over the input that matters most, and the steps with
// their sources.
//
// A lesson uses the formulas that the plan uses and adds none of its own; what it leaves out, such as scatter and the calibration by
// the shop's own tests, is said in the lesson. Inputs outside their range are put on its border.
package learn

import (
	"math"

	"longgrain/internal/ground/working"
	"longgrain/internal/paper/scene"
)

// Input is a quantity that a reader changes.
type Input struct {
	Name    string
	Title   string
	Unit    string
	Min     float64
	Max     float64
	Step    float64
	Default float64
}

// Lesson is a question with what may be changed about it.
type Lesson struct {
	ID     string
	Title  string
	About  string // why it matters, in a sentence or two
	Inputs []Input
}

// Answer is what a lesson says for some values.
type Answer struct {
	Values  map[string]float64 // as they were used
	Says    string             // the answer in a sentence
	Picture scene.Scene        // what explains it
	Curve   scene.Scene        // the answer over the input that matters most
	Working working.Working
}

type lesson struct {
	Lesson
	make func(v map[string]float64) Answer
}

var lessons = []lesson{dowelLesson, pairLesson, grainLesson, yearLesson, shelfLesson, clampLesson}

// Lessons returns all lessons in the order in which to offer them.
func Lessons() []Lesson {
	out := make([]Lesson, len(lessons))
	for i, l := range lessons {
		out[i] = l.Lesson
	}
	return out
}

// Make works a lesson out. Missing values are the defaults, those out of range the nearest in it; false when there is no such lesson.
func Make(id string, values map[string]float64) (Answer, bool) {
	for _, l := range lessons {
		if l.ID != id {
			continue
		}
		v := map[string]float64{}
		for _, in := range l.Inputs {
			x, given := values[in.Name]
			if !given || math.IsNaN(x) {
				x = in.Default
			}
			v[in.Name] = math.Min(in.Max, math.Max(in.Min, x))
		}
		a := l.make(v)
		a.Values = v
		return a, true
	}
	return Answer{}, false
}

// Sizes of the pictures of lessons, paper mm.
const (
	pictureWide = 150.0
	pictureHigh = 62.0
	letter      = 2.6
)

func label(s *scene.Scene, at scene.Point, text string, align scene.Align) {
	s.Add(scene.Text{Style: scene.Words, At: at, Text: text, Height: letter, Align: align})
}

// measure draws a dimension between two points, its text beside the middle.
func measure(s *scene.Scene, from, to scene.Point, text string) {
	middle := scene.Point{X: (from.X + to.X) / 2, Y: (from.Y + to.Y) / 2}
	s.Arrow(scene.Dimension, middle, from)
	s.Arrow(scene.Dimension, middle, to)
	t := scene.Text{Style: scene.Dimension, At: middle.Plus(0, 1), Text: text, Height: letter, Align: scene.Middle, Backed: true}
	if math.Abs(from.X-to.X) < math.Abs(from.Y-to.Y) {
		t.At, t.Align, t.Rise = middle.Plus(1.5, 0), scene.Left, scene.MidHeight
	}
	s.Add(t)
}
