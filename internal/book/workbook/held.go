package workbook

import (
	"fmt"
	"slices"
	"strings"

	"longgrain/internal/check/hang"
	"longgrain/internal/design/fasten"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/document"
)

// fastenings writes how each rail holds the top.
func (b *book) fastenings() {
	if len(b.plan.Fastenings) == 0 {
		return
	}
	title := "How the top is held"
	if slices.ContainsFunc(b.plan.Fastenings, func(f fasten.Fastening) bool { return f.Way != fasten.Buttons && f.Way != fasten.SlottedScrews }) {
		title = "What is held without glue"
	}
	b.Heading(2, "fastenings", title)
	ways := map[fasten.Way][]fasten.Fastening{}
	for _, f := range b.plan.Fastenings {
		ways[f.Way] = append(ways[f.Way], f)
		for _, note := range f.Notes {
			b.Add(document.Box{Kind: document.Caution, Title: upperFirst(f.Rail), Text: []document.Text{document.Words(upperFirst(note) + ".")}})
		}
	}
	b.slottedScrews(ways[fasten.SlottedScrews])
	b.buttons(ways[fasten.Buttons])
	b.shelfPins(ways[fasten.ShelfPins])
}

// wall writes how a piece is screwed to the wall.
func (b *book) wall() {
	switch f := b.plan.Wall; {
	case f != nil:
		p := b.plan.Assembly.Parts[f.Part]
		b.Heading(2, "wall", "How it hangs")
		b.Paragraph(fmt.Sprintf("%d screws of %s, at least %s long, go through the %s into the wall, %s below its upper edge and %s from its left end. Bore them through and sink the heads.",
			len(f.At), b.show(hang.ScrewDiameter), b.show(f.Length), p.Name, b.show(f.FromEdge), b.numbers(f.At)))
		b.Add(document.Box{Kind: document.Warning, Title: "Children hang on what they reach", Text: []document.Text{
			document.Words("Screw it into studs, battens or solid masonry. Plasterboard by itself lets go without warning; what a plug holds is on its label. Look for pipes and cables before drilling.")}})
	case b.plan.Assembly.Fixed != "":
		b.Heading(2, "wall", "Fixed to the wall")
		b.Paragraph("Two screws at the top, near its ends, hold it to the wall, through the uppermost rail or board at its back, or a strap on each side.")
		b.Add(document.Box{Kind: document.Warning, Title: "Before anything is put on it", Text: []document.Text{
			document.Words("Children pull themselves up on shelves and drawers. Fix it before it is filled, into studs, battens or solid masonry; plasterboard by itself lets go without warning.")}})
	}
}

// slottedScrews writes the slots in the edges of the rails.
func (b *book) slottedScrews(all []fasten.Fastening) {
	if len(all) == 0 {
		return
	}
	b.Paragraph("Screws with washers go up through slots in the edge of the rail, their heads in holes bored from below. The top is held fast on its middle line and slides on both sides of it. Drive them snug, not tight.")
	t := document.NewTable(document.TextColumn("Rail"), document.NumberColumn("Screws"), document.TextColumn("Middles from the low end"), document.NumberColumn("Slot length"), document.NumberColumn("Slot width"), document.NumberColumn("Slot depth"), document.NumberColumn("Hole for the head"))
	t.Caption = "Slots in the upper edges, " + b.plan.Units + ", long the way the top moves. Where several lengths stand, the shortest is that of the screw that holds the top fast. The last column is how deep the hole is bored from the lower edge."
	for _, f := range all {
		at, lengths := b.slots(f)
		t.Row(upperFirst(f.Rail), fmt.Sprint(len(f.At)), at, lengths, f.SlotWidth.ShowNumber(b.family), f.SlotDepth.ShowNumber(b.family), f.Seat.ShowNumber(b.family))
	}
	b.Add(*t)
}

// slots writes the places and the lengths of the slots of a fastening, each length once.
func (b *book) slots(f fasten.Fastening) (at, lengths string) {
	var places, long []string
	for i, x := range f.At {
		places = append(places, x.ShowNumber(b.family))
		if s := f.SlotLength[i].ShowNumber(b.family); !contains(long, s) {
			long = append(long, s)
		}
	}
	return strings.Join(places, ", "), strings.Join(long, " / ")
}

// buttons writes the slots in the faces of the rails.
func (b *book) buttons(all []fasten.Fastening) {
	if len(all) == 0 {
		return
	}
	b.Paragraph("Wooden buttons: a tongue sits in a slot of the rail's inner face, a screw goes up into the top. The top is held fast on its middle line and slides on both sides of it.")
	t := document.NewTable(document.TextColumn("Rail"), document.NumberColumn("Buttons"), document.TextColumn("Middles from the low end"), document.NumberColumn("Slot length"), document.NumberColumn("Slot width"), document.NumberColumn("Slot depth"), document.NumberColumn("Gap behind tongue"))
	t.Caption = "Slots in the inner faces, " + b.plan.Units + ". Where two slot lengths stand, the shorter is that of the button that holds the top fast."
	for _, f := range all {
		at, lengths := b.slots(f)
		t.Row(upperFirst(f.Rail), fmt.Sprint(len(f.At)), at, lengths, f.SlotWidth.ShowNumber(b.family), f.SlotDepth.ShowNumber(b.family), f.Gap.ShowNumber(b.family))
	}
	b.Add(*t)
	b.Paragraph(fmt.Sprintf("The slots lie %s below the upper edge of the rail.", b.show(all[0].FromTop)))
}

// shelfPins writes the rows of holes for loose shelves.
func (b *book) shelfPins(all []fasten.Fastening) {
	if len(all) == 0 {
		return
	}
	b.Paragraph("Loose shelves lie on pins, one at each corner. Bore the holes before the sides are glued up, through a strip of hardboard with the rows bored in it and with a stop on the drill; mark its foot and its front edge, and turn it over for the other side.")
	t := document.NewTable(document.TextColumn("Shelf"), document.TextColumn("Side"), document.NumberColumn("Hole"), document.NumberColumn("Depth"), document.TextColumn("Rows, from the low end"), document.TextColumn("Columns, from the low edge"))
	t.Caption = "Holes for shelf pins, " + b.plan.Units + ". The shelf lies on the pins, so its lower face is half a pin above the middle of its row."
	for _, f := range all {
		t.Row(upperFirst(f.Top), f.Rail, f.SlotWidth.ShowNumber(b.family), f.SlotDepth.ShowNumber(b.family), b.numbers(f.At), b.numbers(f.Columns))
	}
	b.Add(*t)
}

// numbers writes lengths one after another.
func (b *book) numbers(all []unit.Length) string {
	var out []string
	for _, x := range all {
		out = append(out, x.ShowNumber(b.family))
	}
	return strings.Join(out, ", ")
}

// heldSteps says how each part that no glue holds is put on, in the order of the piece.
func (b *book) heldSteps() []document.Text {
	var items []document.Text
	on := map[string][]string{}
	var order []string
	for _, f := range b.plan.Fastenings {
		if on[f.Top] == nil {
			order = append(order, f.Top)
		}
		on[f.Top] = append(on[f.Top], f.Rail)
	}
	for _, top := range order {
		items = append(items, b.heldStep(top, strings.Join(on[top], ", ")))
	}
	if b.plan.Assembly.Fixed != "" {
		items = append(items, document.Words("").Strong("Fix it to the wall").Plain(": level, with every screw in something solid, before anything is put on it."))
	}
	return items
}

func (b *book) heldStep(top, on string) document.Text {
	for _, f := range b.plan.Fastenings {
		if f.Top == top && f.Way == fasten.ShelfPins {
			return document.Words("").Strong("Lay in the " + top).Plain(": push the pins into one row on both sides and lay the shelf on them, on " + on + ". No glue.")
		}
	}
	return document.Words("").Strong("Fix the " + top).Plain(": lay it on its face, centre the frame on it, and " + fixing(b.plan.Fastenings, top) + ", on " + on + ". No glue.")
}

// fixing says what is done to fix a top.
func fixing(all []fasten.Fastening, top string) string {
	for _, f := range all {
		if f.Top == top && f.Way == fasten.SlottedScrews {
			return "drive the screws through the middle of their slots, snug and not tight"
		}
	}
	return "screw the buttons so that their tongues stand as the slots ask"
}
