package cards

import (
	"fmt"
	"strings"

	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/coating"
	"longgrain/internal/work/glueup"
)

// duration prints a time for the bench: minutes up to two hours, then hours, then days.
func duration(m unit.Minutes) string {
	switch {
	case m < 1:
		return "less than 1 min"
	case m < 120:
		return fmt.Sprintf("%.0f min", float64(m))
	case m < 48*60:
		return strings.TrimSuffix(fmt.Sprintf("%.1f", float64(m)/60), ".0") + " h"
	}
	return strings.TrimSuffix(fmt.Sprintf("%.1f", float64(m)/60/24), ".0") + " days"
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// sentence makes a sentence of a clause; nothing stays nothing.
func sentence(s string) string {
	s = upperFirst(strings.TrimSpace(s))
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, "!") {
		return s
	}
	return s + "."
}

// clampWords lists clamps: "4 × pipe clamp, 2 × spring clamp".
func clampWords(uses []glueup.ClampUse) string {
	var out []string
	for _, c := range uses {
		out = append(out, fmt.Sprintf("%d × %s", c.Count, c.Name))
	}
	return strings.Join(out, ", ")
}

// hazards puts cautions of the table of hazards on a card, by their ids.
func (c *Card) hazards(ids ...string) {
	for _, id := range ids {
		if h, ok := coating.LookupHazard(id); ok {
			c.hazard(h)
		}
	}
}

// hazardIn puts the hazard on a card whose words begin a text, or the text itself where none does.
func (c *Card) hazardIn(text string) {
	for _, h := range coating.Hazards() {
		if h.Control != "" && strings.HasPrefix(text, h.Control) || h.Control == "" && h.Stop != "" && strings.HasPrefix(strings.TrimSpace(text), h.Stop) {
			c.hazard(h)
			return
		}
	}
	c.mind(Caution{Text: text})
}

// hazard puts one caution on a card. One without words of its own, which only raises another, is left out.
func (c *Card) hazard(h coating.Hazard) {
	if h.Control != "" || h.Stop != "" {
		c.mind(Caution{Title: h.Hazard, Text: h.Control, Stop: h.Stop})
	}
}
