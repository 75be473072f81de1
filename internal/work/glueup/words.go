package glueup

import (
	"fmt"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
)

// instructions says how a glue-up is done, in working order. Common practice; the rules behind it are named in
// docs/methods/glueup.md.
func instructions(g GlueUp, f unit.Family) []string {
	var out []string
	switch g.Kind {
	case Lamination:
		out = append(out,
			"Lay out the strips of each part: growth rings the same way round, grain rising the same way, colours that match, the best face outside, knots not above each other, no pith.",
			"Mark the order of the strips with a triangle across their edges; true the glue faces on the day of gluing.",
			"Clamp dry first, with battens on both sides; a joint that a hand cannot press together is not ready.")
		if g.Stacked > 1 && len(g.Parts) > 1 {
			out = append(out, "Put waxed paper between the parts that lie on each other: the same clamps press both.")
		}
		out = append(out, "Coat one face of each pair all over, set the clamps from the middle to the ends, wait a minute and tighten again; hold the edges level with light clamps across.")
	case Panel:
		out = append(out,
			"Lay out the staves: grain rising the same way for planing comes first, then colour; turn the growth rings by turns up and down where grain allows.",
			"Mark a triangle across all staves; true the edges on the day of gluing, two neighbours together.",
			"Clamp dry first, bars by turns above and below the panel; no gap may stay open when the clamps are only set by hand.",
			"Coat one edge of each pair; set the clamps from the middle, press the joints level with battens across the ends, then tighten. Paper between wet glue and steel bars keeps stains away.")
	default:
		out = append(out,
			"Fit everything dry with all clamps set to width, and time it; pins and tenons must go home by hand or light taps.",
			"Coat the walls of holes or mortises and the pins or tenons; end grain needs no glue.",
			fmt.Sprintf("Close one joint after the other, then tighten; measure both diagonals (equal within %.0f %s) and sight across the frame for wind before the glue takes.", figure("diagonals").value, figure("diagonals").unit))
	}
	if over := battens(g); over != "" {
		out = append(out, "Press "+over+" with stiff battens over the joints, planed a millimetre or two higher in their middle, and a clamp at each end of the battens: the middle of a wide joint closes first.")
	}
	if g.Caul > 0 {
		out = append(out, fmt.Sprintf("Battens of at least %s spread the pressure between the clamps.", max(g.Caul, caul()).Show(f)))
	}
	if g.Scrape.High > 0 {
		out = append(out, fmt.Sprintf("Scrape the squeeze-out while it is rubbery, %.0f to %.0f min after clamping. No wet rag: thinned glue closes the pores and shows under dye and stain.", float64(g.Scrape.Low), float64(g.Scrape.High)))
	}
	if g.Kind == Panel {
		out = append(out, fmt.Sprintf("Let the panel settle before its last planing, or the lines show under gloss: %.0f days are published, a full day is the least.", figure("settle").value))
	}
	return append(out, fmt.Sprintf("Clamps stay on for at least %.0f min. No planing and no load for %.0f h.", float64(g.ClampTime), float64(g.MachineAfter)/60))
}

// battens names what is pressed by battens over its joints.
func battens(g GlueUp) string {
	var names []string
	for _, p := range g.Presses {
		if p.Batten {
			names = append(names, p.Where)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "the " + assembly.Describe(names)
}
