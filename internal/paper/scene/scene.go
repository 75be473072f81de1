// Package scene holds drawings in general: lines, arcs, areas, text and dimensions on paper.
//
// A Scene is a list of items in millimetres on paper, x to the right and y up; only the writers turn
// y round where their format wants it. Line weights and colours follow from the meaning of an item
// (its Style), never from the caller, so that every drawing of a book looks alike. Views bring model
// millimetres to paper at a preferred ratio, and Dimensions places measures, notes and labels so that
// no two texts cover one another.
//
// What comes in is plain numbers; what goes out is a value that the packages svg, pdf and dxf write.
// The package knows no wood and no file format, and it does not project solids: views arrive as lines.
package scene

// Point is a place on paper in millimetres, x to the right and y up.
type Point struct{ X, Y float64 }

// Plus returns p moved by dx and dy millimetres.
func (p Point) Plus(dx, dy float64) Point { return Point{p.X + dx, p.Y + dy} }

// Scene is one drawing.
type Scene struct {
	// ID names the drawing within a document; it may be empty.
	ID string
	// Title and Description are what a screen reader says instead of the picture.
	Title, Description string
	// Ratio is the scale the drawing was made at; the zero value means not to scale.
	Ratio Ratio
	// Items are drawn in order, later ones over earlier ones.
	Items []Item
}

// Item is one thing on the drawing: a Line, Polyline, Polygon, Circle, Arc, Text or Group.
type Item interface {
	// moved returns the item scaled by k about the origin and then moved by d.
	moved(k float64, d Point) Item
	// bounds returns the smallest upright box around the item, without line width.
	bounds() Box
}

// Line is a straight line.
type Line struct {
	Style    Style
	From, To Point
}

// Polyline is a row of straight lines, open unless the last point repeats the first.
type Polyline struct {
	Style  Style
	Points []Point
}

// Polygon is an area with a border, and with holes where Holes has rings. It is filled by the
// even-odd rule and hatched over the fill.
type Polygon struct {
	Style  Style
	Points []Point
	Holes  [][]Point
	Fill   Fill
	Hatch  Hatch
}

// Circle is a full circle.
type Circle struct {
	Style  Style
	Centre Point
	Radius float64
	Fill   Fill
}

// Arc is a part of a circle, drawn counter-clockwise from Start to End, both in degrees from the x axis.
type Arc struct {
	Style      Style
	Centre     Point
	Radius     float64
	Start, End float64
}

// Group holds items that belong together, so that they can be picked on a screen by ID and read out
// by Title.
type Group struct {
	ID, Title string
	Items     []Item
}

// New returns an empty scene with the given title.
func New(title string) *Scene { return &Scene{Title: title} }

// Add appends items to the scene.
func (s *Scene) Add(items ...Item) { s.Items = append(s.Items, items...) }

// Line appends a straight line.
func (s *Scene) Line(style Style, from, to Point) { s.Add(Line{style, from, to}) }

// Polyline appends a row of straight lines.
func (s *Scene) Polyline(style Style, points ...Point) { s.Add(Polyline{style, points}) }

// Polygon appends a closed outline with a fill.
func (s *Scene) Polygon(style Style, fill Fill, points ...Point) {
	s.Add(Polygon{Style: style, Fill: fill, Points: points})
}

// Rectangle appends the upright rectangle between two opposite corners.
func (s *Scene) Rectangle(style Style, fill Fill, a, b Point) {
	s.Add(Rectangle(style, fill, a, b))
}

// Circle appends a full circle without a fill.
func (s *Scene) Circle(style Style, centre Point, radius float64) {
	s.Add(Circle{Style: style, Centre: centre, Radius: radius})
}

// Text appends text starting at the left end of its baseline, height millimetres high.
func (s *Scene) Text(at Point, height float64, text string) {
	s.Add(Text{At: at, Height: height, Text: text})
}

// Rectangle returns the upright rectangle between two opposite corners.
func Rectangle(style Style, fill Fill, a, b Point) Polygon {
	return Polygon{Style: style, Fill: fill, Points: []Point{a, {b.X, a.Y}, b, {a.X, b.Y}}}
}

// Bounds returns the smallest upright box around everything in the scene, text by its font metrics,
// without line widths. An empty scene has the empty box.
func (s Scene) Bounds() Box { return boundsOf(s.Items) }

// Size returns width and height of Bounds, 0 and 0 for an empty scene.
func (s Scene) Size() (width, height float64) {
	b := s.Bounds()
	if b.Empty() {
		return 0, 0
	}
	return b.Width(), b.Height()
}

// Moved returns the items of s scaled by k about the origin and then moved by d. Line weights, dashes
// and hatch spacing stay as they are; text grows and shrinks.
func (s Scene) Moved(k float64, d Point) []Item { return movedItems(s.Items, k, d) }

func movedItems(items []Item, k float64, d Point) []Item {
	out := make([]Item, len(items))
	for i, it := range items {
		out[i] = it.moved(k, d)
	}
	return out
}

func movedPoints(points []Point, k float64, d Point) []Point {
	out := make([]Point, len(points))
	for i, p := range points {
		out[i] = p.moved(k, d)
	}
	return out
}

func (p Point) moved(k float64, d Point) Point { return Point{k*p.X + d.X, k*p.Y + d.Y} }

func (l Line) moved(k float64, d Point) Item {
	return Line{l.Style, l.From.moved(k, d), l.To.moved(k, d)}
}

func (l Polyline) moved(k float64, d Point) Item {
	return Polyline{l.Style, movedPoints(l.Points, k, d)}
}

func (p Polygon) moved(k float64, d Point) Item {
	q := p
	q.Points = movedPoints(p.Points, k, d)
	q.Holes = nil
	for _, h := range p.Holes {
		q.Holes = append(q.Holes, movedPoints(h, k, d))
	}
	return q
}

func (c Circle) moved(k float64, d Point) Item {
	c.Centre, c.Radius = c.Centre.moved(k, d), c.Radius*k
	return c
}

func (a Arc) moved(k float64, d Point) Item {
	a.Centre, a.Radius = a.Centre.moved(k, d), a.Radius*k
	return a
}

func (g Group) moved(k float64, d Point) Item {
	return Group{g.ID, g.Title, movedItems(g.Items, k, d)}
}

// Walk calls visit for each item of the scene in drawing order, going into groups; a group itself is
// not visited.
func (s Scene) Walk(visit func(Item)) { walk(s.Items, visit) }

func walk(items []Item, visit func(Item)) {
	for _, it := range items {
		if g, ok := it.(Group); ok {
			walk(g.Items, visit)
			continue
		}
		visit(it)
	}
}

// Texts returns every text of the scene in drawing order.
func (s Scene) Texts() []Text {
	var out []Text
	s.Walk(func(it Item) {
		if t, ok := it.(Text); ok {
			out = append(out, t)
		}
	})
	return out
}
