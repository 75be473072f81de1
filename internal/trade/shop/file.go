package shop

import (
	"longgrain/internal/ground/strict"
	"longgrain/internal/ground/unit"
)

// FormatVersion is the version of the shop format that this program reads and writes.
const FormatVersion = 1

// File is a shop file as written. The json tags are the keys of the file; everything but the version
// and the name may be left out. Parse turns it into a Shop.
type File struct {
	Format       int          `json:"longgrain-shop" jsonschema_description:"Version of the file format, 1"`
	Name         string       `json:"name" jsonschema_description:"What the shop is called"`
	Note         string       `json:"note,omitempty" jsonschema_description:"Anything worth remembering about the shop"`
	Units        string       `json:"units,omitempty" jsonschema:"enum=mm,enum=in" jsonschema_description:"Units for showing what is worked out"`
	Currency     string       `json:"currency,omitempty" jsonschema_description:"Sign or letters printed with prices"`
	SmallestMark unit.Measure `json:"smallest_mark,omitempty" span:"0.1 mm..5 mm" jsonschema_description:"Finest line that is marked at the bench"`
	Marking      *MarkingFile `json:"marking,omitempty" jsonschema_description:"How exactly work is marked and bored: half widths of errors"`
	Climate      *ClimateFile `json:"climate,omitempty" jsonschema_description:"Air in the shop and where the piece will stand"`
	Tools        []string     `json:"tools,omitempty" jsonschema_description:"Kinds of tools, such as table saw"`
	Clamps       []ClampFile  `json:"clamps,omitempty" jsonschema_description:"Clamps by kind and opening"`
	Timber       []TimberFile `json:"timber,omitempty" jsonschema_description:"Timber as the yard sells it"`
	Boards       []BoardFile  `json:"boards,omitempty" jsonschema_description:"Boards on hand, measured"`
	Offcuts      []BoardFile  `json:"offcuts,omitempty" jsonschema_description:"Offcuts on hand, used first"`
	Dowels       []DowelFile  `json:"dowels,omitempty" jsonschema_description:"Dowels in the drawer"`
	Screws       []ScrewFile  `json:"screws,omitempty" jsonschema_description:"Screws in the drawer"`
	Glues        []GlueFile   `json:"glues,omitempty" jsonschema_description:"Glues and their prices"`
	Finishes     []FinishFile `json:"finishes,omitempty" jsonschema_description:"Finishing products and their prices"`
	People       []PeopleFile `json:"people,omitempty" jsonschema_description:"Who works"`
	Hours        []HoursFile  `json:"hours,omitempty" jsonschema_description:"When the shop is open"`
	Holidays     []string     `json:"holidays,omitempty" jsonschema_description:"Days without work, such as 2026-12-24"`
	Starts       string       `json:"starts,omitempty" jsonschema_description:"First day of work, such as 2026-10-06"`
	LabourRate   float64      `json:"labour_rate,omitempty" span:"0..10000" jsonschema_description:"Price of an hour of work; may be 0"`
	Pace         float64      `json:"pace,omitempty" span:"0.5..4" jsonschema_description:"Time taken over that of a practised maker"`
	Benches      int          `json:"benches,omitempty" span:"0..100" jsonschema_description:"Places to work at"`
	DryingPlaces int          `json:"drying_places,omitempty" span:"0..1000" jsonschema_description:"Places where a part or piece can dry"`
	Tests        string       `json:"tests,omitempty" jsonschema_description:"File with the joints that the shop broke, as CSV, beside the shop file"`
	Times        []TimeFile   `json:"times,omitempty" jsonschema_description:"Working times measured in this shop, instead of those assumed"`
	Tasks        []TaskFile   `json:"tasks,omitempty" jsonschema_description:"Own tasks that the order of work counts for every piece"`
	Habits       *HabitsFile  `json:"habits,omitempty" jsonschema_description:"Allowances, limits of machines and preferences"`
}

// ClimateFile says what the air is like.
type ClimateFile struct {
	Shop *PlaceFile `json:"shop,omitempty" jsonschema_description:"Where wood is kept and worked"`
	Use  *PlaceFile `json:"use,omitempty" jsonschema_description:"Where the piece will stand"`
}

// PlaceFile gives the air of a place, either as the two ends of the year or month by month.
type PlaceFile struct {
	Winter *WeatherFile  `json:"winter,omitempty" jsonschema_description:"The driest time of the year indoors"`
	Summer *WeatherFile  `json:"summer,omitempty" jsonschema_description:"The dampest time of the year indoors"`
	Months []WeatherFile `json:"months,omitempty" jsonschema_description:"Twelve months from January"`
}

// WeatherFile is the mean air of a season or month.
type WeatherFile struct {
	Humidity    float64 `json:"humidity" span:"1..99" jsonschema_description:"Relative humidity in percent"`
	Temperature float64 `json:"temperature" span:"-40..60" jsonschema_description:"Temperature in degrees Celsius"`
}

// ClampFile is a number of clamps of one kind and opening.
type ClampFile struct {
	Kind    string       `json:"kind" jsonschema_description:"Kind of clamp, such as pipe clamp"`
	Opening unit.Measure `json:"opening" span:"10 mm..20 m" jsonschema_description:"Widest work it closes on"`
	Count   int          `json:"count" span:"0..1000" jsonschema_description:"How many there are"`
	Reach   unit.Measure `json:"reach,omitempty" span:"0 mm..1 m" jsonschema_description:"From the bar to the middle of the jaw"`
	Force   float64      `json:"force,omitempty" span:"1..100000" jsonschema_description:"Force in newtons, if it was measured"`
}

// TimberFile is timber of one section as the yard sells it: by a nominal size, or by thickness and
// width; with lengths and a price for all of them, or piece by piece.
type TimberFile struct {
	Size      string         `json:"size,omitempty" jsonschema_description:"Nominal size in inches, such as 1x6"`
	Thickness unit.Measure   `json:"thickness,omitempty" span:"2 mm..500 mm" jsonschema_description:"Real thickness, if there is no nominal size"`
	Width     unit.Measure   `json:"width,omitempty" span:"5 mm..2 m" jsonschema_description:"Real width, if there is no nominal size"`
	Species   string         `json:"species" jsonschema_description:"Species, such as eastern white pine"`
	Condition string         `json:"condition,omitempty" jsonschema:"enum=clear,enum=small tight knots,enum=ordinary knotty,enum=poor" jsonschema_description:"How knotty it usually is"`
	Moisture  float64        `json:"moisture,omitempty" span:"4..60" jsonschema_description:"Moisture content in percent when bought"`
	Rough     bool           `json:"rough,omitempty" jsonschema_description:"Yes for sawn timber that must be planed"`
	Panel     bool           `json:"panel,omitempty" jsonschema_description:"Yes for a ready edge-glued panel"`
	Lengths   []unit.Measure `json:"lengths,omitempty" span:"50 mm..20 m" jsonschema_description:"Lengths it is sold in"`
	Price     float64        `json:"price,omitempty" span:"0..100000" jsonschema_description:"Price of one unit named by per"`
	Per       string         `json:"per,omitempty" jsonschema:"enum=foot,enum=metre,enum=board foot,enum=cubic metre" jsonschema_description:"What the price is for"`
	Pieces    []PieceFile    `json:"pieces,omitempty" jsonschema_description:"Lengths with a price each, instead of lengths and price"`
	Count     int            `json:"count,omitempty" span:"0..100000" jsonschema_description:"How many of each length can be had; unlimited when left out"`
}

// PieceFile is a length with its price.
type PieceFile struct {
	Length unit.Measure `json:"length" span:"50 mm..20 m" jsonschema_description:"Length of the piece"`
	Price  float64      `json:"price" span:"0..100000" jsonschema_description:"Price of the piece"`
}

// BoardFile is a board or offcut on hand.
type BoardFile struct {
	Name      string       `json:"name,omitempty" jsonschema_description:"What is chalked on it"`
	Species   string       `json:"species" jsonschema_description:"Species, such as eastern white pine"`
	Thickness unit.Measure `json:"thickness" span:"2 mm..500 mm" jsonschema_description:"Measured thickness"`
	Width     unit.Measure `json:"width" span:"5 mm..2 m" jsonschema_description:"Measured width at the narrowest"`
	Length    unit.Measure `json:"length" span:"20 mm..20 m" jsonschema_description:"Measured length"`
	Count     int          `json:"count,omitempty" span:"1..1000" jsonschema_description:"How many alike"`
	Condition string       `json:"condition,omitempty" jsonschema:"enum=clear,enum=small tight knots,enum=ordinary knotty,enum=poor" jsonschema_description:"How knotty it is"`
	Moisture  float64      `json:"moisture,omitempty" span:"4..60" jsonschema_description:"Moisture content in percent, by the meter"`
	Rough     bool         `json:"rough,omitempty" jsonschema_description:"Yes for a sawn board that must be planed"`
	Panel     bool         `json:"panel,omitempty" jsonschema_description:"Yes for what is left of a ready edge-glued panel"`
	Defects   []DefectFile `json:"defects,omitempty" jsonschema_description:"Places to cut round"`
}

// DefectFile is a place of a board that no part may use.
type DefectFile struct {
	Kind  string       `json:"kind" jsonschema:"enum=knot,enum=check,enum=split,enum=wane,enum=pith,enum=stain,enum=nail,enum=other" jsonschema_description:"What it is"`
	From  unit.Measure `json:"from" span:"0 mm..20 m" jsonschema_description:"Where it begins, from the marked end"`
	To    unit.Measure `json:"to" span:"0 mm..20 m" jsonschema_description:"Where it ends"`
	Left  unit.Measure `json:"left,omitempty" span:"0 mm..2 m" jsonschema_description:"Where it begins across the board, from the left edge"`
	Right unit.Measure `json:"right,omitempty" span:"0 mm..2 m" jsonschema_description:"Where it ends across the board"`
}

// DowelFile is a number of dowels of one size.
type DowelFile struct {
	Diameter unit.Measure `json:"diameter" span:"3 mm..40 mm" jsonschema_description:"Diameter"`
	Length   unit.Measure `json:"length,omitempty" span:"10 mm..3 m" jsonschema_description:"Length; leave out for rod that is cut to length"`
	Count    int          `json:"count,omitempty" span:"0..100000" jsonschema_description:"How many there are"`
	Price    float64      `json:"price,omitempty" span:"0..1000" jsonschema_description:"Price of one"`
}

// ScrewFile is a number of screws of one size.
type ScrewFile struct {
	Kind     string       `json:"kind,omitempty" jsonschema:"enum=wood screw,enum=pocket screw" jsonschema_description:"Kind of screw"`
	Diameter unit.Measure `json:"diameter" span:"1.5 mm..10 mm" jsonschema_description:"Diameter of the shank"`
	Length   unit.Measure `json:"length" span:"6 mm..300 mm" jsonschema_description:"Length"`
	Count    int          `json:"count,omitempty" span:"0..100000" jsonschema_description:"How many there are"`
	Price    float64      `json:"price,omitempty" span:"0..1000" jsonschema_description:"Price of one"`
}

// GlueFile is a glue as bought.
type GlueFile struct {
	Kind   string  `json:"kind" jsonschema_description:"Kind of glue, such as yellow PVA"`
	Litres float64 `json:"litres" span:"0.01..100" jsonschema_description:"What a bottle holds"`
	Price  float64 `json:"price" span:"0..10000" jsonschema_description:"Price of the bottle"`
}

// FinishFile is a finishing product as bought.
type FinishFile struct {
	Product string  `json:"product" jsonschema_description:"Kind of product, such as water dye"`
	Litres  float64 `json:"litres" span:"0.01..100" jsonschema_description:"What a tin holds"`
	Price   float64 `json:"price" span:"0..10000" jsonschema_description:"Price of the tin"`
}

// PeopleFile is a number of people alike.
type PeopleFile struct {
	Name   string   `json:"name" jsonschema_description:"Who they are"`
	Number int      `json:"number" span:"0..1000" jsonschema_description:"How many work at the same time"`
	Barred []string `json:"barred,omitempty" jsonschema_description:"Tools that they may not use, by the rule of the shop"`
}

// HoursFile is a window of working hours on some days of the week.
type HoursFile struct {
	Days []string `json:"days" jsonschema:"enum=monday,enum=tuesday,enum=wednesday,enum=thursday,enum=friday,enum=saturday,enum=sunday" jsonschema_description:"Days of the week"`
	From string   `json:"from" jsonschema_description:"When work begins, such as 18:30"`
	To   string   `json:"to" jsonschema_description:"When work ends, such as 21:00"`
}

// TimeFile is a working time measured in this shop.
type TimeFile struct {
	Work    string  `json:"work" jsonschema_description:"What was timed, such as crosscut or mask"`
	Minutes float64 `json:"minutes,omitempty" span:"0..10000" jsonschema_description:"Minutes that it took, for the unit in the table of times"`
	Factor  float64 `json:"factor,omitempty" span:"0.05..20" jsonschema_description:"Or how many times as long as the table says"`
	Note    string  `json:"note,omitempty" jsonschema_description:"When and on what it was measured"`
}

// TaskFile is a task of the shop's own.
type TaskFile struct {
	Name    string   `json:"name" jsonschema_description:"What is done"`
	Minutes float64  `json:"minutes" span:"1..100000" jsonschema_description:"Working time of each person, pace counted"`
	People  int      `json:"people,omitempty" span:"1..1000" jsonschema_description:"How many do it together; 1 when left out"`
	After   []string `json:"after,omitempty" jsonschema_description:"Stages such as dry fit, or own tasks, that it waits for"`
	Before  []string `json:"before,omitempty" jsonschema_description:"Stages or own tasks that wait for it"`
	Wait    float64  `json:"wait_hours,omitempty" span:"0..100000" jsonschema_description:"Hours that must pass after it before what waits for it may begin"`
	Bench   bool     `json:"bench,omitempty" jsonschema_description:"Yes if it takes a bench"`
	Machine bool     `json:"machine,omitempty" jsonschema_description:"Yes if somebody who may use the machines must do it"`
	Once    bool     `json:"once,omitempty" jsonschema_description:"Yes if it is done once for all copies of a piece"`
}

// HabitsFile is how things are done in this shop.
type HabitsFile struct {
	Kerf                     unit.Measure `json:"kerf,omitempty" span:"0.5 mm..10 mm" jsonschema_description:"Width of a saw cut"`
	EndTrim                  unit.Measure `json:"end_trim,omitempty" span:"0 mm..300 mm" jsonschema_description:"Cut off each end of a board"`
	LengthAllowance          unit.Measure `json:"length_allowance,omitempty" span:"0 mm..200 mm" jsonschema_description:"Added to the length of a rough part"`
	WidthAllowance           unit.Measure `json:"width_allowance,omitempty" span:"0 mm..50 mm" jsonschema_description:"Added to the width of a rough part"`
	RoughThicknessAllowance  unit.Measure `json:"rough_thickness_allowance,omitempty" span:"0 mm..30 mm" jsonschema_description:"Taken off sawn timber in planing it"`
	PlanedThicknessAllowance unit.Measure `json:"planed_thickness_allowance,omitempty" span:"0 mm..30 mm" jsonschema_description:"Taken off planed timber in flattening it again"`
	GluedEdgeAllowance       unit.Measure `json:"glued_edge_allowance,omitempty" span:"0 mm..20 mm" jsonschema_description:"Added to the width for each glued edge"`
	PanelAllowance           unit.Measure `json:"panel_allowance,omitempty" span:"0 mm..10 mm" jsonschema_description:"Taken off the thickness after gluing up a panel"`
	StaveWidth               unit.Measure `json:"stave_width,omitempty" span:"15 mm..400 mm" jsonschema_description:"Preferred width of boards in a panel"`
	PlanerMinimumLength      unit.Measure `json:"planer_minimum_length,omitempty" span:"0 mm..2 m" jsonschema_description:"Shortest work the planer takes"`
	PlanerMaximumWidth       unit.Measure `json:"planer_maximum_width,omitempty" span:"50 mm..2 m" jsonschema_description:"Widest work the planer takes"`
	JointerMinimumLength     unit.Measure `json:"jointer_minimum_length,omitempty" span:"0 mm..2 m" jsonschema_description:"Shortest work the jointer takes"`
	JointerMaximumWidth      unit.Measure `json:"jointer_maximum_width,omitempty" span:"50 mm..2 m" jsonschema_description:"Widest work the jointer takes"`
	Snipe                    unit.Measure `json:"snipe,omitempty" span:"0 mm..300 mm" jsonschema_description:"Length that the planer spoils at each end"`
	Glue                     string       `json:"glue,omitempty" jsonschema_description:"The usual glue"`
	Finish                   string       `json:"finish,omitempty" jsonschema_description:"The usual finish"`
	TargetMoisture           float64      `json:"target_moisture,omitempty" span:"4..20" jsonschema_description:"Moisture content in percent to build at"`
	TimberMoisture           float64      `json:"timber_moisture,omitempty" span:"4..60" jsonschema_description:"Moisture content in percent of timber as bought"`
	Condition                string       `json:"condition,omitempty" jsonschema:"enum=clear,enum=small tight knots,enum=ordinary knotty,enum=poor" jsonschema_description:"How knotty timber is, unless it says otherwise"`
}

// Schema returns the JSON Schema of the shop format.
func Schema() []byte { return strict.Schema(File{}, "Longgrain shop") }
