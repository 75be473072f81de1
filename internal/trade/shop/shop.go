// Package shop is one workshop: its tools, clamps, timber, prices, people, hours, climate and habits.
//
// Parse reads a shop file and reports everything wrong in it at once, each problem with its position
// and mend. Most of a shop may be left out: sensible values from an embedded table take the place of
// what is missing, and the Shop lists them, so that a reader of the plan sees what is his and what
// was assumed. A shop without clamps or timber is allowed. The package decides nothing about a
// piece.
package shop

import (
	"slices"
	"time"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/adhesive"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/wood"
)

// Shop is a workshop, complete: what the file leaves out has its default.
type Shop struct {
	Name         string      `json:"name"`
	Note         string      `json:"note,omitempty"`
	Family       unit.Family `json:"family"`
	Currency     string      `json:"currency,omitempty"`
	SmallestMark unit.Length `json:"smallestMark"`

	Workshop Climate `json:"workshop"` // the air where wood is kept and worked
	Use      Climate `json:"use"`      // the air where the piece will stand

	Tools   []hardware.Tool `json:"tools"`
	Clamps  []Clamps        `json:"clamps"`
	Timber  []Timber        `json:"timber"`
	Boards  []Board         `json:"boards"`
	Offcuts []Board         `json:"offcuts"`

	Dowels   []Dowels  `json:"dowels"`
	Screws   []Screws  `json:"screws"`
	Glues    []Glue    `json:"glues"`
	Finishes []Product `json:"finishes"`

	People       []People   `json:"people"`
	Calendar     Calendar   `json:"calendar"`
	LabourRate   unit.Money `json:"labourRate"` // an hour
	Pace         float64    `json:"pace"`       // time taken over that of a practised maker
	Benches      int        `json:"benches"`
	DryingPlaces int        `json:"dryingPlaces"`
	Times        []Time     `json:"times"`           // the time model: assumed, or measured in this shop
	Tasks        []OwnTask  `json:"tasks,omitempty"` // tasks of the shop's own
	Habits       Habits     `json:"habits"`
	// Tests names the file of the shop's own joint tests, beside the shop file; empty when there is none. Who opens the
	// shop file reads it.
	Tests   string  `json:"tests,omitempty"`
	Marking Marking `json:"marking"`

	// Defaults lists every value that the file did not give, in the order of the format.
	Defaults []Default `json:"defaults"`
}

// Default is a value that stands in for one that the shop file does not give.
type Default struct {
	Path string      `json:"path"` // "habits.kerf"
	Text string      `json:"text"` // the value as a person would have written it
	Note string      `json:"note,omitempty"`
	Cite source.Cite `json:"cite"`
}

// DefaultOf returns the default that was used for a path, and false when the file gave the value.
func (s Shop) DefaultOf(path string) (Default, bool) {
	i := slices.IndexFunc(s.Defaults, func(d Default) bool { return d.Path == path })
	if i < 0 {
		return Default{}, false
	}
	return s.Defaults[i], true
}

// Can tells whether a tool of the shop does a job.
func (s Shop) Can(j hardware.Job) bool {
	return slices.ContainsFunc(s.Tools, func(t hardware.Tool) bool { return t.Can(j) })
}

// Has tells whether the shop has a tool, by its id.
func (s Shop) Has(toolID string) bool {
	return slices.ContainsFunc(s.Tools, func(t hardware.Tool) bool { return t.ID == toolID })
}

// DowelDiameters returns the diameters in the drawer, thinnest first, each once.
func (s Shop) DowelDiameters() []unit.Length {
	var out []unit.Length
	for _, d := range s.Dowels {
		out = append(out, d.Diameter)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Workers returns how many people work at the same time, at least 1.
func (s Shop) Workers() int {
	n := 0
	for _, p := range s.People {
		n += p.Number
	}
	return max(1, n)
}

// Clamps is a number of clamps alike.
type Clamps struct {
	Kind    hardware.Clamp `json:"kind"`
	Opening unit.Length    `json:"opening"`
	Reach   unit.Length    `json:"reach"` // from the bar to the middle of the jaw; zero where unknown
	Force   unit.Newtons   `json:"force"` // measured in this shop, else that of the kind
	Count   int            `json:"count"`
}

// PriceUnit says what a price is for.
type PriceUnit string

// The price units of timber.
const (
	PerPiece      PriceUnit = "piece"
	PerFoot       PriceUnit = "foot"
	PerMetre      PriceUnit = "metre"
	PerBoardFoot  PriceUnit = "board foot"
	PerCubicMetre PriceUnit = "cubic metre"
)

// Timber is timber of one section as the yard sells it.
type Timber struct {
	Name      string         `json:"name"` // "1x6 eastern white pine"
	Size      string         `json:"size"` // nominal name, or thickness and width
	Species   string         `json:"species"`
	Condition wood.Condition `json:"condition"`
	Moisture  wood.Moisture  `json:"moisture"`
	Thickness unit.Length    `json:"thickness"` // real
	Width     unit.Length    `json:"width"`     // real
	Rough     bool           `json:"rough"`
	Panel     bool           `json:"panel"` // ready glued
	Pieces    []Piece        `json:"pieces"`
	Count     int            `json:"count"` // of each length; 0 is unlimited
}

// Piece is a length of timber with its price.
type Piece struct {
	Length unit.Length `json:"length"`
	Price  unit.Money  `json:"price"`
	Priced bool        `json:"priced"` // false when the file gives no price
}

// Board is a board or offcut on hand.
type Board struct {
	Name      string         `json:"name"`
	Species   string         `json:"species"`
	Condition wood.Condition `json:"condition"`
	Moisture  wood.Moisture  `json:"moisture"`
	Thickness unit.Length    `json:"thickness"`
	Width     unit.Length    `json:"width"`
	Length    unit.Length    `json:"length"`
	Rough     bool           `json:"rough"`
	Panel     bool           `json:"panel"` // ready glued
	Count     int            `json:"count"`
	Defects   []Defect       `json:"defects,omitempty"`
}

// Defect is a place of a board that no part may use, measured from the marked end and the left edge.
type Defect struct {
	Kind  string      `json:"kind"`
	From  unit.Length `json:"from"`
	To    unit.Length `json:"to"`
	Left  unit.Length `json:"left"`
	Right unit.Length `json:"right"` // the width of the board where the file does not say
}

// Dowels is a number of dowels of one size.
type Dowels struct {
	Diameter unit.Length `json:"diameter"`
	Length   unit.Length `json:"length"` // zero is rod, cut to length
	Count    int         `json:"count"`
	Price    unit.Money  `json:"price"`  // of one
	Priced   bool        `json:"priced"` // false when the file gives no price
}

// Screws is a number of screws of one size.
type Screws struct {
	Pocket   bool        `json:"pocket"`
	Diameter unit.Length `json:"diameter"`
	Length   unit.Length `json:"length"`
	Count    int         `json:"count"`
	Price    unit.Money  `json:"price"`  // of one
	Priced   bool        `json:"priced"` // false when the file gives no price
}

// Glue is a glue as bought.
type Glue struct {
	Kind   adhesive.Kind `json:"kind"`
	Litres unit.Litres   `json:"litres"` // in a bottle
	Price  unit.Money    `json:"price"`  // of a bottle
}

// Product is a finishing product as bought.
type Product struct {
	Product coating.Product `json:"product"`
	Litres  unit.Litres     `json:"litres"` // in a tin
	Price   unit.Money      `json:"price"`  // of a tin
}

// People is a number of people alike.
type People struct {
	Name   string   `json:"name"`
	Number int      `json:"number"`
	Barred []string `json:"barred,omitempty"` // ids of tools that they may not use
}

// Habits is how things are done in this shop.
type Habits struct {
	Kerf                     unit.Length      `json:"kerf"`
	EndTrim                  unit.Length      `json:"endTrim"`
	LengthAllowance          unit.Length      `json:"lengthAllowance"`
	WidthAllowance           unit.Length      `json:"widthAllowance"`
	RoughThicknessAllowance  unit.Length      `json:"roughThicknessAllowance"`
	PlanedThicknessAllowance unit.Length      `json:"planedThicknessAllowance"`
	GluedEdgeAllowance       unit.Length      `json:"gluedEdgeAllowance"`
	PanelAllowance           unit.Length      `json:"panelAllowance"`
	StaveWidth               unit.Length      `json:"staveWidth"`
	PlanerMinimumLength      unit.Length      `json:"planerMinimumLength"`
	PlanerMaximumWidth       unit.Length      `json:"planerMaximumWidth"`
	JointerMinimumLength     unit.Length      `json:"jointerMinimumLength"`
	JointerMaximumWidth      unit.Length      `json:"jointerMaximumWidth"`
	Snipe                    unit.Length      `json:"snipe"`
	Glue                     adhesive.Kind    `json:"glue"`
	Finish                   coating.Schedule `json:"finish"`
	TargetMoisture           wood.Moisture    `json:"targetMoisture"`
	TimberMoisture           wood.Moisture    `json:"timberMoisture"`
	Condition                wood.Condition   `json:"condition"`
}

// Climate is the air of a place through the year: two seasons or twelve months.
type Climate struct {
	Weather []Weather `json:"weather"`
}

// Weather is the mean air of a season or month.
type Weather struct {
	Name        string       `json:"name"` // "winter", "January"
	Humidity    unit.Percent `json:"humidity"`
	Temperature unit.Celsius `json:"temperature"`
}

// Moisture returns the moisture content that wood takes on in this air.
func (w Weather) Moisture() wood.Moisture { return wood.EquilibriumMoisture(w.Humidity, w.Temperature) }

// MoistureRange returns the driest and the dampest moisture content of the year, taken as if wood
// followed each season fully, which is the safe side. Zero for an empty climate.
func (c Climate) MoistureRange() (low, high wood.Moisture) {
	for i, w := range c.Weather {
		m := w.Moisture()
		if i == 0 {
			low, high = m, m
		}
		low, high = min(low, m), max(high, m)
	}
	return low, high
}

// Clock is a time of day in minutes after midnight.
type Clock int

// Window is a stretch of working time on one day of the week.
type Window struct {
	Day  time.Weekday `json:"day"`
	From Clock        `json:"from"`
	To   Clock        `json:"to"`
}

// Calendar says when the shop is open.
type Calendar struct {
	Windows  []Window    `json:"windows"`            // by day from Monday, then by time
	Holidays []time.Time `json:"holidays,omitempty"` // midnight UTC, sorted
	Starts   time.Time   `json:"starts,omitzero"`    // first day of work, midnight UTC; zero when not given
}
