package fit

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/geom"
	"longgrain/internal/trial"
)

// twoParts are pieces of two parts, one for each way in which parts meet; sizes are drawn at random.
var twoParts = map[string]func(n func(lo, hi int) int) (a, b string){
	"frame corner": func(n func(lo, hi int) int) (a, b string) {
		t, w, h := n(18, 40), n(50, 110), n(50, 140)
		return fmt.Sprintf("length: 300 mm, width: %d mm, thickness: %d mm, at: [%d mm, 0 mm, %d mm], along: x, across: z", h, t, w, 400-h),
			fmt.Sprintf("length: 400 mm, width: %d mm, thickness: %d mm, along: z, across: x", w, t)
	},
	"frame tee": func(n func(lo, hi int) int) (a, b string) {
		t, w, h := n(18, 40), n(50, 110), n(50, 140)
		return fmt.Sprintf("length: 300 mm, width: %d mm, thickness: %d mm, at: [%d mm, 0 mm, 120 mm], along: x, across: z", h, t, w),
			fmt.Sprintf("length: 400 mm, width: %d mm, thickness: %d mm, along: z, across: x", w, t)
	},
	"thick rail on leg": func(n func(lo, hi int) int) (a, b string) {
		leg, t, h := n(60, 90), n(40, 60), n(60, 120)
		return fmt.Sprintf("length: 300 mm, width: %d mm, thickness: %d mm, at: [%d mm, 0 mm, 100 mm], along: x, across: z", h, t, leg),
			fmt.Sprintf("length: 400 mm, width: %d mm, thickness: %d mm, along: z, across: y", leg, leg)
	},
	"shelf in a side": func(n func(lo, hi int) int) (a, b string) {
		t, deep := n(16, 25), n(120, 300)
		return fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [%d mm, 0 mm, 250 mm], along: x, across: y", deep, t, t),
			fmt.Sprintf("length: 600 mm, width: %d mm, thickness: %d mm, along: z, across: y", deep, t)
	},
	"case corner": func(n func(lo, hi int) int) (a, b string) {
		t, deep := n(14, 25), n(80, 300)
		return fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [%d mm, 0 mm, %d mm], along: x, across: y", deep, t, t, 400-t),
			fmt.Sprintf("length: 400 mm, width: %d mm, thickness: %d mm, along: z, across: y", deep, t)
	},
	"staves": func(n func(lo, hi int) int) (a, b string) {
		t, w := n(18, 40), n(60, 150)
		return fmt.Sprintf("length: 600 mm, width: %d mm, thickness: %d mm, along: x, across: y", w, t),
			fmt.Sprintf("length: 600 mm, width: %d mm, thickness: %d mm, at: [0 mm, %d mm, 0 mm], along: x, across: y", w, t, w)
	},
	"crossing rails": func(n func(lo, hi int) int) (a, b string) {
		t, w, h := n(20, 40), n(40, 90), n(40, 90)
		return fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [0 mm, 200 mm, 0 mm], along: x, across: y", w, t),
			fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [200 mm, 0 mm, 0 mm], along: y, across: x", h, t)
	},
}

// inWay is the direction in which part a goes in, per kind of joint; the others go in square to the contact, along x to the left.
var inWay = map[joint.Kind]func(geom.Vec) bool{
	joint.HalfLap:   func(d geom.Vec) bool { return math.Abs(d.X) < 0.5 || d.X < -0.5 }, // onto the side it lies on, or from the end
	joint.Bridle:    func(geom.Vec) bool { return true },
	joint.Dovetails: func(d geom.Vec) bool { return d == geom.Vec{Z: -1} || d == geom.Vec{Z: 1} }, // the tails drop into their sockets
	joint.BoxJoint:  func(geom.Vec) bool { return true },
	joint.Glued:     func(geom.Vec) bool { return true },
}

// Every kind of joint at every way in which parts meet fits, and goes together in the direction that it must.
func TestEveryKindOfJointFitsAndGoesTogether(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 1))
	n := func(lo, hi int) int { return lo + rng.IntN(hi-lo+1) }
	made := map[joint.Kind]int{}
	rounds := 12
	if testing.Short() {
		rounds = 4
	}
	// In a fixed order, since each draws from the same numbers.
	for _, name := range slices.Sorted(maps.Keys(twoParts)) {
		describe := twoParts[name]
		for range rounds {
			pa, pb := describe(n)
			text := fmt.Sprintf("longgrain: 1\nname: T\nwood: {species: eastern white pine}\nparts:\n  - {name: a, %s}\n  - {name: b, %s}\nconnections:\n  - between: [a, b]\n", pa, pb)
			a := trial.Assembly(t, text)
			sites, err := joint.Sites(a, trial.DryWood)
			if err != nil || len(sites) != 1 {
				t.Fatal(err, len(sites))
			}
			of := map[joint.Kind][]joint.Joint{}
			for _, j := range joint.Possible(sites[0], trial.Everything) {
				of[j.Kind] = append(of[j.Kind], j)
			}
			for _, kind := range slices.Sorted(maps.Keys(of)) {
				joints := of[kind]
				j := joints[rng.IntN(len(joints))]
				made[kind]++
				onA, onB := joint.Cut(sites[0], j)
				c := sites[0].Connection
				cut := a.WithFeatures(map[int][]assembly.Feature{c.A.Part: onA, c.B.Part: onB})
				in := Input{Assembly: cut, Joints: []*joint.Joint{&j}}
				for _, f := range Check(in) {
					t.Errorf("%s, %s: %s (%.2f)\n%s", name, j.Describe(), f.What, f.Wall, text)
				}
				o := Plan(in)
				if !o.Possible || len(o.Steps) != 1 {
					t.Errorf("%s, %s: %+v", name, j.Describe(), o)
					continue
				}
				// a goes onto b, or b onto a the other way.
				d := o.Steps[0].Direction
				if o.Steps[0].Moving[0] == 1 {
					d = d.Neg()
				}
				want, special := inWay[kind]
				if _, into := cut.Middle(c); special && !want(plain(d)) || !special && d.Dot(into) < 1-1e-9 && hasPins(cut, c) {
					t.Errorf("%s, %s: pushed %v", name, j.Describe(), d)
				}
			}
		}
	}
	t.Logf("%v", made)
	for _, kind := range joint.Kinds() {
		if made[kind] == 0 && kind != joint.CornerBlock {
			t.Errorf("no %s was made", kind)
		}
	}
}
