package workbook

import (
	"fmt"
	"strings"

	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/document"
	"longgrain/internal/trade/lumber"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/blank"
	"longgrain/internal/work/cutting"
)

// timber writes what to buy and how each part is got from it.
func (b *book) timber() {
	p := b.plan.Cutting
	b.yard(p)
	rough := document.NewTable(document.TextColumn("Parts"), document.NumberColumn("Number"), document.TextColumn("Made as"), document.NumberColumn("Pieces each"), document.NumberColumn("Rough length"), document.NumberColumn("Rough width"), document.NumberColumn("From timber"), document.NumberColumn("Planed to"))
	rough.Caption = "Rough sizes off the saw, " + b.plan.Units + ", with the shop's allowances."
	for i, g := range p.Groups {
		w := p.Ways[i]
		if w.Pieces == 0 {
			continue
		}
		rough.Row(b.marks(g.Parts), fmt.Sprint(len(g.Parts)*b.plan.Copies), string(w.Build), fmt.Sprint(w.Pieces),
			w.Length.ShowNumber(b.family), w.Width.ShowNumber(b.family), w.Stock.ShowNumber(b.family), w.Planed.ShowNumber(b.family))
	}
	b.Add(*rough)
	b.wayNotes(p)
	for i, g := range p.Groups {
		if p.Ways[i].Build == blank.Laminated {
			b.working(p.Ways[i].Working(g, b.plan.Shop.Habits))
			break
		}
	}
	b.Add(document.Box{Kind: document.Caution, Title: "Saws and planers", Text: []document.Text{
		document.Words("Follow the machine's manual: guard, riving knife and push sticks; no gloves, no loose sleeves; pieces shorter than the planer's least length are planed as part of a longer one. Wear eye and ear protection, and a fitting dust mask: wood dust is a known carcinogen.")}})
}

// yard writes what to buy and what to mind at the yard.
func (b *book) yard(p cutting.Plan) {
	for _, f := range p.Findings {
		b.Add(document.Box{Kind: document.Warning, Title: upperFirst(f.Where), Text: []document.Text{document.Words(upperFirst(f.What) + ". " + upperFirst(f.Advice) + ".")}})
	}
	if len(p.Buy) > 0 {
		b.buyList(p)
	} else if len(p.Boards) > 0 {
		b.Paragraph("Nothing to buy: the boards on hand give every part.")
	}
	var mind []document.Text
	for _, n := range p.Notes {
		mind = append(mind, document.Words(upperFirst(n)+"."))
	}
	if len(mind) > 0 {
		b.Add(document.Box{Kind: document.Note, Title: "Mind", Text: mind})
	}
	b.Add(document.Paragraph{Text: document.Words("Let the boards lie in the shop for a week or two with sticks between them, and measure their moisture: wood that is wetter than where it will stand shrinks afterwards. Common practice.")})
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// buyList writes what to ask for at the yard.
func (b *book) buyList(p cutting.Plan) {
	t := document.NewTable(document.CentreColumn(""), document.NumberColumn("Boards"), document.TextColumn("Ask for"), document.NumberColumn("Length"), document.NumberColumn("Spare"), document.NumberColumn("Each"), document.NumberColumn("Total"))
	t.Caption = "To buy at the yard. Choose straight, dry boards without knots at their ends; a spare is in case one turns out bad and is not in the total."
	for _, x := range p.Buy {
		each, total, spare := x.Each.String(), x.Total.String(), ""
		if !x.Priced {
			each, total = "no price", "no price"
		}
		if x.Spare > 0 {
			spare = fmt.Sprintf("+ %d", x.Spare)
		}
		t.Cells(append([]document.Cell{document.TickCell()}, askedRow([]int{0, 3, 5}, fmt.Sprint(x.Count), askFor(x), b.askLength(x), spare, each, total)...)...)
	}
	t.Cells(askedRow([]int{6}, "", "", "", "", "", "Total "+b.plan.Shop.Currency, p.Cost.String())...)
	t.Rows[len(t.Rows)-1].Total = true
	b.Add(*t)
}

// askFor names timber as the yard does: "5/4x4 eastern white pine, planed".
func askFor(x cutting.Purchase) string {
	species, _ := wood.Lookup(x.Species)
	text := x.Name + " " + lowerFirst(species.Name)
	switch {
	case x.Panel:
		text += ", glued panel"
	case x.Rough:
		text += ", rough sawn"
	default:
		text += ", planed"
	}
	if x.Condition == string(wood.Clear) || x.Condition == string(wood.SmallTightKnots) {
		text += ", " + x.Condition
	}
	return text
}

// askLength names a length as the yard does: nominal sizes are sold by the foot.
func (b *book) askLength(x cutting.Purchase) string {
	if _, nominal := lumber.Nominal(x.Name); nominal && x.Length%unit.Foot == 0 {
		return fmt.Sprintf("%d ft, %s", x.Length/unit.Foot, b.show(x.Length))
	}
	return b.show(x.Length)
}

// wayNotes lists what to mind of the ways, each note once with the parts that it is for.
func (b *book) wayNotes(p cutting.Plan) {
	var order []string
	of := map[string][]string{}
	for i, g := range p.Groups {
		for _, n := range p.Ways[i].Notes {
			if of[n] == nil {
				order = append(order, n)
			}
			of[n] = append(of[n], b.marks(g.Parts))
		}
	}
	var notes []document.Text
	for _, n := range order {
		notes = append(notes, document.Words("").Strong(strings.Join(of[n], " ")).Plain(": "+n+"."))
	}
	if len(notes) > 0 {
		b.Add(document.List{Items: notes})
	}
}

// marks lists the marks of parts: "A1 A2 A3 A4".
func (b *book) marks(parts []int) string {
	var out []string
	for _, i := range parts {
		out = append(out, b.plan.Assembly.Parts[i].Mark)
	}
	return strings.Join(out, " ")
}

// boards writes the diagram of every board with its cuts in sawing order.
func (b *book) boards() {
	p := b.plan.Cutting
	if len(p.Boards) == 0 {
		b.Paragraph("There is nothing to cut.")
		return
	}
	b.Paragraph(fmt.Sprintf("Cut in the order of the numbers. The saw takes %s; %s are cut off each end of a board first. %s", b.show(b.plan.Shop.Habits.Kerf), b.show(b.plan.Shop.Habits.EndTrim), b.proof(p)))
	if p.Kept != "" {
		b.Paragraph(upperFirst(p.Kept) + ". Grain and colour match best from one board.")
	}
	for i, board := range p.Boards {
		b.board(i, board)
	}
	b.staysOver(p)
}

// proof says how good the plan is, and what it was compared with.
func (b *book) proof(p cutting.Plan) string {
	money := func(m unit.Money) string { return b.plan.Shop.Currency + m.String() }
	text := "No cutting plan of these pieces costs less."
	if !p.Proven {
		text = fmt.Sprintf("A cutting plan of these pieces that costs up to %s less is not ruled out.", money(p.Gap))
	}
	text += fmt.Sprintf(" %d sets of ways to make the parts were laid out and this one comes to least, gluing and planing counted", p.Tried)
	switch {
	case p.AllWays && p.AnyGap == 0:
		text += "; every other one is known to come to more or the same"
	case p.AllWays:
		text += fmt.Sprintf("; one that comes to %s less is not ruled out", money(p.AnyGap))
	}
	return text + "."
}

// staysOver lists what is worth keeping, by the rule.
func (b *book) staysOver(p cutting.Plan) {
	if len(p.Rest) == 0 {
		b.Paragraph("Nothing stays over that is worth keeping.")
		return
	}
	t := document.NewTable(document.CentreColumn(""), document.NumberColumn("Board"), document.TextColumn("Of"), document.NumberColumn("Length"), document.NumberColumn("Width"), document.NumberColumn("Thickness"), document.NumberColumn("Worth"))
	t.Caption = "What stays over, " + b.plan.Units + ". Pieces of at least 300 × 45 mm are kept; each is worth half of the yard's price by area."
	for _, x := range p.Rest {
		of := x.Of
		if len(x.Defects) > 0 {
			of += ", with a " + x.Defects[0].Kind
		}
		t.Cells(append([]document.Cell{document.TickCell()}, askedRow([]int{0, 1, 2, 3, 4, 5}, fmt.Sprint(x.Board+1), of, x.Length.ShowNumber(b.family), x.Width.ShowNumber(b.family), x.Thickness.ShowNumber(b.family), x.Worth.String())...)...)
	}
	t.Cells(askedRow([]int{5, 6}, "", "", "", "", "", "Worth "+b.plan.Shop.Currency, p.Worth.String())...)
	t.Rows[len(t.Rows)-1].Total = true
	b.Add(*t)
}

func (b *book) board(i int, board cutting.Board) {
	b.boardDrawing(i, board)
	t := document.NewTable(document.NumberColumn("Cut"), document.TextColumn("How"), document.NumberColumn("At"), document.TextColumn("Cuts off"))
	for k, c := range board.Cuts {
		how, from := "crosscut", " from the marked end"
		if c.Rip {
			how, from = "rip", " from the lower edge"
		}
		if c.Milled {
			how += " after milling"
		}
		off := strings.Join(board.Frees(k), ", ")
		switch {
		case off == "" && k == 0 && !c.Rip:
			off = "the rough end"
		case off == "":
			off = "waste"
		}
		t.Cells(askedRow([]int{0, 1, 2, 3}, fmt.Sprint(c.Number), how, b.show(c.At)+from, off)...)
	}
	b.Add(*t)
}
