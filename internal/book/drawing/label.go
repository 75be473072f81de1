package drawing

import (
	"fmt"

	qr "github.com/piglig/go-qr"

	"longgrain/internal/paper/scene"
)

// Label is what is stuck on the face of a part.
type Label struct {
	Mark, Name, Size string
	Piece            string
	Face             string // where the face looks in the finished piece
	Top              string // "top" beside the reference that looks up: "face", "edge" or "end"; empty for none
	EndAtLeft        bool   // where the reference end lies when the arrow points to the edge
	Link             string // what the code says: the address of the part, or the label in words
}

// A label: 80 × 32 mm, two beside each other. Judgement: it fits a rail of 40 mm, and the code is read by a phone at arm's length.
const (
	labelWidth   = 80.0
	labelHeight  = 32.0
	labelGap     = 4.0
	labelColumns = 2
	codeSize     = 24.0
	markHeight   = 7.0
	markRoom     = 18.0 // for the mark, beside the word at the arrow
	quietZone    = 4    // modules of paper around a code. Source: [iso-18004], from memory.
)

// LabelsPerPage returns how many labels a page of a height takes.
func LabelsPerPage(height float64) int {
	return labelColumns * max(1, int((height+labelGap)/(labelHeight+labelGap)))
}

// Labels draws labels to cut out, row by row, at their true size.
func Labels(labels []Label) scene.Scene {
	s := scene.New("Labels")
	s.Ratio = scene.Ratio{Paper: 1, Model: 1}
	s.Description = "Labels to cut out and stick on the faces of the parts, each with the mark, the name, the size and a code."
	for i, l := range labels {
		x := float64(i%labelColumns) * (labelWidth + labelGap)
		y := -float64(i/labelColumns) * (labelHeight + labelGap)
		s.Add(drawLabel(l, scene.Point{X: x, Y: y}))
	}
	return *s
}

// drawLabel draws one label whose upper left corner is at a point: the mark, words below it, an arrow that points to the reference
// edge, END on the side of the reference end, and the code.
func drawLabel(l Label, at scene.Point) scene.Group {
	s := scene.New("")
	s.Rectangle(scene.Hidden, scene.NoFill, at, at.Plus(labelWidth, -labelHeight))
	text := func(dx, dy float64, words string, height float64, weight scene.Weight) {
		s.Add(scene.Text{Style: scene.Words, At: at.Plus(dx, dy), Text: words, Height: height, Weight: weight})
	}
	end := 0.0
	if l.EndAtLeft {
		end = 5
	}
	text(3+end, -10, l.Mark, min(markHeight, markHeight*markRoom/scene.TextWidth(l.Mark, markHeight, scene.Bold)), scene.Bold)
	room := labelWidth - codeSize - 9 - end
	text(3+end, -16, fitted(l.Name, room, Lettering), Lettering, scene.Regular)
	text(3+end, -20.5, fitted(l.Size, room, Lettering), Lettering, scene.Regular)
	text(3+end, -25, fitted(l.Piece, room, 2.4), 2.4, scene.Regular)
	text(3+end, -29.5, fitted("stick on "+l.Face, room, 2.4), 2.4, scene.Regular)
	// The arrow points to the edge, up on the label.
	tip := at.Plus(labelWidth-codeSize-7, -2)
	s.Arrow(scene.Outline, tip.Plus(0, -9), tip)
	edge := "EDGE"
	if l.Top == "edge" {
		edge += ", TOP"
	}
	s.Add(scene.Text{Style: scene.Words, At: tip.Plus(-2, -6), Text: edge, Height: 2.4, Align: scene.Right})
	endWord := "END"
	if l.Top == "end" {
		endWord += ", TOP"
	}
	side := at.Plus(labelWidth-1.5, -labelHeight/2)
	if l.EndAtLeft {
		side = at.Plus(4, -labelHeight/2)
	}
	s.Add(scene.Text{Style: scene.Words, At: side, Text: endWord, Height: 2.4, Align: scene.Middle, Rotation: 90})
	code(s, l.Link, at.Plus(labelWidth-codeSize-5, -(labelHeight-codeSize)/2))
	return scene.Group{ID: "label-" + l.Mark, Title: fmt.Sprintf("Label of %s, %s", l.Mark, l.Name), Items: s.Items}
}

// fitted shortens words that are wider than their room.
func fitted(words string, room, height float64) string {
	if scene.TextWidth(words, height, scene.Regular) <= room {
		return words
	}
	runes := []rune(words)
	for len(runes) > 1 && scene.TextWidth(string(runes)+"…", height, scene.Regular) > room {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "…"
}

// code draws a text as a QR code, as rows of dark strips; nothing when it is too long for one.
func code(s *scene.Scene, text string, at scene.Point) {
	q, err := qr.EncodeText(text, qr.Medium)
	if err != nil {
		return
	}
	n := q.Size()
	k := codeSize / float64(n+2*quietZone)
	for y := range n {
		for x := 0; x < n; x++ {
			from := x
			for x < n && q.Module(x, y) {
				x++
			}
			if x > from {
				a := at.Plus(k*float64(from+quietZone), -k*float64(y+quietZone))
				s.Rectangle(scene.NoLine, scene.InkFill, a, a.Plus(k*float64(x-from), -k))
			}
		}
	}
}

// Code draws a text as a code for a phone to read, with quiet paper around it; false when it is too long for one.
func Code(title, text string) (scene.Scene, bool) {
	s := scene.New(title)
	s.Description = "A code for a phone to read: " + text
	s.Rectangle(scene.NoLine, scene.PaperFill, scene.Point{}, scene.Point{X: codeSize, Y: -codeSize})
	before := len(s.Items)
	code(s, text, scene.Point{})
	return *s, len(s.Items) > before
}
