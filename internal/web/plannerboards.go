package web

import (
	"context"
	"fmt"
	"slices"

	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/plan"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/cutting"
)

// Boards works out what the boards of a piece come to, and what they come to with a change of the shop.
func (p *Plans) Boards(ctx context.Context, req PlanRequest, change *WhatIf) (BoardsAnswer, error) {
	var answer BoardsAnswer
	made, _, problems := p.make(ctx, string(piece.WithSizes([]byte(req.Text), req.Sizes)), req.Shop, options{})
	if answer.Problems = List[problem.Problem](problems); len(problems) > 0 {
		return answer, nil
	}
	answer.Now = summary(made.Cutting, made)
	for _, r := range made.Cutting.Rest {
		answer.Rest = append(answer.Rest, fmt.Sprintf("%s × %s × %s of %s", r.Length.Show(made.Family), r.Width.Show(made.Family), r.Thickness.Show(made.Family), r.Of))
	}
	for _, t := range made.Shop.Timber {
		if !slices.Contains(answer.Timber, t.Size) {
			answer.Timber = append(answer.Timber, t.Size)
		}
	}
	answer.Rack = rackOf(made)
	if change == nil {
		return answer, nil
	}
	with, wrong := changed(made.Shop, *change)
	if len(wrong) > 0 {
		answer.Problems = wrong
		return answer, nil
	}
	answer.Then = summary(cutting.Make(ctx, made.Assembly, with, made.Copies), made)
	return answer, nil
}

func rackOf(made plan.Plan) List[RackBoard] {
	used := map[string]bool{}
	for _, b := range made.Cutting.Boards {
		used[b.Name] = used[b.Name] || b.Source != cutting.Buy
	}
	var out List[RackBoard]
	add := func(list []shop.Board, offcut bool) {
		for _, b := range list {
			species, _ := wood.Lookup(b.Species)
			x := RackBoard{Name: b.Name, Species: species.Name, Length: b.Length.MM(), Width: b.Width.MM(), Thickness: b.Thickness.MM(), Offcut: offcut, Used: used[b.Name]}
			for _, d := range b.Defects {
				x.Defects = append(x.Defects, RackDefect{Kind: d.Kind, From: d.From.MM(), To: d.To.MM(), Left: d.Left.MM(), Right: d.Right.MM()})
			}
			out = append(out, x)
		}
	}
	add(made.Shop.Boards, false)
	add(made.Shop.Offcuts, true)
	return out
}

// summary is a cutting plan in short.
func summary(c cutting.Plan, made plan.Plan) *BoardsSummary {
	s := BoardsSummary{Cost: made.Shop.Currency + c.Cost.String(), Cents: int64(c.Cost), Proof: "no plan of these pieces costs less"}
	if !c.Proven {
		s.Proof = "one that costs up to " + made.Shop.Currency + c.Gap.String() + " less is not ruled out"
	}
	if len(c.Findings) > 0 {
		s.Fault = c.Findings[0].Where + ": " + c.Findings[0].What
	}
	area, waste := 0.0, 0.0
	for _, b := range c.Boards {
		if b.Source != cutting.Buy {
			s.OnHand++
		}
		a := float64(unit.Area(b.Length, b.Width))
		area, waste = area+a, waste+a*b.Waste
	}
	if area > 0 {
		s.Waste = waste / area
	}
	for _, x := range c.Buy {
		s.Bought += x.Count
		s.Buy = append(s.Buy, fmt.Sprintf("%d × %s, %s", x.Count, x.Name, x.Length.Show(made.Family)))
	}
	return &s
}

// changed returns the shop with a change, and what is wrong with the change.
func changed(s shop.Shop, c WhatIf) (shop.Shop, List[problem.Problem]) {
	var wrong List[problem.Problem]
	length := func(path, text string, low, high unit.Length) unit.Length {
		m, err := unit.ParseMeasure(text)
		switch {
		case err != nil:
			wrong = append(wrong, problem.Problem{Code: problem.WrongKind, At: problem.Position{File: "change", Path: path}, What: err.Error(), Mend: "write for example 2.4 mm or 3/32 in"})
		case m.Length < low || m.Length > high:
			wrong = append(wrong, problem.Problem{Code: problem.OutOfRange, At: problem.Position{File: "change", Path: path}, What: m.String() + " is out of range",
				Expected: low.Show(m.Family) + " to " + high.Show(m.Family), Mend: "check the number and its unit"})
		}
		return m.Length
	}
	if c.Kerf != "" {
		s.Habits.Kerf = length("kerf", c.Kerf, unit.Millimetre/2, 10*unit.Millimetre)
	}
	if c.Length != "" {
		l := length("length", c.Length, 50*unit.Millimetre, 20*unit.Metre)
		s.Timber = slices.Clone(s.Timber)
		found := false
		for i, t := range s.Timber {
			if t.Size != c.Timber || l <= 0 {
				continue
			}
			found = true
			s.Timber[i].Pieces = append(slices.Clone(t.Pieces), pieceLike(t, l, c.Price))
		}
		if !found && len(wrong) == 0 {
			wrong = append(wrong, problem.Problem{Code: problem.UnknownName, At: problem.Position{File: "change", Path: "timber"}, What: fmt.Sprintf("there is no timber %q", c.Timber), Mend: "choose a size as sold"})
		}
	}
	if b := c.Board; b != nil {
		species, ok := wood.Find(b.Species)
		if !ok {
			wrong = append(wrong, problem.Problem{Code: problem.UnknownName, At: problem.Position{File: "change", Path: "board.species"}, What: fmt.Sprintf("there is no species %q", b.Species), Mend: problem.DidYouMean(b.Species, wood.Names())})
		}
		s.Boards = append(slices.Clone(s.Boards), shop.Board{Name: "one more board", Species: species.ID, Condition: s.Habits.Condition, Moisture: s.Habits.TargetMoisture, Count: 1,
			Thickness: length("board.thickness", b.Thickness, 2*unit.Millimetre, 500*unit.Millimetre),
			Width:     length("board.width", b.Width, 5*unit.Millimetre, 2*unit.Metre),
			Length:    length("board.length", b.Length, 20*unit.Millimetre, 20*unit.Metre)})
	}
	return s, wrong
}

// pieceLike is a length of timber at a price, or at the price by length of the nearest other length.
func pieceLike(t shop.Timber, l unit.Length, price float64) shop.Piece {
	if price > 0 || len(t.Pieces) == 0 {
		return shop.Piece{Length: l, Price: unit.Cents(price * 100), Priced: price > 0}
	}
	near := slices.MinFunc(t.Pieces, func(a, b shop.Piece) int {
		return int((a.Length-l).Abs()/unit.Millimetre - (b.Length-l).Abs()/unit.Millimetre)
	})
	return shop.Piece{Length: l, Price: unit.Cents(float64(near.Price) * float64(l) / float64(near.Length)), Priced: near.Priced}
}

// AfterJob returns the shop file with the rack as it is when the boards of a piece are cut.
func (p *Plans) AfterJob(ctx context.Context, req PlanRequest) (string, error) {
	made, _, problems := p.make(ctx, string(piece.WithSizes([]byte(req.Text), req.Sizes)), req.Shop, options{})
	if len(problems) > 0 {
		return "", problems
	}
	if f := made.Cutting.Findings; len(f) > 0 {
		return "", problem.List{{Code: problem.BadGeometry, At: problem.Position{File: "piece"}, What: "the boards do not give every part: " + f[0].What, Mend: f[0].Advice}}
	}
	text, err := shop.ChangeRack([]byte(req.Shop.Text), made.Cutting.AfterJob(made.Shop))
	if err != nil {
		return "", problem.List{{Code: problem.BadGeometry, At: problem.Position{File: "shop"}, What: err.Error(), Mend: "change the boards on the page of the shop"}}
	}
	return string(text), nil
}

// WithDefects returns the shop file with the defects of one board on hand replaced.
func (p *Plans) WithDefects(shopText, board string, defects []RackDefect) (string, error) {
	var list []shop.Defect
	for _, d := range defects {
		list = append(list, shop.Defect{Kind: d.Kind, From: unit.MM(d.From), To: unit.MM(d.To), Left: unit.MM(d.Left), Right: unit.MM(d.Right)})
	}
	text, err := shop.ChangeDefects([]byte(shopText), board, list)
	return string(text), err
}
