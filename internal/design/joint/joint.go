// Package joint knows which joints suit a connection, their sizes, what they cut into both parts, how
// strong and how stiff they are, and which one to propose.
//
// A Site is a connection seen by a joint: the contact, the wood on both sides and the room for pins. From a
// site and the means of the shop come the possible joints, each with geometry, glue surface, hardware,
// working time, strength and stiffness. Strength is the least of the limits that apply: glue
// surface, fastener, and the wood that is crushed or split beside it; no order of joint kinds is stored
// anywhere. Choose compares the joints of a site under the forces that package structure found.
// Knots are not covered: joints belong in clear wood, and the workbook says so.
package joint

import (
	"math"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/hardware"
)

// Sizes are the sizes of a joint; each kind uses some of them. A is the part whose end meets, B the
// part that it meets.
type Sizes struct {
	Count     int         `json:"count"`               // dowels, screws, biscuits, buttons; 1 for a tenon
	Diameter  unit.Length `json:"diameter,omitempty"`  // of dowel or screw
	DepthA    unit.Length `json:"depthA,omitempty"`    // of the pin in A
	DepthB    unit.Length `json:"depthB,omitempty"`    // of the pin or tenon in B
	Thickness unit.Length `json:"thickness,omitempty"` // of a tenon or biscuit
	Width     unit.Length `json:"width,omitempty"`     // of a tenon along U; length of a biscuit
	Flare     unit.Length `json:"flare,omitempty"`     // of tails, on either side
	Rounded   bool        `json:"rounded,omitempty"`   // ends of tenon and mortise are half round
	Product   string      `json:"product,omitempty"`   // as sold: "10 x 60 mm dowel", "no. 20 biscuit"
}

// GlueArea is the glue surface of a joint, one face of each glue line.
type GlueArea struct {
	LongGrain unit.SquareMetres `json:"longGrain"` // long grain on long grain: holds like the wood
	EndGrain  unit.SquareMetres `json:"endGrain"`  // end grain on either side: counts for nothing
}

// Item is bought hardware.
type Item struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
}

// Shows says what can be seen of a finished joint.
type Shows string

// What can be seen.
const (
	Hidden  Shows = "hidden"
	Inside  Shows = "visible from inside"
	Outside Shows = "visible from outside"
)

// Joint is one joint worked out for a site.
type Joint struct {
	Kind      Kind           `json:"kind"`
	Sizes     Sizes          `json:"sizes"`
	Glue      GlueArea       `json:"glue"`
	Hardware  []Item         `json:"hardware,omitempty"`
	Jobs      []hardware.Job `json:"jobs"` // what the tools must do
	Minutes   unit.Minutes   `json:"minutes"`
	Shows     Shows          `json:"shows"`
	Strength  Strength       `json:"strength"`
	Stiffness Stiffness      `json:"stiffness"`
	Notes     []string       `json:"notes,omitempty"`  // what is assumed
	Broken    []Broken       `json:"broken,omitempty"` // rules of the trade that it breaks
	ToBuy     bool           `json:"toBuy,omitempty"`  // some of its hardware is not in the shop

	spots []spot  // of pins or tenon: u from the low end of the contact, v from the middle of the thickness
	near  [2]bool // whether the low and the high end of the contact lay near an end of B
}

// Forces act at a contact, on part A. N pulls A off B when positive. U and V are the directions of the
// contact: for a rail, U across its width and V through its thickness. BendU bends the joint in
// the plane of U (the strong way of a rail), BendV in the plane of V.
type Forces struct {
	N, ShearU, ShearV   unit.Newtons
	BendU, BendV, Twist unit.NewtonMetres
}

// Limit is one way in which a joint can fail.
type Limit struct {
	Name string      `json:"name"` // "glue of the dowel in the rail"
	Mean float64     `json:"mean"` // in the unit of the resistance
	Cite source.Cite `json:"cite"`
}

// Resistance is a strength: the least of its limits, with its scatter.
type Resistance struct {
	Mean    float64 `json:"mean"`   // N or N·m
	Lower5  float64 `json:"lower5"` // 5 % of such joints are weaker
	COV     float64 `json:"cov"`
	Governs string  `json:"governs"`
	Limits  []Limit `json:"limits,omitempty"`
	// From is Book, or the tests of the shop that shift it: "shop, 5 tests in 2 batches". Shop is nil for Book.
	From string    `json:"from"`
	Shop *FromShop `json:"shop,omitempty"`
}

// Strength is the resistance of a joint against each force.
type Strength struct {
	Tension Resistance      `json:"tension"` // N
	ShearU  Resistance      `json:"shearU"`  // N
	ShearV  Resistance      `json:"shearV"`  // N
	BendU   Resistance      `json:"bendU"`   // N·m
	BendV   Resistance      `json:"bendV"`   // N·m
	Twist   Resistance      `json:"twist"`   // N·m
	Working working.Working `json:"working,omitempty"`
}

// Stiffness is the give of a joint, without that of the wood around it (package structure adds the
// joint zone).
type Stiffness struct {
	Axial unit.NewtonsPerMillimetre  `json:"axial"`
	Shear unit.NewtonsPerMillimetre  `json:"shear"`
	BendU unit.NewtonMetresPerRadian `json:"bendU"`
	BendV unit.NewtonMetresPerRadian `json:"bendV"`
	Twist unit.NewtonMetresPerRadian `json:"twist"`
	Cite  source.Cite                `json:"cite"`
}

// TestScatter is the coefficient of variation of careful joints of one kind: 13.6 and 17.3 % in two series of 215 and 140
// tenons, 15.2 % of both together. For the other kinds, of which no series was read, the same is assumed, but for
// biscuits, whose own figure is in biscuitModel.
//
// Source: [eckelman-2016] abstract, read.
const TestScatter = 0.15

// least returns the resistance of the weakest limit. model is the coefficient of variation of the
// model itself; the scatter of tests comes on top.
//
//	q05 = mean exp(-1.645 s) / sqrt(1 + v²),  s² = ln(1 + v²),  v² = model² + test²
//
// The law is lognormal. Source: lognormal quantile; the choice of law [en-14358], from memory.
func least(model float64, limits ...Limit) Resistance {
	r := Resistance{Mean: math.Inf(1), Limits: limits, From: Book}
	for _, l := range limits {
		if l.Mean < r.Mean {
			r.Mean, r.Governs = l.Mean, l.Name
		}
	}
	r.COV = math.Hypot(model, TestScatter)
	s := math.Sqrt(math.Log1p(r.COV * r.COV))
	r.Lower5 = r.Mean * math.Exp(-1.645*s) / math.Sqrt(1+r.COV*r.COV)
	return r
}

// Means are what a shop can make joints with.
type Means struct {
	Can    func(hardware.Job) bool      // whether a tool of the shop does the job
	Dowels []hardware.Dowel             // dowels in the drawer or on sale
	Price  func(item string) unit.Money // of one; zero when not known
	Has    func(item string) bool       // whether the shop has an item of hardware; nil: it has everything
	Mark   unit.Length                  // smallest mark: pins stand at whole marks
	Family unit.Family                  // decides whether bits and chisels come in millimetres or inches
}
