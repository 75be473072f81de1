// Package plan works a whole piece out, once, in one direction: from the description to everything that the workbook
// prints.
//
// Make reads nothing back: each step takes finished values and returns a new one. Joints and frame need each other's
// numbers, so they go round a fixed number of times, here and nowhere else. A joint that does not hold or a board that
// cannot be cut is part of the result; only a description that cannot be read is a list of problems.
package plan

import (
	"context"
	"sync"
	"time"

	"longgrain/internal/check/chance"
	"longgrain/internal/check/fit"
	"longgrain/internal/check/hang"
	"longgrain/internal/check/structure"
	"longgrain/internal/check/testlog"
	"longgrain/internal/design/assembly"
	"longgrain/internal/design/fasten"
	"longgrain/internal/design/free"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/cost"
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/glueup"
	"longgrain/internal/work/markout"
	"longgrain/internal/work/schedule"
)

// Format is the version of the plan's JSON.
const Format = 1

// Plan is everything that is worked out for a piece in a shop. Treat it as read-only.
type Plan struct {
	Format   int               `json:"format"`
	Name     string            `json:"name"`
	Note     string            `json:"note,omitempty"`
	Copies   int               `json:"copies"`
	Family   unit.Family       `json:"-"`
	Units    string            `json:"units"`
	Pattern  pattern.Info      `json:"-"`
	Shop     shop.Shop         `json:"-"`
	ShopName string            `json:"shop"`
	Wanted   float64           `json:"wantedReserve"`
	Assembly assembly.Assembly `json:"assembly"`
	Joints   []JointGroup      `json:"joints"`
	// Changed is what the maker changed by hand in what the pattern makes.
	Changed []free.Changed `json:"changed,omitempty"`
	// PartsFrom are the places in the file that the parts come from, such as "parts[2]" or "pattern".
	PartsFrom []string `json:"-"`
	// Dimensions are the names that the piece gives to lengths and numbers.
	Dimensions []piece.Dimension `json:"-"`
	worked     piece.Piece       // as if every part had been written out
	// Tests is what the shop's own tests say of the book's joints; without tests it is empty and the book stands.
	Tests      testlog.Calibration `json:"tests"`
	Structure  structure.Answer    `json:"structure"`
	Chance     chance.Chance       `json:"chance"`
	Year       Year                `json:"year"`
	Fastenings []fasten.Fastening  `json:"fastenings"`
	Wall       *hang.Fixing        `json:"wall,omitempty"` // screws of a piece that hangs on a wall
	Fit        []fit.Finding       `json:"fit"`
	// Rules are the rules of the trade that chosen joints break, with what they cost.
	Rules     []joint.RuleFinding `json:"rules,omitempty"`
	Together  fit.Order           `json:"together"` // the order of putting together
	Cutting   cutting.Plan        `json:"cutting"`
	Markout   markout.Markout     `json:"markout"`
	GlueUps   glueup.Plan         `json:"glueUps"`
	Finishing finishing.Plan      `json:"finishing"`
	Schedule  schedule.Plan       `json:"schedule"`
	Cost      cost.Plan           `json:"cost"`
	Verdict   Verdict             `json:"verdict"`
	Mends     []Mend              `json:"mends,omitempty"` // only when they were asked for, see WithMends
	Chapters  []Chapter           `json:"chapters"`
}

// JointGroup is the joint chosen for connections alike.
type JointGroup struct {
	Connections []int        `json:"connections"` // indices into the assembly
	Choice      joint.Choice `json:"choice"`
	// Final is the chosen joint under the forces of the last round; it is the zero value when nothing can be made.
	Final joint.Ranked `json:"final"`
	// Forces are the governing forces, and Where the connection and Case the load case they come from.
	Forces joint.Forces `json:"forces"`
	Where  string       `json:"where"`
	Case   string       `json:"case"`
	Made   bool         `json:"made"`
}

// Verdict is the answer for the whole piece: a word and one line.
type Verdict struct {
	Word   string `json:"word"` // holds, tight, does not hold
	Answer string `json:"answer"`
}

// Chapter is one chapter of the workbook with its one-line answer.
type Chapter struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Word   string `json:"word,omitempty"` // holds, tight, does not hold, or empty
	Answer string `json:"answer"`
}

// Input is what a plan is made from.
type Input struct {
	Piece    piece.Piece
	Shop     shop.Shop
	Patterns pattern.Library
	Tests    []testlog.Test    // joints that the shop broke; none: the book stands
	Changes  bool              // also plan the order again with one thing more in the shop; takes several times as long
	Log      []schedule.Record // what was done so far
	Now      time.Time         // on the clock of the shop, when the order goes on from what was done
	// Glance makes a plan for a hand that is still moving sizes: all is worked out as always, but the boards are searched only
	// shortly, and what hangs on them is said to be about so.
	Glance bool

	described Text                     // the file that the piece was read from
	adjust    func(*assembly.Assembly) // a change of the assembly that is tried out
}

// Text is a file by name and content.
type Text struct {
	Name string
	Text []byte
}

// Read reads a piece and a shop file. The list holds everything wrong in both, sizes of the pattern included; the input is
// usable only when it is empty.
func Read(described, workshop Text, patterns pattern.Library) (Input, problem.List) {
	s, shopProblems := shop.Parse(workshop.Name, workshop.Text)
	in, problems := ReadPiece(described, s, patterns)
	problems = append(problems, shopProblems...)
	problems.Sort()
	return in, problems
}

// ReadPiece reads a piece file for a shop that has been read before.
func ReadPiece(described Text, s shop.Shop, patterns pattern.Library) (Input, problem.List) {
	p, problems := piece.Parse(described.Name, described.Text)
	if len(problems) > 0 {
		problems = append(problems, pattern.Check(p, patterns)...)
		problems.Sort()
	}
	return Input{Piece: p, Shop: s, Patterns: patterns, described: described}, problems
}

// rounds is how often joints and frame go round: choose without loads, then twice under the loads of the joints just
// chosen. A third look under load changed no choice in any demo piece.
const rounds = 2

// Make works a piece out. The list holds what is wrong with the description; the plan is usable only when it is
// empty. ctx may end the search for cutting plans and schedules early.
func Make(ctx context.Context, in Input) (Plan, problem.List) {
	p, bare, problems := design(in)
	if len(problems) > 0 {
		return p, problems
	}
	// From here on checks and bench work need nothing of each other, so they are worked out side by side.
	var checks sync.WaitGroup
	checks.Go(func() {
		p.judge(bare)
		p.Chance = p.ChanceOf(chance.Options{})
		p.rules()
		p.Together = fit.Plan(p.fitted())
		p.Fit = append(p.Fit, p.Together.Findings...)
		p.Markout = markout.Make(p.Assembly, markout.Options{Smallest: in.Shop.SmallestMark, Marking: in.Shop.Marking, Enters: p.enters})
	})
	p.Cutting = cutting.MakeWith(ctx, p.Assembly, in.Shop, p.Copies, cutting.Options{Quick: in.Glance})
	p.work(ctx, in)
	checks.Wait()
	p.answer()
	if in.Glance {
		p.about()
	}
	return p, nil
}

// Stand works a piece out only as far as the checks of whether it stands and fits: what a look at its frame needs.
func Stand(in Input) (Plan, problem.List) {
	p, bare, problems := design(in)
	if len(problems) == 0 {
		p.judge(bare)
	}
	return p, problems
}

// design works out what is to be made: the parts, their joints, the year and how tops are held. bare is the assembly before the
// joints were cut.
func design(in Input) (p Plan, bare assembly.Assembly, problems problem.List) {
	expanded, info, problems := pattern.Expand(in.Piece, in.Patterns)
	p = Plan{Format: Format, Name: in.Piece.Name, Note: in.Piece.Note, Copies: in.Piece.Number(), Family: in.Piece.Family(), Units: in.Piece.Family().String(),
		Pattern: info, Shop: in.Shop, ShopName: in.Shop.Name, Wanted: joint.DefaultReserve}
	if len(problems) > 0 {
		return p, bare, problems
	}
	if in.Piece.Reserve > 0 {
		p.Wanted = in.Piece.Reserve
	}
	if expanded, p.Changed, problems = free.Work(expanded); len(problems) > 0 {
		return p, bare, problems
	}
	p.Dimensions, p.worked = in.Piece.Named, expanded
	for i := range expanded.Parts {
		p.PartsFrom = append(p.PartsFrom, expanded.PartFrom(i))
	}
	if p.Assembly, problems = assembly.Build(expanded); len(problems) > 0 {
		return p, bare, problems
	}
	if in.adjust != nil {
		in.adjust(&p.Assembly)
	}
	if problems = p.chooseJoints(in); len(problems) > 0 {
		return p, bare, problems
	}
	p.misfits()
	bare = p.Assembly
	p.cutJoints()
	p.Year = yearOf(p.Assembly, in.Shop)
	p.fastenTops(in.Shop)
	p.fixToWall(in.Shop)
	return p, bare, nil
}

// judge checks whether what was designed holds.
func (p *Plan) judge(bare assembly.Assembly) {
	cut := p.Assembly // joints weaken what they are cut into
	if cut.Fixed == assembly.Hung {
		cut = bare
	}
	p.Structure = analyse(cut, p.jointList(), p.Wanted, moisture(p.Shop))
	p.verify()
	p.Fit = fit.Check(p.fitted())
}

// fitted is what is checked for fit.
func (p *Plan) fitted() fit.Input {
	return fit.Input{Assembly: p.Assembly, Joints: p.jointList(), Fastenings: p.Fastenings, Smallest: p.Shop.SmallestMark}
}

// finishOf returns the finish that the piece names, or else that of the shop.
func finishOf(in Input) coating.Schedule {
	if f, ok := coating.FindSchedule(in.Piece.Finish); ok {
		return f
	}
	return in.Shop.Habits.Finish
}

// moisture returns the moisture content that strength is taken at: the middle of the year where the piece stands.
func moisture(s shop.Shop) wood.Moisture { return s.Habits.TargetMoisture }
