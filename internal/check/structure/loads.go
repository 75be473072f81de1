package structure

import (
	"cmp"
	_ "embed"
	"fmt"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/source"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/spaceframe"
)

//go:embed loads.csv
var loadsCSV string

// rule is a row of the load table.
type rule struct {
	id, use, setting, action, note string
	force, inset                   float64
	mass, most                     float64 // on the top during a push: usual, and the most that keeps the feet down
	cite                           source.Cite
}

var rules = readRules()

func readRules() []rule {
	var out []rule
	for _, r := range source.Table("loads.csv", loadsCSV) {
		x := rule{id: r.Text("id"), use: r.Text("use"), setting: r.Text("setting"), action: r.Text("action"), note: r.Text("note"), cite: r.Cite()}
		for _, f := range []struct {
			to     *float64
			column string
		}{{&x.force, "force"}, {&x.mass, "mass"}, {&x.most, "most"}, {&x.inset, "inset"}} {
			if r.Has(f.column) {
				*f.to = r.Number(f.column)
			}
		}
		out = append(out, x)
	}
	return out
}

// rulesFor returns the rules of an action for a use and setting.
func rulesFor(use, setting, action string) []rule {
	var out []rule
	for _, r := range rules {
		if r.use == use && r.action == action && (r.setting == "any" || r.setting == setting) {
			out = append(out, r)
		}
	}
	return out
}

// Case is one load case with its origin.
type Case struct {
	Name   string      `json:"name"`
	Action string      `json:"action"` // down, push, lift, spread
	Force  float64     `json:"force"`  // N
	Mass   float64     `json:"mass,omitempty"`
	Note   string      `json:"note"`
	Cite   source.Cite `json:"cite"`
	load   spaceframe.Case
}

var gravity = spaceframe.Vec{0, 0, -unit.Gravity * 1000} // mm/s²

// cases returns every load case: the places on the loaded surface and the directions of a push are searched.
func (f *frame) cases() []Case {
	var out []Case
	add := func(r rule, name string, fill func(*spaceframe.Case)) {
		c := Case{Name: name, Action: r.action, Force: r.force, Mass: r.mass, Note: r.note, Cite: r.cite}
		c.load = spaceframe.Case{Name: name, Gravity: gravity}
		f.weighSurfaces(&c.load)
		fill(&c.load)
		out = append(out, c)
	}
	top, ok := f.loadedSurface()
	for _, r := range rulesFor(f.a.Use, f.a.Setting, "down") {
		if !ok {
			break
		}
		for _, spot := range top.spots(r.inset) {
			add(r, fmt.Sprintf("%.0f N down %s", r.force, spot.name), func(c *spaceframe.Case) { f.press(c, top, spot.at, r.force) })
		}
	}
	for _, r := range rulesFor(f.a.Use, f.a.Setting, "push") {
		for _, d := range pushes {
			r.mass = f.ballast(r)
			load := func(c *spaceframe.Case) {
				if ok && r.mass > 0 {
					f.press(c, top, top.middle(), r.mass*unit.Gravity)
				}
			}
			heads := f.heads()
			if len(heads) == 0 {
				break
			}
			add(r, fmt.Sprintf("%.0f N push to the %s", r.force, d.word), func(c *spaceframe.Case) {
				load(c)
				for _, h := range heads {
					c.Nodal = append(c.Nodal, spaceframe.NodalLoad{Node: h.node, Force: scale(d.toward, r.force/float64(len(heads)))})
				}
			})
			for _, h := range heads {
				add(r, fmt.Sprintf("%.0f N push to the %s on the %s", r.force, d.word, h.part), func(c *spaceframe.Case) {
					load(c)
					c.Nodal = append(c.Nodal, spaceframe.NodalLoad{Node: h.node, Force: scale(d.toward, r.force)})
				})
			}
		}
	}
	for _, r := range rulesFor(f.a.Use, f.a.Setting, "lift") {
		r.force = math.Min(r.force, liftShare*f.mass*unit.Gravity)
		for _, h := range f.heads() {
			add(r, fmt.Sprintf("lifted at the %s", h.part), func(c *spaceframe.Case) {
				c.Nodal = append(c.Nodal, spaceframe.NodalLoad{Node: h.node, Force: spaceframe.Vec{0, 0, r.force}})
			})
		}
	}
	for _, r := range rulesFor(f.a.Use, f.a.Setting, "spread") {
		add(r, fmt.Sprintf("%.0f kg/m² on every shelf", r.mass), func(c *spaceframe.Case) { f.spreadOnShelves(c, r.mass) })
	}
	return out
}

// liftShare is the share of its own weight that a piece is lifted with at one corner: a little less than the half
// that takes two feet off the floor.
const liftShare = 0.45

// ballast returns the mass on the top during a push, kg: that of the rule, raised as far as the rule allows when the
// piece would tip. Published tests load the top until it stays down.
func (f *frame) ballast(r rule) float64 {
	_, hi := f.a.Bounds()
	mass := r.mass
	for i, feet := 0, footprint(f.a); len(feet) >= 3 && i < len(feet); i++ {
		p, q := feet[i], feet[(i+1)%len(feet)]
		inward := geom.Vec{X: -(q.Y - p.Y), Y: q.X - p.X}.Unit()
		centre := math.Max(1, f.centre.Sub(p).Dot(inward))
		need := (r.force*hi.Z/centre - f.mass*unit.Gravity) / unit.Gravity
		mass = math.Max(mass, need*1.3) // the feet's nodes stand inside their outer edges
	}
	return math.Min(mass, math.Max(r.mass, r.most))
}

type push struct {
	word   string
	toward spaceframe.Vec
}

var pushes = []push{
	{"right", spaceframe.Vec{1, 0, 0}}, {"left", spaceframe.Vec{-1, 0, 0}},
	{"back", spaceframe.Vec{0, 1, 0}}, {"front", spaceframe.Vec{0, -1, 0}},
}

func scale(v spaceframe.Vec, k float64) spaceframe.Vec {
	return spaceframe.Vec{v[0] * k, v[1] * k, v[2] * k}
}

// head is the upper end of an upright part: where a push arrives.
type head struct {
	node, part string
}

// heads returns the upper ends of the uprights that stand on the floor and reach within a fifth of the full height.
func (f *frame) heads() []head {
	_, hi := f.a.Bounds()
	var out []head
	for i, fp := range f.parts {
		if fp.surface || math.Abs(f.a.Parts[i].Pose.Axes[0].Z) < 0.5 || !f.stands(i) {
			continue
		}
		top := fp.stations[len(fp.stations)-1]
		if f.a.Parts[i].Pose.Axes[0].Z < 0 {
			top = fp.stations[0]
		}
		if top.node != "" && f.centreLine(i, top.x).Z > hi.Z*0.8 {
			out = append(out, head{top.node, f.a.Parts[i].Name})
		}
	}
	return out
}

func (f *frame) stands(part int) bool {
	return slices.ContainsFunc(f.a.Supports, func(s assembly.Support) bool { return s.Part == part })
}

// plane is a loaded surface: the part and how high and wide it lies.
type plane struct {
	surface
	lo, hi geom.Vec
}

func (p plane) middle() geom.Vec { return p.lo.Add(p.hi).Scale(0.5) }

// spot is a place for a load on a surface.
type spot struct {
	name string
	at   geom.Vec
}

// spots returns the places where a load is tried: the middle, the middle of each edge and each corner, inset mm from the
// edges, and half way between the middle and each edge.
func (p plane) spots(inset float64) []spot {
	m := p.middle()
	x0, x1 := math.Min(p.lo.X+inset, m.X), math.Max(p.hi.X-inset, m.X)
	y0, y1 := math.Min(p.lo.Y+inset, m.Y), math.Max(p.hi.Y-inset, m.Y)
	at := func(x, y float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: p.hi.Z} }
	return []spot{
		{"in the middle", at(m.X, m.Y)},
		{"at the front edge", at(m.X, y0)}, {"at the back edge", at(m.X, y1)},
		{"at the left edge", at(x0, m.Y)}, {"at the right edge", at(x1, m.Y)},
		{"at the front left corner", at(x0, y0)}, {"at the front right corner", at(x1, y0)},
		{"at the back left corner", at(x0, y1)}, {"at the back right corner", at(x1, y1)},
		{"half way to the front", at(m.X, (m.Y+y0)/2)}, {"half way to the left", at((m.X+x0)/2, m.Y)},
	}
}

// loadedSurface returns the highest surface on fastenings, or else the highest flat part of the frame.
func (f *frame) loadedSurface() (plane, bool) {
	var best plane
	found := false
	consider := func(s surface) {
		lo, hi := f.a.Parts[s.part].Box().Bounds()
		if !found || hi.Z > best.hi.Z {
			best, found = plane{s, lo, hi}, true
		}
	}
	for _, s := range f.surfaces {
		consider(s)
	}
	if found {
		return best, true
	}
	for i, p := range f.a.Parts {
		if slices.Contains(surfaceRoles, p.Role) && math.Abs(p.Pose.Axes[2].Z) > 0.8 {
			consider(surface{part: i})
		}
	}
	return best, found
}

// press puts a downward force on a surface at a place. On a surface that hangs on fastenings the nearest pair of
// opposite carriers takes it by the lever rule, which also holds outside them; a surface that is a member is loaded itself.
func (f *frame) press(c *spaceframe.Case, p plane, at geom.Vec, force float64) {
	if len(p.carriers) == 0 {
		f.pointLoad(c, p.part, at, force)
		return
	}
	near, far, ok := f.opposite(p.carriers, at)
	if !ok {
		f.pointLoad(c, near, at, force)
		return
	}
	square := f.square(near)
	a := f.centreLine(near, 0).Dot(square)
	b := f.centreLine(far, 0).Dot(square)
	share := (at.Dot(square) - a) / (b - a)
	f.pointLoad(c, near, at, force*(1-share))
	f.pointLoad(c, far, at, force*share)
}

// square returns the horizontal direction square to a part's length.
func (f *frame) square(part int) geom.Vec {
	return geom.Vec{Z: 1}.Cross(f.a.Parts[part].Pose.Axes[0]).Unit()
}

// opposite returns the carrier nearest to a place and the parallel carrier farthest from it.
func (f *frame) opposite(carriers []int, at geom.Vec) (near, far int, ok bool) {
	distance := func(i int) float64 {
		return math.Abs(at.Sub(f.centreLine(i, 0)).Dot(f.square(i)))
	}
	near = slices.MinFunc(carriers, func(a, b int) int { return cmp.Compare(distance(a), distance(b)) })
	most := 1.0
	for _, i := range carriers {
		if !geom.Parallel(f.a.Parts[i].Pose.Axes[0], f.a.Parts[near].Pose.Axes[0]) {
			continue
		}
		if d := math.Abs(f.centreLine(i, 0).Sub(f.centreLine(near, 0)).Dot(f.square(near))); d > most {
			most, far, ok = d, i, true
		}
	}
	return near, far, ok
}

// pointLoad puts a downward force on a part at the place of its centre line nearest to the point.
func (f *frame) pointLoad(c *spaceframe.Case, part int, at geom.Vec, force float64) {
	fp := f.parts[part]
	x := math.Max(0, math.Min(f.a.Parts[part].Length.MM(), f.a.Parts[part].Pose.In(at).X))
	k := len(fp.members) - 1
	for k > 0 && fp.stations[k].x > x {
		k--
	}
	c.Point = append(c.Point, spaceframe.PointLoad{Member: fp.members[k], At: x - fp.stations[k].x, Force: spaceframe.Vec{0, 0, -force}})
}

// weighSurfaces puts the weight of surfaces on their carriers in equal shares.
func (f *frame) weighSurfaces(c *spaceframe.Case) {
	for _, s := range f.surfaces {
		p := f.a.Parts[s.part]
		weight := f.parts[s.part].density * p.Length.MM() * p.Width.MM() * p.Thickness.MM() * unit.Gravity * 1000
		for _, carrier := range s.carriers {
			f.pointLoad(c, carrier, p.Box().Centre(), weight/float64(len(s.carriers)))
		}
	}
}

// spreadOnShelves puts a mass per square metre on every flat surface.
func (f *frame) spreadOnShelves(c *spaceframe.Case, mass float64) {
	for i, p := range f.a.Parts {
		if !slices.Contains(surfaceRoles, p.Role) || math.Abs(p.Pose.Axes[2].Z) < 0.8 {
			continue
		}
		total := mass * float64(unit.Area(p.Length, p.Width)) * unit.Gravity
		if f.parts[i].surface {
			for _, s := range f.surfaces {
				if s.part == i {
					f.press(c, plane{surface: s}, p.Box().Centre(), total)
				}
			}
			continue
		}
		for _, m := range f.parts[i].members {
			c.Spread = append(c.Spread, spaceframe.Uniform(m, spaceframe.Vec{0, 0, -total / p.Length.MM()}))
		}
	}
}
