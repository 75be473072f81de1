package strength

import (
	"math"
	"testing"
)

// The published tenon, 32 long and 38 high in a rail of 63.5 mm: both cheeks give 89,680 mm³ about the edge of the
// shoulder.
func TestTurnAboutEdgeOfThePublishedTenon(t *testing.T) {
	edge := (63.5 - 38) / 2
	within(t, "both cheeks", 2*TurnAboutEdge(32, edge, edge+38), 89680, 5e-4)
}

func TestTurnAboutEdgeOfANarrowStripIsItsLengthTimesDistance(t *testing.T) {
	// A cheek 0.001 mm long at 10 to 20 mm: 0.001 (20² − 10²)/2.
	within(t, "strip", TurnAboutEdge(0.001, 10, 20), 0.15, 1e-6)
	// A square with its corner in the pivot: a³ (√2 + ln(1 + √2))/3.
	within(t, "square", TurnAboutEdge(10, 0, 10), 1000*(math.Sqrt2+math.Log(1+math.Sqrt2))/3, 1e-12)
}

// The note on laps gives 0.383 b³ for a square that turns about its middle.
func TestTurnOfASquareFace(t *testing.T) {
	within(t, "square", TurnOfFace(60, 60), 0.383*60*60*60, 2e-3)
	within(t, "the other way round", TurnOfFace(20, 70), TurnOfFace(70, 20), 1e-12)
	// A face a thousand times as long as wide turns like a line: 2 b (a/2)²/2.
	within(t, "strip", TurnOfFace(1000, 1), 1000*1000/4.0, 1e-4)
	if TurnOfFace(0, 50) != 0 {
		t.Error("a face without width holds")
	}
}

// The same integrals added up over small squares.
func TestTurnIsTheIntegralOfTheDistance(t *testing.T) {
	const n = 400
	for _, c := range [][3]float64{{32, 12.75, 50.75}, {15, 0, 40}, {60, 5, 9}} {
		sum := 0.0
		for i := range n {
			for k := range n {
				x, y := c[0]*(float64(i)+0.5)/n, c[1]+(c[2]-c[1])*(float64(k)+0.5)/n
				sum += math.Hypot(x, y)
			}
		}
		within(t, "cheek", TurnAboutEdge(c[0], c[1], c[2]), sum*c[0]*(c[2]-c[1])/n/n, 1e-5)
	}
}

// Faces at 0, 20 and 40 mm, 2 MPa on 100 mm²: 600 N; the outer two 20 mm off hold 200·800/20 = 8,000 N·mm.
func TestRowOfGlueFaces(t *testing.T) {
	pull, moment := SideFaces(2, 100, []float64{0, 20, 40})
	within(t, "pull", float64(pull), 600, 1e-12)
	within(t, "moment", float64(moment), 8, 1e-12)
	if _, one := SideFaces(2, 100, []float64{30}); one != 0 {
		t.Error("one face holds a moment by its lever")
	}
}

// Head 8 mm at the density of the formula: 10·64; screws of the catalogue.
func TestHeadAndSteelOfAScrew(t *testing.T) {
	within(t, "head", float64(HeadPull(8*mm, 350)), 640, 1e-12)
	within(t, "head in wood twice as dense", float64(HeadPull(8*mm, 700)), 640*math.Pow(2, 0.8), 1e-12)
	within(t, "steel", float64(SteelTension(2*mm)), 600*math.Pi, 1e-12)
	within(t, "yield", SteelYield(4*mm), 90*math.Pow(4, 2.6), 1e-12)
}
