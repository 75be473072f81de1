package drawing

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/paper/scene"
)

// Bend is how a piece bends under a load: for each part the movement of its sections at equal steps from its low end to its high end. A part
// without sections is not drawn.
type Bend struct {
	Case  string
	Times float64 // by how much movements are drawn larger than they are
	Parts [][]Moved
	// Outline marks parts of which only the outline is drawn, such as a top that would hide the rest.
	Outline []bool
}

// Moved is how a section moves: the shift of its middle in mm and its turn in radians, in directions of the piece.
type Moved struct{ Shift, Turn geom.Vec }

// bentShare is the share of the largest size of a piece that its largest movement is drawn as. Judgement: seen at once, and the piece still known.
const bentShare = 0.07

// TimesFor returns by how much movements are to be drawn larger: a round number with which the largest of them shows.
func TimesFor(a assembly.Assembly, parts [][]Moved) float64 {
	lo, hi := a.Bounds()
	size := hi.Sub(lo)
	most := 0.0
	for _, sections := range parts {
		for _, m := range sections {
			most = max(most, m.Shift.Length())
		}
	}
	if most < 1e-9 {
		return 1
	}
	times := bentShare * max(size.X, size.Y, size.Z) / most
	k := math.Pow(10, math.Floor(math.Log10(times)))
	for _, round := range []float64{5, 2} {
		if times >= round*k {
			return max(1, round*k)
		}
	}
	return max(1, k)
}

// Bent draws a piece bent by a load, seen from the front right and above, over thin lines of where it stands without. Movements are drawn Times as
// large; the scale is said in the drawing.
func Bent(a assembly.Assembly, b Bend, st Style) scene.Scene {
	var straight, bent []solid
	for i := range a.Parts {
		if i >= len(b.Parts) || len(b.Parts[i]) == 0 {
			continue
		}
		body := solids(a, i)[0]
		if !b.outlined(i) {
			straight = append(straight, body)
		}
		bent = append(bent, bentSolids(a.Parts[i], body, b.Parts[i], b.Times)...)
	}
	var full, outline []solid
	for _, s := range bent {
		if b.outlined(s.part) {
			outline = append(outline, s)
		} else {
			full = append(full, s)
		}
	}
	s := scene.New("How " + a.Name + " bends")
	s.ID = "bent"
	s.Description = fmt.Sprintf("The piece seen from the front right and from above under %s, with its movements drawn %.0f times as large, over thin lines of where it stands without load.", b.Case, b.Times)
	if len(full) == 0 {
		return *s
	}
	width, height := st.frame()
	box := shadow(full[0], isometric)
	for _, x := range append(append(straight, full...), outline...) {
		box = box.Union(shadow(x, isometric))
	}
	k := min(width/box.Width(), (height*bentHeight-Lettering*2)/box.Height())
	v := scene.View{Ratio: scene.Ratio{Paper: k, Model: 1}}
	put := func(style scene.Style, lines []stroke) {
		for _, l := range lines {
			if !l.hidden {
				s.Line(style, v.At(l.from.X, l.from.Y), v.At(l.to.X, l.to.Y))
			}
		}
	}
	put(scene.Construction, strokes(straight, isometric))
	put(scene.Outline, strokes(full, isometric))
	for _, x := range outline {
		put(scene.Centre, strokes([]solid{x}, isometric))
	}
	at := s.Bounds()
	s.Add(scene.Text{Style: scene.Muted, At: scene.Point{X: at.Centre().X, Y: at.Min.Y - 2 - Lettering}, Text: fmt.Sprintf("movements %.0f times as large", b.Times), Height: Lettering, Align: scene.Middle})
	return *s
}

// bentHeight is the share of a page that the picture may take.
const bentHeight = 0.5

func (b Bend) outlined(part int) bool { return part < len(b.Outline) && b.Outline[part] }

// bentSolids cuts the body of a part between its sections and moves each piece's corners with them. Lines where pieces meet are left out.
func bentSolids(p assembly.Part, body solid, sections []Moved, times float64) []solid {
	along, length := p.Pose.Axes[0], p.Length.MM()
	start := p.Pose.Origin.Dot(along)
	n := len(sections) - 1
	moved := func(v geom.Vec) geom.Vec {
		x := (v.Dot(along) - start) / length * float64(n)
		k := min(max(int(x), 0), n-1)
		t := x - float64(k)
		shift := sections[k].Shift.Scale(1 - t).Add(sections[k+1].Shift.Scale(t))
		turn := sections[k].Turn.Scale(1 - t).Add(sections[k+1].Turn.Scale(t))
		middle := p.Pose.Out(geom.Vec{X: x / float64(n) * length, Y: p.Width.MM() / 2, Z: p.Thickness.MM() / 2})
		return v.Add(shift.Add(turn.Cross(v.Sub(middle))).Scale(times))
	}
	var out []solid
	for k := range n {
		low, high := start+length*float64(k)/float64(n), start+length*float64(k+1)/float64(n)
		faces := body.faces
		if k > 0 {
			faces = cutFaces(faces, plane{along.Scale(-1), -low})
		}
		if k < n-1 {
			faces = cutFaces(faces, plane{along, high})
		}
		if len(faces) < 4 {
			continue
		}
		piece := newSolid(body.part, faces)
		piece.edges = keepEdges(piece.edges, func(e [2]geom.Vec) bool {
			on := func(at float64) bool {
				return math.Abs(e[0].Dot(along)-at) < 1e-6 && math.Abs(e[1].Dot(along)-at) < 1e-6
			}
			return !(k > 0 && on(low)) && !(k < n-1 && on(high))
		})
		out = append(out, piece.bent(moved))
	}
	return out
}

func keepEdges(edges [][2]geom.Vec, keep func([2]geom.Vec) bool) [][2]geom.Vec {
	var out [][2]geom.Vec
	for _, e := range edges {
		if keep(e) {
			out = append(out, e)
		}
	}
	return out
}

// bent returns the body with its corners moved. Its faces are taken as flat again, each turned the way that its first corners say.
func (s solid) bent(moved func(geom.Vec) geom.Vec) solid {
	out := solid{part: s.part}
	for _, f := range s.faces {
		g := face{end: f.end}
		var middle geom.Vec
		for _, v := range f.ring {
			w := moved(v)
			g.ring = append(g.ring, w)
			middle = middle.Add(w.Scale(1 / float64(len(f.ring))))
		}
		var n geom.Vec // Newell's sum: the normal of the mean plane
		for i, v := range g.ring {
			w := g.ring[(i+1)%len(g.ring)]
			n = n.Add(v.Sub(middle).Cross(w.Sub(middle)))
		}
		if n.Dot(f.n) < 0 {
			n = n.Scale(-1)
		}
		g.n = n.Unit()
		g.d = math.Inf(1)
		for _, v := range g.ring { // a bent face is not quite flat: none of its corners may lie within the body, or it would hide itself
			g.d = min(g.d, g.n.Dot(v))
		}
		out.faces = append(out.faces, g)
	}
	for _, e := range s.edges {
		out.edges = append(out.edges, [2]geom.Vec{moved(e[0]), moved(e[1])})
	}
	return out
}
