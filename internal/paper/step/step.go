// Package step writes solids as an ISO 10303-21 exchange file of application protocol 214: one product a part, with its
// name, colour and exact boundary, placed in one assembly. Round faces stay round.
//
// Sources: ISO 10303-21 (file form), ISO 10303-42 (geometry and topology), ISO 10303-214 (products, placements, colours),
// from memory; what is written is opened again by Open CASCADE in a test.
package step

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/solid"
)

// Part is one solid of an assembly, in its own frame, with the pose that places it. Number and Name are the identifier and
// name of its product. Colour is red, green, blue from 0 to 1.
type Part struct {
	Number, Name string
	Body         solid.Body
	Pose         geom.Pose
	Colour       [3]float64
}

// timeless is the time stamp of every file, so that the same parts give the same bytes.
const timeless = "1970-01-01T00:00:00"

// Write returns the file of an assembly. With a single part it holds that part alone, where it lies in its own frame.
func Write(name string, parts []Part) []byte {
	w := &writer{}
	fmt.Fprintf(&w.out, "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('solids of a described piece'),'2;1');\nFILE_NAME(%s,'%s',(''),(''),'Longgrain','Longgrain','');\nFILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));\nENDSEC;\nDATA;\n", text(name), timeless)
	w.context()
	var styled []int
	var made []product
	for _, p := range parts {
		brep := w.body(p.Name, p.Body)
		made = append(made, w.product(p.Number, p.Name, "ADVANCED_BREP_SHAPE_REPRESENTATION", []int{w.world, brep}))
		styled = append(styled, w.paint(brep, p.Colour))
	}
	if len(parts) > 1 {
		items := []int{w.world}
		places := make([]int, len(parts))
		for i, p := range parts {
			places[i] = w.axes(p.Pose.Origin, p.Pose.Axes[2], p.Pose.Axes[0])
			items = append(items, places[i])
		}
		whole := w.product(name, name, "SHAPE_REPRESENTATION", items)
		for i, p := range parts {
			w.place(whole, made[i], places[i], i+1, p.Name)
		}
	}
	w.add("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',%s,#%d)", list(styled), w.space)
	w.out.WriteString("ENDSEC;\nEND-ISO-10303-21;\n")
	return w.out.Bytes()
}

type writer struct {
	out   bytes.Buffer
	last  int
	app   int // application context
	part  int // product context
	view  int // product definition context
	space int // geometric representation context
	world int // the frame of the file
}

// add writes an entity and returns its number.
func (w *writer) add(format string, a ...any) int {
	w.last++
	fmt.Fprintf(&w.out, "#%d=%s;\n", w.last, fmt.Sprintf(format, a...))
	return w.last
}

func (w *writer) context() {
	w.app = w.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')")
	w.add("APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#%d)", w.app)
	w.part = w.add("PRODUCT_CONTEXT('',#%d,'mechanical')", w.app)
	w.view = w.add("PRODUCT_DEFINITION_CONTEXT('part definition',#%d,'design')", w.app)
	mm := w.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))")
	rad := w.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))")
	sr := w.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())")
	near := w.add("UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-05),#%d,'distance_accuracy_value','two points nearer than this are one')", mm)
	w.space = w.add("(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#%d))GLOBAL_UNIT_ASSIGNED_CONTEXT((#%d,#%d,#%d))REPRESENTATION_CONTEXT('',''))", near, mm, rad, sr)
	w.world = w.axes(geom.Vec{}, geom.Axis(2), geom.Axis(0))
}

type product struct{ definition, shape int }

func (w *writer) product(number, name, kind string, items []int) product {
	p := w.add("PRODUCT(%s,%s,'',(#%d))", text(number), text(name), w.part)
	w.add("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(#%d))", p)
	version := w.add("PRODUCT_DEFINITION_FORMATION('','',#%d)", p)
	definition := w.add("PRODUCT_DEFINITION('design','',#%d,#%d)", version, w.view)
	is := w.add("PRODUCT_DEFINITION_SHAPE('','',#%d)", definition)
	shape := w.add("%s(%s,%s,#%d)", kind, text(name), list(items), w.space)
	w.add("SHAPE_DEFINITION_REPRESENTATION(#%d,#%d)", is, shape)
	return product{definition, shape}
}

func (w *writer) place(whole, part product, at, number int, name string) {
	use := w.add("NEXT_ASSEMBLY_USAGE_OCCURRENCE('%d',%s,'',#%d,#%d,$)", number, text(name), whole.definition, part.definition)
	is := w.add("PRODUCT_DEFINITION_SHAPE('','',#%d)", use)
	move := w.add("ITEM_DEFINED_TRANSFORMATION('','',#%d,#%d)", w.world, at)
	relation := w.add("(REPRESENTATION_RELATIONSHIP('','',#%d,#%d)REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#%d)SHAPE_REPRESENTATION_RELATIONSHIP())", part.shape, whole.shape, move)
	w.add("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#%d,#%d)", relation, is)
}

func (w *writer) paint(item int, c [3]float64) int {
	rgb := w.add("COLOUR_RGB('',%s,%s,%s)", number(c[0]), number(c[1]), number(c[2]))
	fill := w.add("FILL_AREA_STYLE_COLOUR('',#%d)", rgb)
	area := w.add("FILL_AREA_STYLE('',(#%d))", fill)
	surface := w.add("SURFACE_STYLE_FILL_AREA(#%d)", area)
	side := w.add("SURFACE_SIDE_STYLE('',(#%d))", surface)
	usage := w.add("SURFACE_STYLE_USAGE(.BOTH.,#%d)", side)
	style := w.add("PRESENTATION_STYLE_ASSIGNMENT((#%d))", usage)
	return w.add("STYLED_ITEM('',(#%d),#%d)", style, item)
}

// body writes the boundary of a solid and returns the number of the solid.
func (w *writer) body(name string, b solid.Body) int {
	vertex := make([]int, len(b.Vertices))
	for i, v := range b.Vertices {
		vertex[i] = w.add("VERTEX_POINT('',#%d)", w.point(v))
	}
	edge := make([]int, len(b.Edges))
	for i, e := range b.Edges {
		edge[i] = w.add("EDGE_CURVE('',#%d,#%d,#%d,.T.)", vertex[e.From], vertex[e.To], w.curve(b, e))
	}
	var faces []int
	for _, f := range b.Faces {
		var bounds []int
		for i, loop := range f.Loops {
			var uses []int
			for _, u := range loop {
				uses = append(uses, w.add("ORIENTED_EDGE('',*,*,#%d,%s)", edge[u.Edge], logical(!u.Backward)))
			}
			kind := "FACE_BOUND"
			if i == 0 {
				kind = "FACE_OUTER_BOUND"
			}
			bounds = append(bounds, w.add("%s('',#%d,.T.)", kind, w.add("EDGE_LOOP('',%s)", list(uses))))
		}
		ref := b.Vertices[b.Edges[f.Loops[0][0].Edge].From].Sub(f.At)
		ref = ref.Sub(f.Normal.Scale(ref.Dot(f.Normal)))
		if ref.Length() < solid.Tiny {
			ref = geom.Vec{} // axes picks one
		}
		frame := w.axes(f.At, f.Normal, ref)
		surface := 0
		if f.Surface == solid.Flat {
			surface = w.add("PLANE('',#%d)", frame)
		} else {
			surface = w.add("CYLINDRICAL_SURFACE('',#%d,%s)", frame, number(f.Radius))
		}
		faces = append(faces, w.add("ADVANCED_FACE('',%s,#%d,%s)", list(bounds), surface, logical(!f.Hollow)))
	}
	shell := w.add("CLOSED_SHELL('',%s)", list(faces))
	return w.add("MANIFOLD_SOLID_BREP(%s,#%d)", text(name), shell)
}

func (w *writer) curve(b solid.Body, e solid.Edge) int {
	if e.Curve == solid.Line {
		from, to := b.Vertices[e.From], b.Vertices[e.To]
		along := to.Sub(from)
		return w.add("LINE('',#%d,#%d)", w.point(from), w.add("VECTOR('',#%d,%s)", w.direction(along.Unit()), number(along.Length())))
	}
	frame := w.axes(e.Centre, e.Axis, e.Major)
	if math.Abs(e.A-e.B) < solid.Tiny {
		return w.add("CIRCLE('',#%d,%s)", frame, number(e.A))
	}
	return w.add("ELLIPSE('',#%d,%s,%s)", frame, number(e.A), number(e.B))
}

func (w *writer) axes(at, axis, ref geom.Vec) int {
	if ref.Length() == 0 {
		ref = geom.Axis(0)
		if math.Abs(axis.X) > 0.8 {
			ref = geom.Axis(1)
		}
		ref = ref.Sub(axis.Scale(ref.Dot(axis)))
	}
	return w.add("AXIS2_PLACEMENT_3D('',#%d,#%d,#%d)", w.point(at), w.direction(axis), w.direction(ref.Unit()))
}

func (w *writer) point(p geom.Vec) int {
	return w.add("CARTESIAN_POINT('',(%s,%s,%s))", number(p.X), number(p.Y), number(p.Z))
}

func (w *writer) direction(d geom.Vec) int {
	return w.add("DIRECTION('',(%s,%s,%s))", number(d.X), number(d.Y), number(d.Z))
}

func logical(b bool) string {
	if b {
		return ".T."
	}
	return ".F."
}

// list writes references in brackets.
func list(numbers []int) string {
	out := make([]string, len(numbers))
	for i, n := range numbers {
		out[i] = "#" + strconv.Itoa(n)
	}
	return "(" + strings.Join(out, ",") + ")"
}

// number writes a real number: always with a point, never with an exponent, to a picometre.
func number(x float64) string {
	s := strings.TrimRight(strconv.FormatFloat(x, 'f', 12, 64), "0")
	if s == "-0." {
		return "0."
	}
	return s
}

// text writes a string: quotes doubled, what is not printable ASCII as ISO 10646 in hexadecimal.
func text(s string) string {
	var b strings.Builder
	b.WriteByte('\'')
	for _, r := range s {
		switch {
		case r == '\'':
			b.WriteString("''")
		case r == '\\':
			b.WriteString(`\\`)
		case r >= ' ' && r < 127:
			b.WriteRune(r)
		case r > 0xffff:
			fmt.Fprintf(&b, `\X4\%08X\X0\`, r)
		default:
			fmt.Fprintf(&b, `\X2\%04X\X0\`, r)
		}
	}
	b.WriteByte('\'')
	return b.String()
}
