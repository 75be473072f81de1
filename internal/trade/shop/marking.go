package shop

import (
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
)

// MarkingFile is how exactly work is marked and bored in this shop: half widths of errors.
type MarkingFile struct {
	Line    unit.Measure `json:"line,omitempty" span:"0 mm..2 mm" jsonschema_description:"Half the width of a pencil or knife line"`
	Start   unit.Measure `json:"start,omitempty" span:"0 mm..3 mm" jsonschema_description:"How far off its mark a drill starts when it is set by eye"`
	Seat    unit.Measure `json:"seat,omitempty" span:"0 mm..2 mm" jsonschema_description:"How far off a part lies when it is laid against a fence or into a template"`
	Strip   unit.Measure `json:"strip,omitempty" span:"0 mm..2 mm" jsonschema_description:"How far off the strip that makes a set-back is in thickness"`
	Guide   unit.Measure `json:"guide,omitempty" span:"0 mm..2 mm" jsonschema_description:"Play of a drill in a template or guide"`
	Closing unit.Measure `json:"closing,omitempty" span:"0 mm..3 mm" jsonschema_description:"How far out of line parts are held while centre points are pressed in"`
	Points  unit.Measure `json:"points,omitempty" span:"0 mm..2 mm" jsonschema_description:"Play of centre points in their bores"`
	Wander  unit.Measure `json:"wander,omitempty" span:"0 mm..10 mm" jsonschema_description:"How far a bore runs out of square in 100 mm of depth"`
	Size    unit.Measure `json:"size,omitempty" span:"0 mm..3 mm" jsonschema_description:"How far off the width or thickness of a planed part is"`
	Play    unit.Measure `json:"play,omitempty" span:"0 mm..3 mm" jsonschema_description:"Misfit between two pins that a joint still closes over"`
}

// Marking is how exactly work is marked and bored: the half width of each error.
type Marking struct {
	Line    Tolerance `json:"line"`
	Start   Tolerance `json:"start"`
	Seat    Tolerance `json:"seat"`
	Strip   Tolerance `json:"strip"`
	Guide   Tolerance `json:"guide"`
	Closing Tolerance `json:"closing"`
	Points  Tolerance `json:"points"`
	Wander  Tolerance `json:"wander"` // in 100 mm of depth
	Size    Tolerance `json:"size"`
	Play    Tolerance `json:"play"` // what a joint closes over
}

// Tolerance is the half width of an error. The cite is empty when the shop file gives it.
type Tolerance struct {
	Value unit.Length `json:"value"`
	Given bool        `json:"given"` // by the shop file
	Cite  source.Cite `json:"cite"`
}

func (r *reader) marking() Marking {
	var f MarkingFile
	if r.file.Marking != nil {
		f = *r.file.Marking
	}
	tolerance := func(name string, given unit.Measure) Tolerance {
		path := "marking." + name
		t := Tolerance{Value: r.length(path, given), Given: r.given(path)}
		if !t.Given {
			t.Cite = r.defaults[len(r.defaults)-1].Cite
		}
		return t
	}
	return Marking{
		Line: tolerance("line", f.Line), Start: tolerance("start", f.Start), Seat: tolerance("seat", f.Seat), Strip: tolerance("strip", f.Strip),
		Guide: tolerance("guide", f.Guide), Closing: tolerance("closing", f.Closing), Points: tolerance("points", f.Points),
		Wander: tolerance("wander", f.Wander), Size: tolerance("size", f.Size), Play: tolerance("play", f.Play),
	}
}
