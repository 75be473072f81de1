// Package testlog reads the joints that a shop broke in its own rig, says what a small number of such
// tests can be trusted to mean, and shifts the strengths of package joint by them.
//
// In go a table of tests as CSV, or tests that a store kept; out come groups with mean, spread and a lower
// bound, comparisons of groups as intervals of a ratio, warnings of odd tests, and multipliers by kind of
// joint. A test in which the wood broke away from the joint says only that the joint is at least as
// strong: it is kept and marked, never averaged as if the joint had failed. Nothing is thrown away: a test
// counts until a person withdraws it.
//
// Not covered: stiffness, fatigue and creep; adjusting results for moisture or density; a rig in which
// load and lever do not give the moment by their product. Formulas: docs/methods/testlog.md.
package testlog

import (
	"slices"
	"strings"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
)

// Typed is a value as a person typed it, with its unit, beside what it is in SI: newtons for a force,
// metres for a length.
type Typed struct {
	Text string  `json:"text"`
	SI   float64 `json:"si"`
}

// Failure says what gave way. Empty means that nobody noted it; the test then counts as a failure of the
// joint, which is the safe side.
type Failure string

// What gives way.
const (
	Wood     Failure = "wood"                     // the wood of the joint itself
	GlueLine Failure = "glue line"                // glue came off
	Fastener Failure = "fastener"                 // dowel, screw or biscuit broke or drew out
	Away     Failure = "wood away from the joint" // the joint held: it is at least this strong
)

// Failures lists what can give way.
func Failures() []Failure { return []Failure{Wood, GlueLine, Fastener, Away} }

// Test is one joint broken in the rig. Zero values mean that nothing was noted.
type Test struct {
	Group     string           `json:"group,omitempty"`    // tests that belong together, a free name
	Joint     string           `json:"joint"`              // kind of joint
	Species   string           `json:"species"`            // wood of the parts
	Count     int              `json:"count,omitempty"`    // dowels, screws or biscuits in the joint
	Density   float64          `json:"density,omitempty"`  // kg/m³ as tested
	Moisture  float64          `json:"moisture,omitempty"` // moisture content, %
	Sizes     map[string]Typed `json:"sizes,omitempty"`    // named sizes of the joint and its parts
	Glue      string           `json:"glue,omitempty"`
	CureHours float64          `json:"cure_hours,omitempty"` // between gluing and testing
	Span      *Typed           `json:"span,omitempty"`       // between the supports of the rig
	Lever     *Typed           `json:"lever,omitempty"`      // from the load to the joint
	Direction string           `json:"direction,omitempty"`  // how the load acts: open, close, pull, shear
	Load      Typed            `json:"load"`                 // largest load
	Predicted *Typed           `json:"predicted,omitempty"`  // load that was worked out beforehand for this joint
	Failure   Failure          `json:"failure,omitempty"`    // what gave way
	Note      string           `json:"note,omitempty"`
	Picture   string           `json:"picture,omitempty"` // name of a kept picture
	Tested    string           `json:"tested,omitempty"`  // day of the test as the person wrote it
	Withdrawn bool             `json:"withdrawn,omitempty"`
}

// Held tells whether the joint outlived the test, so that its strength is at least what was measured.
func (t Test) Held() bool { return t.Failure == Away }

// Kind returns the kind of joint under the name that package joint uses, where it is one of its kinds;
// otherwise the words of the test.
func (t Test) Kind() joint.Kind { return KindOf(t.Joint) }

// KindOf returns the kind of joint that a person's words name, singular or plural; words that name no
// kind of package joint are returned as they are.
func KindOf(words string) joint.Kind {
	for name, kind := range kindNames {
		if problem.SameName(words, name) || problem.SameName(words, string(kind)) {
			return kind
		}
	}
	return joint.Kind(strings.TrimSpace(words))
}

// kindNames holds other names of the kinds of package joint. No two name different kinds, so that the
// order does not matter.
var kindNames = map[string]joint.Kind{
	"dowel": joint.Dowels, "tenon": joint.Tenon, "pocket screw": joint.PocketScrews, "biscuit": joint.Biscuits, "button": joint.Buttons,
}

// Quantity says what of the tests of a group is compared.
type Quantity struct {
	Name string `json:"name"` // "load" or "moment"
	Unit string `json:"unit"` // "N" or "N·m"
}

// The quantities.
var (
	load   = Quantity{"load", "N"}
	moment = Quantity{"moment", "N·m"}
)

// Show prints a value of the quantity with three significant figures, as exact as a shop's rig: "293 N·m".
func (q Quantity) Show(v float64) string { return figures(v) + " " + q.Unit }

// bends tells whether the load bends the joint at a known lever, so that its moment is known. A joint
// that is pulled or sheared is judged by the load, whatever was noted as lever.
func (t Test) bends() bool {
	return t.Lever != nil && t.Lever.SI > 0 && !slices.Contains([]string{"pull", "shear"}, strings.ToLower(t.Direction))
}

// strength returns what the joint bore, N or N·m.
//
//	M = F L
//
// F is the largest load, N; L the lever from the load to the joint, m. Source: definition of a moment.
func (t Test) strength(q Quantity) float64 {
	if q == moment {
		return t.Load.SI * t.Lever.SI
	}
	return t.Load.SI
}

// counts tells whether load and lever are such as a test can have. Read lets no others through.
func (t Test) counts() bool {
	sound := func(v *Typed, least, most float64) bool { return v == nil || v.SI >= least && v.SI <= most }
	return sound(&t.Load, float64(unit.MinForce), float64(unit.MaxForce)) && sound(t.Predicted, float64(unit.MinForce), float64(unit.MaxForce)) &&
		(!t.bends() || sound(t.Lever, unit.Nanometre.Metres(), unit.MaxLength.Metres()))
}
