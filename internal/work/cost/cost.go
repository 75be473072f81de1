// Package cost adds up what a piece costs: timber, hardware, glue, finish and hours.
//
// In go the chapters before it, the working time and the shop with its prices; out comes an estimate, row by row with
// the source of each price, for all copies that are made at once. Timber and tins are bought whole; of glue and
// hardware what is used counts, wherever it comes from. A price that the shop file does not give is listed as missing
// and is not guessed. Tools, rent and the power bill are not covered.
package cost

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/fasten"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/ground/working"
	"longgrain/internal/trade/shop"
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/glueup"
)

// Chapter is a part of the estimate.
type Chapter string

// The chapters, in the order of the estimate.
const (
	Timber   Chapter = "timber"
	Hardware Chapter = "hardware"
	Glue     Chapter = "glue"
	Finish   Chapter = "finish"
	Labour   Chapter = "labour"
)

// Chapters lists all of them.
var Chapters = []Chapter{Timber, Hardware, Glue, Finish, Labour}

// Input is what an estimate is made from.
type Input struct {
	Joints  []*joint.Joint     // by connection, nil where there is none
	Held    []fasten.Fastening // what is held without glue
	Cutting cutting.Plan       // for all copies
	GlueUps glueup.Plan        // of all copies
	Finish  finishing.Plan     // of all copies
	Work    unit.Minutes       // working time of all people, for all copies
	Shop    shop.Shop
	Copies  int // pieces made at once; less than 1 counts as 1
}

// Plan is the estimate.
type Plan struct {
	Currency string                 `json:"currency,omitempty"`
	Copies   int                    `json:"copies"`
	Rows     []Row                  `json:"rows"`
	Sums     map[Chapter]unit.Money `json:"sums"` // a sum for each of Chapters
	Total    unit.Money             `json:"total"`
	Hours    float64                `json:"hours"`             // of all people together, all copies
	Missing  []string               `json:"missing,omitempty"` // what has no price and is not in the total
	Working  working.Working        `json:"working"`
}

// Row is a line of the estimate.
type Row struct {
	Chapter  Chapter    `json:"chapter"`
	Name     string     `json:"name"`
	Quantity float64    `json:"quantity"`
	Unit     string     `json:"unit"`
	Each     unit.Money `json:"each"`
	Total    unit.Money `json:"total"`
	Priced   bool       `json:"priced"` // false when no price is known; Total is then 0
	Source   string     `json:"source"` // where the price is from
}

// Make adds up the cost.
func Make(in Input) Plan {
	p := Plan{Currency: in.Shop.Currency, Copies: max(1, in.Copies), Sums: map[Chapter]unit.Money{}}
	p.timber(in)
	p.hardware(in)
	p.glue(in)
	p.finish(in)
	p.labour(in)
	for _, c := range Chapters {
		p.Sums[c] += 0
	}
	for _, r := range p.Rows {
		p.Sums[r.Chapter] += r.Total
		p.Total += r.Total
		if !r.Priced {
			p.Missing = append(p.Missing, r.Name)
		}
	}
	step := working.Step{Title: "Cost", Formula: "total = Σ rows", Result: working.Value{Symbol: "total", Number: float64(p.Total) / 100, Unit: p.Currency}, Cite: source.Cite{Confidence: source.Exact}}
	for _, c := range Chapters {
		step.Inputs = append(step.Inputs, working.Value{Symbol: string(c), Number: float64(p.Sums[c]) / 100, Unit: p.Currency})
	}
	if len(p.Missing) > 0 {
		step.Note = fmt.Sprintf("without a price: %s", strings.Join(p.Missing, ", "))
	}
	p.Working = working.Working{step}
	return p
}

// add appends a row; quantity times each is its total, rounded to the cent, when a price is known.
func (p *Plan) add(r Row) {
	if r.Priced {
		r.Total = unit.Cents(r.Quantity * float64(r.Each))
	} else {
		r.Each, r.Source = 0, "no price in the shop file"
	}
	p.Rows = append(p.Rows, r)
}

// timber takes the boards to buy, and lists those on hand at no cost.
func (p *Plan) timber(in Input) {
	for _, b := range in.Cutting.Buy {
		p.add(Row{Chapter: Timber, Name: fmt.Sprintf("%s, %s", b.Name, b.Length.Show(in.Shop.Family)), Quantity: float64(b.Count), Unit: "boards", Each: b.Each, Priced: b.Priced, Source: "shop file, timber"})
	}
	for _, b := range in.Cutting.Boards {
		if b.Source != cutting.Buy {
			p.add(Row{Chapter: Timber, Name: fmt.Sprintf("%s, %s", b.Name, b.Length.Show(in.Shop.Family)), Quantity: 1, Unit: "boards", Priced: true, Source: string(b.Source) + ", not counted"})
		}
	}
}

// hardware gathers the items of all joints by name and looks up what one costs.
func (p *Plan) hardware(in Input) {
	count := map[string]int{}
	var names []string
	add := func(name string, n int) {
		if _, known := count[name]; !known {
			names = append(names, name)
		}
		count[name] += n * p.Copies
	}
	for _, j := range in.Joints {
		if j == nil {
			continue
		}
		for _, item := range j.Hardware {
			add(item.Name, item.Count)
		}
	}
	for _, f := range in.Held {
		for _, item := range f.Hardware {
			add(item.Name, item.Count)
		}
	}
	slices.SortFunc(names, cmp.Compare[string])
	for _, name := range names {
		each, priced, from := price(name, count[name], in.Shop)
		p.add(Row{Chapter: Hardware, Name: name, Quantity: float64(count[name]), Unit: "pieces", Each: each, Priced: priced, Source: from})
	}
}

// HardwarePrice returns the price of one piece of hardware by the name that package joint gives it; false when the shop file
// gives none.
func HardwarePrice(name string, s shop.Shop) (unit.Money, bool) {
	each, priced, _ := price(name, 1, s)
	return each, priced
}

// price finds the price of one piece of hardware by the name that package joint gives it: dowels by diameter and length in
// either family, pocket screws by length.
func price(name string, n int, s shop.Shop) (each unit.Money, priced bool, from string) {
	drawer := func(have int) string {
		if have >= n {
			return "shop file; in the drawer"
		}
		return fmt.Sprintf("shop file; %d in the drawer, buy %d", have, n-have)
	}
	for _, d := range s.Dowels {
		for _, f := range []unit.Family{unit.Metric, unit.Imperial} {
			if name == fmt.Sprintf("fluted dowel %s × %s", d.Diameter.Show(f), d.Length.Show(f)) {
				return d.Price, d.Priced, drawer(d.Count)
			}
		}
	}
	for _, x := range s.Screws {
		if x.Pocket && strings.HasPrefix(name, "pocket screw") && strings.Contains(name, "× "+x.Length.Show(unit.Metric)+",") {
			return x.Price, x.Priced, drawer(x.Count)
		}
	}
	return 0, false, ""
}

// glue counts the share of a bottle that is used.
func (p *Plan) glue(in Input) {
	for _, use := range in.GlueUps.Use {
		r := Row{Chapter: Glue, Name: use.Glue.Name, Quantity: float64(use.Litres), Unit: "L"}
		for _, g := range in.Shop.Glues {
			if g.Kind.ID == use.Glue.ID && g.Litres > 0 && g.Price > 0 && use.Known {
				r.Each, r.Priced = unit.Cents(float64(g.Price)/float64(g.Litres)), true
				r.Source = fmt.Sprintf("shop file; %s for a bottle of %.2f L, the share used", g.Price, float64(g.Litres))
				break
			}
		}
		p.add(r)
	}
}

// finish buys whole tins for all copies together.
func (p *Plan) finish(in Input) {
	for _, use := range in.Finish.Products {
		litres := float64(use.Litres)
		if use.Tin == 0 {
			p.add(Row{Chapter: Finish, Name: use.Name, Quantity: litres, Unit: "L"})
			continue
		}
		tins := math.Ceil(litres/float64(use.Tin) - 1e-9)
		p.add(Row{Chapter: Finish, Name: fmt.Sprintf("%s, tin of %.2f L", use.Name, float64(use.Tin)), Quantity: tins, Unit: "tins", Each: use.Price, Priced: use.Price > 0,
			Source: fmt.Sprintf("shop file; %.2f L are used", litres)})
	}
}

// labour pays the hours of all people.
func (p *Plan) labour(in Input) {
	p.Hours = float64(in.Work) / 60
	from := "shop file, labour_rate"
	if d, ok := in.Shop.DefaultOf("labour_rate"); ok {
		from = "not given: " + d.Note
	} else if in.Shop.LabourRate == 0 {
		from = "shop file: work is not paid"
	}
	p.add(Row{Chapter: Labour, Name: "working time", Quantity: math.Round(p.Hours*10) / 10, Unit: "hours", Each: in.Shop.LabourRate, Priced: true, Source: from})
}
