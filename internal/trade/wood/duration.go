package wood

import (
	"fmt"
)

// Duration says how long a load acts in all, over the life of the piece.
type Duration string

// The durations: more than 10 years, 6 months to 10 years, 1 week to 6 months, under a week, an
// instant. Source: [en-1995-1-1] table 2.1, from memory.
const (
	Permanent     Duration = "permanent"
	LongTerm      Duration = "long term"
	MediumTerm    Duration = "medium term"
	ShortTerm     Duration = "short term"
	Instantaneous Duration = "instantaneous"
)

// ServiceClass says how damp the wood gets in use: 1 in heated rooms (softwood mostly below 12 %), 2
// under cover (below 20 %), 3 outdoors.
type ServiceClass int

// StrengthFactor returns k_mod, the share of the short-test strength that is left under a load of
// some duration. Panics for an unknown duration or class.
//
// Source: [en-1995-1-1] table 3.1, solid timber.
func (d Duration) StrengthFactor(c ServiceClass) Figure[float64] {
	return mustFactor("k_mod", fmt.Sprintf("%s class %d", d, c))
}

// CreepFactor returns k_def: under a permanent load, deflection grows in the end by this share of
// the first. Panics for a class other than 1, 2 and 3.
//
// Source: [en-1995-1-1] table 3.2, solid timber.
func (c ServiceClass) CreepFactor() Figure[float64] {
	return mustFactor("k_def", fmt.Sprintf("class %d", c))
}

// MaterialFactor returns gamma_M of solid timber, or of timber glued up from laminations.
//
// Source: [en-1995-1-1] table 2.3.
func MaterialFactor(laminated bool) Figure[float64] {
	if laminated {
		return mustFactor("gamma_M", "glued laminated timber")
	}
	return mustFactor("gamma_M", "solid timber")
}

// ConnectionFactor returns gamma_M of connections.
//
// Source: [en-1995-1-1] table 2.3, from memory.
func ConnectionFactor() Figure[float64] { return mustFactor("gamma_M", "connections") }

// LoadDurationFactor returns C_D, the ratio of the allowable stress under a load of some duration
// ("permanent", "ten years", "two months", "seven days", "ten minutes", "impact") to that of ten
// years. It belongs with allowable stresses only; never combine it with StrengthFactor.
//
// Source: [nds] table 2.3.2.
func LoadDurationFactor(duration string) (Figure[float64], bool) {
	return lookupFactor("C_D", duration)
}
