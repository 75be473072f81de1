// Package working holds the steps of a calculation as a reader sees them: a formula by name, what
// went in, what came out, and where the formula is from.
//
// Every analysis returns its working beside its result. The workbook prints it, the page opens it,
// and tests compare it. The package formats nothing beyond single values.
package working

import (
	"math"
	"strconv"
	"strings"

	"longgrain/internal/ground/source"
)

// Value is one quantity in a step.
type Value struct {
	Symbol string      `json:"symbol"`         // as in the formula: "W", "ΔM"
	Name   string      `json:"name,omitempty"` // in words: "width across the grain"
	Number float64     `json:"number"`         // in Unit
	Unit   string      `json:"unit,omitempty"` // "mm", "MPa", "%"; empty for a ratio
	Text   string      `json:"text,omitempty"` // instead of Number, for a choice in words
	Cite   source.Cite `json:"cite,omitzero"`  // where the figure is from, when it was looked up
}

// Step is one step of a calculation.
type Step struct {
	Title   string      `json:"title"`             // what is worked out: "Change in width of the top"
	Formula string      `json:"formula,omitempty"` // "ΔW = W · C · (M₁ − M₀)"
	Inputs  []Value     `json:"inputs,omitempty"`
	Result  Value       `json:"result"`
	Cite    source.Cite `json:"cite,omitzero"` // where the formula is from
	Note    string      `json:"note,omitempty"`
}

// Working is the whole calculation in order.
type Working []Step

// String prints a value as "W 300 mm" with four significant figures.
func (v Value) String() string {
	s := v.Symbol
	if s != "" {
		s += " = "
	}
	if v.Text != "" {
		return s + v.Text
	}
	s += Figures(v.Number)
	if v.Unit != "" {
		s += " " + v.Unit
	}
	return s
}

// Figures prints x with four significant figures and no exponent between 1e-4 and 1e7.
func Figures(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	if x == 0 {
		return "0"
	}
	if a := math.Abs(x); a >= 1e7 || a < 1e-4 {
		return strconv.FormatFloat(x, 'g', 4, 64)
	}
	decimals := max(0, 3-int(math.Floor(math.Log10(math.Abs(x)))))
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
