package structure

import (
	"fmt"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/solve/spaceframe"
	"longgrain/internal/trade/wood"
)

// frame is the structural model of an assembly. Each part that carries is a chain of members along its centre
// line, cut where other parts meet it. Where an end meets a side, the member starts at the side's centre line
// with a rigid arm to the face, and its end has springs: those of the joint in series with those of the
// joint zone. Surfaces held by fastenings are weights and places for loads, not members.
type frame struct {
	a        assembly.Assembly
	model    spaceframe.Model
	findings []Finding
	mass     float64
	centre   geom.Vec // of gravity

	parts    []framePart
	ends     map[int]endAt    // by connection: which member end carries its forces
	endNodes map[endOf]string // node of another part that an end is jointed to
	surfaces []surface
	panels   []panel
	placed   map[string]geom.Vec // places of the nodes
}

// framePart is a part as a chain of members.
type framePart struct {
	surface  bool // carried by fastenings, no member
	e, g     float64
	perp     float64 // modulus across the grain
	strength float64 // lower 5 % bending strength with knots and duration, MPa
	shear    float64 // the same for shear
	crush    float64 // the same for pressure along the grain, with buckling between the ends of the part
	density  float64 // tonne/mm³, so that N = t mm/s²
	mass     float64 // kg
	section  spaceframe.Section
	stations []station
	members  []string // names, from the low end
}

// station is a place on a part's centre line where something meets it.
type station struct {
	x    float64 // mm from the low end
	node string
}

// endAt says which end of which member carries a connection.
type endAt struct {
	member string
	high   bool
}

// endOf is an end of a part.
type endOf struct {
	part int
	high bool
}

// surface is a top, shelf or seat on fastenings, with the parts that carry it.
type surface struct {
	part     int
	carriers []int
}

// bearing roles are flat parts that people load.
var surfaceRoles = []string{"top", "seat", "shelf", "tread"}

func newFrame(a assembly.Assembly, joints []*joint.Joint, m wood.Moisture) *frame {
	f := &frame{a: a, placed: map[string]geom.Vec{}, ends: map[int]endAt{}, endNodes: map[endOf]string{}, parts: make([]framePart, len(a.Parts))}
	if f.findEmpty(); len(f.findings) > 0 {
		return f
	}
	f.findSurfaces()
	f.findPanels()
	f.weigh(m)
	f.findLoose()
	f.findUnsupported()
	if len(f.findings) > 0 {
		return f
	}
	f.measureSections()
	f.placeStations()
	f.makeMembers(joints)
	f.findNarrow()
	return f
}

// findSurfaces marks the parts that hang on top fastenings only.
func (f *frame) findSurfaces() {
	for i := range f.a.Parts {
		var carriers []int
		jointed := false
		for _, c := range f.a.Connections {
			if c.A.Part != i && c.B.Part != i {
				continue
			}
			if c.Purpose == assembly.TopFastening {
				carriers = append(carriers, c.A.Part+c.B.Part-i)
			} else {
				jointed = true
			}
		}
		if len(carriers) > 0 && !jointed && slices.Contains(surfaceRoles, f.a.Parts[i].Role) {
			f.parts[i].surface = true
			f.surfaces = append(f.surfaces, surface{i, carriers})
		}
	}
}

// ungraded ratios for species whose elastic constants no source gives.
//
// Source: [en-384] conventions E90 = E/30 and G = E/16, from memory.
const (
	perpShare  = 1.0 / 30
	shearShare = 1.0 / 16
)

func (f *frame) weigh(m wood.Moisture) {
	var moment geom.Vec
	for i, p := range f.a.Parts {
		fp := &f.parts[i]
		species, ok := wood.Lookup(p.Species)
		rho, okRho := species.Density(m)
		e, okE := species.LongitudinalModulus(m)
		mor, okMOR := species.At(wood.BendingStrength, m)
		shear, okShear := species.At(wood.ShearParallel, m)
		crush, okCrush := species.At(wood.CompressionParallel, m)
		if !ok || !okRho || !okE || !okMOR || !okShear || !okCrush {
			f.findings = append(f.findings, Finding{What: fmt.Sprintf("no source gives density, stiffness and strength of %s", p.Species), Where: p.Name, Advice: "choose a species with published figures"})
			return
		}
		condition := wood.Condition(p.Condition)
		fp.e = float64(e.Value) * condition.StiffnessRatio().Value
		fp.g = fp.e * shearShare
		fp.perp = fp.e * perpShare
		if r, ok := species.ElasticRatio(wood.TangentialModulus); ok {
			fp.perp = fp.e * r.Value
		}
		fp.strength = float64(wood.Lower5(mor.Value, wood.Variation(wood.BendingStrength).Value)) * condition.StrengthRatio().Value * joint.LoadFactor
		fp.shear = float64(wood.Lower5(shear.Value, wood.Variation(wood.ShearParallel).Value)) * joint.LoadFactor
		fp.crush = float64(wood.Lower5(crush.Value, wood.Variation(wood.CompressionParallel).Value)) * condition.StrengthRatio().Value * joint.LoadFactor
		fp.density = float64(rho.Value) * 1e-12
		mass := float64(rho.Value.Mass(volume(p)))
		fp.mass = mass
		f.mass += mass
		_, centre := p.Volume()
		moment = moment.Add(centre.Scale(mass))
	}
	if f.mass > 0 {
		f.centre = moment.Scale(1 / f.mass)
	}
}

// volume returns the volume of a part less its tapers, each a wedge; what joints take out and put in is left out.
func volume(p assembly.Part) unit.CubicMetres {
	v := unit.Volume(p.Length, p.Width, p.Thickness)
	if p.Angled() {
		mm3, _ := p.Volume()
		v = unit.CubicMetres(mm3 * 1e-9)
	}
	for _, f := range p.Features {
		if f.Kind == assembly.TaperCut {
			v -= unit.Volume(f.Length, f.Depth, p.Size(3-f.Side.Axis())) / 2
		}
	}
	return max(v, 0)
}

// centreLine returns the point on a part's centre line at x mm from its low end.
func (f *frame) centreLine(part int, x float64) geom.Vec {
	p := f.a.Parts[part]
	return p.Pose.Out(geom.Vec{X: x, Y: p.Width.MM() / 2, Z: p.Thickness.MM() / 2})
}

// placeStations cuts every part where others meet it and makes the nodes.
func (f *frame) placeStations() {
	for i, p := range f.a.Parts {
		if f.parts[i].surface {
			continue
		}
		from, to := p.Between()
		at := []float64{from, to}
		for _, c := range f.a.Connections {
			if c.Purpose != assembly.Joint {
				continue
			}
			for _, place := range []assembly.Place{c.A, c.B} {
				if place.Part == i && !place.Side.IsEnd() {
					at = append(at, f.alongPart(c, i))
				}
			}
		}
		for _, panel := range f.panels {
			for k, c := range panel.held {
				if f.other(c, panel.part) == i {
					for _, end := range panel.ends[k] {
						at = append(at, f.within(i, p.Pose.In(end).X))
					}
				}
			}
		}
		slices.Sort(at)
		for _, x := range at {
			st := f.parts[i].stations
			if len(st) > 0 && x-st[len(st)-1].x < 1 {
				continue // nodes nearer than a millimetre are one
			}
			f.parts[i].stations = append(st, station{x: x})
		}
	}
}

// alongPart returns where a connection's contact lies along a part, mm from its low end.
func (f *frame) alongPart(c assembly.Connection, part int) float64 {
	middle, _ := f.a.Middle(c)
	x := f.a.Parts[part].Pose.In(middle).X
	return f.within(part, x)
}

// within returns the nearest place to x on the middle line of a part, mm from its low end.
func (f *frame) within(part int, x float64) float64 {
	from, to := f.a.Parts[part].Between()
	return math.Max(from, math.Min(to, x))
}

// makeMembers makes nodes and members. An end that meets a side has no node of its own.
func (f *frame) makeMembers(joints []*joint.Joint) {
	ends := f.endConnections()
	for i := range f.a.Parts {
		if f.parts[i].surface {
			continue
		}
		st := f.parts[i].stations
		for k := range st {
			low, high := k == 0, k == len(st)-1
			if (low && ends[i][0] >= 0) || (high && ends[i][1] >= 0) {
				continue
			}
			st[k].node = fmt.Sprintf("%s at %.0f mm", f.a.Parts[i].Name, st[k].x)
			v := f.centreLine(i, st[k].x)
			node := spaceframe.Node{Name: st[k].node, At: vec(v)}
			f.placed[st[k].node] = v
			if side, ok := f.standing(i, low, high); ok {
				f.stand(i, side, &node)
			}
			f.model.Nodes = append(f.model.Nodes, node)
		}
	}
	for i := range f.a.Parts {
		if !f.parts[i].surface {
			f.chain(i, ends[i], joints)
		}
	}
	f.tieSides()
	f.bracing()
}

// endConnections returns, for each part, the connection at its low and high end; -1 where there is none.
// Where several parts meet one end, the first carries; the others are tied like sides.
func (f *frame) endConnections() [][2]int {
	out := make([][2]int, len(f.a.Parts))
	for i := range out {
		out[i] = [2]int{-1, -1}
	}
	for k, c := range f.a.Connections {
		if c.Purpose != assembly.Joint || !c.A.Side.IsEnd() || c.B.Side.IsEnd() || f.parts[c.B.Part].surface {
			continue
		}
		end := 0
		if c.A.Side.High() {
			end = 1
		}
		if out[c.A.Part][end] < 0 {
			out[c.A.Part][end] = k
		}
	}
	return out
}

// chain makes the members of one part between its stations.
func (f *frame) chain(i int, ends [2]int, joints []*joint.Joint) {
	p, fp := f.a.Parts[i], &f.parts[i]
	from, to := p.Between()
	for k := 0; k+1 < len(fp.stations); k++ {
		name := fmt.Sprintf("%s, from %.0f mm", p.Name, fp.stations[k].x)
		m := spaceframe.Member{
			Name: name, I: fp.stations[k].node, J: fp.stations[k+1].node, Section: fp.section,
			Material: spaceframe.Material{E: fp.e, G: fp.g, Density: fp.density}, YAxis: vec(p.Pose.Axes[1]),
		}
		if k == 0 && ends[0] >= 0 {
			m.I, m.OffsetI = f.meets(ends[0], f.centreLine(i, from))
			f.endNodes[endOf{i, false}] = m.I
			m.SpringsI = f.springs(i, ends[0], joints)
			f.ends[ends[0]] = endAt{name, false}
		}
		if k+2 == len(fp.stations) && ends[1] >= 0 {
			m.J, m.OffsetJ = f.meets(ends[1], f.centreLine(i, to))
			f.endNodes[endOf{i, true}] = m.J
			m.SpringsJ = f.springs(i, ends[1], joints)
			f.ends[ends[1]] = endAt{name, true}
		}
		fp.members = append(fp.members, name)
		f.model.Members = append(f.model.Members, m)
	}
}

// measureSections gives every part its section: width along local y, thickness along z. A tapered part counts with
// half its taper taken off. The torsion constant is a long series, so sections of one size are worked out once.
func (f *frame) measureSections() {
	known := map[[2]float64]spaceframe.Section{}
	for i, p := range f.a.Parts {
		size := [3]float64{0, p.Width.MM(), p.Thickness.MM()}
		for _, feature := range p.Features {
			if feature.Kind == assembly.TaperCut {
				axis := feature.Side.Axis()
				size[axis] = math.Max(1, size[axis]-feature.Depth.MM()/2)
			}
		}
		key := [2]float64{size[1], size[2]}
		section, done := known[key]
		if !done {
			section = spaceframe.Rectangle(size[1], size[2])
			known[key] = section
		}
		f.parts[i].section = section
		from, to := p.Between()
		// The frame weighs a member by its section: the density is such that the part keeps its weight.
		f.parts[i].density *= float64(volume(p)) / (section.Area * (to - from) * 1e-9)
		f.parts[i].crush *= BucklingFactor(f.bucklingLength(i), math.Sqrt(min(section.Iy, section.Iz)/section.Area), f.parts[i].e, f.parts[i].crush)
	}
}

// meets returns the node on the receiving part of a connection and the arm from it to the point.
func (f *frame) meets(connection int, at geom.Vec) (node string, arm spaceframe.Vec) {
	c := f.a.Connections[connection]
	st := f.parts[c.B.Part].stations
	x := f.alongPart(c, c.B.Part)
	best := 0
	for k := range st {
		if math.Abs(st[k].x-x) < math.Abs(st[best].x-x) {
			best = k
		}
	}
	return st[best].node, vec(at.Sub(f.centreLine(c.B.Part, st[best].x)))
}

// springs returns the springs at the end of a part: the joint's own give in series with that of the wood around it.
//
//	K0 = 0.5 sqrt(Eperp G) b h²  the strong way,  0.28 sqrt(Eperp G) h b²  the weak way
//
// b is the thickness and h the width of the entering part, Eperp and G those of the receiving wood.
//
// Source: [longgrain] docs/methods/structure.md: fitted to solid models, off by up to -14 % on frames outside the fit.
func (f *frame) springs(part, connection int, joints []*joint.Joint) spaceframe.Springs {
	c := f.a.Connections[connection]
	receiving := f.parts[c.B.Part]
	b, h := c.A.Area.SizeV().MM(), c.A.Area.SizeU().MM()
	root := math.Sqrt(receiving.perp * receiving.g)
	strong, weak := 0.5*root*b*h*h, 0.28*root*h*b*b
	s := spaceframe.Springs{spaceframe.RZ: strong, spaceframe.RY: weak}
	j := joints[connection]
	if j == nil {
		return s
	}
	k := j.Stiffness
	s[spaceframe.RZ] = inSeries(strong, float64(k.BendU)*1000)
	s[spaceframe.RY] = inSeries(weak, float64(k.BendV)*1000)
	s[spaceframe.RX] = float64(k.Twist) * 1000
	s[spaceframe.UX] = float64(k.Axial)
	s[spaceframe.UY], s[spaceframe.UZ] = float64(k.Shear), float64(k.Shear)
	return s
}

func inSeries(a, b float64) float64 { return a * b / (a + b) }

// tieSides ties long sides that are glued to each other with rigid links at the middle of their contact. Links that
// share a node are one.
func (f *frame) tieSides() {
	for _, c := range f.a.Connections {
		if c.Purpose != assembly.Joint || (c.A.Side.IsEnd() && !c.B.Side.IsEnd()) {
			continue
		}
		a, b := f.nearestNode(c.A.Part, c), f.nearestNode(c.B.Part, c)
		if a == "" || b == "" || a == b {
			continue
		}
		tied := spaceframe.Body{Name: c.Name, Nodes: []string{a, b}}
		kept := f.model.Bodies[:0]
		for _, old := range f.model.Bodies {
			if !slices.Contains(old.Nodes, a) && !slices.Contains(old.Nodes, b) {
				kept = append(kept, old)
				continue
			}
			for _, n := range old.Nodes {
				if !slices.Contains(tied.Nodes, n) {
					tied.Nodes = append(tied.Nodes, n)
				}
			}
		}
		f.model.Bodies = append(kept, tied)
	}
}

func (f *frame) nearestNode(part int, c assembly.Connection) string {
	x := f.alongPart(c, part)
	best, node := math.Inf(1), ""
	for _, s := range f.parts[part].stations {
		if d := math.Abs(s.x - x); d < best && s.node != "" {
			best, node = d, s.node
		}
	}
	return node
}

// takeForces adds the forces of one case to each connection's list. The force of the node on the member's end is
// turned so that a pull of the joint is positive.
func (f *frame) takeForces(c *spaceframe.CaseResult, forces [][]joint.Forces) {
	for k, end := range f.ends {
		m := c.Member(end.member)
		e, pull := m.EndForce[0], -1.0
		if end.high {
			e, pull = m.EndForce[1], 1
		}
		forces[k] = append(forces[k], joint.Forces{
			N:      unit.Newtons(pull * e[spaceframe.UX]),
			ShearU: unit.Newtons(e[spaceframe.UY]), ShearV: unit.Newtons(e[spaceframe.UZ]),
			BendU: unit.NewtonMetres(e[spaceframe.RZ] / 1000), BendV: unit.NewtonMetres(e[spaceframe.RY] / 1000),
			Twist: unit.NewtonMetres(e[spaceframe.RX] / 1000),
		})
	}
}

// shapeSteps is the number of points on each part in a deflected shape.
const shapeSteps = 9

func (f *frame) shape(c *spaceframe.CaseResult) Shape {
	s := Shape{Case: c.Name, Lines: make([][]spaceframe.Vec, len(f.a.Parts))}
	for i, fp := range f.parts {
		if fp.surface {
			continue
		}
		length := f.a.Parts[i].Length.MM()
		for k := range shapeSteps {
			x := length * float64(k) / (shapeSteps - 1)
			s.Lines[i] = append(s.Lines[i], f.movedAt(c, i, x))
		}
	}
	return s
}

// movedAt returns how far the centre line of a part has moved at x mm from its low end.
func (f *frame) movedAt(c *spaceframe.CaseResult, part int, x float64) spaceframe.Vec {
	fp := f.parts[part]
	x = f.within(part, x)
	n := len(fp.members) - 1
	for n > 0 && fp.stations[n].x > x {
		n--
	}
	g := c.Member(fp.members[n]).Along(x - fp.stations[n].x).Global
	return spaceframe.Vec{g[0], g[1], g[2]}
}

func vec(v geom.Vec) spaceframe.Vec { return spaceframe.Vec{v.X, v.Y, v.Z} }
