package workbook

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/book/drawing"
	"longgrain/internal/check/structure"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/working"
	"longgrain/internal/paper/document"
	"longgrain/internal/paper/scene"
	"longgrain/internal/plan"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/cutting"
)

// This file says what a lesson leaves open: what a class can work out with what is printed beside it.

// Lesson writes the workbook for a class: with questions left open, and the answers with their working at the end. Without a choice
// of chapters it leaves out the order of work and the cost, which would tell the answers.
func Lesson(p plan.Plan, o Options) document.Document {
	if len(o.Chapters) == 0 {
		for _, c := range chapters {
			if c.id != plan.OrderChapter && c.id != plan.CostChapter {
				o.Chapters = append(o.Chapters, c.id)
			}
		}
	}
	d := Make(p, o).Lesson("sources")
	d.Subtitle = strings.TrimPrefix(d.Subtitle+", for a class", ", ")
	d.Cover.Lines = append([]string{"Questions are numbered and left open; the answers with their working are at the end. Safety is never a question: do what the cautions say."}, d.Cover.Lines...)
	return d
}

// askedSteps are the beginnings of the titles of steps that can be worked out by hand from what the step prints or from the steps
// before it.
var askedSteps = []string{"Glue surface", "Bond stress of a dowel", "Wood round a dowel", "Pull of one dowel", "Growth to the dampest", "Loss to the driest", "Force on", "Clamps by", "Glue on the joints"}

// askedChapters are those whose answer in short a class finds itself.
var askedChapters = []string{plan.HoldsChapter, plan.YearChapter, plan.TimberChapter, plan.BoardsChapter, plan.GlueupsChapter}

// asked tells whether a lesson asks for the answer of a chapter. That something does not hold, or only just, is never left open.
func asked(c plan.Chapter) bool {
	return slices.Contains(askedChapters, c.ID) && tone(c.Word) != document.Bad && tone(c.Word) != document.Watch
}

// inShort returns the answer of a chapter as its first sentence.
func inShort(c plan.Chapter) document.Text {
	if asked(c) {
		words := fullStop(c.Answer)
		if c.Word != "" {
			words = upperFirst(c.Word) + ": " + words
		}
		return document.Text{}.Asked(words, document.Plain, " What does this chapter come to, in one sentence?")
	}
	answer := document.Words("")
	if c.Word != "" {
		answer = answer.Strong(upperFirst(c.Word)).Plain(": ")
	}
	return answer.Plain(fullStop(c.Answer))
}

// coverValue returns the answer of a chapter for the cover.
func coverValue(c plan.Chapter) document.Text {
	if asked(c) {
		return document.Text{}.Asked(upperFirst(c.Answer), document.Plain, "")
	}
	return document.Words(upperFirst(c.Answer))
}

// result returns the result of a step, open where a class can find it.
func result(text document.Text, s working.Step) document.Text {
	words := s.Result.String()
	if words == "" {
		return text
	}
	if s.Result.Text == "" && slices.ContainsFunc(askedSteps, func(x string) bool { return strings.HasPrefix(s.Title, x) }) {
		symbol := ""
		if s.Result.Symbol != "" {
			symbol = s.Result.Symbol + " = "
		}
		return text.Plain(": ").Strong(symbol).Asked(strings.TrimPrefix(words, symbol), document.Strong, " "+s.Result.Unit)
	}
	return text.Plain(": ").Strong(words)
}

// reserveCells returns the reserve and the verdict of a check. Where the reserve is what the row can carry over what it carries, both
// can be worked out.
func reserveCells(c structure.Check) (reserve, verdict document.Cell) {
	reserve, verdict = document.WordCell(c.Reserve.String()), verdictCell(c.Verdict)
	if c.Demand.Unit == "" || c.Demand.Number == 0 || c.Verdict == joint.DoesNotHold || math.Abs(c.Capacity.Number/c.Demand.Number-float64(c.Reserve)) > 0.01*float64(c.Reserve) {
		return reserve, verdict
	}
	reserve = document.AskedCell(c.Reserve.String())
	if !c.Comfort {
		verdict.Text = document.Text{}.Asked(verdict.Text.String(), document.Plain, "")
	}
	return reserve, verdict
}

// emptyBoard draws a board with nothing laid out on it but its defects, for a class to draw on, and says what is asked. Of bought
// boards that are alike the first stands for all: how many there are is a question too.
func (b *book) emptyBoard(i int) (scene.Scene, string) {
	c := b.plan.Cutting.Boards[i]
	alike := func(d cutting.Board) bool {
		return c.Source == cutting.Buy && d.Source == c.Source && d.Name == c.Name && d.Length == c.Length && d.Width == c.Width && d.Thickness == c.Thickness && d.Species == c.Species
	}
	if slices.ContainsFunc(b.plan.Cutting.Boards[:i], alike) {
		return scene.Scene{}, ""
	}
	bare := c
	bare.Cuts, bare.Areas = nil, slices.DeleteFunc(slices.Clone(c.Areas), func(a cutting.Area) bool { return a.Kind != cutting.DefectArea })
	board := drawing.BoardOf(bare, i+1)
	species, _ := wood.Lookup(c.Species)
	ask := fmt.Sprintf("Lay out parts with their rough sizes on this board, %s: %s %s, %s × %s, %s long. The saw takes %s", c.Source, c.Name, species.Name, b.show(c.Thickness), b.show(c.Width), b.show(c.Length), b.show(b.plan.Shop.Habits.Kerf))
	if c.Source == cutting.Buy {
		ask += ". Use as many boards of this kind as it takes"
	}
	return drawing.BoardDiagram(board, b.style()), ask
}

// askedRow returns a row of which the named columns are open.
func askedRow(open []int, cells ...string) []document.Cell {
	var out []document.Cell
	for i, c := range cells {
		if slices.Contains(open, i) {
			out = append(out, document.AskedCell(c))
		} else {
			out = append(out, document.WordCell(c))
		}
	}
	return out
}
