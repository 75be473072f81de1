package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9*(1+math.Abs(b)) }

func turned(deg float64, at Vec) Pose {
	s, c := math.Sincos(deg * math.Pi / 180)
	return Pose{Origin: at, Axes: [3]Vec{{c, s, 0}, {-s, c, 0}, {0, 0, 1}}}
}

func TestAPoseTakesPointsOutAndBackIn(t *testing.T) {
	p := turned(30, Vec{100, -20, 5})
	v := Vec{3, 4, 5}
	if back := p.In(p.Out(v)); back.Distance(v) > 1e-12 {
		t.Errorf("came back as %v", back)
	}
}

func TestPenetrationOfBoxes(t *testing.T) {
	a := Box{Upright, Vec{100, 50, 20}}
	cases := []struct {
		name string
		b    Box
		want float64
	}{
		{"touching", Box{Pose{Vec{100, 0, 0}, Upright.Axes}, Vec{10, 10, 10}}, 0},
		{"5 mm in", Box{Pose{Vec{95, 0, 0}, Upright.Axes}, Vec{100, 50, 20}}, 5},
		{"7 mm apart", Box{Pose{Vec{0, 57, 0}, Upright.Axes}, Vec{10, 10, 10}}, -7},
		{"turned by 45 degrees with its corner 1 mm in", Box{turned(45, Vec{99 + 10*math.Sqrt2/2, 25 - 10*math.Sqrt2/2, 0}), Vec{10, 10, 20}}, 1},
	}
	for _, c := range cases {
		if got := Penetration(a, c.b); !near(got, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

func TestSegmentDistanceAgreesWithSampling(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	random := func() Vec { return Vec{rng.Float64() * 10, rng.Float64() * 10, rng.Float64() * 10} }
	for range 200 {
		a, b, c, d := random(), random(), random(), random()
		least := math.Inf(1)
		const n = 200
		for i := range n + 1 {
			p := a.Add(b.Sub(a).Scale(float64(i) / n))
			for j := range n + 1 {
				least = math.Min(least, p.Distance(c.Add(d.Sub(c).Scale(float64(j)/n))))
			}
		}
		got := SegmentDistance(a, b, c, d)
		if got > least+1e-9 || got < least-0.1 {
			t.Fatalf("%v: sampling finds %v", got, least)
		}
	}
}

func TestWallBetweenBores(t *testing.T) {
	a := Bore{Vec{0, 0, 0}, Vec{30, 0, 0}, 10}
	for name, c := range map[string]struct {
		b    Bore
		want float64
	}{
		"square to each other, meeting": {Bore{Vec{25, -30, 0}, Vec{25, 3, 0}, 10}, -10},
		"parallel":                      {Bore{Vec{0, 22, 0}, Vec{30, 22, 0}, 10}, 12},
		"end to end":                    {Bore{Vec{45, 0, 0}, Vec{60, 0, 0}, 10}, 5},
	} {
		if got := Wall(a, c.b); !near(got, c.want) {
			t.Errorf("%s: got %v, want %v", name, got, c.want)
		}
	}
}
