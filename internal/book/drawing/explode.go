package drawing

import (
	"cmp"
	"math"
	"slices"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/paper/scene"
)

// isometric looks at the piece from the front, from the right and from above, all three axes equally
// foreshortened.
//
// Source: [iso-5456] part 3, isometric axonometry, from memory.
var isometric = looking{
	right:  geom.Vec{X: 1, Y: 1}.Unit(),
	up:     geom.Vec{X: -1, Y: 1, Z: 2}.Unit(),
	toward: geom.Vec{X: 1, Y: -1, Z: 1}.Unit(),
}

// By how much the parts of an exploded view are moved apart: each by this share of its distance from
// the middle of the piece, level and upright. Parts that stand square to each other stay clear, because
// one of the three axes parts them. Judgement: enough to see each joint, and to see under a top.
const (
	spreadLevel   = 0.5
	spreadUpright = 1.4
)

// Exploded draws the parts moved apart, seen from the front right and above, each with its mark and
// name. Thin chain lines lead from where a part was joined to where it fits. Not to scale.
func Exploded(a assembly.Assembly, st Style) scene.Scene {
	moves := explosion(a)
	var all []solid
	for i := range a.Parts {
		for _, s := range solids(a, i) {
			all = append(all, s.moved(moves[i]))
		}
	}
	lines := strokes(all, isometric)
	paths := joiningLines(a, moves, all)
	width, height := st.frame()
	k := explodedScale(all, a, width, height)
	s := scene.New("Exploded view of " + a.Name)
	s.ID = "exploded"
	s.Description = "The parts moved apart, seen from the front right and from above, each with its mark and name."
	v := scene.View{Ratio: scene.Ratio{Paper: k, Model: 1}}
	paint(s, all, a, v)
	for _, p := range paths {
		s.Line(scene.Centre, v.At(p.from.X, p.from.Y), v.At(p.to.X, p.to.Y))
	}
	for _, l := range lines {
		if !l.hidden {
			s.Line(scene.Detail, v.At(l.from.X, l.from.Y), v.At(l.to.X, l.to.Y))
		}
	}
	labelParts(s, a, all, v)
	return *s
}

// explosion returns how far each part is moved.
func explosion(a assembly.Assembly) []geom.Vec {
	lo, hi := a.Bounds()
	middle := lo.Add(hi).Scale(0.5)
	out := make([]geom.Vec, len(a.Parts))
	for i, p := range a.Parts {
		d := p.Box().Centre().Sub(middle)
		out[i] = geom.Vec{X: d.X * spreadLevel, Y: d.Y * spreadLevel, Z: d.Z * spreadUpright}
	}
	return out
}

// explodedScale returns paper mm per model mm at which the parts fit between two columns of labels.
func explodedScale(all []solid, a assembly.Assembly, width, height float64) float64 {
	b := shadow(all[0], isometric)
	for _, s := range all {
		b = b.Union(shadow(s, isometric))
	}
	labels := 0.0
	for _, p := range a.Parts {
		labels = max(labels, scene.TextWidth(partLabel(p, len(a.Parts)), Lettering, scene.Regular))
	}
	room := max(width-2*(labels+columnGap), width/3)
	return min(room/b.Width(), height/b.Height())
}

// joiningLines returns the visible pieces of the lines between the two places of each connection.
func joiningLines(a assembly.Assembly, moves []geom.Vec, all []solid) []stroke {
	var out []stroke
	for _, c := range a.Connections {
		at, _ := a.Middle(c)
		from, to := at.Add(moves[c.A.Part]), at.Add(moves[c.B.Part])
		if from.Distance(to) < 1 {
			continue
		}
		e := [2]geom.Vec{from, to}
		var covered []span
		for _, s := range all {
			if h, ok := hiddenBy(e, s, isometric.toward); ok {
				covered = append(covered, h)
			}
		}
		p, q := isometric.onPaper(from), isometric.onPaper(to)
		for _, seen := range without(span{0, 1}, union(covered, 0)) {
			out = append(out, stroke{from: mix(p, q, seen.low), to: mix(p, q, seen.high)})
		}
	}
	return out
}

func mix(p, q scene.Point, share float64) scene.Point {
	return scene.Point{X: p.X + share*(q.X-p.X), Y: p.Y + share*(q.Y-p.Y)}
}

// paint fills the faces that look at the viewer, the bodies behind first: light for long grain,
// darker for end grain. Where bodies lie round each other in a ring the fill of one may be hidden
// wrongly; the lines, which are drawn over the fills, are always right.
func paint(s *scene.Scene, all []solid, a assembly.Assembly, v scene.View) {
	for _, i := range backToFront(all, isometric) {
		g := scene.Group{ID: "part-" + a.Parts[all[i].part].Mark, Title: a.Parts[all[i].part].Name}
		for _, f := range all[i].faces {
			if f.n.Dot(isometric.toward) <= 1e-9 {
				continue
			}
			fill := scene.PartFill
			if f.end {
				fill = scene.PartFill2
			}
			var ring []scene.Point
			for _, p := range f.ring {
				q := isometric.onPaper(p)
				ring = append(ring, v.At(q.X, q.Y))
			}
			g.Items = append(g.Items, scene.Polygon{Style: scene.NoLine, Fill: fill, Points: ring})
		}
		s.Add(g)
	}
}

// backToFront sorts bodies so that none is drawn over one that lies before it, as far as there is
// such an order.
func backToFront(all []solid, l looking) []int {
	shadows := make([]scene.Box, len(all))
	for i, s := range all {
		shadows[i] = shadow(s, l)
	}
	behind := make([]int, len(all)) // how many bodies that must be drawn first are still to come
	before := make([][]int, len(all))
	for i := range all {
		for k := range all {
			if i == k || !overlapping(shadows[i], shadows[k]) {
				continue
			}
			// Bodies that lie behind each other both ways do not overlap in the view at all.
			if liesBehind(all[k], all[i], l.toward) && !liesBehind(all[i], all[k], l.toward) {
				before[k] = append(before[k], i)
				behind[i]++
			}
		}
	}
	var out []int
	done := make([]bool, len(all))
	for len(out) < len(all) {
		next := -1
		for i := range all {
			if !done[i] && (next < 0 || behind[i] < behind[next]) {
				next = i
			}
		}
		done[next] = true
		out = append(out, next)
		for _, i := range before[next] {
			behind[i]--
		}
	}
	return out
}

func overlapping(a, b scene.Box) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// liesBehind tells whether body a lies wholly on the far side of a face of either body, and b wholly
// on the near side.
func liesBehind(a, b solid, toward geom.Vec) bool {
	for _, f := range a.faces {
		if f.n.Dot(toward) > 1e-9 && everyPoint(b, func(v geom.Vec) bool { return f.n.Dot(v) >= f.d-skin }) {
			return true
		}
	}
	for _, f := range b.faces {
		if f.n.Dot(toward) < -1e-9 && everyPoint(a, func(v geom.Vec) bool { return f.n.Dot(v) >= f.d-skin }) {
			return true
		}
	}
	return false
}

func everyPoint(s solid, holds func(geom.Vec) bool) bool {
	for _, e := range s.edges {
		if !holds(e[0]) || !holds(e[1]) {
			return false
		}
	}
	return true
}

// Sizes of the columns of labels beside an exploded view, mm.
const (
	columnGap = 9.0 // between the drawing and a column
	rowPitch  = 5.2 // between labels of a column, at the least
)

// mostNamed is how many parts are named in full; a piece with more shows marks only.
const mostNamed = 24

func partLabel(p assembly.Part, of int) string {
	if of > mostNamed {
		return p.Mark
	}
	return p.Mark + " " + p.Name
}

// label is a word beside a drawing with the point that it is led to.
type label struct {
	text string
	at   scene.Point
}

// labelParts writes the labels in two columns beside the drawing, so that no two leaders of a column
// cross.
func labelParts(s *scene.Scene, a assembly.Assembly, all []solid, v scene.View) {
	drawn := s.Bounds()
	var left, right []label
	for i, p := range a.Parts {
		at, ok := spot(i, all, isometric)
		if !ok {
			continue
		}
		l := label{partLabel(p, len(a.Parts)), v.At(at.X, at.Y)}
		if l.at.X < drawn.Centre().X {
			left = append(left, l)
		} else {
			right = append(right, l)
		}
	}
	labelColumn(s, left, drawn.Min.X-columnGap, scene.Right)
	labelColumn(s, right, drawn.Max.X+columnGap, scene.Left)
}

// labelColumn writes one column at x; align says which end of the words stands there.
func labelColumn(s *scene.Scene, column []label, x float64, align scene.Align) {
	slices.SortStableFunc(column, func(x, y label) int { return cmp.Compare(y.at.Y, x.at.Y) })
	heights := make([]float64, len(column))
	for i, l := range column {
		heights[i] = l.at.Y
	}
	heights = spreadDown(heights, rowPitch)
	end := x + 1
	if align == scene.Left {
		end = x - 1
	}
	untangle(column, heights, end)
	for i, l := range column {
		t := words(scene.Point{X: x, Y: heights[i]}, l.text)
		t.Rise, t.Align = scene.MidHeight, align
		s.Line(scene.Dimension, scene.Point{X: end, Y: heights[i]}, l.at)
		s.Add(scene.Circle{Style: scene.Dimension, Centre: l.at, Radius: 0.5, Fill: scene.InkFill}, t)
	}
}

// untangle exchanges labels of a column as long as two leaders cross. Every exchange makes the leaders
// shorter in sum, so it comes to an end.
func untangle(column []label, heights []float64, x float64) {
	for crossed := true; crossed; {
		crossed = false
		for i := range column {
			for k := i + 1; k < len(column); k++ {
				if cross(column[i].at, scene.Point{X: x, Y: heights[i]}, column[k].at, scene.Point{X: x, Y: heights[k]}) {
					column[i], column[k] = column[k], column[i]
					crossed = true
				}
			}
		}
	}
}

// cross tells whether the lines a-b and c-d cross.
func cross(a, b, c, d scene.Point) bool {
	turn := func(p, q, r scene.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return turn(a, b, c)*turn(a, b, d) < -tiny && turn(c, d, a)*turn(c, d, b) < -tiny
}

// spreadDown moves heights, which come in falling order, apart until neighbours keep the pitch:
// downwards first, then the whole row up by half of what it has sunk.
func spreadDown(heights []float64, pitch float64) []float64 {
	out := slices.Clone(heights)
	sunk := 0.0
	for i := 1; i < len(out); i++ {
		out[i] = min(out[i], out[i-1]-pitch)
		sunk = max(sunk, heights[i]-out[i])
	}
	for i := range out {
		out[i] += sunk / 2
	}
	return out
}

// spot returns a point of a part that is seen, in model mm of the view: the most open of a grid on its
// visible faces.
func spot(part int, bodies []solid, l looking) (scene.Point, bool) {
	const grid = 8
	var best geom.Vec
	most := 0.0
	for _, s := range bodies {
		if s.part != part {
			continue
		}
		for _, f := range s.faces {
			if f.n.Dot(l.toward) < 0.1 || len(f.ring) != 4 {
				continue
			}
			for i := 1; i < grid; i++ {
				for k := 1; k < grid; k++ {
					p := onFace(f, float64(i)/grid, float64(k)/grid)
					room := float64(min(i, grid-i)*min(k, grid-k)) * math.Sqrt(f.n.Dot(l.toward)*areaOf(f))
					if room > most && seen(p, bodies, l.toward) {
						best, most = p, room
					}
				}
			}
		}
	}
	return l.onPaper(best), most > 0
}

func onFace(f face, i, k float64) geom.Vec {
	low := f.ring[0].Add(f.ring[1].Sub(f.ring[0]).Scale(i))
	high := f.ring[3].Add(f.ring[2].Sub(f.ring[3]).Scale(i))
	return low.Add(high.Sub(low).Scale(k))
}

func areaOf(f face) float64 {
	return f.ring[1].Sub(f.ring[0]).Cross(f.ring[3].Sub(f.ring[0])).Length()
}

// seen tells whether nothing stands between a point on a surface and the viewer.
func seen(p geom.Vec, bodies []solid, toward geom.Vec) bool {
	short := [2]geom.Vec{p, p.Add(geom.Vec{X: skin})}
	for _, s := range bodies {
		if _, hidden := hiddenBy(short, s, toward); hidden {
			return false
		}
	}
	return true
}
