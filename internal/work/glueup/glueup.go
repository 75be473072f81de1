// Package glueup decides what is glued in one go: laminations, panels, frames and the assembly, each with glue,
// force, clamps and times.
//
// In go an assembly with its joints, the chosen way to get each part from timber, the shop and the air at the
// time; out comes a Plan of glue-ups in working order. What the clamps or the glue do not allow is a finding, and
// the glue-up is planned all the same with what there is. What copies of a piece repeat stands once, with the pieces
// that each go takes; laminations of several copies go into the clamps together where clamps and time allow.
//
// Which joints close together follows from one rule (docs/methods/glueup.md): a joint closes along the part whose
// end meets, joints that close in one direction are clamped together, and directions follow each other from the
// shortest parts to the longest, so that end frames come before the long rails. Bent laminations and curved parts
// are not covered.
package glueup

import (
	"fmt"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/adhesive"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/blank"
)

// Kind says what a glue-up makes.
type Kind string

// The kinds, in working order.
const (
	Lamination Kind = "lamination" // strips face to face
	Panel      Kind = "panel"      // staves edge to edge
	Frame      Kind = "frame"      // parts that are later joined to others
	Assembly   Kind = "assembly"   // the last gluing of what is glued together
)

// Plan is every glue-up of a piece and its copies.
type Plan struct {
	Copies  int           `json:"copies"`
	Glue    adhesive.Kind `json:"glue"` // the glue of the shop; a glue-up may need another
	Air     shop.Weather  `json:"air"`  // of the workshop at the time
	GlueUps []GlueUp      `json:"glueUps"`
	Use     []GlueUse     `json:"use"` // how much of each glue
	// Loose lists the connections that are held without glue: screws, top fastenings.
	Loose []int `json:"loose,omitempty"`
	// Acclimatise is how long timber lies in the shop before it is milled, in days; 0 when it is dry enough.
	Acclimatise int             `json:"acclimatise"`
	Cautions    []string        `json:"cautions,omitempty"`
	Findings    []Finding       `json:"findings,omitempty"`
	Working     working.Working `json:"working,omitempty"`
}

// GlueUse is how much of a glue all copies take.
type GlueUse struct {
	Glue   adhesive.Kind `json:"glue"`
	Grams  unit.Grams    `json:"grams"`
	Litres unit.Litres   `json:"litres"`
	Known  bool          `json:"known"` // false when no source gives the spread of this glue
}

// GlueUp is what is glued and clamped in one go.
type GlueUp struct {
	Number int    `json:"number"` // from 1, in working order
	Name   string `json:"name"`   // "laminate legs A1 and A2"
	Kind   Kind   `json:"kind"`
	Parts  []Part `json:"parts"`
	After  []int  `json:"after,omitempty"` // numbers of the glue-ups that must be done before
	// Connections are the indices of the joints that it closes; empty for laminations and panels.
	Connections []int `json:"connections,omitempty"`
	// Runs are the goes in which it is done, each with the numbers of the copies that it takes, from 1. All goes take
	// equally many; what the glue-up says of parts, glue and clamps is for one go.
	Runs [][]int `json:"runs"`
	// Set of Sets: where the clamps do not suffice for all parts alike at once, they follow in sets.
	Set     int `json:"set"`
	Sets    int `json:"sets"`
	Stacked int `json:"stacked,omitempty"` // laminations that lie on each other in the same clamps

	Glue  adhesive.Kind     `json:"glue"`
	Lines int               `json:"lines"` // pairs of glue faces
	Pins  int               `json:"pins"`  // dowels and biscuits
	Area  unit.SquareMetres `json:"area"`  // long-grain glue surface, one face of each line
	Grams unit.Grams        `json:"grams"`

	Pressure adhesive.Range[unit.MPa] `json:"pressure"`         // wanted; zero where no source gives it
	Reached  unit.MPa                 `json:"reached"`          // with the clamps that there are
	Presses  []Press                  `json:"presses"`          // what has to be pressed, each with its clamps
	Clamps   []ClampUse               `json:"clamps"`           // of all presses together
	Others   []Others                 `json:"others,omitempty"` // clamps for further copies at the same time
	Enough   bool                     `json:"enough"`           // clamps reach the wanted pressure and stand close enough
	Caul     unit.Length              `json:"caul"`             // least thickness of battens that spread the pressure between clamps

	Closing      unit.Minutes                 `json:"closing"` // from the first glue to the last clamp, estimated
	Allowed      unit.Minutes                 `json:"allowed"` // of the assembly time; 0 where no source gives it
	OpenTime     adhesive.Range[unit.Minutes] `json:"openTime"`
	ClampTime    unit.Minutes                 `json:"clampTime"`    // under pressure
	Scrape       adhesive.Range[unit.Minutes] `json:"scrape"`       // after clamping: from Low to High; zero where unknown
	MachineAfter unit.Minutes                 `json:"machineAfter"` // until it may be planed or loaded
	Cautions     []string                     `json:"cautions,omitempty"`
	Instructions []string                     `json:"instructions"`
	Working      working.Working              `json:"working"`
}

// Others is a set of clamps that does the same glue-up of another copy beside the first.
type Others struct {
	Clamps  []ClampUse   `json:"clamps"`
	Closing unit.Minutes `json:"closing"`
}

// ForRun returns the clamps that a go takes and its time to close: the sets of clamps by turns.
func (g GlueUp) ForRun(i int) Others {
	if k := i % (1 + len(g.Others)); k > 0 {
		return g.Others[k-1]
	}
	return Others{g.Clamps, g.Closing}
}

// Part is a part of a glue-up.
type Part struct {
	Index int    `json:"index"` // into the assembly
	Name  string `json:"name"`
	Mark  string `json:"mark"`
}

// Press is a line of clamps: a glue line or a shoulder with what it needs.
type Press struct {
	Where     string       `json:"where"`
	Length    unit.Length  `json:"length"`           // along which the clamps stand
	Width     unit.Length  `json:"width"`            // of the glue line
	Opening   unit.Length  `json:"opening"`          // a clamp must open at least
	Reach     unit.Length  `json:"reach"`            // from the bar to the middle of the jaw, at least
	Batten    bool         `json:"batten,omitempty"` // pressed by a batten over the joint with a clamp at each of its ends
	Force     unit.Newtons `json:"force"`            // wanted
	BySpacing int          `json:"bySpacing"`
	ByForce   int          `json:"byForce"` // of the kind named in Kind; 0 when no clamp serves
	Kind      string       `json:"kind,omitempty"`
	Governs   string       `json:"governs,omitempty"` // "force" or "spacing"
	Clamps    []ClampUse   `json:"clamps"`
	Reached   unit.Newtons `json:"reached"`

	shoulder bool        // closes a joint: force of the low pressure, a clamp for every spacing begun
	panel    bool        // edges of staves, pressed flat on the bars
	row      int         // of the shop's clamps that Kind names
	cover    unit.Length // wood between the jaw and the nearest glue line
	around   unit.Length // the way round, for a band clamp; 0 where a band does not serve
}

// ClampUse is a number of clamps of one row of the shop's list.
type ClampUse struct {
	Row   int    `json:"row"` // index into shop.Shop.Clamps
	Name  string `json:"name"`
	Count int    `json:"count"`
}

// Finding is something that clamps, glue or wood do not allow.
type Finding struct {
	What   string `json:"what"`
	Where  string `json:"where"`
	Advice string `json:"advice"`
}

// Pieces returns how many copies of the piece one go takes.
func (g GlueUp) Pieces() int { return len(g.Runs[0]) }

// Marked names the parts that one go takes: "legs A1 and A2", and "of 3 pieces" where it takes several.
func (g GlueUp) Marked(a assembly.Assembly) string {
	parts := make([]int, len(g.Parts))
	for i, p := range g.Parts {
		parts[i] = p.Index
	}
	if n := g.Pieces(); n > 1 {
		return fmt.Sprintf("%s of %d pieces", Marked(a, parts), n)
	}
	return Marked(a, parts)
}

// ClampCount returns how many clamps a glue-up holds.
func (g GlueUp) ClampCount() int {
	n := 0
	for _, c := range g.Clamps {
		n += c.Count
	}
	return n
}

// Make plans the glue-ups of an assembly. joints has the chosen joint of each connection, nil where there is none;
// groups and ways are those of the cutting plan; air is the weather in the workshop at the time. Panics when the
// slices do not belong together.
func Make(a assembly.Assembly, joints []*joint.Joint, groups []blank.Group, ways []blank.Way, s shop.Shop, air shop.Weather) Plan {
	if len(joints) != len(a.Connections) || len(groups) != len(ways) {
		panic(fmt.Sprintf("glueup: %d joints of %d connections, %d ways of %d groups", len(joints), len(a.Connections), len(ways), len(groups)))
	}
	m := maker{a: a, joints: joints, shop: s, air: air, made: make([][]int, len(a.Parts)),
		plan: Plan{Copies: max(1, a.Copies), Glue: s.Habits.Glue, Air: air}}
	m.checkAir()
	for i, g := range groups {
		m.checkMoisture(g, ways[i])
		if ways[i].Build == blank.Laminated {
			m.laminations(g, ways[i])
		}
	}
	for i, g := range groups {
		if ways[i].Build == blank.Panel {
			m.panels(g, ways[i])
		}
	}
	m.frames()
	m.use()
	return m.plan
}

// maker holds what the glue-ups are made from.
type maker struct {
	a      assembly.Assembly
	joints []*joint.Joint
	shop   shop.Shop
	air    shop.Weather
	plan   Plan
	made   [][]int // part -> numbers of the glue-ups that made it so far
}

func (m *maker) find(where, what, advice string) {
	f := Finding{What: what, Where: where, Advice: advice}
	for _, known := range m.plan.Findings {
		if known == f {
			return
		}
	}
	m.plan.Findings = append(m.plan.Findings, f)
}

func (m *maker) parts(indices []int) []Part {
	out := make([]Part, len(indices))
	for i, k := range indices {
		out[i] = Part{k, m.a.Parts[k].Name, m.a.Parts[k].Mark}
	}
	return out
}

// add numbers a glue-up, links it to those before it and works out glue, clamps and times.
func (m *maker) add(g GlueUp) int {
	g.Number = len(m.plan.GlueUps) + 1
	for _, p := range g.Parts {
		for _, n := range m.made[p.Index] {
			g.After = appendNew(g.After, n)
		}
	}
	if g.Runs == nil {
		g.Runs = goes(m.plan.Copies, 1)
	}
	m.complete(&g)
	m.sideBySide(&g)
	m.plan.GlueUps = append(m.plan.GlueUps, g)
	return g.Number
}

// addParts is add for a glue-up that its parts wait for in later ones.
func (m *maker) addParts(g GlueUp) {
	n := m.add(g)
	for _, p := range g.Parts {
		m.made[p.Index] = []int{n}
	}
}

func appendNew(list []int, n int) []int {
	for _, x := range list {
		if x == n {
			return list
		}
	}
	return append(list, n)
}
