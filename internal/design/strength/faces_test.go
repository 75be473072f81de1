package strength

import (
	"math"
	"math/rand/v2"
	"testing"
)

// plain is a wood that is as strong in every direction: then the integral is that of the arm alone.
var plain = Grain{Shear: 1, Rolling: 1}

// The published tenon, 32 long and 38 high in a rail of 63.5 mm: both cheeks give 89,680 mm³ about the edge of the
// shoulder.
func TestFacesOfThePublishedTenon(t *testing.T) {
	edge := (63.5 - 38) / 2
	cheek := Face{edge, edge + 38, 32, 1}
	within(t, "both cheeks", 2*cheek.turned(plain, plain, 0), 89680, 5e-4)
}

func TestATurnedStripIsItsAreaTimesDistance(t *testing.T) {
	// 0.001 mm long at 10 to 20 mm: 0.001 (20² − 10²)/2.
	within(t, "strip", Face{10, 20, 0.001, 1}.turned(plain, plain, 0), 0.15, 1e-6)
	// A square with its corner in the pivot: a³ (√2 + ln(1 + √2))/3; the kink in the corner costs a little.
	within(t, "square", Face{0, 10, 10, 1}.turned(plain, plain, 0), 1000*(math.Sqrt2+math.Log(1+math.Sqrt2))/3, 1e-4)
	// A narrow strip square above the pivot slides along the grain of a and rolls in b.
	within(t, "rolling", Face{10, 20, 0.001, 1}.turned(Grain{8, 0.25}, Grain{8, 0.25}, 0), 0.15*8*0.25, 1e-6)
}

// Far beyond any face a bed that is hard as stone turns the joint about the pressed edge, and one that is soft does not hold
// at all: between them the moment is the integral about the edge and half of it or less.
func TestTurningPointFollowsTheBed(t *testing.T) {
	cheek := Face{12, 50, 32, 1}
	hard, c := FacesTurned([]Face{cheek}, plain, plain, Bed{Load: 1e5})
	if c > 0.1 {
		t.Errorf("on stone the joint turns at %v mm", c)
	}
	within(t, "on stone", hard, cheek.turned(plain, plain, 0), 1e-2)
	soft, c := FacesTurned([]Face{cheek}, plain, plain, Bed{Load: 1e-9})
	if c < 24 {
		t.Errorf("on nothing the joint turns at %v mm", c)
	}
	if soft >= hard {
		t.Errorf("%v on nothing, %v on stone", soft, hard)
	}
}

// The least over a fine grid of turning points, with the integral by the midpoint rule on 400 by 400 points.
func TestFacesTurnedAgainstAGrid(t *testing.T) {
	a, b, bed := Grain{6.2, 0.18}, Grain{12, 0.28}, Bed{180, true}
	f := Face{9, 54, 30, 1}
	least := math.Inf(1)
	for c := 0.0; c <= 27; c += 0.25 {
		m := bed.Press(c) * c / 2
		const n = 400
		for i := range n {
			for k := range n {
				x, y := f.Length*(float64(i)+0.5)/n, f.Near+(f.Far-f.Near)*(float64(k)+0.5)/n-c
				r2 := x*x + y*y
				tau := math.Min(a.atAngle(y*y/r2, x*x/r2), b.atAngle(x*x/r2, y*y/r2))
				m += tau * math.Sqrt(r2) * f.Length * (f.Far - f.Near) / n / n
			}
		}
		least = math.Min(least, m)
	}
	got, _ := FacesTurned([]Face{f}, a, b, bed)
	within(t, "moment", got, least, 3e-3)
}

func TestMoreFaceNeverHoldsLess(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 2))
	for range 500 {
		f := Face{rng.Float64() * 40, 0, 8 + 40*rng.Float64(), 1}
		f.Far = f.Near + 10 + 80*rng.Float64()
		a, b, bed := Grain{4, 0.18}, Grain{8, 0.28}, Bed{50 + 400*rng.Float64(), rng.IntN(2) == 0}
		m, _ := FacesTurned([]Face{f}, a, b, bed)
		longer, wider, harder := f, f, bed
		longer.Length++
		wider.Near, wider.Far = math.Max(f.Near-0.5, 0), f.Far+0.5
		harder.Load *= 1.05
		stronger := a
		stronger.Shear *= 1.05
		for what, got := range map[string]func() (float64, float64){
			"longer":   func() (float64, float64) { return FacesTurned([]Face{longer}, a, b, bed) },
			"wider":    func() (float64, float64) { return FacesTurned([]Face{wider}, a, b, bed) },
			"harder":   func() (float64, float64) { return FacesTurned([]Face{f}, a, b, harder) },
			"stronger": func() (float64, float64) { return FacesTurned([]Face{f}, stronger, b, bed) },
		} {
			if more, _ := got(); more < m*(1-1e-9) {
				t.Fatalf("%s: %v after %v for %+v", what, more, m, f)
			}
		}
	}
}
