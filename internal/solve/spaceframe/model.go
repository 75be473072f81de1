package spaceframe

import "math"

// Vec is a direction, a place, a force or a moment in space: x, y, z.
type Vec [3]float64

// Vec6 holds three translations (or forces) and then three rotations (or moments), indexed by DOF.
type Vec6 [6]float64

// DOF names one direction of motion, and the force or moment that goes with it.
type DOF int

// The six directions; an index into Vec6.
const (
	UX DOF = iota
	UY
	UZ
	RX
	RY
	RZ
)

var dofNames = [6]string{"ux", "uy", "uz", "rx", "ry", "rz"}

// String returns the short name: ux, uy, uz, rx, ry, rz.
func (d DOF) String() string {
	if d < UX || d > RZ {
		return "dof?"
	}
	return dofNames[d]
}

// Rigid returns the stiffness of a connection that does not give: plus infinity.
func Rigid() float64 { return math.Inf(1) }

// Model is a frame. Names of nodes and of members must be unique. It is read, never changed.
type Model struct {
	Nodes   []Node
	Members []Member
	Bodies  []Body
}

// Node is a point of the frame. Mass counts in self weight and in vibration.
type Node struct {
	Name    string
	At      Vec
	Support Support
	Mass    float64
}

// Support holds a node against the ground. Hold is the stiffness in each global direction: 0 free,
// Rigid() held, anything between a spring. Floor, if given, makes the support one-sided.
type Support struct {
	Hold  Vec6
	Floor *Floor
}

// Floor makes a support one-sided: the ground can push the node but not pull it. A node that lifts loses every
// hold of its support. Normal is UX, UY or UZ and must be held; Down turns the push to the negative direction.
// Friction limits the sideways force to Friction times the push; 0 means no limit.
type Floor struct {
	Normal   DOF
	Down     bool
	Friction float64
}

func (f *Floor) sense() float64 {
	if f.Down {
		return -1
	}
	return 1
}

// Pinned returns a support that holds the three translations and leaves the rotations free.
func Pinned() Support {
	return Support{Hold: Vec6{UX: Rigid(), UY: Rigid(), UZ: Rigid()}}
}

// Fixed returns a support that holds all six directions.
func Fixed() Support {
	s := Pinned()
	s.Hold[RX], s.Hold[RY], s.Hold[RZ] = Rigid(), Rigid(), Rigid()
	return s
}

// Foot returns a pinned support on a floor below it (z upwards): it can lift, and slides beyond the given
// coefficient of friction (0: no limit). Only weight keeps such feet down: a frame pushed sideways with no load
// on it tips over, so give Gravity.
func Foot(friction float64) Support {
	s := Pinned()
	s.Floor = &Floor{Normal: UZ, Friction: friction}
	return s
}

// Springs are the stiffnesses between a member's end and its node, in the member's local directions.
// A direction that is absent or Rigid() is rigid, 0 is released. A node that all its members release in one
// rotation can turn by itself, and is reported as a mechanism.
type Springs map[DOF]float64

// Member is a straight prismatic bar from node I to node J.
//
// The local x axis runs from the I end to the J end, y lies in the plane of x and YAxis, z completes the
// right-handed set. A zero YAxis chooses y horizontal (z cross x), or global y for a member along global z.
// OffsetI and OffsetJ are rigid arms in global directions from the node to the member's end.
// Divisions cuts the member for second order, buckling and vibration; 0 leaves the choice to Options.
type Member struct {
	Name     string
	I, J     string
	Section  Section
	Material Material
	YAxis    Vec

	OffsetI, OffsetJ   Vec
	SpringsI, SpringsJ Springs

	Divisions int
}

// Material is elastic along the member. Density (mass per volume) is used for self weight and vibration only.
type Material struct {
	E, G, Density float64
}

// Body is a set of nodes tied to move as one rigid body.
//
// With Plane false all six directions are tied (a rigid link). With Plane true only the motions within the
// plane square to Normal (UX, UY or UZ) are tied: two translations and the rotation about the normal, which is
// what a stiff top does in its own plane.
// Only one node of a body may be held rigidly in a tied direction, and no node may have one direction tied twice.
type Body struct {
	Name   string
	Nodes  []string
	Plane  bool
	Normal DOF
}

// tied reports whether the body ties the direction d of its nodes.
func (b Body) tied(d DOF) bool {
	if !b.Plane {
		return true
	}
	if d >= RX {
		return d-RX == b.Normal
	}
	return d != b.Normal
}

// Case is one set of loads acting together. Gravity is an acceleration; with it members weigh
// density times area per length and nodes their mass.
type Case struct {
	Name    string
	Gravity Vec
	Nodal   []NodalLoad
	Point   []PointLoad
	Spread  []SpreadLoad
}

// NodalLoad acts on a node in global directions.
type NodalLoad struct {
	Node          string
	Force, Moment Vec
}

// PointLoad acts on a member at the distance At from its I end (the end of the offset).
// Local says that Force and Moment are in the member's own directions.
type PointLoad struct {
	Member        string
	At            float64
	Force, Moment Vec
	Local         bool
}

// SpreadLoad is a force per length of member, running linearly from Start at distance From to End at
// distance To. From and To both zero mean the whole member. Local as in PointLoad.
type SpreadLoad struct {
	Member     string
	From, To   float64
	Start, End Vec
	Local      bool
}

// Uniform returns the load w per length, in global directions, over a whole member.
func Uniform(member string, w Vec) SpreadLoad {
	return SpreadLoad{Member: member, Start: w, End: w}
}

// Options chooses what is worked out. The zero value is linear statics.
type Options struct {
	SecondOrder bool // equilibrium in the deformed shape, by geometric stiffness
	Buckling    int  // how many of the lowest positive buckling factors per case
	Divisions   int  // elements per member; 0: 1 for linear statics, DefaultDivisions otherwise
}

// DefaultDivisions is the number of elements per member where the answer depends on it: with four, the
// buckling load of a member between its nodes is within 0.1 % (docs/methods/spaceframe.md).
const DefaultDivisions = 4

func (o Options) divisions() int {
	if o.Divisions > 0 {
		return o.Divisions
	}
	if o.SecondOrder || o.Buckling > 0 {
		return DefaultDivisions
	}
	return 1
}

func (v Vec) plus(w Vec) Vec          { return Vec{v[0] + w[0], v[1] + w[1], v[2] + w[2]} }
func (v Vec) minus(w Vec) Vec         { return Vec{v[0] - w[0], v[1] - w[1], v[2] - w[2]} }
func (v Vec) times(s float64) Vec     { return Vec{v[0] * s, v[1] * s, v[2] * s} }
func (v Vec) dot(w Vec) float64       { return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] }
func (v Vec) length() float64         { return math.Sqrt(v.dot(v)) }
func (v Vec) finite() bool            { return finite(v[:]...) }
func (v Vec6) force() Vec             { return Vec{v[0], v[1], v[2]} }
func (v Vec6) moment() Vec            { return Vec{v[3], v[4], v[5]} }
func join(force, moment Vec) (v Vec6) { copy(v[:3], force[:]); copy(v[3:], moment[:]); return v }

func (v Vec) cross(w Vec) Vec {
	return Vec{v[1]*w[2] - v[2]*w[1], v[2]*w[0] - v[0]*w[2], v[0]*w[1] - v[1]*w[0]}
}

func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
