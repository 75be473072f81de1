package html

import _ "embed"

//go:embed document.css
var styleSheet string

// CSS returns the style sheet for pages and fragments. It takes its colours from the same custom
// properties as drawings do (--paper, --ink, --ink-soft, --ink-accent, --fill-...), each with the
// printed colour as fallback, so a page that sets them for dark mode recolours both.
func CSS() string { return styleSheet }
