package glueup

import (
	"fmt"
	"slices"

	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/adhesive"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trade/wood"
	"longgrain/internal/work/blank"
)

// drySpecies is the moisture that the density for the choice of pressure is taken at.
const drySpecies wood.Moisture = 12

// fit works out what decides whether a glue-up can be done as it stands: glue, clamps and the time to close.
func (m *maker) fit(g *GlueUp) {
	g.Glue = m.shop.Habits.Glue
	g.Clamps = nil
	m.pressure(g)
	m.clamp(g)
	m.time(g)
	if !g.onTime() {
		m.slower(g)
	}
}

// complete works out a glue-up with its quantities, times and words.
func (m *maker) complete(g *GlueUp) {
	m.fit(g)
	for _, p := range g.Presses {
		g.Working = append(g.Working, m.pressSteps(*g, p)...)
	}
	if h, ok := coating.LookupHazard("long-clamps"); ok && m.longClamps(*g) {
		g.Cautions = append(g.Cautions, "Long clamps tip and pinch. "+h.Control)
	}
	m.grams(g)
	m.times(g)
	g.Instructions = instructions(*g, m.shop.Family)
}

// longClamp is the opening from which a clamp is handled by two. Source: hazards.csv of package coating, assumed.
const longClamp = 1200 * unit.Millimetre

func (m *maker) longClamps(g GlueUp) bool {
	return slices.ContainsFunc(g.Clamps, func(u ClampUse) bool { return m.shop.Clamps[u.Row].Opening >= longClamp })
}

// pressure looks up the pressure for the densest wood of the glue-up.
func (m *maker) pressure(g *GlueUp) {
	var densest unit.KilogramsPerCubicMetre
	for _, p := range g.Parts {
		species, _ := wood.Lookup(m.a.Parts[p.Index].Species)
		if d, ok := species.Density(drySpecies); ok {
			densest = max(densest, d.Value)
		}
	}
	g.Pressure = adhesive.Range[unit.MPa]{}
	if densest > 0 {
		g.Pressure, _ = g.Glue.Pressure(densest)
	}
	if g.Pressure.Value == 0 {
		g.Cautions = append(g.Cautions, fmt.Sprintf("no source gives the pressure for %s on this wood: clamps are counted by spacing", orGlue(g.Glue)))
	}
}

func orGlue(k adhesive.Kind) string {
	if k.Name == "" {
		return "this glue"
	}
	return k.Name
}

// time estimates the closing and looks up what the glue allows.
func (m *maker) time(g *GlueUp) {
	g.Closing = ClosingTime(g.Lines, g.Pins, g.ClampCount())
	g.Allowed = 0
	total, ok := g.Glue.AssemblyTime(m.air.Temperature)
	if ok {
		g.Allowed = total.Value * unit.Minutes(figure("share").value)
	}
}

// onTime tells whether it closes in time; without a published time it counts as closing.
func (g GlueUp) onTime() bool { return g.Allowed == 0 || g.Closing <= g.Allowed }

// ClosingTime returns the time from the first glue to the last clamp.
//
//	t = n_f t_f + n_p t_p + n_c t_c
//
// n_f is the number of pairs of glue faces, n_p of dowels or biscuits, n_c of clamps; the times are in rules.csv.
//
// Source: sum of the steps; the times are assumed.
func ClosingTime(lines, pins, clamps int) unit.Minutes {
	seconds := float64(lines)*figure("spread").value + float64(pins)*figure("pin").value + float64(clamps)*figure("clamp").value
	return unit.Minutes(seconds / 60)
}

// slower takes another glue of the shop that leaves enough time, the quickest of them; where there is none it reports.
func (m *maker) slower(g *GlueUp) {
	best, found := adhesive.Kind{}, false
	var bestTotal unit.Minutes
	for _, x := range m.shop.Glues {
		total, ok := x.Kind.AssemblyTime(m.air.Temperature)
		if !ok || g.Closing > total.Value*unit.Minutes(figure("share").value) || found && total.Value >= bestTotal {
			continue
		}
		best, bestTotal, found = x.Kind, total.Value, true
	}
	if !found {
		m.find(g.Name, fmt.Sprintf("spreading and clamping take %.1f min; %.0f %% of the assembly time of %s are %.1f min", float64(g.Closing), 100*figure("share").value, orGlue(g.Glue), float64(g.Allowed)),
			"get a slow-setting glue, or let two people spread")
		return
	}
	g.Cautions = append(g.Cautions, fmt.Sprintf("%s leaves too little time for so many pieces: glued with %s", orGlue(g.Glue), best.Name))
	g.Glue = best
	m.time(g)
}

// grams works out how much glue goes on: one face of strips and staves, both walls of joints (rule D11).
//
//	m = A f s
//
// A is the glue surface in m², f the faces that are coated, s the spread in g/m². Source: [pva-guidance].
func (m *maker) grams(g *GlueUp) {
	faces := 1.0
	if g.Kind == Frame || g.Kind == Assembly {
		faces = 2
	}
	spread, ok := g.Glue.Spread()
	if !ok {
		g.Cautions = append(g.Cautions, fmt.Sprintf("no source gives the spread of %s: the label says how much", orGlue(g.Glue)))
		return
	}
	g.Grams = unit.Grams(float64(g.Area) * faces * float64(spread.Value))
	g.Working = append(g.Working,
		working.Step{Title: "Glue on the joints", Formula: "m = A · f · s",
			Inputs: []working.Value{{Symbol: "A", Name: "long-grain glue surface", Number: float64(g.Area), Unit: "m²"}, {Symbol: "f", Name: "faces coated", Number: faces},
				{Symbol: "s", Name: "spread", Number: float64(spread.Value), Unit: "g/m²", Cite: spread.Cite}},
			Result: working.Value{Symbol: "m", Number: float64(g.Grams), Unit: "g"}, Cite: source.At("pva-guidance", "spread", source.Memory)},
		working.Step{Title: "Time to close", Formula: "t = n_f · t_f + n_p · t_p + n_c · t_c",
			Inputs: []working.Value{{Symbol: "n_f", Name: "pairs of faces", Number: float64(g.Lines)}, {Symbol: "n_p", Name: "dowels or biscuits", Number: float64(g.Pins)}, {Symbol: "n_c", Name: "clamps", Number: float64(g.ClampCount())}},
			Result: working.Value{Symbol: "t", Number: float64(g.Closing), Unit: "min"}, Cite: source.Assumption()})
}

// times looks up how long to clamp, when to scrape and when to machine.
func (m *maker) times(g *GlueUp) {
	t := m.air.Temperature
	clamped, ok := g.Glue.ClampTime(t, false)
	if !ok {
		clamped.Value = unit.Minutes(figure("unknown clamp time").value)
		g.Cautions = append(g.Cautions, fmt.Sprintf("no source gives the clamp time of %s: overnight is assumed, the label decides", orGlue(g.Glue)))
	}
	g.ClampTime = clamped.Value
	g.Scrape, _ = g.Glue.ScrapeWindow(t)
	g.OpenTime, _ = g.Glue.OpenTime(t)
	full, ok := g.Glue.FullStrength(t)
	if !ok {
		full.Value = unit.Minutes(figure("unknown clamp time").value)
	}
	g.MachineAfter = max(full.Value, g.ClampTime)
	g.Working = append(g.Working, working.Step{Title: "Time in clamps", Formula: "t = t₂₀ · (1 + (20 − T)/8) below 20 °C",
		Inputs: []working.Value{{Symbol: "T", Name: "air of the shop, " + m.air.Name, Number: float64(t), Unit: "°C"}},
		Result: working.Value{Symbol: "t", Number: float64(g.ClampTime), Unit: "min"}, Cite: clamped.Cite})
}

// checkAir reports a shop too cold for its glue.
func (m *maker) checkAir() {
	t, glue := m.air.Temperature, m.shop.Habits.Glue
	least, known := glue.MinimumTemperature()
	warm, _ := glue.WarningTemperature()
	switch {
	case known && t < least.Value:
		m.find("the workshop", fmt.Sprintf("%.0f °C is below the %.0f °C that %s needs: it turns to chalk and holds nothing", float64(t), float64(least.Value), glue.Name),
			"warm wood, glue and room for the time of the gluing and the night after it")
	case known && t < warm.Value:
		m.plan.Cautions = append(m.plan.Cautions, fmt.Sprintf("%.0f °C is near the limit of %s: read the lowest temperature on the label, and throw a joint away whose squeeze-out dries white and powdery", float64(t), glue.Name))
	}
	if glue.ID == "" {
		m.find("the shop", "no glue is named", "name one under habits")
	}
	known = false
	for _, x := range m.shop.Glues {
		known = known || x.Kind.ID == glue.ID
	}
	if !known && glue.ID != "" {
		m.find("the shop", fmt.Sprintf("%s is not on the shop's list of glues", glue.Name), "buy it, and add it to the list with its price")
	}
}

// alikeThick is the difference of thickness up to which boards are taken for the same timber: a board on hand is measured,
// one at the yard is nominal. Judgement.
const alikeThick = unit.Millimetre

// checkMoisture compares the timber that a way may be cut from with the moisture of the place of use.
func (m *maker) checkMoisture(g blank.Group, w blank.Way) {
	target, most, least := m.shop.Habits.TargetMoisture, wood.Moisture(0), wood.Moisture(100)
	note := func(species string, thick unit.Length, moisture wood.Moisture) {
		if species == g.Species && max(thick-w.Stock, w.Stock-thick) <= alikeThick {
			most, least = max(most, moisture), min(least, moisture)
		}
	}
	for _, t := range m.shop.Timber {
		note(t.Species, t.Thickness, t.Moisture)
	}
	for _, list := range [][]shop.Board{m.shop.Boards, m.shop.Offcuts} {
		for _, b := range list {
			note(b.Species, b.Thickness, b.Moisture)
		}
	}
	rule := figure("moisture")
	if w.Pieces > 1 && float64(most-least) > rule.value {
		m.caution(fmt.Sprintf("boards of %s lie between %.0f and %.0f %% moisture: glue only pieces together that are within %.0f points of each other, or the joint works itself loose; measure each before milling",
			w.Stock.Show(m.shop.Family), float64(least), float64(most), rule.value))
	}
	if w.Pieces > 0 && most > 0 && float64(target-least) > rule.value {
		m.caution(fmt.Sprintf("boards of %s at %.0f %% moisture are drier than the %.1f %% at which the piece will stand: let them take on the air of the shop, or panels will push joints open", w.Stock.Show(m.shop.Family), float64(least), float64(target)))
	}
	if w.Pieces == 0 || float64(most-target) <= rule.value {
		return
	}
	m.plan.Acclimatise = int(figure("acclimatise").value)
	text := fmt.Sprintf("timber of %s may come at %.0f %% moisture and is wanted within %.0f points of %.1f %%: stack it in the shop with battens between for %d days and measure before milling",
		w.Stock.Show(m.shop.Family), float64(most), rule.value, float64(target), m.plan.Acclimatise)
	if !m.caution(text) {
		return
	}
	m.plan.Working = append(m.plan.Working, working.Step{Title: "Moisture at gluing", Formula: "M − M_use ≤ d",
		Inputs: []working.Value{{Symbol: "M", Name: "dampest timber on the list", Number: float64(most), Unit: "%"}, {Symbol: "M_use", Name: "where the piece will stand", Number: float64(target), Unit: "%"}},
		Result: working.Value{Symbol: "d", Number: rule.value, Unit: rule.unit}, Cite: rule.cite})
}

// caution adds a caution once, and tells whether it is new.
func (m *maker) caution(text string) bool {
	if slices.Contains(m.plan.Cautions, text) {
		return false
	}
	m.plan.Cautions = append(m.plan.Cautions, text)
	return true
}

// use adds up the glue of all glue-ups, with squeeze-out and losses.
func (m *maker) use() {
	for _, g := range m.plan.GlueUps {
		k := -1
		for i := range m.plan.Use {
			if m.plan.Use[i].Glue.ID == g.Glue.ID {
				k = i
			}
		}
		if k < 0 {
			_, known := g.Glue.Spread()
			m.plan.Use = append(m.plan.Use, GlueUse{Glue: g.Glue, Known: known})
			k = len(m.plan.Use) - 1
		}
		m.plan.Use[k].Grams += g.Grams * unit.Grams(len(g.Runs)) * unit.Grams(figure("waste").value)
	}
	for i := range m.plan.Use {
		m.plan.Use[i].Litres = unit.Litres(float64(m.plan.Use[i].Grams) / 1000 / figure("density").value)
	}
}
