package spaceframe

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func TestShapesSolveTheBeamEquation(t *testing.T) {
	// The shapes of given end displacements are what integrating the strains of the end forces gives.
	e := newElastic(Material{E: 8500, G: 531.25}, Rectangle(20, 90), 400)
	k := e.stiffness()
	u := vec12{0.1, 0.2, -0.3, 0.01, 0.02, -0.03, 0.4, -0.1, 0.2, -0.02, 0.01, 0.05}
	f := k.times(&u)
	for _, x := range []float64{0, 60, 200, 333, 400} {
		a, b := e.interpolate(&u, x), e.deflectionFrom(Vec6(u[:6]), Vec6(f[:6]), nil, x)
		for d := range 6 {
			if math.Abs(a[d]-b[d]) > 1e-10 {
				t.Errorf("at %g: shapes %v, integrals %v", x, a, b)
			}
		}
	}
}

func TestRigidMovementCostsNothing(t *testing.T) {
	e := newElastic(Material{E: 8500, G: 531.25}, Rectangle(20, 90), 400)
	k := e.stiffness()
	turn, move := Vec{0.1, 0.2, 0.3}, Vec{3, 2, 1}
	far := move.plus(turn.cross(Vec{400, 0, 0}))
	var u vec12
	copy(u[:3], move[:])
	copy(u[3:6], turn[:])
	copy(u[6:9], far[:])
	copy(u[9:], turn[:])
	for i, f := range k.times(&u) {
		if math.Abs(f) > 1e-8 {
			t.Errorf("force %g in direction %d", f, i)
		}
	}
}

func TestGeometricStiffnessWithoutShearIsTheTextbookMatrix(t *testing.T) {
	// N/(30 L) [36, 3L, -36, 3L; 3L, 4L^2, -3L, -L^2; ...] (any textbook on stability).
	const l = 400.0
	s := Rectangle(20, 90)
	s.Ay, s.Az = 0, 0
	e := newElastic(pine, s, l)
	k := e.geometric()
	want := [4][4]float64{{36, 3 * l, -36, 3 * l}, {3 * l, 4 * l * l, -3 * l, -l * l}, {-36, -3 * l, 36, -3 * l}, {3 * l, -l * l, -3 * l, 4 * l * l}}
	for _, p := range []plane{planeY, planeZ} {
		for a := range 4 {
			for b := range 4 {
				near(t, "geometric", k[p.index[a]][p.index[b]]*p.sign[a]*p.sign[b], want[a][b]/(30*l), 1e-12)
			}
		}
	}
}

func TestConsistentMassWithoutShearIsTheTextbookMatrix(t *testing.T) {
	// rho A L/420 [156, 22L, 54, -13L; 22L, 4L^2, 13L, -3L^2; ...] (any textbook on vibration), without rotary inertia.
	const l = 400.0
	s := Rectangle(20, 90)
	s.Ay, s.Az = 0, 0
	e := newElastic(Material{E: 8500, G: 531.25, Density: 5e-10}, s, l)
	e.rotaryY, e.rotaryZ = 0, 0
	k := e.consistentMass()
	want := [4][4]float64{{156, 22 * l, 54, -13 * l}, {22 * l, 4 * l * l, 13 * l, -3 * l * l}, {54, 13 * l, 156, -22 * l}, {-13 * l, -3 * l * l, -22 * l, 4 * l * l}}
	for a := range 4 {
		for b := range 4 {
			near(t, "mass", k[planeY.index[a]][planeY.index[b]], want[a][b]*e.massPerLength*l/420, 1e-12)
		}
	}
}

func TestTorsionOfRectangles(t *testing.T) {
	near(t, "square", RectangleTorsion(1, 1), 0.1405770, 1e-6) // testdata/closed_form.csv
	near(t, "thin strip", RectangleTorsion(1e4, 1), 1e4/3-64/math.Pow(math.Pi, 5)*1.0045237627951, 1e-9)
	if RectangleTorsion(20, 90) != RectangleTorsion(90, 20) {
		t.Error("the order of the sides matters")
	}
	defer func() {
		if recover() == nil {
			t.Error("a side of 0 does not panic")
		}
	}()
	RectangleTorsion(0, 1)
}

// randomSkyline returns a symmetric matrix with a random profile, and the same as a dense one.
func randomSkyline(r *rand.Rand, n int, shift float64) (*skyline, *mat.SymDense) {
	first := make([]int, n)
	for i := range first {
		first[i] = max(0, i-r.IntN(8))
	}
	s, d := newSkyline(first), mat.NewSymDense(n, nil)
	for i := range n {
		for j := first[i]; j <= i; j++ {
			v := r.Float64() - 0.5
			if i == j {
				v += shift
			}
			s.add(i, j, v)
			d.SetSym(i, j, v)
		}
	}
	return s, d
}

func TestSkylineSolvesAndCountsNegativeEigenvalues(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	for range 50 {
		n := 1 + r.IntN(40)
		s, d := randomSkyline(r, n, 4*r.Float64())
		x, b := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = r.Float64() - 0.5
		}
		s.times(x, b)
		var eig mat.EigenSym
		eig.Factorize(d, false)
		below := 0
		for _, v := range eig.Values(nil) {
			if v < 0 {
				below++
			}
		}
		weak, negative := s.factor()
		s.solve(b)
		if len(weak) > 0 || negative != below {
			t.Errorf("%d negative pivots, %d negative eigenvalues", negative, below)
		}
		for i := range x {
			if math.Abs(x[i]-b[i]) > 1e-7 {
				t.Fatalf("solution %v, want %v", b, x)
			}
		}
	}
}

func TestOrderingIsAPermutationAndKeepsALadderNarrow(t *testing.T) {
	const rungs = 40
	shuffled := rand.New(rand.NewPCG(9, 1)).Perm(2 * rungs)
	neighbours := make([][]int, 2*rungs)
	link := func(a, b int) {
		a, b = shuffled[a], shuffled[b]
		neighbours[a] = append(neighbours[a], b)
		neighbours[b] = append(neighbours[b], a)
	}
	for i := range rungs {
		link(2*i, 2*i+1)
		if i > 0 {
			link(2*i-2, 2*i)
			link(2*i-1, 2*i+1)
		}
	}
	order := reverseCuthillMcKee(neighbours)
	place := make([]int, len(order))
	for at, node := range order {
		place[node] = at
	}
	sorted := slices.Sorted(slices.Values(order))
	for i, v := range sorted {
		if i != v {
			t.Fatal("not a permutation")
		}
	}
	for a, list := range neighbours {
		for _, b := range list {
			if d := place[a] - place[b]; d > 3 || d < -3 {
				t.Errorf("neighbours are %d apart", d)
			}
		}
	}
}

func TestBalanceFindsPushesOrNone(t *testing.T) {
	// Three feet under a plate: rise, tilt about y, tilt about x; weight 3 at a place.
	rise := func(x, y float64) ([][]float64, []float64) {
		feet := [][2]float64{{0, 0}, {4, 0}, {0, 3}}
		r := [][]float64{{1, 1, 1}, {0, 0, 0}, {0, 0, 0}}
		for i, f := range feet {
			r[1][i], r[2][i] = f[0], f[1]
		}
		return r, []float64{-3, -3 * x, -3 * y}
	}
	for _, c := range []struct {
		x, y float64
		ok   bool
	}{{1, 1, true}, {0, 0, true}, {2, 1.5, true}, {2.2, 1.5, false}, {-0.1, 1, false}} {
		r, w := rise(c.x, c.y)
		push, ok := balance(r, w, 1e-9)
		if ok != c.ok {
			t.Errorf("weight at %g, %g: pushes %v, %v", c.x, c.y, push, ok)
		}
	}
}
