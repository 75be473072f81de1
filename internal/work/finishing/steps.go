package finishing

import (
	_ "embed"
	"fmt"
	"math"
	"strconv"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
)

//go:embed shares.csv
var sharesCSV string

// shareOf is the part of the surface that a step treats, for steps that do not treat all of it.
var shareOf = readShares()

type stepKey struct {
	schedule string
	step     int
}

func readShares() map[stepKey]string {
	out := map[stepKey]string{}
	for _, r := range source.Table("shares.csv", sharesCSV) {
		out[stepKey{r.Text("schedule"), int(r.Number("step"))}] = r.Text("share")
	}
	return out
}

var sandingSteps = hardware.SandingSteps()

func plural(n int, what string) string { return fmt.Sprintf("%d %s", n, what) }

// treated returns the surface that a step treats, and the end grain within it.
func (p *Plan) treated(schedule string, number int) (area, end unit.SquareMetres) {
	share, limited := shareOf[stepKey{schedule, number}]
	switch {
	case !limited:
		return p.Exposed, p.EndGrain
	case share == "end grain":
		return p.EndGrain, p.EndGrain
	}
	x, err := strconv.ParseFloat(share, 64)
	if err != nil {
		panic("finishing: shares.csv: " + err.Error())
	}
	return p.Exposed * unit.SquareMetres(x), p.EndGrain * unit.SquareMetres(x)
}

// addStep turns a step of the schedule into one of this piece in this shop.
func (p *Plan) addStep(a assembly.Assembly, finish coating.Schedule, i int, s shop.Shop) {
	from := finish.Steps[i]
	step := Step{Number: i + 1, Action: from.Action, Grit: from.Grit, Note: from.Note, Cite: from.Cite,
		Soak: unit.Minutes(from.SoakMinutes), Within: unit.Minutes(60 * from.WithinHours), Wait: unit.Minutes(60 * from.WaitHours * p.Drying)}
	area, end := p.treated(finish.ID, i+1)
	product, wet := coating.LookupProduct(from.Product)
	if from.Action != coating.Wait {
		step.Area = area
		step.Work = unit.Minutes(60 * float64(area) / rate(finish, i))
	} else {
		step.Wait = unit.Minutes(60 * from.WaitHours)
	}
	for _, id := range from.Cautions {
		if h, ok := coating.LookupHazard(id); ok {
			step.Hazards = append(step.Hazards, h)
		}
	}
	if wet {
		step.Product, step.Rags, step.Covers = product.Name, product.SelfHeats, product.Coverage
		step.Litres = p.litres(a, product, area, end, firstCoat(finish, i))
		step.Hazards = more(step.Hazards, product, a.Setting)
	}
	if from.Action == coating.Rub {
		step.Rags = i > 0 && selfHeats(finish.Steps[i-1].Product)
		before := &p.Steps[i-1]
		if put := before.Work * unit.Minutes(max(1, s.Pace)); step.Within > 0 && put+before.Soak > step.Within {
			before.Note = strings.TrimPrefix(before.Note+"; ", "; ") + fmt.Sprintf("about %.0f min of putting on: work in %d portions, each rubbed dry within %.0f min", float64(put), int(math.Ceil(float64((put)/max(1, step.Within-before.Soak)))), float64(step.Within))
		}
	}
	p.Steps = append(p.Steps, step)
}

func selfHeats(id string) bool {
	p, ok := coating.LookupProduct(id)
	return ok && p.SelfHeats
}

// more adds the hazards that a product calls for and its step does not name.
func more(list []coating.Hazard, p coating.Product, setting string) []coating.Hazard {
	var ids []string
	if p.SelfHeats {
		ids = append(ids, "rags")
		if setting == "school" {
			ids = append(ids, "rags-school")
		}
	}
	if p.Solvent {
		ids = append(ids, "solvent")
	}
	if p.Purpose == coating.Paint {
		ids = append(ids, "child-lead")
	}
	if setting == "school" && p.Purpose != coating.Colours && p.Purpose != coating.Seals {
		ids = append(ids, "child-toys-eu")
	}
	for _, id := range ids {
		h, ok := coating.LookupHazard(id)
		known := false
		for _, x := range list {
			known = known || x.ID == id
		}
		if ok && !known {
			list = append(list, h)
		}
	}
	return list
}

// rate returns how many square metres an hour a step covers by hand. All rates are assumed.
func rate(finish coating.Schedule, i int) float64 {
	step := finish.Steps[i]
	if p, ok := coating.LookupProduct(step.Product); ok {
		return p.Rate
	}
	if step.Action == coating.Rub && i > 0 {
		return rate(finish, i-1)
	}
	between := false
	for _, before := range finish.Steps[:i] {
		between = between || before.Product != ""
	}
	best := 0.0
	for _, x := range sandingSteps {
		if x.Grit != step.Grit {
			continue
		}
		if middle := (x.RateLow + x.RateHigh) / 2; best == 0 || strings.HasPrefix(x.When, "between") == between {
			best = middle
		}
	}
	if best == 0 {
		return 5 // a grit that the table lacks; assumed
	}
	return best
}

// firstCoat tells whether nothing wet but water has gone on before a step.
func firstCoat(finish coating.Schedule, i int) bool {
	for _, before := range finish.Steps[:i] {
		if before.Product != "" {
			return false
		}
	}
	return true
}

// litres returns how much of a product a coat takes.
//
//	V = k (A + (e - 1) A_end) / c · w
//
// A is the surface, A_end the end grain within it, e the factor of end grain, c the coverage in m² a litre, k the factor
// of a first coat on bare softwood, else 1, w the factor for losses.
//
// Source: factors of package coating.
func (p *Plan) litres(a assembly.Assembly, product coating.Product, area, end unit.SquareMetres, first bool) unit.Litres {
	k := 1.0
	if first {
		k = 1 + (coating.FirstCoatOnBareSoftwood-1)*p.softwoodShare(a)
	}
	return unit.Litres(k * (float64(area) + (coating.EndGrainFactor-1)*float64(end)) / product.Coverage * coating.Waste)
}

// softwoodShare is the share of the surface that is softwood.
func (p *Plan) softwoodShare(a assembly.Assembly) float64 {
	var soft unit.SquareMetres
	for i, x := range p.Areas {
		if s, ok := wood.Lookup(a.Parts[i].Species); ok && s.Group == wood.Softwood {
			soft += x.Exposed
		}
	}
	if p.Exposed <= 0 {
		return 0
	}
	return float64(soft / p.Exposed)
}

// products adds up the litres of each product and rounds up to tins of the shop's list.
func (p *Plan) products(finish coating.Schedule, s shop.Shop) {
	ids, coats := finish.Coats()
	for i, id := range ids {
		product, _ := coating.LookupProduct(id)
		use := ProductUse{ID: id, Name: product.Name, Coats: coats[i], Cite: product.Cite}
		for k, step := range p.Steps {
			if finish.Steps[k].Product == id {
				use.Litres += step.Litres * unit.Litres(p.Copies)
			}
		}
		for _, tin := range s.Finishes {
			if tin.Product.ID == id && tin.Litres > 0 {
				use.Tin, use.Price = tin.Litres, tin.Price
				use.Tins = int(math.Ceil(float64(use.Litres/tin.Litres) - 1e-9))
				break
			}
		}
		if use.Tin == 0 {
			p.Findings = append(p.Findings, Finding{Where: product.Name, What: fmt.Sprintf("%s is not on the shop's list of finishes; %.2f L are needed", product.Name, float64(use.Litres)),
				Advice: "buy it, and add it to the list with its price"})
		}
		if product.Powder > 0 {
			use.Powder = unit.Grams(product.Powder * float64(use.Litres))
			use.Note = fmt.Sprintf("powder: %.0f to %.0f g for a litre by memory, the packet decides; weigh it, and mix all of it at once so that every part gets one colour", product.PowderLow, product.PowderHigh)
			p.Working = append(p.Working, working.Step{Title: "Powder for " + product.Name, Formula: "m = V · g",
				Inputs: []working.Value{{Symbol: "V", Name: "dye mixed", Number: float64(use.Litres), Unit: "L"}, {Symbol: "g", Name: "powder for a litre", Number: product.Powder, Unit: "g/L", Cite: source.At("web-retail", "1 oz of powder for 2 US qt", source.Memory)}},
				Result: working.Value{Symbol: "m", Number: float64(use.Powder), Unit: "g"}, Cite: source.Assumption()})
		}
		p.Products = append(p.Products, use)
		p.Working = append(p.Working, working.Step{Title: "Quantity of " + product.Name, Formula: "V = N · Σ k · (A + (e − 1) · A_end) / c · w",
			Inputs: []working.Value{{Symbol: "A", Name: "surface", Number: float64(p.Exposed), Unit: "m²"}, {Symbol: "A_end", Name: "end grain", Number: float64(p.EndGrain), Unit: "m²"},
				{Symbol: "e", Name: "end grain drinks", Number: coating.EndGrainFactor, Cite: source.Assumption()},
				{Symbol: "c", Name: "coverage", Number: product.Coverage, Unit: "m²/L", Cite: product.Cite},
				{Symbol: "k", Name: "first coat on bare softwood", Number: coating.FirstCoatOnBareSoftwood, Cite: source.Assumption()},
				{Symbol: "w", Name: "losses", Number: coating.Waste, Cite: source.At("consumer-pages", "10 to 15 %", source.Read)},
				{Symbol: "n", Name: "coats", Number: float64(coats[i])}, {Symbol: "N", Name: "copies", Number: float64(p.Copies)}},
			Result: working.Value{Symbol: "V", Number: float64(use.Litres), Unit: "L"}, Cite: source.Assumption(),
			Note: "k counts for the first coat only"})
	}
}
