package web

import (
	"context"
	"math"
	"slices"

	"longgrain/internal/book/forces"
	"longgrain/internal/book/workbook"
	"longgrain/internal/design/piece"
	"longgrain/internal/paper/svg"
	"longgrain/internal/plan"
)

func (s *Server) forces(ctx context.Context, in *body[ForcesBody]) (*body[ForcesAnswer], error) {
	shop, err := s.workshop(ctx)
	if err != nil {
		return nil, err
	}
	answer, err := work(ctx, s, func(ctx context.Context) (ForcesAnswer, error) {
		return s.Planner.Forces(ctx, ForcesRequest{Text: in.Body.Text, Shop: shop, Sizes: in.Body.Sizes, Part: in.Body.Part, Case: in.Body.Case})
	})
	if err != nil {
		return nil, err
	}
	return &body[ForcesAnswer]{answer}, nil
}

// Forces looks up what a part carries under a load case.
func (p *Plans) Forces(_ context.Context, req ForcesRequest) (ForcesAnswer, error) {
	in, problems := p.read(string(piece.WithSizes([]byte(req.Text), req.Sizes)), req.Shop)
	var made plan.Plan
	if len(problems) == 0 {
		made, problems = plan.Stand(in)
	}
	if len(problems) > 0 {
		return ForcesAnswer{}, nil // Plan says what is wrong
	}
	part, _, ok := made.HardestPart()
	if !ok {
		return ForcesAnswer{}, nil
	}
	answer := ForcesAnswer{Part: made.Assembly.Parts[part].Mark}
	for i, x := range made.Assembly.Parts {
		if _, carries := made.HardestCase(i); carries {
			answer.Parts = append(answer.Parts, ForcesPart{x.Mark, x.Name})
		}
		if req.Part != "" && x.Mark == req.Part {
			part, answer.Part = i, req.Part
		}
	}
	if req.Part != "" && answer.Part != req.Part {
		answer.Part = req.Part
		return answer, nil
	}
	index, ok := made.HardestCase(part)
	if !ok {
		return answer, nil
	}
	answer.Cases = List[string]{made.Structure.Cases[index].Name}
	for k, c := range made.Structure.Cases {
		if made.Structure.Solved(k) && k != index {
			answer.Cases = append(answer.Cases, c.Name)
		}
	}
	if req.Case != "" {
		if index = slices.IndexFunc(made.Structure.Cases, namedCase(req.Case)); index < 0 {
			answer.Case = req.Case
			return answer, nil
		}
	}
	answer.Case = made.Structure.Cases[index].Name
	answer.show(made, part, index)
	return answer, nil
}

// show fills in what a part carries.
func (a *ForcesAnswer) show(made plan.Plan, part, index int) {
	d, ok := forces.Of(made, index, part)
	if !ok {
		return
	}
	a.Length, a.Words = d.Length, d.Words()
	for _, j := range d.Joints {
		a.Joints = append(a.Joints, ForcesJoin{j.Mark, hundredth(j.At)})
	}
	for _, c := range d.Curves {
		l := ForcesLine{Name: c.Name, Unit: c.Unit, Above: c.Above, Below: c.Below}
		l.MostAbove, l.MostBelow = d.Most(c)
		for i := range c.At {
			l.At, l.Of = append(l.At, hundredth(c.At[i])), append(l.Of, hundredth(c.Of[i]))
		}
		a.Curves = append(a.Curves, l)
	}
	a.Drawing = svg.Inline(forces.Draw(d, workbook.A4Room.Width), "part-", false)
}

// hundredth rounds to what a reader of forces and places needs.
func hundredth(x float64) float64 { return math.Round(x*100)/100 + 0 }
