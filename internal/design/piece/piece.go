// Package piece is the description of what is to be made: a pattern with sizes, or parts and
// connections written out, or both, in one strict YAML file.
//
// Parse reads a file and reports everything wrong in it at once, each problem with its line, column
// and mend. The result is still a description: package pattern turns a pattern's name and sizes into
// parts and connections of the same form, and package assembly places them in space. The package
// computes nothing about wood or strength.
package piece

import (
	"fmt"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/strict"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/wood"
)

// FormatVersion is the version of the piece format that this program reads and writes.
const FormatVersion = 1

// MaxParts bounds a piece. Judgement: "small furniture" has some dozens of parts; a thousand is a slip.
const MaxParts = 500

// Piece is a described piece. The json tags are the keys of the file.
type Piece struct {
	Format  int    `json:"longgrain" jsonschema_description:"Version of the file format, 1"`
	Name    string `json:"name" jsonschema_description:"What the piece is called"`
	Note    string `json:"note,omitempty" jsonschema_description:"Anything worth remembering about the piece"`
	Units   string `json:"units,omitempty" jsonschema:"enum=mm,enum=in" jsonschema_description:"Units for showing what is worked out"`
	Use     string `json:"use,omitempty" jsonschema:"enum=table,enum=seat,enum=bench,enum=step,enum=shelf,enum=chest" jsonschema_description:"What people do with it; decides the loads"`
	Setting string `json:"setting,omitempty" jsonschema:"enum=home,enum=school" jsonschema_description:"Where it stands; a school asks for more"`
	Fixed   string `json:"fixed,omitempty" jsonschema:"enum=wall,enum=hung" jsonschema_description:"wall: screwed to the wall near its top, so that it cannot tip; hung: hangs on the wall, and nothing stands on the floor"`
	Wood    Wood   `json:"wood,omitempty" jsonschema_description:"The wood that parts are made of unless they say otherwise"`
	Finish  string `json:"finish,omitempty" jsonschema_description:"Name of a finish schedule"`
	Copies  int    `json:"copies,omitempty" span:"1..500" jsonschema_description:"How many are made"`
	// Reserve is the wanted capacity over demand; zero means the default of package structure.
	Reserve float64 `json:"reserve,omitempty" span:"1..10" jsonschema_description:"Wanted strength over load, such as 1.5"`

	Pattern     string       `json:"pattern,omitempty" jsonschema_description:"Furniture family that makes the parts from sizes"`
	Sizes       strict.Value `json:"sizes,omitempty" jsonschema_description:"Sizes of the pattern"`
	Joints      []JointWish  `json:"joints,omitempty" jsonschema_description:"Joints that the maker has decided on"`
	Parts       []Part       `json:"parts,omitempty" jsonschema_description:"Parts written out"`
	Connections []Connection `json:"connections,omitempty" jsonschema_description:"Which parts are joined"`
	Loads       []Load       `json:"loads,omitempty" jsonschema_description:"Loads of your own, tried beside those of the use"`
	Dimensions  strict.Value `json:"dimensions,omitempty" jsonschema_description:"Names for lengths and numbers, each a length, a number or a formula of them"`
	Repeats     []Repeat     `json:"repeats,omitempty" jsonschema_description:"Parts that are copied: mirrored, turned or set in a row"`
	Changes     []Change     `json:"changes,omitempty" jsonschema_description:"What is changed by hand in the parts and joints that a pattern makes"`

	Named []Dimension `json:"-"` // the dimensions as worked out, in the order of the file

	file                       string
	places                     strict.Places
	partsFrom, connectionsFrom []string // see From
}

// Wood says what the timber is.
type Wood struct {
	Species   string `json:"species,omitempty" jsonschema_description:"Species, such as eastern white pine"`
	Condition string `json:"condition,omitempty" jsonschema:"enum=clear,enum=small tight knots,enum=ordinary knotty,enum=poor" jsonschema_description:"How knotty the boards are"`
}

// Part is a straight piece of wood. Until package pattern or assembly has placed it, it is a box with
// the grain along its length.
type Part struct {
	Name      string       `json:"name" jsonschema_description:"Name of the part, used once"`
	Role      string       `json:"role,omitempty" jsonschema:"enum=leg,enum=apron,enum=rail,enum=stretcher,enum=top,enum=shelf,enum=seat,enum=side,enum=back,enum=tread,enum=cleat,enum=bottom,enum=lid,enum=panel,enum=door,enum=drawer,enum=other" jsonschema_description:"What the part does; every part of a drawer is a drawer"`
	Length    unit.Measure `json:"length,omitempty" span:"1 mm..6 m" jsonschema_description:"Along the grain, between shoulders"`
	Width     unit.Measure `json:"width,omitempty" span:"1 mm..2 m" jsonschema_description:"Across the grain"`
	Thickness unit.Measure `json:"thickness,omitempty" span:"1 mm..300 mm" jsonschema_description:"The smallest size"`
	// Like, Between and Place are worked out by package free; a part that is worked out has none of them.
	Like    string   `json:"like,omitempty" jsonschema_description:"Another part whose sizes, role, wood and directions this one has, unless it says otherwise"`
	Between []string `json:"between,omitempty" jsonschema_description:"Two parts that it reaches between: its length is what is clear between them"`
	Place   []Place  `json:"place,omitempty" jsonschema_description:"Where its sides lie, measured from sides of other parts"`
	// At is the corner of the part with the smallest coordinates: to the right, to the back, up.
	At     [3]unit.Measure `json:"at,omitempty" span:"-10 m..10 m" jsonschema_description:"Corner nearest to the front left bottom: right, back, up"`
	Along  string          `json:"along,omitempty" jsonschema:"enum=x,enum=y,enum=z" jsonschema_description:"Direction of the length: x right, y back, z up"`
	Across string          `json:"across,omitempty" jsonschema:"enum=x,enum=y,enum=z" jsonschema_description:"Direction of the width"`
	// Species is empty for the wood of the piece.
	Species string  `json:"species,omitempty" jsonschema_description:"Species of this part, if not that of the piece"`
	Build   string  `json:"build,omitempty" jsonschema:"enum=one board,enum=laminated,enum=panel" jsonschema_description:"How it is got from timber, if that is fixed"`
	Tapers  []Taper `json:"tapers,omitempty" jsonschema_description:"Sides planed to a taper"`
	Stance
}

// Taper takes wood off one side of a part, nothing at the start and By at the end.
type Taper struct {
	Side   string       `json:"side" jsonschema:"enum=left,enum=right,enum=front,enum=back,enum=bottom,enum=top" jsonschema_description:"The side that is planed"`
	Toward string       `json:"toward" jsonschema:"enum=left,enum=right,enum=front,enum=back,enum=bottom,enum=top" jsonschema_description:"The end that becomes thinner"`
	Start  unit.Measure `json:"start" span:"0 mm..6 m" jsonschema_description:"Where it begins, from the end that stays full"`
	By     unit.Measure `json:"by" span:"0.1 mm..200 mm" jsonschema_description:"What is taken off at the thin end"`
}

// Connection joins two parts that touch.
type Connection struct {
	Name string `json:"name,omitempty" jsonschema_description:"Name of the connection; made from the parts when left out"`
	// Between names two parts; where an end meets a side, the part with the end comes first.
	Between [2]string `json:"between" jsonschema_description:"The two parts"`
	// Faces are empty for those that meet in the largest surface.
	Faces   []string `json:"faces,omitempty" jsonschema:"enum=left,enum=right,enum=front,enum=back,enum=bottom,enum=top" jsonschema_description:"The side of the first part and that of the second which meet"`
	Purpose string   `json:"purpose,omitempty" jsonschema:"enum=joint,enum=top fastening,enum=fastening" jsonschema_description:"A joint holds the frame; a fastening holds without glue, so that a top can move or a shelf be taken out"`
	Joint   *Joint   `json:"joint,omitempty" jsonschema_description:"The joint, if the maker has decided on one"`
}

// JointWish fixes the joint of every connection between two roles or two named parts.
type JointWish struct {
	Between [2]string `json:"between" jsonschema_description:"Two roles or two part names"`
	Joint
}

// Joint is a joint kind with the sizes that the maker fixes; what is zero is left to the program.
type Joint struct {
	Kind      string       `json:"kind" jsonschema:"enum=dowels,enum=dowels in two rows,enum=mortise and tenon,enum=through tenon,enum=haunched tenon,enum=twin tenons,enum=loose tenon,enum=pocket screws,enum=screws,enum=biscuits,enum=glued,enum=tongue and groove,enum=half-lap,enum=bridle,enum=housing,enum=rebate,enum=box joint,enum=dovetails,enum=corner block,enum=buttons,enum=slotted screws,enum=shelf pins,enum=rests,enum=panel groove,enum=hinges,enum=lid hinges,enum=runners" jsonschema_description:"Kind of joint"`
	Count     int          `json:"count,omitempty" span:"1..40" jsonschema_description:"How many dowels, screws, biscuits, fingers, tails or buttons"`
	Diameter  unit.Measure `json:"diameter,omitempty" span:"2 mm..40 mm" jsonschema_description:"Diameter of dowel or screw"`
	Depth     unit.Measure `json:"depth,omitempty" span:"3 mm..200 mm" jsonschema_description:"Depth into the part that the end meets; length of a tenon, depth of a housing"`
	Thickness unit.Measure `json:"thickness,omitempty" span:"3 mm..60 mm" jsonschema_description:"Thickness of a tenon, tongue or lap"`
	Width     unit.Measure `json:"width,omitempty" span:"5 mm..400 mm" jsonschema_description:"Width of a tenon, finger or tail"`
	Ends      string       `json:"ends,omitempty" jsonschema:"enum=square,enum=rounded" jsonschema_description:"Ends of tenon and mortise: square, or round as a router or borer leaves them"`
}

// Load is a load of the maker's own, such as a vice, an open drawer or a child on a shelf.
type Load struct {
	Name   string  `json:"name" jsonschema_description:"What the load is"`
	On     string  `json:"on" jsonschema_description:"Name of the part that it acts on"`
	Force  float64 `json:"force" span:"1..20000" jsonschema_description:"Force in newtons; 10 N for a kilogram"`
	Toward string  `json:"toward,omitempty" jsonschema:"enum=down,enum=up,enum=left,enum=right,enum=front,enum=back" jsonschema_description:"Which way it presses; down when left out"`
	// At is empty for the middle of the part.
	At []unit.Measure `json:"at,omitempty" span:"-10 m..10 m" jsonschema_description:"Where, as right, back, up from the front left bottom; the middle of the part when left out"`
}

// Parse reads a piece file. The list holds every problem found, sorted; the piece is usable only when
// the list is empty.
func Parse(file string, text []byte) (Piece, problem.List) {
	var problems problem.List
	p := Piece{file: file}
	root := strict.Read(file, text, &problems)
	if root.Is("longgrain", "longgrain-shop") {
		p.dimensions(&root)
		p.places = root.Decode(&p)
		p.check(&problems)
	}
	problems.Sort()
	return p, problems
}

// Schema returns the JSON Schema of the piece format.
func Schema() []byte { return strict.Schema(Piece{}, "Longgrain piece") }

// At returns the position of a path of the piece file, such as "parts[2].length".
func (p Piece) At(path string) problem.Position {
	at := p.places.At(p.written(path))
	if at.File == "" {
		at.File = p.file
	}
	return at
}

// Family returns the unit family for showing.
func (p Piece) Family() unit.Family {
	if p.Units == "in" {
		return unit.Imperial
	}
	return unit.Metric
}

// Number of copies; one when the file does not say.
func (p Piece) Number() int { return max(1, p.Copies) }

// check reports what single values cannot show: versions, doubled names, unknown species, odd sizes.
func (p *Piece) check(problems *problem.List) {
	report := func(code problem.Code, path, what, mend string) {
		problems.Add(problem.Problem{Code: code, At: p.At(path), What: what, Mend: mend})
	}
	if p.Format != FormatVersion && p.Format != 0 {
		report(problem.BadVersion, "longgrain", fmt.Sprintf("version %d of the format is not known", p.Format),
			fmt.Sprintf("this program reads version %d", FormatVersion))
	}
	if p.Pattern == "" && len(p.Parts) == 0 {
		report(problem.NothingToMake, "", "has neither a pattern nor parts", "add pattern: with a name, or parts:")
	}
	if p.Sizes.Here() && p.Pattern == "" {
		report(problem.UnknownKey, "sizes", "sizes belong to a pattern, and no pattern is named", "add pattern: with a name")
	}
	if len(p.Parts) > MaxParts {
		report(problem.OutOfRange, "parts", fmt.Sprintf("%d parts are too many", len(p.Parts)), fmt.Sprintf("at most %d", MaxParts))
	}
	checkSpecies(p.Wood.Species, "wood.species", report)
	if p.Finish != "" {
		if _, ok := coating.FindSchedule(p.Finish); !ok {
			report(problem.UnknownName, "finish", fmt.Sprintf("there is no finish %q", p.Finish), problem.DidYouMean(p.Finish, coating.ScheduleNames()))
		}
	}
	p.checkParts(problems, report)
	p.checkConnections(report)
	p.checkChanges(report)
	p.checkRepeats(report)
	for i, l := range p.Loads {
		if n := len(l.At); n != 0 && n != 3 {
			report(problem.WrongKind, fmt.Sprintf("loads[%d].at", i), fmt.Sprintf("has %d lengths", n), "write three: right, back, up")
		}
	}
}

func (p *Piece) checkParts(problems *problem.List, report func(code problem.Code, path, what, mend string)) {
	first := map[string]int{}
	for i := range p.Parts {
		part, path := &p.Parts[i], fmt.Sprintf("parts[%d]", i)
		if j, double := first[part.Name]; double && part.Name != "" {
			at := p.At(fmt.Sprintf("parts[%d].name", j))
			problems.Add(problem.Problem{Code: problem.DuplicateName, At: p.At(path + ".name"),
				What: fmt.Sprintf("there are two parts named %q", part.Name), Mend: "give each part a name of its own", Also: &at})
		} else {
			first[part.Name] = i
		}
		checkSpecies(part.Species, path+".species", report)
		p.checkFree(i, report)
		if part.Thickness.Length > part.Width.Length && part.Width.Length > 0 {
			report(problem.BadGeometry, path+".thickness", fmt.Sprintf("the thickness %s is above the width %s", part.Thickness, part.Width),
				"swap them: thickness is the smallest size")
		}
		if part.Along != "" && part.Along == part.Across {
			report(problem.BadGeometry, path+".across", "length and width lie in the same direction", "across must differ from along")
		}
	}
}

func (p *Piece) checkConnections(report func(code problem.Code, path, what, mend string)) {
	if p.Pattern != "" || len(p.Repeats) > 0 {
		return // names may be those of the pattern's parts or of copies; assembly checks them
	}
	var names []string
	for _, part := range p.Parts {
		names = append(names, part.Name)
	}
	for i, c := range p.Connections {
		if n := len(c.Faces); n != 0 && n != 2 {
			report(problem.WrongKind, fmt.Sprintf("connections[%d].faces", i), fmt.Sprintf("has %d items", n), "name a side of the first part and one of the second")
		}
		for k, name := range c.Between {
			if name != "" && !contains(names, name) {
				report(problem.UnknownName, fmt.Sprintf("connections[%d].between[%d]", i, k),
					fmt.Sprintf("there is no part %q", name), problem.DidYouMean(name, names))
			}
		}
		if c.Between[0] == c.Between[1] && c.Between[0] != "" {
			report(problem.BadGeometry, fmt.Sprintf("connections[%d].between", i), "connects a part with itself", "name two parts")
		}
	}
}

func checkSpecies(name, path string, report func(code problem.Code, path, what, mend string)) {
	if name == "" {
		return
	}
	if _, ok := wood.Find(name); !ok {
		report(problem.UnknownName, path, fmt.Sprintf("there is no species %q", name), problem.DidYouMean(name, wood.Names()))
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
