package pdf

import (
	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
)

// Sizes around drawings in millimetres.
const (
	drawingMargin = 0.6  // half the widest line and a little air
	captionRoom   = 16.0 // kept free for the caption of a drawing that fills a page
	captionSpace  = 1.6
)

// figure sets a drawing and its caption, which keep together.
func (s *setter) figure(f document.Figure) {
	e := s.entry()
	p, k := s.drawing(f.Scene, f.Width, s.sheet.frameHeight()-captionRoom)
	p.before, p.keep, p.key = blockSpace, true, e.Key
	s.add(p)
	words := f.Caption
	if scale := s.scaleWords(f.Scene.Ratio, k); scale != "" {
		words = sentence(words) + scale + "."
	}
	s.caption(e, words, captionSpace, false)
	s.out[len(s.out)-1].key = ""
	s.space(blockSpace - paragraphSpace)
}

// sentence ends words with a full stop and a space, so that another sentence can follow.
func sentence(words string) string {
	if words == "" {
		return ""
	}
	switch words[len(words)-1] {
	case '.', '!', '?', ':':
		return words + " "
	}
	return words + ". "
}

// scaleWords says at what scale a drawing was printed; nothing for one that never had a scale.
func (s *setter) scaleWords(r scene.Ratio, k float64) string {
	switch {
	case r == (scene.Ratio{}):
		return ""
	case k != 1:
		return s.wording.NotToScale
	}
	return s.wording.Scale + " " + r.String()
}

// drawing returns a scene as a piece and the factor by which it was enlarged: 1 for its true size,
// less where the page is too small or another width is wanted.
func (s *setter) drawing(sc scene.Scene, wanted, room float64) (piece, float64) {
	box := sc.Bounds()
	if box.Empty() {
		return piece{}, 1
	}
	box = box.Grown(drawingMargin)
	k := 1.0
	if wanted > 0 {
		k = wanted / box.Width()
	}
	k = min(k, s.sheet.frameWidth()/box.Width(), room/box.Height())
	items := sc.Moved(k, scene.Point{X: -k * box.Min.X, Y: -k * box.Max.Y})
	return piece{height: k * box.Height(), items: items}, k
}
