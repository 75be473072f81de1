package workbook

import (
	"fmt"
	"strings"

	"longgrain/internal/paper/document"
	"longgrain/internal/work/blank"
	"longgrain/internal/work/cutting"
)

// timber writes what to buy and how each part is got from it.
func (b *book) timber() {
	p := b.plan.Cutting
	for _, f := range p.Findings {
		b.Add(document.Box{Kind: document.Warning, Title: upperFirst(f.Where), Text: []document.Text{document.Words(upperFirst(f.What) + ". " + upperFirst(f.Advice) + ".")}})
	}
	if len(p.Buy) > 0 {
		t := document.NewTable(document.CentreColumn(""), document.NumberColumn("Boards"), document.TextColumn("Size as sold"), document.NumberColumn("Length"), document.NumberColumn("Each"), document.NumberColumn("Total"))
		t.Caption = "To buy at the yard. Choose straight, dry boards without knots at their ends."
		for _, x := range p.Buy {
			each, total := x.Each.String(), x.Total.String()
			if !x.Priced {
				each, total = "no price", "no price"
			}
			t.Cells(document.TickCell(), document.WordCell(fmt.Sprint(x.Count)), document.WordCell(x.Name), document.WordCell(b.show(x.Length)), document.WordCell(each), document.WordCell(total))
		}
		t.Total("", "", "", "", "Total "+b.plan.Shop.Currency, p.Cost.String())
		b.Add(*t)
	}
	b.Add(document.Paragraph{Text: document.Words("Let the boards lie in the shop for a week or two with sticks between them, and measure their moisture: wood that is wetter than where it will stand shrinks afterwards. Common practice.")})
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
	var notes []document.Text
	for i, g := range p.Groups {
		for _, n := range p.Ways[i].Notes {
			notes = append(notes, document.Words("").Strong(b.marks(g.Parts)+", "+g.Name+more(len(g.Parts)-1)).Plain(": "+n+"."))
		}
	}
	if len(notes) > 0 {
		b.Add(document.List{Items: notes})
	}
	for i, g := range p.Groups {
		if p.Ways[i].Build == blank.Laminated {
			b.working(p.Ways[i].Working(g, b.plan.Shop.Habits))
			break
		}
	}
	b.Add(document.Box{Kind: document.Caution, Title: "Saws and planers", Text: []document.Text{
		document.Words("Follow the machine's manual: guard, riving knife and push sticks; no gloves, no loose sleeves; pieces shorter than the planer's least length are planed as part of a longer one. Wear eye and ear protection, and a fitting dust mask: wood dust is a known carcinogen.")}})
}

// marks lists the marks of parts: "A1 A2 A3 A4".
func (b *book) marks(parts []int) string {
	var out []string
	for _, i := range parts {
		out = append(out, b.plan.Assembly.Parts[i].Mark)
	}
	return strings.Join(out, " ")
}

func more(n int) string {
	if n <= 0 {
		return ""
	}
	return fmt.Sprintf(" and %d more", n)
}

// boards writes the diagram of every board with its cuts in sawing order.
func (b *book) boards() {
	p := b.plan.Cutting
	if len(p.Boards) == 0 {
		b.Paragraph("There is nothing to cut.")
		return
	}
	b.Paragraph(fmt.Sprintf("Cut in the order of the numbers. The saw takes %s; %s are cut off each end first. %s", b.show(b.plan.Shop.Habits.Kerf), b.show(b.plan.Shop.Habits.EndTrim), proof(b, p)))
	if p.Kept != "" {
		b.Paragraph(upperFirst(p.Kept) + ": grain and colour match best that way.")
	}
	for i, board := range p.Boards {
		b.board(i, board)
	}
}

func proof(b *book, p cutting.Plan) string {
	if p.Proven {
		return "No cutting plan of these pieces costs less, offcuts counted at half their price."
	}
	return fmt.Sprintf("A plan that costs up to %s%s less is not ruled out.", b.plan.Shop.Currency, p.Gap)
}

func (b *book) board(i int, board cutting.Board) {
	b.boardDrawing(i, board)
	t := document.NewTable(document.NumberColumn("Cut"), document.TextColumn("How"), document.NumberColumn("At"))
	for _, c := range board.Cuts {
		how, from := "crosscut", " from the marked end"
		if c.Rip {
			how, from = "rip", " from the lower edge"
		}
		t.Row(fmt.Sprint(c.Number), how, b.show(c.At)+from)
	}
	b.Add(*t)
}
