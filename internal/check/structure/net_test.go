package structure

import (
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/spaceframe"
	"longgrain/internal/trial"
)

// Sections of 60 mm width (y) by 20 mm thickness (z), weakened; moduli by hand.
//
// Source: moments of area, W = I/c, W = b h²/6 of a rectangle.
func TestWhatACutLeavesOfASection(t *testing.T) {
	const mm = unit.Millimetre
	board := assembly.Part{Length: 500 * mm, Width: 60 * mm, Thickness: 20 * mm}
	for name, c := range map[string]struct {
		f            assembly.Feature
		area, wy, wz float64
		offY, offZ   float64
		from, to     float64
	}{
		"half-lap from the face": {assembly.Feature{Kind: assembly.Notch, Side: assembly.FaceHigh, U: 250 * mm, V: 30 * mm, Length: 50 * mm, Width: 60 * mm, Depth: 10 * mm},
			600, 60 * 10 * 10 / 6.0, 10 * 60 * 60 / 6.0, 0, -5, 225, 275},
		"notch from an edge": {assembly.Feature{Kind: assembly.Notch, Side: assembly.EdgeLow, U: 100 * mm, V: 10 * mm, Length: 40 * mm, Width: 20 * mm, Depth: 20 * mm},
			800, 40 * 20 * 20 / 6.0, 20 * 40 * 40 / 6.0, 10, 0, 80, 120},
		"mortise through the edges": {assembly.Feature{Kind: assembly.Mortise, Side: assembly.EdgeHigh, U: 250 * mm, V: 10 * mm, Length: 30 * mm, Width: 8 * mm, Depth: 60 * mm},
			60 * 12, 60 * (8000 - 512) / (6 * 20.0), 12 * 60 * 60 / 6.0, 0, 0, 235, 265},
		"housing along the face": {assembly.Feature{Kind: assembly.Groove, Side: assembly.FaceLow, U: 300 * mm, V: 0, Length: 18 * mm, Width: 60 * mm, Depth: 6 * mm},
			60 * 14, 60 * 14 * 14 / 6.0, 14 * 60 * 60 / 6.0, 0, 3, 300, 318},
		"bore through the face": {assembly.Feature{Kind: assembly.Bore, Side: assembly.FaceHigh, U: 250 * mm, V: 30 * mm, Diameter: 10 * mm, Depth: 20 * mm},
			50 * 20, 50 * 20 * 20 / 6.0, 20 * (216000 - 1000) / (6 * 60.0), 0, 0, 245, 255},
	} {
		p := board
		p.Features = []assembly.Feature{c.f}
		nets := netsOf(p, spaceframe.Rectangle(60, 20))
		if len(nets) != 1 {
			t.Fatalf("%s: %d stretches", name, len(nets))
		}
		n := nets[0]
		near(t, name+": area", n.area, c.area, 1e-9)
		near(t, name+": W_y", n.wy, c.wy, 1e-9)
		near(t, name+": W_z", n.wz, c.wz, 1e-9)
		if n.offY != c.offY || n.offZ != c.offZ || n.from != c.from || n.to != c.to {
			t.Errorf("%s: %v, %v from %v to %v", name, n.offY, n.offZ, n.from, n.to)
		}
		if netAt(nets, c.from-1) != nil || netAt(nets, (c.from+c.to)/2) == nil {
			t.Errorf("%s: weak beside the cut, or whole in it", name)
		}
	}
}

// What is cut into an end is the joint's own, and a taper is in the section already.
func TestEndsAndTapersAreNotCountedTwice(t *testing.T) {
	const mm = unit.Millimetre
	p := assembly.Part{Length: 500 * mm, Width: 60 * mm, Thickness: 20 * mm, Features: []assembly.Feature{
		{Kind: assembly.Bore, Side: assembly.EndLow, U: 30 * mm, V: 10 * mm, Diameter: 8 * mm, Depth: 30 * mm},
		{Kind: assembly.Tenon, Side: assembly.EndHigh, U: 30 * mm, V: 10 * mm, Length: 40 * mm, Width: 8 * mm, Depth: 30 * mm},
		{Kind: assembly.TaperCut, Side: assembly.FaceHigh, Length: 300 * mm, Depth: 5 * mm},
	}}
	if nets := netsOf(p, spaceframe.Rectangle(60, 20)); len(nets) > 0 {
		t.Errorf("%+v", nets)
	}
}

// A lap half through an apron at its middle, where a load stands: the wood there bears half the thickness, so across the width half the reserve.
func TestALapWeakensTheApronThatItIsCutInto(t *testing.T) {
	a := trial.Assembly(t, tableOf("table", 1400, 400, 500, 60, 20, 60, 30)) // long and low aprons: bending governs
	joints := strongest(t, a)
	of := func(a assembly.Assembly) Check {
		c, ok := check(Analyse(a, joints, 1.3, 9).Members, "bending of the apron front")
		if !ok {
			t.Fatal("no check of the apron")
		}
		return c
	}
	front, _ := a.PartNamed("apron front")
	p := a.Parts[front]
	lap := assembly.Feature{Kind: assembly.Notch, Side: assembly.FaceLow, U: p.Length / 2, V: p.Width / 2, Length: 40 * unit.Millimetre, Width: p.Width, Depth: p.Thickness / 2, For: "brace to apron front"}
	whole, cut := of(a), of(a.WithFeatures(map[int][]assembly.Feature{front: {lap}}))
	if r := float64(cut.Reserve / whole.Reserve); r < 0.3 || r > 0.505 {
		t.Errorf("reserve %.2f whole, %.2f with half of it cut away", float64(whole.Reserve), float64(cut.Reserve))
	}
	if title := cut.Working[0].Title; !strings.HasSuffix(title, "where it is cut for brace to apron front") {
		t.Error(title)
	}
}
