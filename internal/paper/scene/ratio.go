package scene

import (
	"strconv"
)

// Ratio is the scale of a drawing: Paper millimetres stand for Model millimetres. The zero value
// means that the drawing is not to scale.
type Ratio struct{ Paper, Model float64 }

// MetricRatios are the scales for metric drawings, the largest first: those of ISO 5455 (from memory)
// with 1:2.5 and 1:4 between, which are common practice where 1:2 is too large and 1:5 too small.
var MetricRatios = []Ratio{{10, 1}, {5, 1}, {2, 1}, {1, 1}, {1, 2}, {1, 2.5}, {1, 4}, {1, 5}, {1, 10}, {1, 20}, {1, 50}, {1, 100}}

// InchRatios are the scales for drawings in inches, the largest first, each a whole division of a
// rule (common practice: 3 inches to the foot is 1:4).
var InchRatios = []Ratio{{4, 1}, {2, 1}, {1, 1}, {1, 2}, {1, 4}, {1, 8}, {1, 12}, {1, 16}, {1, 24}, {1, 48}, {1, 96}}

// Full is the scale of a full-size drawing.
var Full = Ratio{1, 1}

// String returns the ratio as "1:5", or "" for the zero value.
func (r Ratio) String() string {
	if r == (Ratio{}) {
		return ""
	}
	return plain(r.Paper) + ":" + plain(r.Model)
}

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Factor returns paper millimetres per model millimetre; 1 for the zero value.
func (r Ratio) Factor() float64 {
	if r == (Ratio{}) {
		return 1
	}
	return r.Paper / r.Model
}

// FitRatio returns the largest of the ratios, which come largest first, at which a model of the given
// size fits into the frame; all four in millimetres. If none fits it returns the last and false.
// It panics on an empty list.
func FitRatio(width, height, frameWidth, frameHeight float64, ratios []Ratio) (Ratio, bool) {
	if len(ratios) == 0 {
		panic("scene: FitRatio without ratios")
	}
	for _, r := range ratios {
		if width*r.Factor() <= frameWidth && height*r.Factor() <= frameHeight {
			return r, true
		}
	}
	return ratios[len(ratios)-1], false
}

// View brings model millimetres to paper: the model's origin lies at Origin, scaled by Ratio.
type View struct {
	Ratio  Ratio
	Origin Point
}

// At returns where the model point x, y lies on paper.
func (v View) At(x, y float64) Point {
	k := v.Ratio.Factor()
	return Point{v.Origin.X + k*x, v.Origin.Y + k*y}
}

// Length returns how long a model length is on paper.
func (v View) Length(l float64) float64 { return v.Ratio.Factor() * l }
