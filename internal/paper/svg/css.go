package svg

import (
	"fmt"
	"strings"

	"longgrain/internal/paper/scene"
)

// CSS returns a style sheet that recolours inline drawings through custom properties: --paper,
// --ink, --ink-soft, --ink-accent, --ink-grain and one --fill-name for each fill. A page sets these
// for light and dark; each has the printed colour as its fallback.
func CSS() string {
	var b strings.Builder
	b.WriteString(".drawing { max-width: 100%; height: auto; }\n")
	for _, s := range scene.Styles() {
		pen := s.Pen()
		value := fmt.Sprintf("var(--%s, %s)", inkToken(s), hex(pen.Ink))
		if pen.Width > 0 {
			fmt.Fprintf(&b, ".drawing .pen-%s { stroke: %s; }\n", s, value)
		}
		fmt.Fprintf(&b, ".drawing .ink-%s { fill: %s; }\n", s, value)
	}
	for _, f := range scene.Fills() {
		switch f {
		case scene.NoFill:
		case scene.InkFill:
			fmt.Fprintf(&b, ".drawing .fill-%s { fill: var(--ink, %s); }\n", f, hex(f.Ink()))
		case scene.PaperFill:
			fmt.Fprintf(&b, ".drawing .fill-%s { fill: var(--paper, %s); }\n", f, hex(f.Ink()))
		default:
			fmt.Fprintf(&b, ".drawing .fill-%s { fill: var(--fill-%s, %s); }\n", f, f, hex(f.Ink()))
		}
	}
	return b.String()
}

// inkToken names the custom property that colours a style.
func inkToken(s scene.Style) string {
	switch s {
	case scene.Emphasis, scene.Cut:
		return "ink-accent"
	case scene.Grain:
		return "ink-grain"
	case scene.Centre, scene.Offcut, scene.Construction, scene.Section, scene.Frame, scene.Rule, scene.Muted:
		return "ink-soft"
	case scene.NoLine:
		return "paper"
	}
	return "ink"
}
