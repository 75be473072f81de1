package workbook

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/paper/document"
	"longgrain/internal/plan"
)

// Names of what can be printed alone beside whole chapters.
const (
	BuyList      = "buy-list"
	MarkOutParts = "mark-out"
	Templates    = "templates"
)

// extracts are parts of a chapter that can be printed alone. One whose chapter is printed too is left out.
var extracts = []struct {
	id, title, chapter string
	write              func(*book)
}{
	{BuyList, "Buy list", plan.TimberChapter, (*book).buyListAlone},
	{MarkOutParts, "Mark-out sheets", plan.MarkingChapter, (*book).markOutAlone},
	{Templates, "Full-size templates", plan.MarkingChapter, (*book).templatesAlone},
}

// Selectable returns the names of what can be printed alone: every chapter in the order of the work, then parts of chapters.
func Selectable() []string {
	var out []string
	for _, c := range chapters {
		out = append(out, c.id)
	}
	for _, x := range extracts {
		out = append(out, x.id)
	}
	return out
}

// printed tells whether a chapter is in the book.
func (b *book) printed(chapter string) bool {
	return len(b.room.Chapters) == 0 || slices.Contains(b.room.Chapters, chapter)
}

// part is one chapter or part of a chapter of a print.
type part struct {
	id, title, chapter string
	write              func(*book)
}

// selected returns what is printed, in the order of the work.
func (b *book) selected() []part {
	var out []part
	for _, c := range chapters {
		if i := slices.IndexFunc(b.plan.Chapters, func(x plan.Chapter) bool { return x.ID == c.id }); i >= 0 && b.printed(c.id) {
			out = append(out, part{c.id, b.plan.Chapters[i].Title, c.id, c.write})
			continue
		}
		for _, x := range extracts {
			if x.chapter == c.id && slices.Contains(b.room.Chapters, x.id) {
				out = append(out, part(x))
			}
		}
	}
	return out
}

// contentsFrom is the number of headings from which a print of some chapters gets a table of contents.
const contentsFrom = 8

// contained says on the cover what is in a print that is not the whole book; nothing for the whole.
func (b *book) contained(parts []part) []document.Pair {
	if len(b.room.Chapters) == 0 {
		return nil
	}
	var names []string
	for _, x := range parts {
		names = append(names, x.title)
	}
	return []document.Pair{{Name: "In this print", Value: document.Words(fmt.Sprintf("%s. The whole workbook has %d chapters.", strings.Join(names, ", "), len(b.plan.Chapters)))}}
}

// onCover tells whether the answer of a chapter stands on the cover: when it is in the print, and always when something in it does not
// hold, because no print may hide that.
func (b *book) onCover(c plan.Chapter, parts []part) bool {
	return tone(c.Word) == document.Bad || slices.ContainsFunc(parts, func(x part) bool { return x.chapter == c.ID })
}

// refer adds a reference to a place in a chapter, where that chapter is in the print.
func (b *book) refer(text document.Text, words, chapter, id string) document.Text {
	if !b.whole || !b.printed(chapter) {
		return text
	}
	return text.Plain(words).See(id)
}

// buyListAlone writes what to ask for at the yard, and nothing else.
func (b *book) buyListAlone() {
	b.yard(b.plan.Cutting)
}

// markOutAlone writes the set-ups and the sheet of every part.
func (b *book) markOutAlone() {
	b.sheets(b.plan.Markout)
}
