package web

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"longgrain/internal/book/export"
	"longgrain/internal/book/workbook"
	"longgrain/internal/check/fit"
	"longgrain/internal/check/testlog"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/html"
	"longgrain/internal/paper/pdf"
	"longgrain/internal/paper/svg"
	"longgrain/internal/plan"
	"longgrain/internal/trade/shop"
)

// Plans works pieces out with package plan. It implements Planner.
type Plans struct {
	Library pattern.Library
	infos   []PatternInfo
	schemas map[string]pattern.Info

	lock sync.Mutex
	log  *readLog  // the tests that were read last
	last *readShop // the shop that was read last: it stays the same while sizes are dragged
}

// readShop is a shop file that has been read.
type readShop struct {
	text     string
	shop     shop.Shop
	problems problem.List
}

// readLog is a log of tests as package testlog knows it.
type readLog struct {
	edition int
	tests   []testlog.Test
}

// tests returns the tests of a shop, or takes them from the last reading of the same edition.
func (p *Plans) tests(s Workshop) []testlog.Test {
	p.lock.Lock()
	defer p.lock.Unlock()
	if p.log == nil || p.log.edition != s.Edition {
		p.log = &readLog{s.Edition, testsOf(s.Tests)}
	}
	return p.log.tests
}

// shop reads a shop file, or takes it from the last reading of the same text.
func (p *Plans) shop(text string) (shop.Shop, problem.List) {
	p.lock.Lock()
	defer p.lock.Unlock()
	if p.last == nil || p.last.text != text {
		s, problems := shop.Parse("shop", []byte(text))
		p.last = &readShop{text, s, problems}
	}
	return p.last.shop, p.last.problems
}

// NewPlans returns a planner for a library of patterns. It panics when one of them cannot be loaded: they are part of
// the program.
func NewPlans(library pattern.Library) *Plans {
	p := &Plans{Library: library, schemas: map[string]pattern.Info{}}
	for _, script := range library {
		info, problems := pattern.Describe(script)
		if len(problems) > 0 {
			panic("web: " + problems.Error())
		}
		p.schemas[script.Name] = info
		out := PatternInfo{Name: info.Name, Title: info.Title, Help: info.Help, Source: script.Text}
		for _, s := range info.Sizes {
			x := pieceSize(s)
			out.Sizes = append(out.Sizes, PatternSize{Name: x.Name, Title: x.Title, Kind: x.Kind, Default: defaultText(s), Min: x.Min, Max: x.Max, Step: x.Step, Choices: x.Choices, Help: x.Help})
		}
		p.infos = append(p.infos, out)
	}
	return p
}

// Patterns returns the families of furniture.
func (p *Plans) Patterns() []PatternInfo { return p.infos }

// Name returns the name that a file gives itself.
func (p *Plans) Name(text string) string {
	for line := range strings.SplitSeq(text, "\n") {
		if name, ok := strings.CutPrefix(line, "name:"); ok {
			if i := strings.Index(name, " #"); i >= 0 {
				name = name[:i]
			}
			return strings.Trim(strings.TrimSpace(name), `"'`)
		}
	}
	return ""
}

// CheckShop returns what is wrong with a shop file.
func (p *Plans) CheckShop(_ context.Context, text string) ([]problem.Problem, error) {
	_, problems := shop.Parse("shop", []byte(text))
	return problems, nil
}

// read reads a piece for a shop.
func (p *Plans) read(text string, shop Workshop) (plan.Input, problem.List) {
	workshop, shopProblems := p.shop(shop.Text)
	in, problems := plan.ReadPiece(plan.Text{Name: "piece", Text: []byte(text)}, workshop, p.Library)
	in.Tests = p.tests(shop)
	return in, append(problems, shopProblems...)
}

// Mends looks for the single changes that make a piece hold.
func (p *Plans) Mends(ctx context.Context, req PlanRequest) (MendAnswer, error) {
	in, problems := p.read(string(piece.WithSizes([]byte(req.Text), req.Sizes)), req.Shop)
	var made plan.Plan
	if len(problems) == 0 {
		made, problems = plan.Make(ctx, in)
	}
	answer := MendAnswer{}
	if len(problems) > 0 {
		return answer, nil // Plan says what is wrong
	}
	for _, m := range plan.WithMends(ctx, in, made).Mends {
		sizes := m.Sizes
		if sizes == nil {
			sizes = map[string]string{}
		}
		answer.Mends = append(answer.Mends, Mend{m.Change, m.Mended(), m.Word, m.Short, m.Money(made.Cost.Currency), m.Hours, sizes})
	}
	return answer, nil
}

// options say how much is worked out.
type options struct {
	changes bool // also what one thing more in the shop would bring
	glance  bool // the boards only shortly, see plan.Input
}

// make reads both files and works the piece out as far as the options ask.
func (p *Plans) make(ctx context.Context, text string, shop Workshop, opt options) (plan.Plan, pattern.Info, problem.List) {
	in, problems := p.read(text, shop)
	info := p.schemas[in.Piece.Pattern] // the form stays when the piece has faults
	if len(problems) > 0 {
		return plan.Plan{}, info, problems
	}
	in.Changes, in.Glance = opt.changes, opt.glance
	made, problems := plan.Make(ctx, in)
	if len(made.Pattern.Sizes) > 0 {
		info = made.Pattern
	}
	return made, info, problems
}

// Plan works a piece out for the workbench.
func (p *Plans) Plan(ctx context.Context, req PlanRequest) (PlanAnswer, error) {
	text := string(piece.WithSizes([]byte(req.Text), req.Sizes))
	made, info, problems := p.make(ctx, text, req.Shop, options{changes: req.Chapter == plan.OrderChapter, glance: req.Moving && req.Chapter == ""})
	answer := PlanAnswer{Text: text, Problems: List[problem.Problem](problems)}
	answer.Piece = plannedPiece(made, info, problems, req.Sizes)
	if answer.Piece.Name == "" {
		answer.Piece.Name = p.Name(text)
	}
	answer.ByHand = byHandOf(made, text)
	if len(problems) > 0 {
		answer.Verdict = &Verdict{CannotBePlanned, problems[0].What}
		return answer, nil
	}
	answer.Scene = sceneOf(made.Assembly)
	answer.Scene.Places = placesOf(made)
	answer.Together = togetherOf(made)
	answer.Verdict = &Verdict{made.Verdict.Word, made.Verdict.Answer}
	if answer.Verdict.Word == "" {
		answer.Verdict.Word = Holds
	}
	detailScene(answer.Scene, made)
	for _, c := range made.Chapters {
		answer.Chapters = append(answer.Chapters, ChapterInfo(c))
	}
	for _, k := range made.BendCases() {
		answer.Bends = append(answer.Bends, made.Structure.Cases[k].Name)
	}
	if req.Bend != "" {
		answer.Bent = bentOf(made, req.Bend)
	}
	if req.Chapter != "" {
		if doc, ok := workbook.Chapter(made, req.Chapter, workbook.A4Room); ok {
			answer.Open = &OpenChapter{req.Chapter, html.Fragment(doc, html.Options{Draw: svg.Inline})}
		}
	}
	return answer, nil
}

// plannedPiece lists the sizes with their values, and what is wrong with them beside each.
func plannedPiece(made plan.Plan, info pattern.Info, problems problem.List, typed map[string]string) *PlannedPiece {
	out := &PlannedPiece{Name: made.Name, Units: "metric"}
	if made.Family == unit.Imperial {
		out.Units = "inch"
	}
	for _, s := range info.Sizes {
		x := pieceSize(s)
		if t, ok := typed[s.Name]; ok {
			x.Text = t
		}
		for _, found := range problems {
			if found.At.Path == "sizes."+s.Name {
				x.Problem = found.What + "; " + found.Mend
			}
		}
		out.Sizes = append(out.Sizes, x)
	}
	return out
}

func pieceSize(s pattern.Size) PieceSize {
	x := PieceSize{Name: s.Name, Title: s.Title, Help: s.Help, Choices: s.Choices, Text: s.Text}
	switch s.Kind {
	case pattern.LengthSize:
		mm := s.Length.Length.MM()
		x.Kind, x.Text, x.MM = "length", s.Length.String(), &mm
		x.Min, x.Max, x.Step = s.Low.Length.MM(), s.High.Length.MM(), sliderStep(s)
	case pattern.CountSize:
		n := float64(s.Count)
		x.Kind, x.Text, x.Number, x.Min, x.Max, x.Step = "count", fmt.Sprint(s.Count), &n, float64(s.LowCount), float64(s.HighCount), 1
	case pattern.YesNoSize:
		x.Kind = "yesno"
	default:
		x.Kind = "choice"
	}
	return x
}

func defaultText(s pattern.Size) string {
	switch s.Kind {
	case pattern.LengthSize:
		return s.Default.String()
	case pattern.CountSize:
		return fmt.Sprint(s.DefaultCount)
	}
	return s.DefaultText
}

// sliderStep is the step of a slider, mm: a millimetre or a sixteenth of an inch, and five times that for sizes of more
// than half a metre.
func sliderStep(s pattern.Size) float64 {
	step := 1.0
	if s.Length.Family == unit.Imperial {
		step = (unit.Inch / 16).MM()
	}
	if s.High.Length > unit.Metre {
		if s.Length.Family == unit.Imperial {
			return step * 4
		}
		return step * 5
	}
	return step
}

// Workbook returns the printable book.
func (p *Plans) Workbook(ctx context.Context, text string, shop Workshop, print Print) ([]byte, error) {
	in, problems := p.read(text, shop)
	in.Changes = true
	var made plan.Plan
	if len(problems) == 0 {
		made, problems = plan.Make(ctx, in)
	}
	if len(problems) > 0 {
		return nil, problems
	}
	made = plan.WithMends(ctx, in, made)
	sheet := pdf.A4
	if print.Paper == "letter" {
		sheet = pdf.Letter
	}
	width, height := sheet.Frame()
	write := workbook.Make
	if print.Lesson {
		write = workbook.Lesson
	}
	return pdf.Write(write(made, workbook.Options{Width: width, Height: height, Chapters: print.Chapters}), pdf.Options{Paper: sheet})
}

// pictureFile is the export that the shelf shows.
const pictureFile = "picture.svg"

// Export returns a file made from the plan: plan.json, a table such as parts.csv, or the picture for the shelf.
func (p *Plans) Export(ctx context.Context, text string, shop Workshop, name string) ([]byte, string, error) {
	if !exportable(name) {
		return nil, "", ErrNoExport
	}
	if name == pictureFile {
		in, problems := p.read(text, shop)
		if len(problems) > 0 {
			return nil, "", problems
		}
		made, problems := plan.Stand(in)
		if len(problems) > 0 {
			return nil, "", problems
		}
		return svg.File(workbook.Picture(made)), "image/svg+xml", nil
	}
	made, _, problems := p.make(ctx, text, shop, options{changes: name == "plan.json"})
	if len(problems) > 0 {
		return nil, "", problems
	}
	f, ok, err := export.Make(made, name)
	if err == nil && !ok {
		err = ErrNoExport
	}
	return f.Data, f.Type, err
}

// exportable tells whether there is an export of a name, before anything is worked out.
func exportable(name string) bool {
	return name == pictureFile || slices.Contains(export.Names(), name)
}

// explodeShare is how far a part moves in the exploded view, as a share of its distance from the middle.
const explodeShare = 0.7

func sceneOf(a assembly.Assembly) *Scene {
	lo, hi := a.Bounds()
	middle := lo.Add(hi).Scale(0.5)
	s := &Scene{}
	for i, p := range a.Parts {
		away := p.Box().Centre().Sub(middle).Scale(explodeShare)
		x := ScenePart{ID: p.Mark, Name: p.Name, Role: p.Role, Kind: p.Build, Species: p.Species,
			Size: Point{p.Length.MM(), p.Width.MM(), p.Thickness.MM()}, Origin: point(p.Pose.Origin), Explode: point(away)}
		for k := range x.Axes {
			x.Axes[k] = point(p.Pose.Axes[k])
		}
		for k, f := range p.Features {
			if f.Kind == assembly.BevelCut {
				continue // the surface shows it
			}
			x.Features = append(x.Features, featureOf(a, i, k, f))
		}
		x.Surface = surfaceOf(p)
		s.Parts = append(s.Parts, x)
	}
	return s
}

// placesOf returns the places where a piece does not fit, the worst first.
func placesOf(made plan.Plan) List[ScenePlace] {
	var out List[ScenePlace]
	for _, f := range fit.Worst(made.Fit) {
		lo, hi := f.Place.Bounds()
		out = append(out, ScenePlace{What: f.What, Advice: f.Advice, Part: made.Assembly.Parts[f.Part].Mark, From: point(lo), To: point(hi)})
	}
	return out
}

// Labels returns pages of labels for the parts; address is where the piece is to be seen.
func (p *Plans) Labels(ctx context.Context, text string, shop Workshop, paper, address string) ([]byte, error) {
	made, _, problems := p.make(ctx, text, shop, options{})
	if len(problems) > 0 {
		return nil, problems
	}
	sheet := pdf.A4
	if paper == "letter" {
		sheet = pdf.Letter
	}
	width, height := sheet.Frame()
	return pdf.Write(workbook.Labels(made, workbook.Options{Width: width, Height: height}, address), pdf.Options{Paper: sheet})
}

// featureOf returns a feature as a cylinder or box in the frame of its part.
func featureOf(a assembly.Assembly, part, index int, f assembly.Feature) Feature {
	p := a.Parts[part]
	x := Feature{ID: fmt.Sprintf("%s.%d", p.Mark, index+1), Kind: string(f.Kind), Shape: "box", Adds: f.Kind == assembly.Tenon, Words: words(f, a.Family)}
	for _, c := range a.Connections {
		if c.Name == f.For {
			x.Mate = a.Parts[c.A.Part+c.B.Part-part].Mark
		}
	}
	local := func(u, v, depth unit.Length) geom.Vec { return p.Pose.In(p.OnSide(f.Side, u, v, depth)) }
	if f.Kind == assembly.Bore {
		along := f.Depth.MM() * math.Sin(float64(f.Tilt)*math.Pi/180)
		down := f.Depth.MM() * math.Cos(float64(f.Tilt)*math.Pi/180)
		x.Shape, x.Diameter = "cylinder", f.Diameter.MM()
		x.From, x.To = point(local(f.U, f.V, 0)), point(local(f.U+unit.MM(along), f.V, unit.MM(down)))
		return x
	}
	depth := f.Depth
	if x.Adds {
		depth = -depth
	}
	u0, v0, u1, v1 := f.U-f.Length/2, f.V-f.Width/2, f.U+f.Length/2, f.V+f.Width/2
	if f.Kind == assembly.Groove || f.Kind == assembly.Rebate || f.Kind == assembly.TaperCut {
		u0, v0, u1, v1 = f.U, f.V, f.U+f.Length, f.V+f.Width
		if f.Kind == assembly.TaperCut {
			_, va := f.Side.UV()
			v0, v1 = 0, p.Size(va)
		}
	}
	from, to := local(u0, v0, 0), local(u1, v1, depth)
	for k := range 3 {
		x.From[k], x.To[k] = min(from.Along(k), to.Along(k)), max(from.Along(k), to.Along(k))
	}
	return x
}

func words(f assembly.Feature, family unit.Family) string {
	if f.Kind == assembly.Bore {
		return fmt.Sprintf("bore ⌀ %s, %s deep", f.Diameter.Show(family), f.Depth.Show(family))
	}
	return fmt.Sprintf("%s %s × %s, %s", f.Kind, f.Length.Show(family), f.Width.Show(family), f.Depth.Show(family))
}

func point(v geom.Vec) Point { return Point{v.X, v.Y, v.Z} }
