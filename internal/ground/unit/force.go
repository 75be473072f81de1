package unit

import (
	"fmt"
	"strconv"
	"strings"
)

// MinForce and MaxForce are the smallest and the largest force that ParseForce accepts. Judgement: no scale of
// a shop shows less, and a hundred times what the strongest furniture joint bears is a slip of the pen.
const (
	MinForce Newtons = 1e-3
	MaxForce Newtons = 1e6
)

// ForceError says why a text is not a force and how to mend it.
type ForceError struct {
	Text string // what was written
	What string // what is wrong with it
	Mend string // how to write it instead
}

func (e *ForceError) Error() string { return fmt.Sprintf("%q: %s; %s", e.Text, e.What, e.Mend) }

// forceUnits holds the units in which rigs and scales show a force. A scale's pound and kilogram are
// the weights of those masses at standard gravity.
var forceUnits = map[string]Newtons{
	"n": 1, "kn": 1000,
	"lbf": NewtonsPerPoundForce, "lb": NewtonsPerPoundForce, "lbs": NewtonsPerPoundForce,
	"kgf": Gravity, "kg": Gravity,
}

// ParseForce reads a force with its unit, such as "950 N", "1.2 kN", "212 lbf" or "96 kgf". A bare
// number is an error, and so is anything below MinForce or above MaxForce. The error is a *ForceError.
func ParseForce(text string) (Newtons, error) {
	const forms = "write for example 950 N, 1.2 kN, 212 lbf or 96 kgf"
	fail := func(what, mend string) (Newtons, error) {
		return 0, &ForceError{Text: text, What: what, Mend: mend}
	}
	trimmed := strings.TrimSpace(text)
	number := strings.TrimRight(trimmed, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")
	name := trimmed[len(number):]
	value, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	factor, known := forceUnits[strings.ToLower(name)]
	switch {
	case err != nil:
		return fail("is not a number with a unit", forms)
	case name == "":
		return fail("has no unit", forms)
	case !known:
		return fail("has the unknown unit "+name, forms)
	}
	force := Newtons(value) * factor
	if !(force >= MinForce && force <= MaxForce) { // also refuses what is not a number
		return fail("is not between 0.001 N and 1000 kN", "check the number and its unit")
	}
	return force, nil
}
