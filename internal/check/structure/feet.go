package structure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/geom"
	"longgrain/internal/solve/spaceframe"
)

// findLoose reports what the frame cannot stand on or hold: no part on the floor, and parts that nothing ties to one
// that stands there.
func (f *frame) findLoose() {
	if len(f.a.Supports) == 0 {
		f.findings = append(f.findings, Finding{What: "nothing stands on the floor", Where: f.a.Name, Advice: "give the piece legs or sides that reach down to one level"})
		return
	}
	held := make([]bool, len(f.a.Parts))
	for _, s := range f.a.Supports {
		held[s.Part] = true
	}
	for _, s := range f.surfaces { // a lid may rest on what it is not connected to
		held[s.part] = held[s.part] || f.a.Parts[s.part].Role == "lid"
	}
	for _, d := range f.drawers {
		for _, i := range d.parts {
			held[i] = true
		}
	}
	for spread := true; spread; {
		spread = false
		for _, c := range f.a.Connections {
			if held[c.A.Part] != held[c.B.Part] {
				held[c.A.Part], held[c.B.Part], spread = true, true, true
			}
		}
	}
	for i, p := range f.a.Parts {
		if !held[i] {
			f.findings = append(f.findings, Finding{What: fmt.Sprintf("%s is not connected to anything that stands on the floor", p.Name), Where: p.Name,
				Advice: "connect it to a part beside it"})
		}
	}
}

// findEmpty reports parts without length, width or thickness, and a piece without parts.
func (f *frame) findEmpty() {
	if len(f.a.Parts) == 0 {
		f.findings = append(f.findings, Finding{What: "there are no parts", Where: cmp.Or(f.a.Name, "the piece"), Advice: "describe a part"})
	}
	for _, p := range f.a.Parts {
		if p.Length <= 0 || p.Width <= 0 || p.Thickness <= 0 {
			f.findings = append(f.findings, Finding{What: fmt.Sprintf("%s has no size", p.Name), Where: p.Name, Advice: "give it a length, a width and a thickness above nothing"})
		}
	}
}

// findUnsupported reports surfaces that lie on rails along one line only: they turn over it.
func (f *frame) findUnsupported() {
	for _, s := range f.surfaces {
		if held := f.heldWays(s); held[0] || held[1] || slices.ContainsFunc(s.carriers, f.upright) {
			continue
		}
		name := f.a.Parts[s.part].Name
		f.findings = append(f.findings, Finding{What: fmt.Sprintf("%s lies along one line only, so it turns over it", name), Where: name, Advice: "fasten it to a second rail, away from the first"})
	}
}

// findNarrow reports feet that all stand on one line.
func (f *frame) findNarrow() {
	if f.edges() == nil {
		f.findings = append(f.findings, Finding{What: "all feet stand on one line, so it falls over", Where: f.a.Name, Advice: "give it at least three feet that are not in line"})
	}
}

// standing returns the side by which an end of a part stands on the floor.
func (f *frame) standing(part int, low, high bool) (assembly.Side, bool) {
	for _, s := range f.a.Supports {
		if s.Part != part {
			continue
		}
		if s.Side.IsEnd() && ((low && !s.Side.High()) || (high && s.Side.High())) {
			return s.Side, true
		}
		if !s.Side.IsEnd() && (low || high) {
			return s.Side, true
		}
	}
	return 0, false
}

// wideShare is how much wider than thick the end of a part is when it stands on both ends of its width rather than in
// its middle. Judgement: legs are near square, sides of cases far from it.
const wideShare = 3

// floorStiffness is that of a foot on the floor, N/mm. It only has to be high beside the frame: the end of a board of 20 x 100 mm,
// shortened over 100 mm, has 2e5.
const floorStiffness = 2e5

// stand puts an end of a part on the floor. A foot can lift, but the stops that tests put beside it go on holding it sideways, so the
// two are kept apart: the end node is held sideways, and tied to it is a node that the floor can only push. A wide board, on its
// end or lying flat, stands on two such feet at the ends of its width, so that it can hold against turning.
func (f *frame) stand(part int, side assembly.Side, end *spaceframe.Node) {
	p := f.a.Parts[part]
	arms := []geom.Vec{{}}
	body := spaceframe.Body{Name: "foot of " + end.Name, Nodes: []string{end.Name}}
	if !side.IsEnd() { // it stands below its centre line
		arms[0] = p.Outward(side).Scale(p.Size(side.Axis()).MM() / 2)
		stop := spaceframe.Node{Name: end.Name + ", stop", At: spaceframe.Vec{end.At[0] + arms[0].X, end.At[1] + arms[0].Y, end.At[2] + arms[0].Z}}
		stop.Support.Hold[spaceframe.UX], stop.Support.Hold[spaceframe.UY] = floorStiffness, floorStiffness
		f.model.Nodes = append(f.model.Nodes, stop)
		body.Nodes = append(body.Nodes, stop.Name)
	} else {
		end.Support.Hold[spaceframe.UX], end.Support.Hold[spaceframe.UY] = floorStiffness, floorStiffness
	}
	if side.Axis() != 1 && p.Width >= wideShare*p.Thickness {
		half := p.Width.MM() / 2
		arms = []geom.Vec{arms[0].Add(p.Pose.Axes[1].Scale(half)), arms[0].Add(p.Pose.Axes[1].Scale(-half))}
		end.Support.Hold[spaceframe.RZ] = 2 * floorStiffness * half * half
	}
	for k, arm := range arms {
		foot := spaceframe.Node{Name: fmt.Sprintf("%s, foot %d", end.Name, k+1), At: spaceframe.Vec{end.At[0] + arm.X, end.At[1] + arm.Y, end.At[2] + arm.Z}}
		foot.Support.Hold[spaceframe.UZ] = floorStiffness
		foot.Support.Floor = &spaceframe.Floor{Normal: spaceframe.UZ}
		f.model.Nodes = append(f.model.Nodes, foot)
		body.Nodes = append(body.Nodes, foot.Name)
	}
	f.model.Bodies = append(f.model.Bodies, body)
}

// head is the upper end of an upright part: where a push arrives.
type head struct {
	node, part string
	at         geom.Vec
	z          float64
	arm        spaceframe.Vec // from the node to where the push arrives
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
		node := top.node
		if node == "" { // its end is jointed to the side of another part
			node = f.endNodes[endOf{i, top.x > 0}]
		}
		if at := f.centreLine(i, top.x); node != "" && at.Z > hi.Z*headShare {
			out = append(out, head{node: node, part: f.a.Parts[i].Name, at: at, z: at.Z})
		}
	}
	if len(out) == 0 {
		return f.rims(hi.Z)
	}
	return out
}

// headShare is the share of the full height above which a push may arrive. Judgement: just under a top.
const headShare = 0.8

// rims returns the upper corners of a box of boards whose grain lies level: where the boards that stand on the floor end, at their upper edge. None
// for what is no box.
func (f *frame) rims(height float64) []head {
	var out []head
	for i, fp := range f.parts {
		p := f.a.Parts[i]
		_, top := p.Box().Bounds()
		if fp.surface || !f.stands(i) || f.upright(i) || top.Z <= height*headShare {
			continue
		}
		for k := range 2 {
			s := fp.stations[k*(len(fp.stations)-1)]
			if s.node == "" {
				continue // its end is joined to another board, which has the corner
			}
			at := f.centreLine(i, s.x)
			lift := spaceframe.Vec{0, 0, top.Z - at.Z}
			at.Z = top.Z
			end := strings.TrimPrefix(f.a.SideName(i, [2]assembly.Side{assembly.EndLow, assembly.EndHigh}[k]), "the ")
			out = append(out, head{s.node, fmt.Sprintf("%s of the %s", end, p.Name), at, top.Z, lift})
		}
	}
	if len(out) < 3 {
		return nil
	}
	return out
}

func (f *frame) stands(part int) bool {
	return slices.ContainsFunc(f.a.Supports, func(s assembly.Support) bool { return s.Part == part })
}
