package workbook

import (
	"fmt"

	"longgrain/internal/check/testlog"
	"longgrain/internal/design/joint"
	"longgrain/internal/paper/document"
)

// origin is one word for where the strength of a joint against bending is from.
func origin(j joint.Joint) string {
	if j.Strength.BendU.Shop != nil {
		return "Shop"
	}
	return "Book"
}

// known says how strong a joint is if all that is known is the species, and what the shop's own tests make of it, or
// would.
func (b *book) known(j joint.Joint) {
	r := j.Strength.BendU
	mean, lower := r.Mean, r.Lower5
	if r.Shop != nil {
		mean, lower = r.Shop.BookMean, r.Shop.BookLower5
	}
	text := document.Words("").Strong("If all you know is the species").Plain(fmt.Sprintf(", the book gives %.0f N·m in the mean, bent the strong way, and 95 of 100 bear %.0f.", mean, lower))
	switch {
	case r.Shop != nil:
		text = text.Plain(" ").Strong("With your own test log").Plain(fmt.Sprintf(" it is %.0f N·m in the mean, and 95 of 100 bear %.0f (%s, which weigh %.0f %% beside the book).", r.Mean, r.Lower5, r.Shop.Words(), 100*r.Shop.Weight))
	case r.Governs != joint.RailItself && r.COV > joint.TestScatter:
		text = text.Plain(fmt.Sprintf(" No test in your log is of this kind, so the book stands. Ten tests of your own in five batches that came out as the book says would make that %.0f.", r.Mean*testlog.Outlook(r.COV)))
	}
	if r.Governs == joint.RailItself {
		text = text.Plain(" The rail breaks before the joint, and no test of joints changes that.")
	}
	b.Add(document.Paragraph{Text: text})
}

// tests says what the shop's own tests make of the book.
func (b *book) tests() {
	c := b.plan.Tests
	if len(c.Kinds)+len(c.Unused) == 0 {
		return
	}
	b.Heading(2, "own-tests", "What your own tests say of the book")
	for _, k := range c.Kinds {
		b.Paragraph(upperFirst(k.Sentence))
		if k.Warning != "" {
			b.Add(document.Box{Kind: document.Caution, Text: []document.Text{document.Words(k.Warning)}})
		}
		if k.Held > 0 {
			b.Paragraph(fmt.Sprintf("%d more left out, in which the joint held: they say only that it is at least that strong.", k.Held))
		}
		b.working(k.Working)
	}
	for i, u := range c.Unused {
		if i == mostUnused {
			b.Paragraph(fmt.Sprintf("And tests left out for %d more reasons.", len(c.Unused)-mostUnused))
			break
		}
		b.Paragraph("Left out: " + u.Sentence())
	}
}

// mostUnused is how many reasons for leaving tests out are printed.
const mostUnused = 12
