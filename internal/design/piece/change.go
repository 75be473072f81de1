package piece

import (
	"fmt"
	"strconv"
	"strings"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// Change is something that the maker changes by hand in what a pattern or a copy makes: a part, or the joint between two.
// Package free carries it out.
type Change struct {
	Part    string   `json:"part,omitempty" jsonschema_description:"Name of the part to change, or a role for all parts with it"`
	Between []string `json:"between,omitempty" jsonschema_description:"Two parts or roles whose joint is changed"`

	Species   string       `json:"species,omitempty" jsonschema_description:"Species of the part"`
	Role      string       `json:"role,omitempty" jsonschema:"enum=leg,enum=apron,enum=rail,enum=stretcher,enum=top,enum=shelf,enum=seat,enum=side,enum=back,enum=tread,enum=cleat,enum=other" jsonschema_description:"What the part does"`
	Build     string       `json:"build,omitempty" jsonschema:"enum=one board,enum=laminated,enum=panel" jsonschema_description:"How it is got from timber"`
	Length    unit.Measure `json:"length,omitempty" span:"1 mm..6 m" jsonschema_description:"Along the grain, between shoulders"`
	Width     unit.Measure `json:"width,omitempty" span:"1 mm..2 m" jsonschema_description:"Across the grain"`
	Thickness unit.Measure `json:"thickness,omitempty" span:"1 mm..300 mm" jsonschema_description:"The smallest size"`
	// Stays is empty for the side that keeps what the part touches.
	Stays string          `json:"stays,omitempty" jsonschema:"enum=left,enum=right,enum=front,enum=back,enum=bottom,enum=top,enum=middle" jsonschema_description:"Which side stays where it is when a size changes"`
	Move  [3]unit.Measure `json:"move,omitempty" span:"-10 m..10 m" jsonschema_description:"How far it moves: right, back, up"`
	Out   bool            `json:"out,omitempty" jsonschema_description:"Left out, with its connections"`

	Joint *Joint `json:"joint,omitempty" jsonschema_description:"The joint between the two"`
}

// Sizes returns the changed length, width and thickness; zero where it stays.
func (c Change) Sizes() [3]unit.Measure { return [3]unit.Measure{c.Length, c.Width, c.Thickness} }

// ofPart tells whether the change says anything that only a part can have.
func (c Change) ofPart() bool {
	return c.Species != "" || c.Role != "" || c.Build != "" || c.Stays != "" || c.Sizes() != [3]unit.Measure{} || c.Move != [3]unit.Measure{}
}

// checkChanges reports changes that name nothing or say nothing.
func (p *Piece) checkChanges(report func(code problem.Code, path, what, mend string)) {
	for i, c := range p.Changes {
		path := fmt.Sprintf("changes[%d]", i)
		switch named := len(c.Between) > 0; {
		case (c.Part != "") == named:
			report(problem.MissingKey, path, "must name either a part or the two parts of a joint", "add part: with a name, or between: with two names")
		case named && len(c.Between) != 2:
			report(problem.WrongKind, path+".between", fmt.Sprintf("has %d items", len(c.Between)), "name two parts or roles")
		case named && c.ofPart():
			report(problem.UnknownKey, path, "changes a joint and a part at once", "name the part in a change of its own")
		case named && !c.Out && c.Joint == nil:
			report(problem.MissingKey, path, "says no joint", "add joint: with a kind, or out: yes for no joint at all")
		case !named && c.Joint != nil:
			report(problem.UnknownKey, path+".joint", "a joint lies between two parts", "write between: with two names instead of part:")
		case !named && !c.Out && !c.ofPart():
			report(problem.MissingKey, path, "changes nothing", "say what changes, such as species, thickness or out: yes")
		case c.Out && (c.ofPart() || c.Joint != nil):
			report(problem.UnknownKey, path+".out", "what is left out cannot be changed as well", "take out the other keys, or out: yes")
		}
		checkSpecies(c.Species, path+".species", report)
	}
}

// From returns the piece with the places in the file that its parts and connections come from, such as "parts[2]",
// "changes[0]" or "pattern", so that what is found wrong later is told at the right line.
func (p Piece) From(parts, connections []string) Piece {
	p.partsFrom, p.connectionsFrom = parts, connections
	return p
}

// PartFrom returns the place in the file that a part comes from.
func (p Piece) PartFrom(i int) string { return p.written(fmt.Sprintf("parts[%d]", i)) }

// ConnectionFrom returns the place in the file that a connection comes from.
func (p Piece) ConnectionFrom(i int) string { return p.written(fmt.Sprintf("connections[%d]", i)) }

// written turns the path of a part or connection into that of what was written for it.
func (p Piece) written(path string) string {
	for list, from := range map[string][]string{"parts": p.partsFrom, "connections": p.connectionsFrom} {
		rest, ok := strings.CutPrefix(path, list+"[")
		if !ok || from == nil {
			continue
		}
		number, rest, _ := strings.Cut(rest, "]")
		i, err := strconv.Atoi(number)
		if err != nil || i < 0 || i >= len(from) {
			return path
		}
		if strings.HasPrefix(from[i], list+"[") {
			return from[i] + rest
		}
		return from[i]
	}
	return path
}
