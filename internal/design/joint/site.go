package joint

import (
	"fmt"
	"math"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/piece"
	"longgrain/internal/design/strength"
	"longgrain/internal/ground/geom"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
)

// Timber is the clear wood of one side of a joint, at the moisture content of use.
type Timber struct {
	Name      string
	Shear     unit.MPa // strength along the grain
	Bending   unit.MPa
	CrushPerp unit.MPa // proportional limit of compression across the grain
	Modulus   unit.MPa // along the grain
	Rolling   float64  // rolling shear as a share of Shear
	Gravity   float64  // at 12 %
	Splitting unit.MPa // strength in tension across the grain
	Density   unit.KilogramsPerCubicMetre
}

// grain returns the wood as a glue face finds it.
func (t Timber) grain() strength.Grain { return strength.Grain{Shear: t.Shear, Rolling: t.Rolling} }

// Site is a connection seen by a joint. Sites of one group are alike, so they share one joint.
type Site struct {
	Connection assembly.Connection
	Contact    assembly.Contact
	A, B       assembly.Part
	TimberA    Timber
	TimberB    Timber
	// Depth is the wood of B square to the contact. Room is how deep a pin may go into B so that it stays clear
	// of the far side and of pins that come in from the neighbouring side of B.
	Depth unit.Length
	Room  unit.Length
	// Near tells whether the low or the high end of the contact along U lies within NearEnd of an end of B,
	// where short grain splits.
	NearLow, NearHigh bool
	// Alone says that nothing else is joined to B along the contact, so that a cut may go through.
	Alone bool
	Wish  *piece.Joint
}

// NearEnd is the distance below which a contact counts as lying at the end of the receiving part.
// Common practice: the setback of a mortise from the end of a leg is 12 mm or more.
const NearEnd = 12 * unit.Millimetre

// Walls that stay standing. Common practice: rule D04 leaves 5 mm to the far face, rule D10 3 mm
// between bores that come in from two faces.
const (
	farWall  = 5 * unit.Millimetre
	bareWall = 3 * unit.Millimetre
)

// Sites returns the sites of all connections of an assembly that are joints, in the order of the connections. A missing
// figure of a species is an error that names it.
func Sites(a assembly.Assembly, m wood.Moisture) ([]Site, error) {
	var sites []Site
	for _, c := range a.Connections {
		if c.Purpose != assembly.Joint {
			continue
		}
		s, err := site(a, c, m)
		if err != nil {
			return nil, err
		}
		sites = append(sites, s)
	}
	return sites, nil
}

func site(a assembly.Assembly, c assembly.Connection, m wood.Moisture) (Site, error) {
	s := Site{Connection: c, Contact: a.Contact(c), A: a.Parts[c.A.Part], B: a.Parts[c.B.Part], Wish: c.Wish}
	var err error
	if s.TimberA, err = timber(s.A.Species, m); err != nil {
		return s, err
	}
	if s.TimberB, err = timber(s.B.Species, m); err != nil {
		return s, err
	}
	s.Depth = s.B.Size(c.B.Side.Axis())
	s.Room, s.Alone = s.Depth-farWall, true
	for _, other := range a.Connections {
		if other.Purpose != assembly.Joint || other.Name == c.Name {
			continue
		}
		if other.B.Part == c.B.Part && other.A.Side.IsEnd() {
			s.Room = min(s.Room, clear(s, other, a.Parts[other.A.Part]))
		}
		for _, at := range []assembly.Place{other.A, other.B} {
			switch {
			case at.Part != c.B.Part:
			case at.Side.IsEnd():
				s.Alone = s.Alone && !s.Contact.Corner
			default:
				s.Alone = s.Alone && !spansMeet(c.B, at)
			}
		}
	}
	s.NearLow, s.NearHigh = nearEnds(s)
	return s, nil
}

// reach is how deep a pin may go into A: from an end, so that it stays clear of one that comes in from the other end, and
// from a side so that it stays clear of the far side.
func (s Site) reach() unit.Length {
	if axis := s.Connection.A.Side.Axis(); axis != 0 {
		return s.A.Size(axis) - farWall
	}
	return (s.A.Length - bareWall) / 2
}

// meetsSide tells whether an end meets a side: what joints of frames and cases are made for.
func meetsSide(s Site) bool {
	return s.Connection.A.Side.IsEnd() && !s.Connection.B.Side.IsEnd()
}

// touches tells whether two long sides lie on each other.
func touches(s Site) bool {
	return !s.Connection.A.Side.IsEnd() && !s.Connection.B.Side.IsEnd() && !s.Contact.Crossing
}

// whole tells whether the whole of A's side meets B.
func (s Site) whole() bool {
	u, v := s.Connection.A.Side.UV()
	r := s.Connection.A.Area
	return r.SizeU() == s.A.Size(u) && r.SizeV() == s.A.Size(v)
}

// uAlongB tells whether U runs along the grain of B, as in a frame; in a case it runs across.
func (s Site) uAlongB() bool { return geom.Parallel(s.Connection.U, s.B.Pose.Axes[0]) }

// acrossB returns B's size in the direction of V, and how far A's low and high side in that direction lie inside B's
// outline.
func (s Site) acrossB() (size, low, high unit.Length) {
	r := s.Connection.A.Area
	for axis, direction := range s.B.Pose.Axes {
		if !geom.Parallel(direction, s.Connection.V) {
			continue
		}
		size = s.B.Size(axis)
		at := func(v unit.Length) unit.Length {
			x := unit.MM(s.B.Pose.In(s.A.OnSide(s.Connection.A.Side, r.U0, v, 0)).Along(axis))
			return x.RoundTo(unit.Micrometre)
		}
		low, high = at(r.V0), size-at(r.V1)
		if s.Connection.V.Dot(direction) < 0 {
			low, high = size-at(r.V0), at(r.V1)
		}
	}
	return size, low, high
}

// wished returns what the maker fixed for a kind, the zero value when nothing.
func (s Site) wished(k Kind) piece.Joint {
	if s.wishes(k) {
		return *s.Wish
	}
	return piece.Joint{}
}

// wishes tells whether the maker fixed a joint of this kind.
func (s Site) wishes(k Kind) bool { return s.Wish != nil && s.Wish.Kind == string(k) }

// clear returns how deep a pin may go before it comes too near the pins of another connection on a
// neighbouring side of the same part. Both parts' pins are taken to stand in the middle of their contact and to
// be half as thick as the part, the thickest that rule D01 allows.
func clear(s Site, other assembly.Connection, entering assembly.Part) unit.Length {
	mine, theirs := s.Connection.B, other.B
	if mine.Side == theirs.Side || !spansMeet(mine, theirs) {
		return s.Depth
	}
	if mine.Side.Axis() == theirs.Side.Axis() {
		return (s.Depth - bareWall) / 2 // they come in from the opposite side
	}
	u, v := theirs.Area.Centre()
	ua, _ := theirs.Side.UV()
	along := v
	if ua == mine.Side.Axis() {
		along = u
	}
	offset := along // of their pins from the side that mine enter
	if mine.Side.High() {
		offset = s.B.Size(mine.Side.Axis()) - along
	}
	return offset - entering.Thickness/4 - bareWall
}

// spansMeet tells whether two contacts on one part overlap along its grain.
func spansMeet(p, q assembly.Place) bool {
	lo1, hi1 := alongGrain(p)
	lo2, hi2 := alongGrain(q)
	return lo1 < hi2 && lo2 < hi1
}

// alongGrain returns the extent of a contact on a long side along the grain of its part.
func alongGrain(p assembly.Place) (lo, hi unit.Length) {
	if u, _ := p.Side.UV(); u == 0 {
		return p.Area.U0, p.Area.U1
	}
	return p.Area.V0, p.Area.V1
}

// nearEnds tells whether the low and the high end of the contact along A's U lie near an end of B.
func nearEnds(s Site) (low, high bool) {
	c := s.Connection
	if !geom.Parallel(c.U, s.B.Pose.Axes[0]) {
		return false, false
	}
	from, to := alongGrain(c.B)
	atLow, atHigh := from < NearEnd, s.B.Length-to < NearEnd
	if c.U.Dot(s.B.Pose.Axes[0]) < 0 {
		return atHigh, atLow
	}
	return atLow, atHigh
}

// splitShare is the strength across the grain over the shear strength, for the few species whose strength across the grain no
// source gives. Assumed: the lowest ratio of the table of [wood-handbook], balsam fir with 180 over 940 psi.
const splitShare = 0.19

func timber(id string, m wood.Moisture) (Timber, error) {
	species, ok := wood.Lookup(id)
	if !ok {
		return Timber{}, fmt.Errorf("joint: no species %q", id)
	}
	t := Timber{Name: species.Name, Rolling: strength.RollingSoft}
	if species.Group == wood.Hardwood {
		t.Rolling = strength.RollingHard
	}
	for _, need := range []struct {
		to *unit.MPa
		p  wood.Property
	}{{&t.Shear, wood.ShearParallel}, {&t.Bending, wood.BendingStrength}, {&t.CrushPerp, wood.CompressionPerpendicular}} {
		f, ok := species.AtOrRelated(need.p, m)
		if !ok {
			return t, fmt.Errorf("no source gives the %s of %s, so its joints cannot be worked out: choose a species with published figures", need.p, species.Name)
		}
		*need.to = f.Value
	}
	e, okE := species.LongitudinalModulus(m)
	g, okG := species.Gravity()
	d, okD := species.Density(m)
	if !okE || !okG || !okD {
		return t, fmt.Errorf("no source gives modulus and density of %s", species.Name)
	}
	t.Modulus, t.Gravity, t.Density = e.Value, float64(g.Value), d.Value
	t.Splitting = unit.MPa(splitShare) * t.Shear
	if f, ok := species.At(wood.TensionPerpendicular, m); ok {
		t.Splitting = f.Value
	}
	return t, nil
}

// bedU is the side of B under the end of A when the joint is bent the strong way; bedV the same the weak way. Where the
// grain of B runs square to the contact depth, the pressed strip counts as longer by what helps beyond one of its ends,
// [en-1995-1-1] 6.1.5, from memory.
func (s Site) bedU() strength.Bed { return s.bed(s.Thick(), s.grainAlongU()) }

func (s Site) bedV() strength.Bed { return s.bed(s.Height(), !s.grainAlongU()) }

func (s Site) bed(strip float64, along bool) strength.Bed {
	if !along {
		strip += math.Min(strip, 30)
	}
	return strength.Bed{Load: strength.CrushFactor * float64(s.TimberB.CrushPerp) * strip, Along: along}
}

// grainAlongU tells whether the grain of B runs along U, as that of a leg does for a rail. A site without places in space
// is taken so.
func (s Site) grainAlongU() bool {
	u, grain := s.Connection.U, s.B.Pose.Axes[0]
	return u.Dot(u) == 0 || grain.Dot(grain) == 0 || geom.Parallel(u, grain)
}

// Height is the extent of the contact along U in mm: the width of a rail. Thick is that along V.
func (s Site) Height() float64 { return s.Connection.A.Area.SizeU().MM() }

// Thick is the extent of the contact along V in mm.
func (s Site) Thick() float64 { return s.Connection.A.Area.SizeV().MM() }

// toB takes a point of A's end side to B's side, as u and v there.
func (s Site) toB(u, v unit.Length) (ub, vb unit.Length) {
	at := s.B.Pose.In(s.A.OnSide(s.Connection.A.Side, u, v, 0))
	ua, va := s.Connection.B.Side.UV()
	if s.angled() { // what comes out of sines is equal for mirrored parts only when it is rounded
		return unit.MM(at.Along(ua)).RoundTo(unit.Micrometre), unit.MM(at.Along(va)).RoundTo(unit.Micrometre)
	}
	return unit.MM(at.Along(ua)), unit.MM(at.Along(va))
}

// turnedOnB tells whether A's U direction is B's v direction rather than its u.
func (s Site) turnedOnB() bool {
	ua, _ := s.Connection.B.Side.UV()
	return math.Abs(s.Connection.U.Dot(s.B.Pose.Axes[ua])) < 0.5
}

// spread places n pins along U, the first and the last as far apart as the edge distance allows, on whole
// marks. False when they come closer than the least spacing.
func (s Site) spread(n int, edge, spacing, mark unit.Length) ([]unit.Length, bool) {
	r := s.Connection.A.Area
	lo, hi := r.U0+edge, r.U1-edge
	if s.NearLow {
		lo += edge / 3
	}
	if s.NearHigh {
		hi -= edge / 3
	}
	if n == 1 {
		return []unit.Length{((r.U0 + r.U1) / 2).RoundTo(mark)}, lo <= hi
	}
	out := make([]unit.Length, n)
	for i := range out {
		out[i] = (lo + (hi-lo)*unit.Length(i)/unit.Length(n-1)).RoundTo(mark)
	}
	return out, out[1]-out[0] >= spacing && out[0] > r.U0 && out[n-1] < r.U1
}

// middleV is the middle of the contact through the thickness.
func (s Site) middleV() unit.Length {
	r := s.Connection.A.Area
	return (r.V0 + r.V1) / 2
}
