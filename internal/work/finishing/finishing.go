// Package finishing decides what goes on the wood, how much of it and when: the steps of a finish with areas, litres,
// working and drying times, what is done before the parts are glued together, and what is masked for that.
//
// In go an assembly with the cuts of its joints, the shop, a finish and the air of the workshop; out comes a Plan:
// areas and steps for one piece, products for all copies. Areas come from the geometry of the parts, less the surfaces that meet in joints. Litres and times follow
// the tables of package coating, most of them recalled or assumed: the label of the tin decides. The order of the
// steps among the other work, and their dates, are for package schedule.
package finishing

import (
	"fmt"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/shop"
)

// Plan is the finish of a piece and its copies.
type Plan struct {
	Copies   int               `json:"copies"`
	Finish   string            `json:"finish"` // id of the schedule
	Name     string            `json:"name"`
	Air      shop.Weather      `json:"air"`
	Drying   float64           `json:"drying"` // how much longer coats dry in this air than the tables say
	Areas    []PartArea        `json:"areas"`  // one for each part
	Total    unit.SquareMetres `json:"total"`  // surface of all parts before they are joined
	Exposed  unit.SquareMetres `json:"exposed"`
	EndGrain unit.SquareMetres `json:"endGrain"` // of Exposed
	Steps    []Step            `json:"steps"`
	Products []ProductUse      `json:"products"`
	Masks    []Mask            `json:"masks"`
	Blotch   Blotch            `json:"blotch"`
	// TestPiece says what to try first; empty when nothing is put on the wood.
	TestPiece string          `json:"testPiece,omitempty"`
	Notes     []string        `json:"notes,omitempty"` // water, children, food: what the label decides
	Findings  []Finding       `json:"findings,omitempty"`
	Working   working.Working `json:"working"`
}

// Step is one step of the finish in this shop.
type Step struct {
	Number  int               `json:"number"` // as in the schedule, from 1
	Action  coating.Action    `json:"action"`
	Product string            `json:"product,omitempty"` // name
	Grit    string            `json:"grit,omitempty"`
	Before  bool              `json:"before"` // done on the single parts, before they are glued together
	Area    unit.SquareMetres `json:"area"`
	Litres  unit.Litres       `json:"litres,omitempty"` // of one piece, with losses
	Covers  float64           `json:"covers,omitempty"` // m² a litre, planned with; 0 for steps without a product
	Work    unit.Minutes      `json:"work"`             // of one practised person; rates are assumed
	Soak    unit.Minutes      `json:"soak,omitempty"`   // between putting on and wiping off
	Wait    unit.Minutes      `json:"wait,omitempty"`   // at least, to the next step, in this air
	Within  unit.Minutes      `json:"within,omitempty"` // at most, from the end of the step before; 0 is no limit
	Rags    bool              `json:"rags,omitempty"`   // leaves rags that can catch fire by themselves
	Hazards []coating.Hazard  `json:"hazards,omitempty"`
	Note    string            `json:"note,omitempty"`
	Cite    source.Cite       `json:"cite"`
}

// ProductUse is how much of a product all copies take.
type ProductUse struct {
	ID     string      `json:"id"`
	Name   string      `json:"name"`
	Coats  int         `json:"coats"`
	Litres unit.Litres `json:"litres"` // with losses
	Tin    unit.Litres `json:"tin"`    // litres in a tin of the shop's list; 0 when it has none
	Tins   int         `json:"tins"`   // whole tins; 0 when the size is not known
	Price  unit.Money  `json:"price"`  // of a tin
	// Powder is how much dye powder goes into these litres; 0 for products that come ready.
	Powder unit.Grams  `json:"powder,omitempty"`
	Note   string      `json:"note,omitempty"` // how the powder is found
	Cite   source.Cite `json:"cite"`
}

// Mask is a surface that stays bare for the glue.
type Mask struct {
	Part  int               `json:"part"` // index into the assembly
	Mark  string            `json:"mark"`
	Where string            `json:"where"` // "the left end"
	What  string            `json:"what"`  // "3 holes"
	Area  unit.SquareMetres `json:"area"`
}

// Finding is something that the finish or the shop does not allow.
type Finding struct {
	What   string `json:"what"`
	Where  string `json:"where"`
	Advice string `json:"advice"`
}

// Make plans a finish of an assembly whose parts carry the features of their joints. air is the weather in the workshop.
func Make(a assembly.Assembly, s shop.Shop, finish coating.Schedule, air shop.Weather) Plan {
	p := Plan{Copies: max(1, a.Copies), Finish: finish.ID, Name: finish.Name, Air: air, Drying: coating.DryingFactor(float64(air.Temperature), float64(air.Humidity))}
	p.areas(a)
	p.Masks = masks(a)
	for i := range finish.Steps {
		p.addStep(a, finish, i, s)
	}
	p.order(finish)
	p.products(finish, s)
	p.Blotch = blotch(a, finish)
	p.words(finish)
	p.judgeAir()
	return p
}

// order decides which steps come before assembly: everything up to the first coat, and that coat too when others
// follow, so that inside corners and edges are sealed while they can be reached. A finish of a single coat goes on
// the whole piece. Common practice: inside corners are finished before assembly, glue surfaces are masked.
func (p *Plan) order(finish coating.Schedule) {
	first, coats := -1, 0
	for i, s := range finish.Steps {
		if s.Action == coating.Coat || s.Action == coating.OilIn {
			if coats++; first < 0 {
				first = i
			}
		}
	}
	last := len(finish.Steps) - 1
	switch {
	case coats == 1:
		last = first - 1
	case coats > 1:
		last = first
		if first+1 < len(finish.Steps) && finish.Steps[first+1].Action == coating.Rub {
			last = first + 1
		}
	}
	for i := range p.Steps {
		p.Steps[i].Before = i <= last && p.Steps[i].Action != coating.Wait
	}
}

// judgeAir reports air that is too cold or too damp to coat in.
func (p *Plan) judgeAir() {
	if len(p.Products) == 0 {
		return
	}
	if p.Air.Temperature < coating.MinimumCelsius {
		p.Findings = append(p.Findings, Finding{Where: "the workshop",
			What:   fmt.Sprintf("%.0f °C is too cold to put a finish on", float64(p.Air.Temperature)),
			Advice: fmt.Sprintf("warm room, wood and product to %d °C or more while coats dry", coating.MinimumCelsius)})
	}
	if p.Drying > 1 {
		p.Notes = append(p.Notes, fmt.Sprintf("Waits are %.1f times those of the tables, for %.0f °C and %.0f %% humidity; assumed.", p.Drying, float64(p.Air.Temperature), float64(p.Air.Humidity)))
	}
}

// words adds what must be said beside the steps.
func (p *Plan) words(finish coating.Schedule) {
	if len(p.Products) == 0 {
		p.Notes = append(p.Notes, finish.ChildNote)
		return
	}
	p.TestPiece = "Try the whole finish first, every step with its waits, on an offcut of the same boards that was sanded the same way; keep it with the workbook."
	p.Notes = append(p.Notes,
		"Water: resists "+finish.WaterResists+". Colour on pine: "+finish.EvensColour+".",
		finish.ChildNote,
		"Food: only a product whose label allows it touches food. The label decides over everything here.",
		"Both faces of a top get the same coats, or it cups: coat the underside before the top is fastened.")
}
