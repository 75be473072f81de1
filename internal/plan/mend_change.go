package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
)

// change is one kind of change in whole steps, 1 the smallest. at returns the changed input with its words; no words where that amount
// is no change or cannot be.
type change struct {
	ladder []int // amounts to try first, rising
	at     func(n int) tried
}

// single is a change that is made or not.
func single(in Input, m Mend) change {
	return change{[]int{1}, func(int) tried { return tried{mend: m, input: in} }}
}

// remedies lists the single changes that may mend a piece: sizes of the pattern, or of the parts where there is no pattern; other
// joints where the maker fixed one; clearer boards and other wood that the shop buys.
func (p *Plan) remedies(in Input) []change {
	var out []change
	for _, s := range p.Pattern.Sizes {
		out = append(out, p.sizeChanges(in, s)...)
	}
	if in.Piece.Pattern == "" {
		out = append(out, p.partChanges(in)...)
	}
	out = append(out, p.jointChanges(in)...)
	out = append(out, p.fixing(in)...)
	return append(out, woodChanges(in)...)
}

// step is the smallest change of a length that is worth marking out.
func (p *Plan) step() unit.Length {
	if p.Family == unit.Imperial {
		return unit.Inch / 16
	}
	return unit.Millimetre
}

// steps returns the ladder of amounts for a length that may change by so much at most.
func (p *Plan) steps(value, most unit.Length) []int {
	base := max(value, 30*unit.Millimetre) // of an overhang or taper of nothing
	var out []int
	for _, g := range growth {
		n := int(math.Ceil(float64(min(base.Scale(g), most)) / float64(p.step())))
		if most < unit.Length(n)*p.step() {
			n--
		}
		if n > 0 && (len(out) == 0 || n > out[len(out)-1]) {
			out = append(out, n)
		}
	}
	return out
}

// sizeChanges changes one size of the pattern: a length up and down, a count by one and two, a choice to each other one.
func (p *Plan) sizeChanges(in Input, s pattern.Size) []change {
	with := func(value, words string) tried {
		sizes := map[string]string{s.Name: value}
		read, problems := piece.Parse(in.described.Name, piece.WithSizes(in.described.Text, sizes))
		if len(problems) > 0 {
			return tried{}
		}
		changed := in
		changed.Piece = read
		return tried{mend: Mend{Change: strings.ToLower(s.Title[:1]) + s.Title[1:] + " " + words, Sizes: sizes, subject: s.Name}, input: changed}
	}
	var out []change
	switch s.Kind {
	case pattern.LengthSize:
		now := s.Length.Length
		for _, sign := range []unit.Length{1, -1} {
			most := s.High.Length - now
			if sign < 0 {
				most = now - s.Low.Length
			}
			out = append(out, change{p.steps(now, most), func(n int) tried {
				to := now + sign*unit.Length(n)*p.step()
				return with(to.Exact(p.Family), fmt.Sprintf("%s instead of %s", to.Show(p.Family), now.Show(p.Family)))
			}})
		}
	case pattern.CountSize:
		for _, sign := range []int{1, -1} {
			var ladder []int
			for n := 1; n <= 2; n++ {
				if to := s.Count + sign*n; to >= s.LowCount && to <= s.HighCount {
					ladder = append(ladder, n)
				}
			}
			out = append(out, change{ladder, func(n int) tried {
				return with(fmt.Sprint(s.Count+sign*n), fmt.Sprintf("%d instead of %d", s.Count+sign*n, s.Count))
			}})
		}
	default:
		choices := s.Choices
		if s.Kind == pattern.YesNoSize {
			choices = []string{"yes", "no"}
		}
		for _, c := range choices {
			if c != s.Text {
				out = append(out, change{[]int{1}, func(int) tried { return with(c, fmt.Sprintf("%s instead of %s", c, s.Text)) }})
			}
		}
	}
	return out
}

// woodChanges takes clearer boards, or another wood that the shop buys.
func woodChanges(in Input) []change {
	var out []change
	set := func(words string, to func(*piece.Wood)) {
		changed := in
		to(&changed.Piece.Wood)
		out = append(out, single(changed, Mend{Change: words}))
	}
	now := in.Piece.Wood.Condition
	if now == "" {
		now = assembly.DefaultCondition
	}
	for _, name := range wood.Conditions {
		c := wood.Condition(name)
		if c.StrengthRatio().Value > wood.Condition(now).StrengthRatio().Value {
			set(fmt.Sprintf("boards that are %s instead of %s", c, now), func(w *piece.Wood) { w.Condition = name })
		}
	}
	species := in.Piece.Wood.Species
	if species == "" {
		species = assembly.DefaultSpecies
	}
	mine, _ := wood.Find(species)
	var seen []string
	for _, t := range in.Shop.Timber {
		if t.Species == mine.ID || slices.Contains(seen, t.Species) {
			continue
		}
		seen = append(seen, t.Species)
		if other, ok := wood.Lookup(t.Species); ok {
			set(fmt.Sprintf("%s instead of %s", strings.ToLower(other.Name), strings.ToLower(mine.Name)), func(w *piece.Wood) { w.Species = other.ID })
		}
	}
	return out
}

// jointChanges tries other joints where the maker fixed one that does not hold: those that hold under the forces of now, least work
// first. Where the program chose, it has chosen the best already.
func (p *Plan) jointChanges(in Input) []change {
	var out []change
	for i := range p.Joints {
		g := &p.Joints[i]
		if !g.Made || !g.Choice.Fixed || g.Final.Verdict == joint.Holds {
			continue
		}
		tried := map[joint.Kind]int{}
		ranked := slices.Clone(g.Choice.Ranked)
		slices.SortStableFunc(ranked, func(a, b joint.Ranked) int { return int(a.Joint.Minutes - b.Joint.Minutes) })
		for _, r := range ranked {
			if r.Verdict != joint.Holds || tried[r.Joint.Kind] >= 2 {
				continue
			}
			tried[r.Joint.Kind]++
			changed := in
			connections, z, kind := g.Connections, r.Joint.Sizes, r.Joint.Kind
			measure := func(l unit.Length) unit.Measure { return unit.Measure{Length: l, Family: p.Family} }
			wish := piece.Joint{Kind: string(kind), Count: z.Count, Diameter: measure(z.Diameter), Depth: measure(z.DepthB), Thickness: measure(z.Thickness), Width: measure(z.Width)}
			before := in.adjust
			changed.adjust = func(a *assembly.Assembly) {
				if before != nil {
					before(a)
				}
				a.Connections = slices.Clone(a.Connections)
				for _, c := range connections {
					a.Connections[c].Wish = &wish
				}
			}
			out = append(out, single(changed, Mend{Change: fmt.Sprintf("%s at %s instead of %s", r.Joint.Describe(), p.groupName(*g), g.Final.Joint.Describe())}))
		}
	}
	return out
}

// partChanges makes parts alike wider or thicker, where the piece is written out part by part. Each part grows to the side where it
// stays clear of the others and keeps what it is connected to.
func (p *Plan) partChanges(in Input) []change {
	kinds := map[int][]int{}
	most := 0
	for i, part := range p.Assembly.Parts {
		kinds[part.Kind] = append(kinds[part.Kind], i)
		most = max(most, part.Kind)
	}
	var out []change
	for kind := range most + 1 {
		parts := kinds[kind]
		if len(parts) == 0 || parts[len(parts)-1] >= len(p.worked.Parts) {
			continue
		}
		for axis := 1; axis <= 2; axis++ {
			first := p.Assembly.Parts[parts[0]]
			now := first.Size(axis)
			name := roleName(first.Role, first.Name)
			if len(parts) > 1 && name != first.Name {
				name = plural(name)
			}
			word := [3]string{"", "wide", "thick"}[axis]
			out = append(out, change{p.steps(now, now), func(n int) tried {
				by := unit.Length(n) * p.step()
				grown, ok := p.grow(p.worked, parts, axis, by)
				if !ok {
					return tried{}
				}
				changed := in
				changed.Piece = grown
				return tried{mend: Mend{Change: fmt.Sprintf("%s %s %s instead of %s", name, (now + by).Show(p.Family), word, now.Show(p.Family)), subject: name + word}, input: changed}
			}})
		}
	}
	return out
}

func plural(name string) string {
	if cut, ok := strings.CutSuffix(name, "lf"); ok {
		return cut + "lves"
	}
	return name + "s"
}

// fixing fixes a piece that tips to the wall, where that is what such pieces need.
func (p *Plan) fixing(in Input) []change {
	if p.Assembly.Fixed != "" || (p.Assembly.Use != "shelf" && p.Assembly.Use != "chest") {
		return nil
	}
	changed := in
	changed.Piece.Fixed = "wall"
	return []change{single(changed, Mend{Change: "fixed to the wall instead of standing free"})}
}

// grow makes parts of a written-out piece larger along their local axis 1 or 2, each to the side that is free.
func (p *Plan) grow(of piece.Piece, parts []int, axis int, by unit.Length) (piece.Piece, bool) {
	of.Parts = slices.Clone(of.Parts)
	for _, i := range parts {
		direction := p.Assembly.Parts[i].Pose.Axes[axis]
		free := false
		for _, high := range []bool{true, false} {
			grown := of
			grown.Parts = slices.Clone(of.Parts)
			part := &grown.Parts[i]
			if axis == 1 {
				part.Width.Length += by
			} else {
				part.Thickness.Length += by
			}
			if part.Thickness.Length > part.Width.Length {
				continue
			}
			if !high { // the corner moves against the direction of the axis in the world
				for k := range 3 {
					if math.Abs(direction.Along(k)) > 0.5 {
						part.At[k].Length -= by
					}
				}
			}
			if _, problems := assembly.Build(grown); len(problems) == 0 {
				of, free = grown, true
				break
			}
		}
		if !free {
			return of, false
		}
	}
	return of, true
}
