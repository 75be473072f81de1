package joint

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// meeting is a way in which two parts meet, as a piece of a size; the two are a and b. what is the class that it must have.
type meeting struct {
	name, what string
	text       func(rng *rand.Rand) string
}

// between returns a random whole number of millimetres.
func between(rng *rand.Rand, lo, hi int) int { return lo + rng.IntN(hi-lo+1) }

func twoParts(a, b, more string) string {
	return fmt.Sprintf("longgrain: 1\nname: Two parts\nwood: {species: eastern white pine}\nparts:\n  - {name: a, %s}\n  - {name: b, %s}\n%s", a, b, more)
}

const joined = "connections:\n  - between: [a, b]\n"

// meetings holds one piece for every class of contact.
var meetings = []meeting{
	{"frame corner", "end to edge, at the corner", func(rng *rand.Rand) string {
		t, w, h := between(rng, 16, 40), between(rng, 40, 110), between(rng, 40, 140)
		return twoParts(fmt.Sprintf("length: 300 mm, width: %d mm, thickness: %d mm, at: [%d mm, 0 mm, %d mm], along: x, across: z", h, min(t, h), w, 400-h),
			fmt.Sprintf("length: 400 mm, width: %d mm, thickness: %d mm, along: z, across: x", w, min(t, h)), joined)
	}},
	{"frame tee", "end to edge", func(rng *rand.Rand) string {
		t, w, h := between(rng, 16, 40), between(rng, 40, 110), between(rng, 40, 140)
		return twoParts(fmt.Sprintf("length: 300 mm, width: %d mm, thickness: %d mm, at: [%d mm, 0 mm, 120 mm], along: x, across: z", h, t, w),
			fmt.Sprintf("length: 400 mm, width: %d mm, thickness: %d mm, along: z, across: x", w, t), joined)
	}},
	{"rail on leg", "end to face, at the corner", func(rng *rand.Rand) string {
		leg, t, h, set := between(rng, 45, 75), between(rng, 18, 30), between(rng, 60, 120), between(rng, 0, 10)
		if rng.IntN(3) == 0 {
			set = leg - t // flush at the back
		}
		return twoParts(fmt.Sprintf("length: 300 mm, width: %d mm, thickness: %d mm, at: [%d mm, %d mm, %d mm], along: x, across: z", h, t, leg, set, 400-h),
			fmt.Sprintf("length: 400 mm, width: %d mm, thickness: %d mm, along: z, across: y", leg, leg), joined)
	}},
	{"thick rail on leg", "end to face", func(rng *rand.Rand) string {
		leg, t, h := between(rng, 60, 90), between(rng, 40, 60), between(rng, 60, 120)
		return twoParts(fmt.Sprintf("length: 300 mm, width: %d mm, thickness: %d mm, at: [%d mm, 0 mm, 100 mm], along: x, across: z", h, t, leg),
			fmt.Sprintf("length: 400 mm, width: %d mm, thickness: %d mm, along: z, across: y", leg, leg), joined)
	}},
	{"shelf in a side", "end to face", func(rng *rand.Rand) string {
		t, deep := between(rng, 15, 25), between(rng, 120, 300)
		return twoParts(fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [%d mm, 0 mm, 250 mm], along: x, across: y", deep, t, t),
			fmt.Sprintf("length: 600 mm, width: %d mm, thickness: %d mm, along: z, across: y", deep+between(rng, 0, 10), t), joined)
	}},
	{"case corner", "end to face, at the corner", func(rng *rand.Rand) string {
		t, deep := between(rng, 12, 25), between(rng, 80, 300)
		return twoParts(fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [%d mm, 0 mm, %d mm], along: x, across: y", deep, t, t, 400-t),
			fmt.Sprintf("length: 400 mm, width: %d mm, thickness: %d mm, along: z, across: y", deep, t), joined)
	}},
	{"staves of a panel", "edge to edge", func(rng *rand.Rand) string {
		t, w := between(rng, 15, 40), between(rng, 60, 150)
		return twoParts(fmt.Sprintf("length: 600 mm, width: %d mm, thickness: %d mm, along: x, across: y", w, t),
			fmt.Sprintf("length: 600 mm, width: %d mm, thickness: %d mm, at: [0 mm, %d mm, 0 mm], along: x, across: y", w, t, w), joined)
	}},
	{"batten across boards", "face to face", func(rng *rand.Rand) string {
		t, w := between(rng, 15, 30), between(rng, 60, 150)
		return twoParts(fmt.Sprintf("length: 200 mm, width: %d mm, thickness: %d mm, at: [100 mm, 0 mm, %d mm], along: y, across: x", w, t, t),
			fmt.Sprintf("length: 600 mm, width: 200 mm, thickness: %d mm, along: x, across: y", t), joined)
	}},
	{"doubled board", "face to face", func(rng *rand.Rand) string {
		t, w := between(rng, 15, 30), between(rng, 60, 150)
		return twoParts(fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [0 mm, 0 mm, %d mm], along: x, across: y", w, t, t),
			fmt.Sprintf("length: 600 mm, width: %d mm, thickness: %d mm, along: x, across: y", w, t), joined)
	}},
	{"crossing rails", "crossing", func(rng *rand.Rand) string {
		t, w, h, up := between(rng, 16, 40), between(rng, 40, 90), between(rng, 40, 90), between(rng, 0, 5)
		return twoParts(fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [0 mm, 200 mm, 0 mm], along: x, across: y", w, t),
			fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [200 mm, 0 mm, %d mm], along: y, across: x", h, t, up), joined)
	}},
	{"crossing on edge", "crossing", func(rng *rand.Rand) string {
		t, h := between(rng, 10, 20), between(rng, 40, 90)
		return twoParts(fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [0 mm, 200 mm, 0 mm], along: x, across: z", h, t),
			fmt.Sprintf("length: 500 mm, width: %d mm, thickness: %d mm, at: [200 mm, 0 mm, 0 mm], along: y, across: z", h, t), joined)
	}},
}

// sizesEach is how many random sizes of each meeting a test looks at.
func sizesEach() int {
	if testing.Short() {
		return 4
	}
	return 25
}

func TestEveryContactHasItsClass(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 1))
	for _, m := range meetings {
		for range 5 {
			s := oneSite(t, m.text(rng))
			if got := s.Contact.String(); got != m.what {
				t.Errorf("%s is %q, want %q", m.name, got, m.what)
			}
		}
	}
}

// kindsOf lists the kinds among some joints, sorted.
func kindsOf(joints []Joint) []string {
	var out []string
	for _, j := range joints {
		if !slices.Contains(out, string(j.Kind)) {
			out = append(out, string(j.Kind))
		}
	}
	slices.Sort(out)
	return out
}

// What the trade makes at each kind of contact. Common practice.
func TestEveryContactGetsTheKindsThatSuitIt(t *testing.T) {
	want := map[string][]string{
		"frame corner":         {"biscuits", "bridle", "dowels", "half-lap", "haunched tenon", "loose tenon", "mortise and tenon", "pocket screws", "screws", "through tenon"},
		"frame tee":            {"biscuits", "dowels", "half-lap", "loose tenon", "mortise and tenon", "pocket screws", "screws", "through tenon"},
		"rail on leg":          {"biscuits", "corner block", "dowels", "haunched tenon", "loose tenon", "mortise and tenon", "pocket screws", "screws", "through tenon"},
		"thick rail on leg":    {"dowels in two rows", "twin tenons", "mortise and tenon"},
		"shelf in a side":      {"biscuits", "dowels", "housing", "screws"},
		"case corner":          {"box joint", "dovetails", "rebate", "screws"},
		"staves of a panel":    {"glued", "tongue and groove"},
		"batten across boards": {"glued", "screws"},
		"doubled board":        {"glued", "screws"},
		"crossing rails":       {"half-lap"},
		"crossing on edge":     {"half-lap"},
	}
	rng := rand.New(rand.NewPCG(5, 2))
	for _, m := range meetings {
		found := map[string]int{}
		for range max(12, sizesEach()) {
			for _, k := range kindsOf(Possible(oneSite(t, m.text(rng)), everything)) {
				found[k]++
			}
		}
		for _, k := range want[m.name] {
			if found[k] == 0 {
				t.Errorf("%s: no %s in all sizes; found %v", m.name, k, found)
			}
		}
	}
	// A frame gets no joint of a case, a panel none of a frame.
	for name, never := range map[string][]Kind{"shelf in a side": {Tenon, ThroughTenon, HalfLap}, "case corner": {Tenon, TwinTenons, Housing}, "frame tee": {Housing, BoxJoint, Dovetails, Glued}, "staves of a panel": {Dowels, Tenon, HalfLap}, "crossing rails": {Glued, Tenon}} {
		i := slices.IndexFunc(meetings, func(m meeting) bool { return m.name == name })
		for _, j := range Possible(oneSite(t, meetings[i].text(rng)), everything) {
			if slices.Contains(never, j.Kind) {
				t.Errorf("%s: %s", name, j.Describe())
			}
		}
	}
}
