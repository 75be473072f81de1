package solid

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"longgrain/internal/ground/geom"
)

func block(x0, y0, z0, x1, y1, z1 float64) Block {
	return Block{geom.Vec{X: x0, Y: y0, Z: z0}, geom.Vec{X: x1, Y: y1, Z: z1}}
}

// enclosed returns the volume inside triangles, by the divergence theorem, and how many of their sides have no partner.
func enclosed(ts []Triangle) (volume float64, open int) {
	sides := map[[2]geom.Vec]int{}
	for _, t := range ts {
		volume += t[0].Dot(t[1].Cross(t[2])) / 6
		for i := range 3 {
			sides[[2]geom.Vec{t[i], t[(i+1)%3]}]++
		}
	}
	for s, n := range sides {
		if sides[[2]geom.Vec{s[1], s[0]}] != n {
			open++
		}
	}
	return volume, open
}

// chorded is how much of a round section the chords of the mesh cover.
func chorded(r float64) float64 {
	return segments / 2 * r * r * math.Sin(2*math.Pi/segments)
}

func TestVolumesOfSimpleBodies(t *testing.T) {
	post := []Block{block(0, 0, 0, 700, 45, 45)}
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	slant := geom.Vec{X: 0.1, Z: 1}.Unit()
	cases := []struct {
		name   string
		stock  Stock
		volume float64 // by hand
		chords float64 // what the mesh has less, because its round faces are chords
		faces  int
	}{
		{"a block", Stock{Add: post}, 700 * 45 * 45, 0, 6},
		{"a tenon on an end", Stock{Add: append([]Block{block(700, 15, 5, 730, 30, 40)}, post...)}, 700*45*45 + 30*15*35, 0, 11},
		{"a mortise and a through mortise", Stock{Add: post, Take: []Block{block(100, 15, 0, 150, 30, 30), block(300, 15, 0, 350, 30, 45)}},
			700*45*45 - 50*15*30 - 50*15*45, 0, 6 + 5 + 4},
		{"a half lap in the middle", Stock{Add: post, Take: []Block{block(300, 0, 22.5, 345, 45, 50)}}, 700*45*45 - 45*45*22.5, 0, 10},
		{"a taper", Stock{Add: post, Keep: []HalfSpace{{geom.Vec{X: 200, Z: 45}, slant}}}, 700*45*45 - (450*45/2+50*45)*45, 0, 6},
		{"a bore through and one blind", Stock{Add: post, Rounds: []Round{{Name: "a", At: geom.Vec{X: 50, Y: 20, Z: 0}, Into: z, Radius: 5, Depth: 60}, {Name: "b", At: geom.Vec{X: 90, Y: 0, Z: 20}, Into: y, Radius: 4, Depth: 30}}},
			700*45*45 - math.Pi*25*45 - math.Pi*16*30, (math.Pi*25-chorded(5))*45 + (math.Pi*16-chorded(4))*30, 6 + 1 + 2},
		{"a counterbore", Stock{Add: post, Rounds: []Round{{Name: "a", At: geom.Vec{X: 50, Y: 20, Z: 0}, Into: z, Radius: 8, Depth: 12}, {Name: "b", At: geom.Vec{X: 50, Y: 20, Z: 0}, Into: z, Radius: 3, Depth: 45}}},
			700*45*45 - math.Pi*64*12 - math.Pi*9*33, (math.Pi*64-chorded(8))*12 + (math.Pi*9-chorded(3))*33, 6 + 3},
		{"a bore that passes a mortise", Stock{Add: post, Take: []Block{block(100, 15, 0, 150, 30, 30)}, Rounds: []Round{{Name: "pin", At: geom.Vec{X: 125, Y: 0, Z: 15}, Into: y, Radius: 3, Depth: 45}}},
			700*45*45 - 50*15*30 - math.Pi*9*30, (math.Pi*9 - chorded(3)) * 30, 6 + 5 + 2},
		{"a slot with round ends", Stock{Add: post, Rounds: []Round{{Name: "m", At: geom.Vec{X: 200, Y: 22, Z: 45}, Into: z.Neg(), Half: x.Scale(20), Radius: 5, Depth: 25}}},
			700*45*45 - (math.Pi*25+40*10)*25, (math.Pi*25 - chorded(5)) * 25, 6 + 5},
		{"a peg with round ends", Stock{Add: post, Rounds: []Round{{Name: "t", At: geom.Vec{X: 700, Y: 22, Z: 22}, Into: x, Half: z.Scale(12), Radius: 5, Depth: 25, Peg: true}}},
			700*45*45 + (math.Pi*25+24*10)*25, -(math.Pi*25 - chorded(5)) * 25, 6 + 5},
		{"a leaning bore", Stock{Add: post, Rounds: []Round{{Name: "p", At: geom.Vec{X: 200, Y: 22, Z: 0}, Into: geom.Vec{X: math.Cos(0.3), Z: math.Sin(0.3)}, Radius: 4, Depth: 60}}},
			700*45*45 - math.Pi*16*60, (math.Pi*16 - chorded(4)) * 60, 8},
	}
	for _, c := range cases {
		b, err := Build(c.stock)
		if err != nil || len(b.Left) > 0 {
			t.Errorf("%s: %v %v", c.name, err, b.Left)
			continue
		}
		if err := b.Check(); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if math.Abs(b.Volume-c.volume) > 1e-6*c.volume {
			t.Errorf("%s: volume %.3f, want %.3f", c.name, b.Volume, c.volume)
		}
		if len(b.Faces) != c.faces {
			t.Errorf("%s: %d faces, want %d", c.name, len(b.Faces), c.faces)
		}
		volume, open := enclosed(b.Mesh())
		if want := c.volume + c.chords; open > 0 || math.Abs(volume-want) > 1e-6*want {
			t.Errorf("%s: mesh encloses %.3f, want %.3f, %d open sides", c.name, volume, want, open)
		}
	}
}

func TestWhatCannotBeExactIsLeftOutByName(t *testing.T) {
	post := []Block{block(0, 0, 0, 700, 45, 45)}
	z, y := geom.Vec{Z: 1}, geom.Vec{Y: 1}
	a := Round{Name: "first", At: geom.Vec{X: 50, Y: 22, Z: 0}, Into: z, Radius: 5, Depth: 30}
	cases := []struct {
		name string
		r    Round
		says string
	}{
		{"over an edge", Round{Name: "x", At: geom.Vec{X: 50, Y: 3, Z: 0}, Into: z, Radius: 5, Depth: 20}, "breaks through an edge"},
		{"through the side", Round{Name: "x", At: geom.Vec{X: 697, Y: 22, Z: 0}, Into: geom.Vec{X: 0.6, Z: 0.8}, Radius: 3, Depth: 20}, "breaks"},
		{"into another", Round{Name: "x", At: geom.Vec{X: 52, Y: 0, Z: 20}, Into: y, Radius: 4, Depth: 30}, "meets another"},
		{"beside the wood", Round{Name: "x", At: geom.Vec{X: 50, Y: 80, Z: 0}, Into: z, Radius: 4, Depth: 30}, "no wood"},
		{"of no size", Round{Name: "x", At: geom.Vec{X: 90, Y: 22, Z: 0}, Into: z, Depth: 30}, "no size"},
		{"a peg too wide", Round{Name: "x", At: geom.Vec{X: 700, Y: 22, Z: 22}, Into: geom.Vec{X: 1}, Radius: 30, Depth: 30, Peg: true}, "edge of its shoulder"},
	}
	for _, c := range cases {
		b, err := Build(Stock{Add: post, Rounds: []Round{a, c.r}})
		if err != nil {
			t.Fatal(err)
		}
		if len(b.Left) != 1 || !strings.HasPrefix(b.Left[0], "x: ") || !strings.Contains(b.Left[0], c.says) {
			t.Errorf("%s: %q, want something with %q", c.name, b.Left, c.says)
		}
		if volume := 700*45*45 - math.Pi*25*30; math.Abs(b.Volume-volume) > 1e-3 || b.Check() != nil {
			t.Errorf("%s: volume %v, want %v; %v", c.name, b.Volume, volume, b.Check())
		}
	}
	if _, err := Build(Stock{Add: post, Take: post}); err == nil {
		t.Error("a body of nothing")
	}
	if _, err := Build(Stock{Add: []Block{block(0, 0, 0, 10, 10, 10), block(10, 10, 0, 20, 20, 10)}}); err == nil {
		t.Error("two blocks that touch along an edge")
	}
}

// Random blocks with random cuts and holes: whatever is made of them is closed, and its mesh encloses its volume.
func TestRandomBodiesAreClosed(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	made := 0
	for n := range 400 {
		s := Random(r)
		b, err := Build(s)
		if err != nil {
			continue
		}
		made++
		if err := b.Check(); err != nil {
			t.Fatalf("%d: %v", n, err)
		}
		volume, open := enclosed(b.Mesh())
		if open > 0 || math.Abs(volume-b.Volume) > 5e-4*b.Volume {
			t.Fatalf("%d: mesh encloses %.3f of %.3f, %d open sides", n, volume, b.Volume, open)
		}
	}
	if made < 300 {
		t.Errorf("only %d bodies made", made)
	}
}

// Random returns a block with tenons, mortises, laps, a taper, bores and slots.
func Random(r *rand.Rand) Stock {
	whole := func(lo, hi int) float64 { return float64(lo + r.IntN(hi-lo+1)) }
	l, w, h := whole(200, 500), whole(30, 90), whole(18, 60)
	s := Stock{Add: []Block{block(0, 0, 0, l, w, h)}}
	if r.IntN(2) == 0 {
		s.Add = append(s.Add, block(l, 5, 4, l+whole(10, 40), w-5, h-4))
	}
	for range r.IntN(4) {
		x, y := whole(0, int(l)-20), whole(-5, int(w)-10)
		z := whole(-5, int(h)-5)
		s.Take = append(s.Take, block(x, y, z, x+whole(5, 40), y+whole(5, 40), z+whole(5, 40)))
	}
	if r.IntN(3) == 0 {
		s.Keep = append(s.Keep, HalfSpace{geom.Vec{X: whole(20, 150), Z: h}, geom.Vec{X: 0.02 + 0.05*r.Float64(), Z: 1}.Unit()})
	}
	for range r.IntN(8) {
		d := geom.Axis(r.IntN(3))
		at := geom.Vec{X: whole(5, int(l)-5), Y: whole(5, int(w)-5), Z: whole(5, int(h)-5)}
		at = at.Sub(d.Scale(at.Dot(d)))
		if r.IntN(2) == 0 {
			at, d = at.Add(d.Scale(d.Dot(geom.Vec{X: l, Y: w, Z: h}))), d.Neg()
		}
		round := Round{Name: "round", At: at, Into: d, Radius: whole(4, 16) / 4, Depth: whole(3, 100)}
		if r.IntN(3) == 0 {
			a, _ := across(d)
			round.Half = a.Scale(whole(2, 20))
		}
		s.Rounds = append(s.Rounds, round)
	}
	return s
}
