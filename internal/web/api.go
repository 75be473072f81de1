package web

import (
	"encoding/json"
	"reflect"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"longgrain/internal/ground/problem"
)

// This file holds everything that goes over the wire. The types of the front end are made from the
// OpenAPI document that these types give, so a change here is a change of the interface.

// List is a list that is never null in JSON.
type List[T any] []T

// MarshalJSON writes [] for a list of nothing.
func (l List[T]) MarshalJSON() ([]byte, error) {
	if l == nil {
		return []byte("[]"), nil
	}
	return json.Marshal([]T(l))
}

// Schema describes the list for OpenAPI.
func (List[T]) Schema(r huma.Registry) *huma.Schema {
	return &huma.Schema{Type: huma.TypeArray, Items: r.Schema(reflect.TypeFor[T](), true, "")}
}

// Point is a place or direction in space: x to the right, y to the back, z up, in mm.
type Point [3]float64

// Schema describes the point for OpenAPI.
func (Point) Schema(huma.Registry) *huma.Schema {
	three := 3
	return &huma.Schema{Type: huma.TypeArray, Items: &huma.Schema{Type: huma.TypeNumber},
		MinItems: &three, MaxItems: &three}
}

// PatternInfo is a family of furniture that a piece can be made from.
type PatternInfo struct {
	Name   string            `json:"name" doc:"name as a piece file uses it"`
	Title  string            `json:"title" doc:"name as a person reads it"`
	Help   string            `json:"help" doc:"what it makes, in a sentence or two"`
	Sizes  List[PatternSize] `json:"sizes" doc:"what can be chosen, in the order in which to ask"`
	Source string            `json:"-"` // the script, served on its own
}

// PatternSize is one thing that a pattern lets a person choose.
type PatternSize struct {
	Name    string       `json:"name" doc:"name as a piece file uses it"`
	Title   string       `json:"title" doc:"name as a person reads it"`
	Kind    string       `json:"kind" enum:"length,count,choice,yesno,angle"`
	Default string       `json:"default" doc:"value when nothing is chosen, as it would be typed"`
	Min     float64      `json:"min" doc:"least value: mm for a length, degrees for an angle; 0 for a choice or yesno"`
	Max     float64      `json:"max" doc:"largest value, like min"`
	Step    float64      `json:"step" doc:"step of a slider, like min"`
	Choices List[string] `json:"choices" doc:"the words of a choice; empty for other kinds"`
	Help    string       `json:"help"`
}

// Verdict is the answer in short: of a piece on the shelf, of a plan, of a chapter.
type Verdict struct {
	Word   string `json:"word" enum:"holds,tight,does not hold,cannot be planned"`
	Answer string `json:"answer" doc:"the answer in one sentence"`
}

// Words of a verdict.
const (
	Holds           = "holds"
	Tight           = "tight"
	DoesNotHold     = "does not hold"
	CannotBePlanned = "cannot be planned"
)

// Shelf is what the first page shows.
type Shelf struct {
	Pieces  List[ShelfPiece]   `json:"pieces" doc:"pieces in use, the last saved first"`
	Deleted List[DeletedPiece] `json:"deleted" doc:"pieces put aside, the last one first"`
}

// ShelfPiece is a piece on the shelf.
type ShelfPiece struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Version int       `json:"version" doc:"newest version"`
	Saved   time.Time `json:"saved"`
	Verdict
	Picture string `json:"picture" doc:"address of an SVG picture of the piece as saved"`
}

// DeletedPiece is a piece that was put aside and can be restored.
type DeletedPiece struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Version int       `json:"version"`
	Deleted time.Time `json:"deleted"`
}

// NewPiece is a piece to be saved for the first time.
type NewPiece struct {
	Text string `json:"text" doc:"the piece file"`
	Note string `json:"note,omitempty" maxLength:"500"`
}

// ChangedPiece is a piece to be saved again.
type ChangedPiece struct {
	Text string `json:"text" doc:"the piece file"`
	Base int    `json:"base" minimum:"1" doc:"the version that the change was made from"`
	Note string `json:"note,omitempty" maxLength:"500" doc:"why it was changed"`
}

// SavedPiece says under what name and number a piece was saved.
type SavedPiece struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Version int       `json:"version"`
	Saved   time.Time `json:"saved"`
}

// Piece is a piece in one of its versions.
type Piece struct {
	ID      string     `json:"id"`
	Name    string     `json:"name"`
	Text    string     `json:"text" doc:"the piece file"`
	Version int        `json:"version"`
	Saved   time.Time  `json:"saved"`
	Note    string     `json:"note"`
	Created time.Time  `json:"created"`
	Deleted *time.Time `json:"deleted,omitempty" doc:"when the piece was put aside; missing while it is in use"`
}

// PieceVersion is a line in the history of a piece.
type PieceVersion struct {
	Version int       `json:"version"`
	Name    string    `json:"name"`
	Saved   time.Time `json:"saved"`
	Note    string    `json:"note"`
}

// Shop is the description of the shop and what is wrong with it.
type Shop struct {
	Text     string                `json:"text" doc:"the shop file"`
	Version  int                   `json:"version" doc:"0 while nobody has saved a shop; the text is then the one that the program comes with"`
	Saved    *time.Time            `json:"saved,omitempty"`
	Problems List[problem.Problem] `json:"problems"`
}

// ChangedShop is a shop to be saved. It is saved even when it has problems.
type ChangedShop struct {
	Text string `json:"text" doc:"the shop file"`
	Base int    `json:"base" minimum:"0" doc:"the version that the change was made from"`
	Note string `json:"note,omitempty" maxLength:"500"`
}

// PlanBody asks for a plan of a text that need not be saved.
type PlanBody struct {
	Text    string            `json:"text" doc:"the piece file"`
	Sizes   map[string]string `json:"sizes,omitempty" doc:"sizes to put in, by name, as they were typed"`
	Chapter string            `json:"chapter,omitempty" doc:"id of the chapter to return in full"`
	Bend    string            `json:"bend,omitempty" doc:"load case to bend the piece by, one of bends of an earlier answer"`
	Moving  bool              `json:"moving,omitempty" doc:"a hand is still moving sizes: boards are searched only shortly, and what hangs on them is about so"`
}

// PlanAnswer is the answer to PlanBody. When something is wrong with the input the answer has
// problems and as much of the rest as could be worked out.
type PlanAnswer struct {
	Problems List[problem.Problem] `json:"problems"`
	Text     string                `json:"text" doc:"the piece file with the sizes put in"`
	Piece    *PlannedPiece         `json:"piece,omitempty"`
	Scene    *Scene                `json:"scene,omitempty"`
	Verdict  *Verdict              `json:"verdict,omitempty"`
	Chapters List[ChapterInfo]     `json:"chapters" doc:"all chapters in the order of the work"`
	Open     *OpenChapter          `json:"open,omitempty" doc:"the chapter that was asked for"`
	Bends    List[string]          `json:"bends" doc:"load cases worth looking at bent, the one that moves the piece most first"`
	ByHand   *ByHand               `json:"byHand,omitempty" doc:"what the file says part by part; of a piece that cannot be planned only what is written"`
	Bent     *Bent                 `json:"bent,omitempty" doc:"how the piece bends in the case that was asked for; missing when the piece has no such case"`
	Together *Together             `json:"together,omitempty" doc:"the order in which the parts go together"`
}

// Together is an order in which the parts go together, one straight push at a time. Parts are named by their ids and stand where
// they stand in the finished piece, but for the way that they are still to be pushed.
type Together struct {
	Possible bool               `json:"possible" doc:"false when some parts cannot be put together by straight pushes; the steps are then those around them"`
	Stuck    List[string]       `json:"stuck" doc:"ids of the parts that cannot be put together"`
	Steps    List[TogetherStep] `json:"steps" doc:"in the order of the work"`
}

// TogetherStep pushes one part, or parts put together before, onto others.
type TogetherStep struct {
	Moving    List[string] `json:"moving" doc:"ids of the parts that are pushed, all as one"`
	Onto      List[string] `json:"onto" doc:"ids of the parts that stay"`
	Direction Point        `json:"direction" doc:"the way of the push, of length one"`
	Distance  float64      `json:"distance" doc:"mm from where the step is to be shown to where the parts belong; at least three times travel"`
	Travel    float64      `json:"travel" doc:"mm of the push in which pins, tenons or laps already hold the parts in line"`
	Joints    List[string] `json:"joints" doc:"names of the connections that close"`
	Words     string       `json:"words" doc:"the step in a sentence"`
}

// Bent is how the piece bends under a load case.
type Bent struct {
	Case  string         `json:"case"`
	Times float64        `json:"times" doc:"by how much movements are to be drawn larger than they are"`
	Words string         `json:"words" doc:"the largest movement and the scale in a sentence"`
	Parts List[BentPart] `json:"parts"`
}

// BentPart is how one part bends.
type BentPart struct {
	ID    string        `json:"id"`
	Steps List[Section] `json:"steps" doc:"movements of sections at equal steps along the part, from its low end to its high end"`
}

// Section is the movement of a section of a part, in the part's own directions.
type Section struct {
	Shift Point `json:"shift" doc:"of the middle of the section, mm"`
	Turn  Point `json:"turn" doc:"radians"`
}

// ForcesBody asks what a part carries under a load case.
type ForcesBody struct {
	Text  string            `json:"text" doc:"the piece file"`
	Sizes map[string]string `json:"sizes,omitempty" doc:"sizes to put in, by name, as they were typed"`
	Part  string            `json:"part,omitempty" doc:"id of the part; without it the one whose wood is used hardest"`
	Case  string            `json:"case,omitempty" doc:"load case by name; without it the one that uses the part hardest"`
}

// ForcesAnswer is what a part carries. Curves are missing when the piece cannot be planned, or has no such part in its frame or no such case.
type ForcesAnswer struct {
	Parts   List[ForcesPart] `json:"parts" doc:"the parts of the frame: those that can be asked for"`
	Cases   List[string]     `json:"cases" doc:"the load cases that can be asked for, the one that uses the part hardest first"`
	Part    string           `json:"part" doc:"id of the part"`
	Case    string           `json:"case"`
	Length  float64          `json:"length" doc:"of the part, mm"`
	Words   string           `json:"words" doc:"the most that it carries in a sentence"`
	Joints  List[ForcesJoin] `json:"joints" doc:"what is joined to the part, from its low end"`
	Curves  List[ForcesLine] `json:"curves"`
	Drawing string           `json:"drawing" doc:"the part with its forces under it, as an svg element"`
}

// ForcesPart is a part that can be asked for.
type ForcesPart struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// ForcesJoin is where another part is joined.
type ForcesJoin struct {
	ID string  `json:"id" doc:"of the other part"`
	At float64 `json:"at" doc:"mm from the low end"`
}

// ForcesLine is one force along the part. Two values at one place are a step.
type ForcesLine struct {
	Name      string        `json:"name"`
	Unit      string        `json:"unit" enum:"N,N·m"`
	Above     string        `json:"above" doc:"what a value above nothing does; empty where the sign says little"`
	Below     string        `json:"below"`
	MostAbove string        `json:"mostAbove" doc:"the most above nothing with its place, in words"`
	MostBelow string        `json:"mostBelow"`
	At        List[float64] `json:"at" doc:"places, mm from the low end"`
	Of        List[float64] `json:"of" doc:"the force at each place"`
}

// MendAnswer lists the single changes that make a piece hold, cheapest first.
type MendAnswer struct {
	Mends List[Mend] `json:"mends"`
}

// Mend is one change of a piece.
type Mend struct {
	Change string            `json:"change" doc:"the change in words"`
	Mends  string            `json:"mends" doc:"what it mends, with the reserves before and after"`
	Word   string            `json:"word" enum:"holds,tight,does not hold" doc:"whether the piece then holds"`
	Short  bool              `json:"short" doc:"true when no single change is enough and this one comes nearest"`
	Money  string            `json:"money" doc:"what the piece then costs more, with its sign"`
	Hours  float64           `json:"hours" doc:"hours of work more, or less when negative"`
	Sizes  map[string]string `json:"sizes" doc:"sizes to put in, by name; empty when the change is not one of sizes"`
}

// PlannedPiece is what a piece file says, as it was understood.
type PlannedPiece struct {
	Name  string          `json:"name"`
	Units string          `json:"units" enum:"metric,inch" doc:"family of units to show lengths in"`
	Sizes List[PieceSize] `json:"sizes"`
}

// PieceSize is a size of a piece that a person can change.
type PieceSize struct {
	Name    string       `json:"name"`
	Title   string       `json:"title"`
	Kind    string       `json:"kind" enum:"length,count,choice,yesno,angle"`
	Text    string       `json:"text" doc:"the value as it was typed"`
	MM      *float64     `json:"mm,omitempty" doc:"value of a length, mm"`
	Number  *float64     `json:"number,omitempty" doc:"value of a count, or of an angle in degrees"`
	Min     float64      `json:"min" doc:"least value: mm for a length, degrees for an angle"`
	Max     float64      `json:"max"`
	Step    float64      `json:"step"`
	Help    string       `json:"help"`
	Choices List[string] `json:"choices"`
	Problem string       `json:"problem,omitempty" doc:"what is wrong with the value and how to mend it"`
}

// Scene is the piece in space.
type Scene struct {
	Parts  List[ScenePart]  `json:"parts"`
	Places List[ScenePlace] `json:"places" doc:"places where the piece does not fit, the worst first"`
	Joints List[SceneJoint] `json:"joints" doc:"connections of parts, in the order of the piece"`
	Year   *SceneYear       `json:"year,omitempty" doc:"missing when the shop tells no climate of the place of use"`
}

// ScenePlace is a place where the piece does not fit.
type ScenePlace struct {
	What   string `json:"what" doc:"what is wrong there"`
	Advice string `json:"advice" doc:"the smallest change that mends it"`
	Part   string `json:"part" doc:"id of the part"`
	From   Point  `json:"from" doc:"lowest corner of a box around the place, mm"`
	To     Point  `json:"to" doc:"highest corner"`
}

// ScenePart is a part: a board of size length, width, thickness in its own frame, with features.
type ScenePart struct {
	ID       string        `json:"id"`
	Name     string        `json:"name"`
	Role     string        `json:"role" doc:"what the part is in the piece, such as leg or rail"`
	Kind     string        `json:"kind" doc:"what the part is made as, such as solid, laminated or panel"`
	Species  string        `json:"species"`
	Size     Point         `json:"size" doc:"length along the grain, width, thickness, mm"`
	Origin   Point         `json:"origin" doc:"place of the corner 0, 0, 0 of the part, mm"`
	Axes     [3]Point      `json:"axes" nullable:"false" doc:"directions of length, width and thickness, each of length one"`
	Explode  Point         `json:"explode" doc:"how far the part moves in the exploded view, mm"`
	Features List[Feature] `json:"features"`
	Surface  *Surface      `json:"surface,omitempty" doc:"the surface of a part that has sides at an angle; without one it follows from size and features"`
	Glued    *GluedPart    `json:"glued,omitempty" doc:"how the part is glued up; missing for a part of one board, and while no boards are planned"`
}

// Surface is the closed surface of a part in its own frame, mm.
type Surface struct {
	Triangles []float64 `json:"triangles" nullable:"false" doc:"nine numbers each, counterclockwise from outside: first those of its sides, then of cuts, then of what stands out"`
	Counts    []int     `json:"counts" nullable:"false" doc:"how many triangles there are of sides, of cuts and of what stands out"`
	Lines     []float64 `json:"lines" nullable:"false" doc:"six numbers for each line along an edge"`
}

// GluedPart says where a part is glued up.
type GluedPart struct {
	Across string        `json:"across" enum:"width,thickness" doc:"width for the staves of a panel, thickness for the strips of a lamination"`
	At     List[float64] `json:"at" doc:"mm from the face or edge that the part is measured from to each glue line, rising"`
}

// SceneJoint is a connection of two parts.
type SceneJoint struct {
	Name  string       `json:"name" doc:"as the chapters call it"`
	Parts List[string] `json:"parts" doc:"ids of the two parts"`
	Words string       `json:"words" doc:"the joint in words; empty where none could be made"`
	At    Point        `json:"at" doc:"middle of the place where the parts meet, mm"`
	From  Point        `json:"from" doc:"lowest corner of a box around the joint with all that is cut for it, mm"`
	To    Point        `json:"to" doc:"highest corner"`
}

// SceneYear is how the wood swells and shrinks through the year at the place of use.
type SceneYear struct {
	Months List[SceneMonth] `json:"months" doc:"in the order of the shop file"`
	Times  float64          `json:"times" doc:"by how much the movement is to be drawn larger than it is"`
	Parts  List[YearPart]   `json:"parts" doc:"parts that move across the grain"`
}

// SceneMonth is the wood in one month.
type SceneMonth struct {
	Name  string  `json:"name"`
	Share float64 `json:"share" doc:"of the movement to the dampest month; less than 0 where the wood is drier than when it was worked"`
	Words string  `json:"words" doc:"what the widest part does, in a sentence"`
}

// YearPart is the movement of one part from the moisture at which it was worked to that of the dampest month.
type YearPart struct {
	ID        string  `json:"id"`
	Width     float64 `json:"width" doc:"mm wider"`
	Thickness float64 `json:"thickness" doc:"mm thicker"`
}

// Feature is something cut into a part or standing out from it, in the frame of the part, mm.
type Feature struct {
	ID       string  `json:"id"`
	Kind     string  `json:"kind" doc:"the trade's word: bore, mortise, groove, rebate, notch, tenon"`
	Shape    string  `json:"shape" enum:"cylinder,box"`
	Adds     bool    `json:"adds" doc:"true for wood that stands out of the size of the part, such as a tenon"`
	From     Point   `json:"from" doc:"cylinder: centre of the open end; box: lowest corner"`
	To       Point   `json:"to" doc:"cylinder: centre of the bottom; box: highest corner"`
	Diameter float64 `json:"diameter,omitempty" doc:"of a cylinder"`
	Rounded  bool    `json:"rounded,omitempty" doc:"the narrow sides of the box are half round, as a cutter leaves them"`
	Flare    float64 `json:"flare,omitempty" doc:"mm by which the box is wider at its far end than at its mouth, on either side, across the width of the part"`
	Out      Point   `json:"out" doc:"the way out of the side that the feature is on, of length one"`
	Joint    string  `json:"joint,omitempty" doc:"name of the connection that it belongs to"`
	Mate     string  `json:"mate,omitempty" doc:"id of the part that it fits"`
	Words    string  `json:"words" doc:"what it is in words, with its sizes"`
}

// ChapterInfo is a chapter of the plan in short.
type ChapterInfo struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Word   string `json:"word" doc:"verdict of the chapter; empty when the chapter judges nothing"`
	Answer string `json:"answer" doc:"what the chapter says, in one sentence"`
}

// OpenChapter is a chapter in full.
type OpenChapter struct {
	ID   string `json:"id"`
	HTML string `json:"html" doc:"the chapter as HTML made by the program, with drawings as SVG; it holds no script, style or event"`
}

// Typed is a value as it was typed, with its unit, and in SI.
type Typed struct {
	Text string  `json:"text"`
	SI   float64 `json:"si" doc:"metres for a length, newtons for a force"`
}

// NewTest is a joint test as a person notes it. Lengths and the load are typed with their units.
type NewTest struct {
	Group     string            `json:"group,omitempty" maxLength:"200" doc:"tests that belong together"`
	Joint     string            `json:"joint" minLength:"1" maxLength:"200" doc:"kind of joint"`
	Species   string            `json:"species" minLength:"1" maxLength:"200" doc:"wood of the parts"`
	Count     int               `json:"count,omitempty" minimum:"0" maximum:"50" doc:"dowels, screws or biscuits in the joint; 0 when not told"`
	Density   float64           `json:"density,omitempty" minimum:"0" maximum:"1500" doc:"kg/m³ as tested; 0 when not weighed"`
	Moisture  float64           `json:"moisture,omitempty" minimum:"0" maximum:"100" doc:"moisture content, %; 0 when not measured"`
	Sizes     map[string]string `json:"sizes,omitempty" doc:"sizes of the joint and its parts, by name"`
	Glue      string            `json:"glue,omitempty" maxLength:"200"`
	CureHours float64           `json:"cure_hours,omitempty" minimum:"0" maximum:"100000" doc:"hours between gluing and testing"`
	Span      string            `json:"span,omitempty" doc:"between the supports of the rig, a length"`
	Lever     string            `json:"lever,omitempty" doc:"from the load to the joint, a length"`
	Direction string            `json:"direction,omitempty" maxLength:"200" doc:"how the load acts"`
	Load      string            `json:"load" doc:"largest load, such as 950 N or 212 lbf"`
	Failure   string            `json:"failure,omitempty" maxLength:"500" doc:"what gave way: one of the failures of the form"`
	Note      string            `json:"note,omitempty" maxLength:"4000"`
	Picture   string            `json:"picture,omitempty" maxLength:"64" doc:"id of a picture that was sent before"`
	Tested    string            `json:"tested,omitempty" maxLength:"40" doc:"day of the test"`
	Withdrawn bool              `json:"withdrawn,omitempty" doc:"true for a test that is not to be counted"`
}

// Correction replaces a test in the log; what was recorded before stays readable.
type Correction struct {
	Base int `json:"base" minimum:"1" doc:"the version that is corrected"`
	NewTest
}

// TestRecord is what the log holds about a test. Values that were not noted are missing.
type TestRecord struct {
	Group     string           `json:"group,omitempty"`
	Joint     string           `json:"joint"`
	Species   string           `json:"species"`
	Count     int              `json:"count,omitempty"`
	Density   float64          `json:"density,omitempty" doc:"kg/m³"`
	Moisture  float64          `json:"moisture,omitempty" doc:"%"`
	Sizes     map[string]Typed `json:"sizes,omitempty"`
	Glue      string           `json:"glue,omitempty"`
	CureHours float64          `json:"cure_hours,omitempty"`
	Span      *Typed           `json:"span,omitempty"`
	Lever     *Typed           `json:"lever,omitempty"`
	Direction string           `json:"direction,omitempty"`
	Load      Typed            `json:"load"`
	Predicted *Typed           `json:"predicted,omitempty" doc:"mean load that the book gave when this was recorded; missing when the sizes did not suffice"`
	Failure   string           `json:"failure,omitempty"`
	Note      string           `json:"note,omitempty"`
	Picture   string           `json:"picture,omitempty"`
	Tested    string           `json:"tested,omitempty"`
	Withdrawn bool             `json:"withdrawn,omitempty"`
}

// JointTest is a test in the log in one of its versions.
type JointTest struct {
	ID       string    `json:"id"`
	Version  int       `json:"version" doc:"1 is the first record, each correction adds one"`
	Recorded time.Time `json:"recorded"`
	TestRecord
}

// LoggedTest is a test in the log in its newest version, beside the book.
type LoggedTest struct {
	JointTest
	Number int          `json:"number" doc:"place in the log, from 1"`
	Lacks  List[string] `json:"lacks" doc:"what is missing to set the test beside the book; empty when nothing is"`
}

// TestForm says what to ask for a test.
type TestForm struct {
	Kinds      List[TestKind] `json:"kinds" doc:"kinds of joint that the book knows; others may be logged too"`
	Species    List[string]   `json:"species" doc:"woods of the catalogue"`
	Failures   List[string]   `json:"failures"`
	Directions List[string]   `json:"directions"`
}

// TestKind is a kind of joint with the sizes that the book asks for.
type TestKind struct {
	Name    string         `json:"name"`
	Counted bool           `json:"counted" doc:"whether the number of dowels, screws or biscuits must be told"`
	Sizes   List[TestSize] `json:"sizes" doc:"in the order in which to ask"`
}

// TestSize is a size to ask for.
type TestSize struct {
	Name string `json:"name"`
	Help string `json:"help"`
}

// ImportedTests is the answer to a table of tests: all rows are recorded, or none when a row has a problem.
type ImportedTests struct {
	Added    int                   `json:"added"`
	Problems List[problem.Problem] `json:"problems" doc:"each with its line, column and heading; at most 100"`
	More     int                   `json:"more" doc:"problems that are not listed"`
}

// TestReport is what the log says.
type TestReport struct {
	Tests       int              `json:"tests"`
	Notes       List[string]     `json:"notes"`
	Groups      List[TestGroup]  `json:"groups"`
	Comparisons List[string]     `json:"comparisons" doc:"plain sentences"`
	Book        List[BookAnswer] `json:"book" doc:"how far the shop's joints lie from the book, by kind"`
	Unused      List[string]     `json:"unused" doc:"tests that cannot be set beside the book, and what is missing"`
	Charts      List[TestChart]  `json:"charts" doc:"one for each quantity"`
}

// TestGroup is a group of tests alike.
type TestGroup struct {
	Name      string       `json:"name"`
	Quantity  string       `json:"quantity" enum:"load,moment"`
	Unit      string       `json:"unit"`
	Tests     int          `json:"tests"`
	Held      int          `json:"held" doc:"tests in which the joint outlived the wood"`
	Withdrawn int          `json:"withdrawn"`
	Mean      *float64     `json:"mean,omitempty"`
	Spread    *float64     `json:"spread,omitempty" doc:"coefficient of variation"`
	Lower5    *float64     `json:"lower5,omitempty" doc:"95 of 100 such joints reach it, said with 75 % confidence; missing when there are too few tests"`
	Predicted *float64     `json:"predicted,omitempty"`
	Sentence  string       `json:"sentence"`
	Warnings  List[string] `json:"warnings"`
}

// BookAnswer sets the tests of one kind beside the book.
type BookAnswer struct {
	Sentence string `json:"sentence"`
	Warning  string `json:"warning,omitempty"`
}

// TestChart is a drawing of the tests of one quantity.
type TestChart struct {
	Title string `json:"title"`
	SVG   string `json:"svg" doc:"made by the program; it holds no script, style or event"`
}

// KeptPicture names a picture that was sent.
type KeptPicture struct {
	ID string `json:"id"`
}
