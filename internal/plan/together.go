package plan

import (
	"strings"

	"longgrain/internal/check/fit"
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
)

// StepWords says what one step of putting together does: "low rail left into leg front left, pushed to the front, 19 mm".
func (p Plan) StepWords(s fit.Step) string {
	text := p.partList(s.Moving) + " onto " + p.partList(s.Onto) + ", " + pushed(s.Direction)
	if s.Travel > 0 {
		text += " by " + unit.MM(s.Travel).Show(p.Family)
	}
	var closes []string
	for _, c := range s.Closes {
		closes = append(closes, p.Assembly.Connections[c].Name)
	}
	if len(s.Moving)+len(s.Onto) > 2 && len(closes) > 0 {
		text += ". Closes " + strings.Join(closes, "; ")
	}
	return text + "."
}

// partList names parts with their marks; of many, how many they are.
func (p Plan) partList(parts []int) string {
	const most = 4
	var names []string
	for _, i := range parts {
		part := p.Assembly.Parts[i]
		if len(parts) > most {
			names = append(names, part.Mark)
		} else {
			names = append(names, part.Name+" "+part.Mark)
		}
	}
	if len(parts) > most {
		return "what is together: " + strings.Join(names, ", ")
	}
	return assembly.Describe(names)
}

// pushed says which way something goes.
func pushed(d geom.Vec) string {
	words := []struct {
		toward geom.Vec
		word   string
	}{
		{geom.Vec{X: 1}, "pushed to the right"}, {geom.Vec{X: -1}, "pushed to the left"}, {geom.Vec{Y: 1}, "pushed to the back"},
		{geom.Vec{Y: -1}, "pushed to the front"}, {geom.Vec{Z: 1}, "pushed up"}, {geom.Vec{Z: -1}, "set down"},
	}
	best, most := "", -2.0
	for _, w := range words {
		if x := d.Dot(w.toward); x > most+1e-9 {
			best, most = w.word, x
		}
	}
	return best
}
