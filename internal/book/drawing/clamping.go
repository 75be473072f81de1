package drawing

import (
	"fmt"

	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
)

// Clamping says where clamps stand along a glue line.
type Clamping struct {
	Title  string
	Length unit.Length   // of what is pressed
	At     []unit.Length // middles of the clamps from one end, rising
	Turns  bool          // by turns above and below, as on a panel
}

// The picture of what is pressed, paper mm: its height, how far the screws of the clamps stand off, and the room for a letter.
const (
	pressedHeight = 16.0
	screwLength   = 9.0
	turnHeight    = 2.5
)

// ClampDiagram draws what is pressed as a bar with a clamp at each place, numbered from the middle to the ends as they are set,
// and measured from one end. Not to scale across.
func ClampDiagram(c Clamping, st Style) scene.Scene {
	width, _ := st.frame()
	s := scene.New(c.Title)
	s.Description = fmt.Sprintf("Where %d clamps stand along %s, measured from the left end, with the order in which they are set.", len(c.At), c.Length.Show(st.Family))
	room := width - 12 // the figures beyond the ends
	x := func(l unit.Length) float64 { return room * float64(l) / float64(max(1, c.Length)) }
	s.Rectangle(scene.Outline, scene.PartFill, scene.Point{}, scene.Point{X: room, Y: pressedHeight})
	var stations []scene.Station
	for i, l := range c.At {
		s.Arrow(scene.Emphasis, scene.Point{X: x(l), Y: pressedHeight + screwLength}, scene.Point{X: x(l), Y: pressedHeight})
		s.Arrow(scene.Emphasis, scene.Point{X: x(l), Y: -screwLength}, scene.Point{X: x(l)})
		s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: x(l), Y: pressedHeight / 2}, Text: fmt.Sprint(setOrder(len(c.At))[i]), Height: scene.TitleHeight, Align: scene.Middle, Weight: scene.Bold})
		if c.Turns {
			word := "over"
			if i%2 == 1 {
				word = "under"
			}
			s.Add(scene.Text{Style: scene.Words, At: scene.Point{X: x(l), Y: pressedHeight + screwLength + 1}, Text: word, Height: turnHeight, Align: scene.Middle})
		}
		stations = append(stations, scene.Station{At: scene.Point{X: x(l), Y: -screwLength}, Label: st.show(l)})
	}
	stations = append(stations, scene.Station{At: scene.Point{X: room, Y: -screwLength}, Label: st.show(c.Length)})
	d := &scene.Dimensions{Height: Lettering}
	d.Running(scene.Below, scene.Point{Y: -screwLength}, stations...)
	d.Place(s)
	return *s
}

// setOrder numbers places from the middle to the ends: 4 2 1 3 5.
func setOrder(n int) []int {
	out := make([]int, n)
	low, high := (n-1)/2, (n-1)/2+1
	for next := 1; next <= n; {
		if low >= 0 {
			out[low] = next
			low, next = low-1, next+1
		}
		if high < n {
			out[high] = next
			high, next = high+1, next+1
		}
	}
	return out
}
