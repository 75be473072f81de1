package trial

import (
	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
)

const mm = unit.Millimetre

// KeptTable is a play table in its own file, so that figures and drawings in tests change only when what they test does,
// and not with the examples.
const KeptTable = `
longgrain: 1
name: Play table
pattern: leg-and-apron-table
sizes:
  length: 900 mm
  width: 560 mm
  height: 500 mm
  top_thickness: 18 mm
  overhang: 40 mm
  leg: 48 mm
  apron_width: 89 mm
  apron_thickness: 19 mm
  set_back: 3 mm
  below: low rails
  below_height: 90 mm
  rail_width: 45 mm
`

// Dowelled bores every joint for dowels of 10 mm, 30 mm deep: each pair at one point of the world.
func Dowelled(a assembly.Assembly) assembly.Assembly {
	added := map[int][]assembly.Feature{}
	for _, c := range a.Connections {
		if c.Purpose != assembly.Joint {
			continue
		}
		_, v := c.A.Area.Centre()
		n := 2
		if c.A.Area.SizeU() > 70*mm {
			n = 3
		}
		for k := range n {
			u := 12*mm + (c.A.Area.SizeU()-24*mm)*unit.Length(k)/unit.Length(n-1)
			added[c.A.Part] = append(added[c.A.Part], Bore(c.A.Side, u, v, c.Name))
			at := a.Parts[c.B.Part].Pose.In(a.Parts[c.A.Part].OnSide(c.A.Side, u, v, 0))
			ub, vb := c.B.Side.UV()
			added[c.B.Part] = append(added[c.B.Part], Bore(c.B.Side, unit.MM(at.Along(ub)), unit.MM(at.Along(vb)), c.Name))
		}
	}
	return a.WithFeatures(added)
}

// Bore is one of the bores of Dowelled.
func Bore(s assembly.Side, u, v unit.Length, name string) assembly.Feature {
	return assembly.Feature{Kind: assembly.Bore, Side: s, U: u, V: v, Diameter: 10 * mm, Depth: 30 * mm, For: name}
}
