package joint

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"longgrain/internal/ground/unit"
)

// LoadFactor raises the strength of wood from a test of some minutes to a load of seconds to days: people on
// furniture are short-term loads.
//
// Source: [en-1995-1-1] table 3.1, k_mod 0.9 for short-term loads against 1.0 in the short test that means were
// measured in, read in an open-source transcription.
const LoadFactor = 0.9

// Verdict says in words whether something holds. Tight means that the lower strength still carries the load, but
// not with the wanted reserve.
type Verdict string

// The verdicts.
const (
	Holds       Verdict = "holds"
	Tight       Verdict = "tight"
	DoesNotHold Verdict = "does not hold"
)

// DefaultReserve is the wanted ratio of lower strength to load.
//
// Source: [en-1995-1-1] partial factor 1.3 of solid timber, from memory; used here as the wanted reserve.
const DefaultReserve = 1.3

// Reserve is strength over load. It is plus infinity where there is no load, which is null in JSON.
type Reserve float64

// MarshalJSON writes the reserve with three decimals, or null where there is no load.
func (r Reserve) MarshalJSON() ([]byte, error) {
	if math.IsInf(float64(r), 0) || math.IsNaN(float64(r)) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, float64(r), 'f', 3, 64), nil
}

// String prints the reserve with one decimal below ten, "–" where there is no load.
func (r Reserve) String() string {
	switch {
	case math.IsInf(float64(r), 0) || math.IsNaN(float64(r)):
		return "–"
	case r >= 10:
		return "over 10"
	}
	return strconv.FormatFloat(math.Floor(float64(r)*10)/10, 'f', 1, 64)
}

// VerdictOf returns the verdict of a reserve.
func VerdictOf(reserve Reserve, wanted float64) Verdict {
	switch {
	case float64(reserve) >= wanted:
		return Holds
	case reserve >= 1:
		return Tight
	}
	return DoesNotHold
}

// Ranked is a joint with its reserve under the forces of its site.
type Ranked struct {
	Joint   Joint   `json:"joint"`
	Reserve Reserve `json:"reserve"` // lower strength over load
	Verdict Verdict `json:"verdict"`
	Governs string  `json:"governs"` // the force that uses most of the strength
	Worst   int     `json:"worst"`   // index of the governing set of forces; -1 without load
}

// Limit names what gives way first under the force that governs; without load, under bending the strong way.
func (r Ranked) Limit() string {
	st := r.Joint.Strength
	switch r.Governs {
	case "pulled apart":
		return st.Tension.Governs
	case "bent the weak way":
		return st.BendV.Governs
	case "sheared along its height":
		return st.ShearU.Governs
	case "sheared through its thickness":
		return st.ShearV.Governs
	case "twisted":
		return st.Twist.Governs
	}
	return st.BendU.Governs
}

// Choice is the comparison of all joints of a group of sites, the proposed or fixed one first known by index.
type Choice struct {
	Group    int      `json:"group"`
	Ranked   []Ranked `json:"ranked"` // by reserve, strongest first
	Picked   int      `json:"picked"` // index into Ranked; -1 when nothing can be made
	Fixed    bool     `json:"fixed"`  // the maker decided
	Why      string   `json:"why"`
	Problems []string `json:"problems,omitempty"` // why a fixed joint cannot be made as wished
}

// Pick returns the chosen joint, and false when nothing can be made.
func (c Choice) Pick() (Ranked, bool) {
	if c.Picked < 0 {
		return Ranked{}, false
	}
	return c.Ranked[c.Picked], true
}

// Check returns the reserve of a joint under several sets of forces: the lower strength with LoadFactor over the
// load, for each set the tension and both bendings added up, and shear and twist beside them.
//
//	1/reserve = max over sets of max(N/N_R + M_u/M_uR + M_v/M_vR, V_u/V_uR + V_v/V_vR + T/T_R)
//
// Pressure between the parts does no harm to the joint. Source: linear interaction, the safe choice, judgement.
func Check(j Joint, sets []Forces, wanted float64) Ranked {
	r := Ranked{Joint: j, Worst: -1}
	worst := 0.0
	st := j.Strength
	share := func(load float64, res Resistance) float64 {
		if load == 0 {
			return 0
		}
		return math.Abs(load) / (res.Lower5 * LoadFactor)
	}
	for i, f := range sets {
		parts := []struct {
			name string
			use  float64
		}{
			{"pulled apart", share(max(float64(f.N), 0), st.Tension)},
			{"bent the strong way", share(float64(f.BendU), st.BendU)},
			{"bent the weak way", share(float64(f.BendV), st.BendV)},
			{"sheared along its height", share(float64(f.ShearU), st.ShearU)},
			{"sheared through its thickness", share(float64(f.ShearV), st.ShearV)},
			{"twisted", share(float64(f.Twist), st.Twist)},
		}
		opening := parts[0].use + parts[1].use + parts[2].use
		sliding := parts[3].use + parts[4].use + parts[5].use
		total := max(opening, sliding)
		if total <= worst {
			continue
		}
		worst, r.Worst = total, i
		of := parts[:3]
		if sliding > opening {
			of = parts[3:]
		}
		r.Governs = slices.MaxFunc(of, func(a, b struct {
			name string
			use  float64
		}) int {
			return cmp.Compare(a.use, b.use)
		}).name
	}
	r.Reserve = Reserve(math.Inf(1))
	if worst > 0 {
		r.Reserve = Reserve(1 / worst)
	}
	r.Verdict = VerdictOf(r.Reserve, wanted)
	return r
}

// Choose compares the joints that are possible at a site under the forces of all sites of its group. With no forces
// yet known, it proposes the strongest hidden joint, for a first run of the frame. Otherwise it proposes
// the smallest that holds and is hidden; if none of these holds, the smallest that holds; if none holds, the
// strongest. A joint that the maker fixed is kept.
func Choose(s Site, m Means, sets []Forces, wanted float64) Choice {
	return ChooseFrom(s, Possible(s, m), sets, wanted)
}

// ChooseFrom is Choose for joints of a site that are already worked out: they do not depend on the forces.
func ChooseFrom(s Site, possible []Joint, sets []Forces, wanted float64) Choice {
	c := Choice{Group: s.Connection.Group, Picked: -1}
	checked := make([]Ranked, len(possible))
	order := make([]int, len(possible)) // a ranked joint is large, so places are sorted
	for i, j := range possible {
		checked[i], order[i] = Check(j, sets, wanted), i
	}
	slices.SortStableFunc(order, func(i, k int) int {
		a, b := &checked[i], &checked[k]
		return cmp.Or(
			cmp.Compare(finite(b.Reserve), finite(a.Reserve)),
			cmp.Compare(b.Joint.Strength.BendU.Lower5, a.Joint.Strength.BendU.Lower5),
		)
	})
	c.Ranked = make([]Ranked, len(order))
	for place, i := range order {
		c.Ranked[place] = checked[i]
	}
	if len(c.Ranked) == 0 {
		c.Why = fmt.Sprintf("no joint fits between %s and %s with the tools of the shop", s.A.Name, s.B.Name)
		return c
	}
	if s.Wish != nil {
		c.pickWish(s)
		return c
	}
	c.propose()
	return c
}

// finite makes "no load" comparable.
func finite(x Reserve) float64 { return math.Min(float64(x), 1e9) }

func (c *Choice) propose() {
	if c.Ranked[0].Worst < 0 {
		c.Picked = c.best(func(r Ranked) bool { return r.Joint.Shows == Hidden }, strongest)
		c.Why = "the strongest hidden joint, before the loads are known"
		if c.Picked < 0 {
			c.Picked = 0
		}
		return
	}
	if i := c.best(func(r Ranked) bool { return r.Verdict == Holds && r.Joint.Shows == Hidden }, smaller); i >= 0 {
		c.Picked, c.Why = i, "the smallest of the hidden joints that hold: the least work, then what the shop has, then the least wood cut away"
		return
	}
	if i := c.best(func(r Ranked) bool { return r.Verdict == Holds }, smaller); i >= 0 {
		c.Picked, c.Why = i, "the smallest of the joints that hold; no hidden one does"
		return
	}
	c.Picked, c.Why = 0, "the strongest, though it does not reach the wanted reserve"
}

// best returns the index of the first joint by an order among those that are allowed, -1 when none is.
func (c *Choice) best(allowed func(Ranked) bool, before func(a, b Ranked) int) int {
	best := -1
	for i, r := range c.Ranked {
		if allowed(r) && (best < 0 || before(r, c.Ranked[best]) < 0) {
			best = i
		}
	}
	return best
}

func strongest(a, b Ranked) int {
	return cmp.Compare(b.Joint.Strength.BendU.Lower5, a.Joint.Strength.BendU.Lower5)
}

// smaller puts the joint of less work first, of equal work one whose hardware is in the shop, then the one that takes less
// wood away, and of equal ones the stronger.
func smaller(a, b Ranked) int {
	bought := func(r Ranked) int {
		if r.Joint.ToBuy {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(a.Joint.Minutes, b.Joint.Minutes), cmp.Compare(bought(a), bought(b)), cmp.Compare(a.Joint.cutAway(), b.Joint.cutAway()), cmp.Compare(b.Reserve, a.Reserve))
}

// cutAway is the wood that a joint takes out of both parts, mm³: its pins, or its tenon, plates or laps.
func (j Joint) cutAway() float64 {
	z := j.Sizes
	deep := float64(max(z.Count, 1)) * (z.DepthA + z.DepthB).MM()
	if z.Diameter > 0 {
		return deep * math.Pi * z.Diameter.MM() * z.Diameter.MM() / 4
	}
	return deep * z.Thickness.MM() * z.Width.MM()
}

// pickWish picks the possible joint that agrees with what the maker fixed; of several, the strongest.
func (c *Choice) pickWish(s Site) {
	c.Fixed = true
	w := s.Wish
	agrees := func(r Ranked) bool {
		z := r.Joint.Sizes
		return string(r.Joint.Kind) == w.Kind &&
			(w.Count == 0 || w.Count == z.Count) &&
			same(w.Diameter.Length, z.Diameter) && same(w.Depth.Length, z.DepthB) &&
			same(w.Thickness.Length, z.Thickness) && same(w.Width.Length, z.Width)
	}
	c.Why = "fixed by the maker"
	if c.Picked = c.best(agrees, strongest); c.Picked >= 0 {
		return
	}
	sameKind := func(r Ranked) bool { return string(r.Joint.Kind) == w.Kind }
	c.Picked = c.best(sameKind, strongest)
	if c.Picked >= 0 {
		c.Problems = append(c.Problems, fmt.Sprintf("%s of the wished sizes do not fit between %s and %s; the strongest that fits is used: %s",
			w.Kind, s.A.Name, s.B.Name, c.Ranked[c.Picked].Joint.Describe()))
		return
	}
	c.Problems = append(c.Problems, fmt.Sprintf("%s cannot be made between %s and %s with the tools and sizes of the shop", w.Kind, s.A.Name, s.B.Name))
	c.Fixed = false
	c.propose()
}

// same compares a wished length with a size; a wish of zero agrees with anything, and half a millimetre is
// forgiven, so that 3/8 in and 10 mm mean the same drill.
func same(wish, size unit.Length) bool {
	return wish == 0 || (wish-size).Abs() <= unit.Millimetre/2
}
