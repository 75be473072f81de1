package web

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"slices"

	"longgrain/internal/book/drawing"
	"longgrain/internal/book/workbook"
	"longgrain/internal/check/testlog"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/svg"
	"longgrain/internal/plan"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
)

// JointsBody asks for a comparison of joints: at a connection of a piece, or between a rail and a post of free sizes.
type JointsBody struct {
	Text       string            `json:"text,omitempty" doc:"the piece file; without it the sizes below say what is joined"`
	Sizes      map[string]string `json:"sizes,omitempty" doc:"sizes to put into the piece, by name, as they were typed"`
	Connection string            `json:"connection,omitempty" maxLength:"200" doc:"one of groups of an earlier answer, or the name of a connection; the first group without it"`
	Wood       string            `json:"wood,omitempty" maxLength:"100"`
	Width      string            `json:"width,omitempty" maxLength:"40" doc:"of the rail where it meets the post, as it was typed"`
	Thickness  string            `json:"thickness,omitempty" maxLength:"40" doc:"of the rail"`
	Depth      string            `json:"depth,omitempty" maxLength:"40" doc:"of the post, square to the end of the rail"`
	Bend       float64           `json:"bend,omitempty" minimum:"0" maximum:"100000" doc:"N·m that bend the joint the strong way"`
	Sideways   float64           `json:"sideways,omitempty" minimum:"0" maximum:"100000" doc:"N·m that bend it the weak way"`
	Pull       string            `json:"pull,omitempty" maxLength:"40" doc:"force that pulls it apart, as it was typed"`
}

// JointsAnswer compares every joint that the tools of the shop can make, the strongest first.
type JointsAnswer struct {
	Problems List[problem.Problem] `json:"problems"`
	Groups   List[string]          `json:"groups" doc:"connections of the piece that can be asked for"`
	Species  List[string]          `json:"species" doc:"woods that can be asked for"`
	Title    string                `json:"title"`
	Why      string                `json:"why" doc:"why the chosen joint was chosen"`
	Wanted   float64               `json:"wanted" doc:"reserve that is wanted"`
	SVG      string                `json:"svg" doc:"the comparison as a picture with the shop's own tests laid over, made by the program"`
	Joints   List[JointCompared]   `json:"joints"`
	Rules    List[string]          `json:"rules" doc:"what the rules of the trade that the chosen joint breaks would cost or give"`
	Tests    List[string]          `json:"tests" doc:"what the shop's own tests say of the kinds compared"`
}

// JointCompared is one joint of a comparison in words and figures.
type JointCompared struct {
	Name    string   `json:"name"`
	Kind    string   `json:"kind"`
	Reserve *float64 `json:"reserve,omitempty" doc:"lower strength over load; missing without a load"`
	Verdict string   `json:"verdict" doc:"empty without a load"`
	Bending float64  `json:"bending" doc:"N·m that 95 of 100 bear, bent the strong way"`
	Limit   string   `json:"limit" doc:"what gives way first"`
	Long    float64  `json:"long" doc:"glue surface on long grain, cm²"`
	End     float64  `json:"end" doc:"glue surface on end grain, cm²"`
	Minutes float64  `json:"minutes"`
	Cost    string   `json:"cost" doc:"of its hardware, in words where there is none"`
	Shows   string   `json:"shows"`
	Rules   string   `json:"rules" doc:"rules of the trade that it breaks, by their short names"`
	Chosen  bool     `json:"chosen"`
}

func (s *Server) addJoints() {
	add(s, operation(http.MethodPost, "/api/joints", "compareJoints", "Compare the joints of a connection, or of free sizes",
		http.StatusServiceUnavailable), s.compareJoints)
}

func (s *Server) compareJoints(ctx context.Context, in *body[JointsBody]) (*body[JointsAnswer], error) {
	workshop, err := s.workshop(ctx)
	if err != nil {
		return nil, err
	}
	answer, err := work(ctx, s, func(ctx context.Context) (JointsAnswer, error) {
		return s.Planner.Joints(ctx, in.Body, workshop)
	})
	return &body[JointsAnswer]{answer}, err
}

// Joints compares joints for the bench.
func (p *Plans) Joints(ctx context.Context, req JointsBody, workshop Workshop) (JointsAnswer, error) {
	answer := JointsAnswer{Species: wood.Names()}
	var c plan.Comparison
	var problems problem.List
	if req.Text != "" {
		c, answer.Groups, problems = p.compareIn(ctx, req, workshop)
	} else {
		s, wrong := p.shop(workshop.Text)
		if problems = wrong; len(problems) == 0 {
			c, problems = compareFree(req, s)
		}
	}
	if answer.Problems = List[problem.Problem](problems); len(problems) > 0 {
		return answer, nil
	}
	answer.Title, answer.Why, answer.Wanted = c.Title, c.Why, c.Wanted
	for _, j := range c.Joints {
		x := JointCompared{Name: j.Name, Kind: string(j.Kind), Verdict: string(j.Verdict), Bending: j.Bending, Limit: j.Limit, Long: float64(j.Glue.LongGrain) * 1e4,
			End: float64(j.Glue.EndGrain) * 1e4, Minutes: float64(j.Minutes), Cost: j.Cost(c.Currency), Shows: string(j.Shows), Chosen: j.Chosen}
		if r := float64(j.Reserve); math.IsInf(r, 0) || math.IsNaN(r) {
			x.Verdict = ""
		} else {
			x.Reserve = &r
		}
		for i, b := range j.Broken {
			if i > 0 {
				x.Rules += ", "
			}
			x.Rules += b.Rule
		}
		answer.Joints = append(answer.Joints, x)
	}
	for _, f := range c.Rules {
		answer.Rules = append(answer.Rules, f.String())
	}
	chart := workbook.JointRows(c)
	answer.Tests = layTestsOver(&chart, c, p.tests(workshop))
	answer.SVG = svg.Inline(drawing.JointChart(chart, drawing.Style{}), "joints-", true)
	return answer, nil
}

// compareIn compares the joints of a connection of a piece, and names all groups of connections.
func (p *Plans) compareIn(ctx context.Context, req JointsBody, workshop Workshop) (plan.Comparison, List[string], problem.List) {
	in, problems := p.read(string(piece.WithSizes([]byte(req.Text), req.Sizes)), workshop)
	var made plan.Plan
	if in.Glance = true; len(problems) == 0 { // boards say nothing of joints
		made, problems = plan.Make(ctx, in)
	}
	if len(problems) > 0 {
		return plan.Comparison{}, nil, problems
	}
	var groups List[string]
	group := 0
	for i, g := range made.Joints {
		name := made.GroupName(g)
		groups = append(groups, name)
		if name == req.Connection {
			group = i
			continue
		}
		for _, c := range g.Connections {
			if made.Assembly.Connections[c].Name == req.Connection {
				group = i
			}
		}
	}
	if len(made.Joints) == 0 {
		problems.Add(problem.Problem{Code: problem.UnknownName, At: problem.Position{Path: "connection"}, What: "the piece has no joints to compare", Mend: "give it parts that meet"})
		return plan.Comparison{}, nil, problems
	}
	return made.Compare(group), groups, nil
}

// compareFree compares joints between a rail and a post of sizes as they were typed.
func compareFree(req JointsBody, s shop.Shop) (plan.Comparison, problem.List) {
	var problems problem.List
	e := plan.EndJoint{Species: req.Wood, Bend: unit.NewtonMetres(req.Bend), BendSideways: unit.NewtonMetres(req.Sideways)}
	for _, z := range []struct {
		path, text string
		to         *unit.Length
	}{{"width", req.Width, &e.Width}, {"thickness", req.Thickness, &e.Thickness}, {"depth", req.Depth, &e.Depth}} {
		size, err := unit.ParseMeasure(z.text)
		if err != nil {
			problems.Add(problem.Problem{Code: problem.BadLength, At: problem.Position{Path: z.path}, What: err.Error(), Mend: `write for example "110 mm" or "4 1/2 in"`})
			continue
		}
		*z.to = size.Length
	}
	if req.Pull != "" {
		pull, err := unit.ParseForce(req.Pull)
		if err != nil {
			problems.Add(problem.Problem{Code: problem.BadForce, At: problem.Position{Path: "pull"}, What: err.Error(), Mend: `write for example "200 N" or "45 lbf"`})
		}
		e.Pull = pull
	}
	if len(problems) > 0 {
		return plan.Comparison{}, problems
	}
	return plan.CompareEnd(e, s)
}

// layTestsOver marks in the picture of a comparison what each joint of a kind would have borne, had it broken at as many times
// what the book gives it as the shop's own test joint did, and says in words how many tests that is.
//
//	value = F / P * B / L
//
// F is the load at which the test joint broke, P what the book gave for it, B the mean bending strength of the chosen joint of
// the kind, or of the strongest, by the book, and L its load; without a load L is 1. Tests that cannot be set beside the book are left out.
func layTestsOver(chart *drawing.JointComparison, c plan.Comparison, tests []testlog.Test) List[string] {
	var out List[string]
	for i := range chart.Rows {
		row := &chart.Rows[i]
		kind := joint.Kind(row.Name)
		best := slices.IndexFunc(c.Joints, func(j plan.Compared) bool { return j.Kind == kind && j.Chosen })
		if best < 0 {
			best = slices.IndexFunc(c.Joints, func(j plan.Compared) bool { return j.Kind == kind })
		}
		j := c.Joints[best]
		mean := j.Book
		if chart.Wanted > 0 && j.Bending > 0 {
			mean = j.Book * float64(j.Reserve) / j.Bending
		}
		var sum float64
		for _, t := range tests {
			if t.Withdrawn || t.Kind() != kind {
				continue
			}
			book, missing := testlog.Forecast(t)
			if len(missing) > 0 || book <= 0 {
				continue
			}
			row.Tests = append(row.Tests, drawing.TestDot{Value: t.Load.SI / book * mean, Held: t.Held()})
			sum += t.Load.SI / book
		}
		if n := len(row.Tests); n > 0 {
			out = append(out, fmt.Sprintf("%s: %d of your own tests, in the mean at %.2f times the book; the crosses lay them on %s.", kind, n, sum/float64(n), j.Name))
		}
	}
	return out
}
