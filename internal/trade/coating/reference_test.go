package coating

import (
	"math"
	"testing"
)

// squareFeetGallon is 1 ft² a US gallon in m² a litre.
const squareFeetGallon = 0.092903 / 3.785412

// Figures as the works print them, beside the table in SI. Most coverages are recalled and marked so in the table; these are
// the ones that were read.
func TestReadFiguresAgreeWithTheTable(t *testing.T) {
	stain, _ := LookupProduct("oil-stain")
	if math.Abs(stain.CoverageLow-150*squareFeetGallon) > 0.05 || math.Abs(stain.CoverageHigh-400*squareFeetGallon) > 0.05 {
		t.Errorf("pigment stain covers %v to %v m²/L; published are 150 to 400 ft² a gallon", stain.CoverageLow, stain.CoverageHigh)
	}
	conditioner, _ := LookupProduct("conditioner")
	if conditioner.RecoatLow != 6 || conditioner.RecoatHigh != 8 {
		t.Errorf("a conditioner dries %v to %v h; the columnist has 6 to 8", conditioner.RecoatLow, conditioner.RecoatHigh)
	}
	if Waste < 1.10 || Waste > 1.15 {
		t.Errorf("losses of %v; consumer pages have 10 to 15 %%", Waste)
	}
	lead, _ := LookupHazard("child-lead")
	if lead.Figure != "90" {
		t.Errorf("lead limit %q; 16 CFR 1303 has 90 parts per million", lead.Figure)
	}
	// An ounce of powder to two US quarts, from memory.
	dye, _ := LookupProduct("water-dye")
	if math.Abs(dye.Powder-28.35/(2*0.946353)) > 0.1 {
		t.Errorf("%v g of powder for a litre", dye.Powder)
	}
}

func TestEveryProductHasItsFiguresInOrder(t *testing.T) {
	for _, id := range ProductIDs() {
		p, _ := LookupProduct(id)
		if p.CoverageLow <= 0 || p.CoverageLow > p.Coverage || p.Coverage > p.CoverageHigh || p.RecoatLow > p.RecoatHigh || p.CureLow > p.CureHigh || p.CoatsLow > p.CoatsHigh ||
			p.PowderLow > p.Powder || p.Powder > p.PowderHigh {
			t.Errorf("%+v", p)
		}
	}
}
