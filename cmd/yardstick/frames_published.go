package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	sf "longgrain/internal/solve/spaceframe"
)

// published compares one case of published_frames.json.
func (r *frameReport) published(id string, raw []byte) error {
	solve, ok := map[string]func(id string, raw []byte) error{
		"logan_5_30": r.planeFrame, "ssll14": r.planeFrame,
		"aisc_case1": r.beamColumn, "aisc_case2": r.beamColumn,
		"pyramid_exB_lc1": r.pyramid,
	}[id]
	if !ok {
		r.skip("%s: unknown case", id)
		return nil
	}
	return solve(id, raw)
}

// planeMember reads both ["A", "B"] and {"i": "A", "j": "B", "I": 1}.
type planeMember struct {
	I, J    string
	Inertia float64
}

// UnmarshalJSON reads either form.
func (m *planeMember) UnmarshalJSON(text []byte) error {
	var pair [2]string
	if json.Unmarshal(text, &pair) == nil {
		m.I, m.J = pair[0], pair[1]
		return nil
	}
	var named map[string]any // by exact key: "i" and "I" differ
	if err := json.Unmarshal(text, &named); err != nil {
		return err
	}
	m.I, _ = named["i"].(string)
	m.J, _ = named["j"].(string)
	m.Inertia, _ = named["I"].(float64)
	return nil
}

// planeFrame solves a frame in x and y. Feet are the nodes at y = 0: held in all directions, or pinned for ssll14.
func (r *frameReport) planeFrame(id string, raw []byte) error {
	var c struct {
		Nodes      map[string][2]float64
		Members    []planeMember
		Section    struct{ A, I float64 }
		E          float64
		Loads      map[string]any
		Expected   map[string]map[string]float64
		Recomputed map[string]map[string]float64 `json:"recomputed_here"`
	}
	if err := json.Unmarshal(raw, &c); err != nil {
		return err
	}
	var m sf.Model
	for _, name := range slices.Sorted(maps.Keys(c.Nodes)) {
		at := c.Nodes[name]
		s := sf.Support{Hold: sf.Vec6{sf.UZ: sf.Rigid(), sf.RX: sf.Rigid(), sf.RY: sf.Rigid()}}
		if at[1] == 0 {
			s = sf.Fixed()
			if id == "ssll14" {
				s.Hold[sf.RZ] = 0
			}
		}
		m.Nodes = append(m.Nodes, sf.Node{Name: name, At: sf.Vec{at[0], at[1], 0}, Support: s})
	}
	for _, b := range c.Members {
		area, inertia := c.Section.A, c.Section.I
		if b.Inertia != 0 {
			area, inertia = 1, b.Inertia // the case states A = 1 for axially rigid
		}
		m.Members = append(m.Members, sf.Member{Name: b.I + "-" + b.J, I: b.I, J: b.J, Material: sf.Material{E: c.E, G: c.E / 2.6},
			Section: sf.Section{Area: area, Iy: inertia, Iz: inertia, J: inertia}})
	}
	var k sf.Case
	for _, name := range slices.Sorted(maps.Keys(c.Loads)) {
		switch load := c.Loads[name].(type) {
		case map[string]any:
			f := flatten(load)
			k.Nodal = append(k.Nodal, sf.NodalLoad{Node: name, Force: sf.Vec{f["Fx"], f["Fy"], 0}, Moment: sf.Vec{0, 0, f["Mz"]}})
		case string: // ssll14: 3000 N per horizontal metre on D-C
			d, e := c.Nodes["D"], c.Nodes["C"]
			run := e[0] - d[0]
			k.Spread = append(k.Spread, sf.Uniform(name, sf.Vec{0, -3000 * run / math.Hypot(run, e[1]-d[1]), 0}))
		}
	}
	a := solveFrame(m, k, sf.Options{})
	directions := map[string]sf.DOF{"RFx": sf.UX, "RFy": sf.UY, "RMz": sf.RZ, "ux": sf.UX, "uy": sf.UY, "rz": sf.RZ}
	sets := map[string]map[string]map[string]float64{"expected": c.Expected, "recomputed_here": c.Recomputed}
	for _, set := range slices.Sorted(maps.Keys(sets)) {
		want := sets[set]
		for _, node := range slices.Sorted(maps.Keys(want)) {
			for _, q := range slices.Sorted(maps.Keys(want[node])) {
				got := a.At(node)
				if q[0] == 'R' {
					got = a.ReactionAt(node)
				}
				r.row(a, fmt.Sprintf("%s/-/%s %s/%s", id, node, q, set), got[directions[q]], want[node][q])
			}
		}
	}
	return nil
}

// beamColumn solves AISC benchmark 1 (pinned, uniform load) or 2 (cantilever, tip load) for each axial load.
func (r *frameReport) beamColumn(id string, raw []byte) error {
	var c struct {
		L, E, I, A, H float64
		W             float64                       `json:"w_kip_per_ft"`
		Expected      map[string]map[string]float64 `json:"expected_vs_P"`
		Exact         map[string][2]float64         `json:"exact_no_shear"`
	}
	if err := json.Unmarshal(raw, &c); err != nil {
		return err
	}
	i, j := simpleEnds()
	if id == "aisc_case2" {
		i, j = sf.Fixed(), sf.Support{}
	}
	m := sf.Model{
		Nodes: []sf.Node{{Name: "i", Support: i}, {Name: "j", At: sf.Vec{c.L, 0, 0}, Support: j}},
		Members: []sf.Member{{Name: "beam", I: "i", J: "j", Material: sf.Material{E: c.E, G: c.E / 2.6}, YAxis: sf.Vec{0, 1, 0},
			Section: sf.Section{Area: c.A, Iy: c.I, Iz: c.I, J: 2 * c.I}}},
	}
	for _, name := range slices.Sorted(maps.Keys(c.Expected)) {
		p, err := strconv.ParseFloat(name, 64)
		if err != nil {
			return err
		}
		k := atEnd(sf.Vec{-p, 0, c.H})
		if c.W != 0 {
			k.Spread = []sf.SpreadLoad{sf.Uniform("beam", sf.Vec{0, 0, -c.W / 12})}
		}
		a := solveFrame(m, k, sf.Options{SecondOrder: true})
		at := a.Member("beam").Along(c.L / 2)
		if id == "aisc_case2" {
			at = a.Member("beam").Along(c.L)
			at.Force = a.Member("beam").Along(0).Force
		}
		moment, move := math.Abs(at.Force[sf.RY]), math.Abs(at.Local[sf.UZ])
		r.row(a, fmt.Sprintf("%s/P=%s/M/expected", id, name), moment, c.Expected[name]["M"])
		r.row(a, fmt.Sprintf("%s/P=%s/d/expected", id, name), move, c.Expected[name]["d"])
		r.row(a, fmt.Sprintf("%s/P=%s/M/exact_no_shear", id, name), moment, c.Exact[name][0])
		r.row(a, fmt.Sprintf("%s/P=%s/d/exact_no_shear", id, name), move, c.Exact[name][1])
	}
	return nil
}

// pyramid solves a pyramid of members with one element each, as published: with several, the member in most compression
// buckles under this load.
func (r *frameReport) pyramid(id string, raw []byte) error {
	var c struct {
		Nodes   map[string]sf.Vec
		Members [][2]string
		Section struct {
			A      float64
			Ay     float64 `json:"As_y"`
			Az     float64 `json:"As_z"`
			J      float64
			Iy, Iz float64
		}
		E, G       float64
		Loads      map[string]map[string]sf.Vec
		Expected   map[string][]float64 `json:"expected_second_order"`
		Reactions  map[string][]float64
		Recomputed map[string][]float64 `json:"recomputed_here"`
	}
	if err := json.Unmarshal(raw, &c); err != nil {
		return err
	}
	var m sf.Model
	for _, name := range slices.Sorted(maps.Keys(c.Nodes)) {
		n := sf.Node{Name: name, At: c.Nodes[name]}
		if n.At[2] == 0 {
			n.Support = sf.Fixed()
		}
		m.Nodes = append(m.Nodes, n)
	}
	s := c.Section
	for _, b := range c.Members {
		m.Members = append(m.Members, sf.Member{Name: b[0] + "-" + b[1], I: b[0], J: b[1], Material: sf.Material{E: c.E, G: c.G},
			Section: sf.Section{Area: s.A, Ay: s.Ay, Az: s.Az, J: s.J, Iy: s.Iy, Iz: s.Iz}})
	}
	var k sf.Case
	for _, node := range slices.Sorted(maps.Keys(c.Loads)) {
		k.Nodal = append(k.Nodal, sf.NodalLoad{Node: node, Force: c.Loads[node]["F"]})
	}
	linear := solveFrame(m, k, sf.Options{})
	second := solveFrame(m, k, sf.Options{SecondOrder: true, Divisions: 1})
	r.vectors(second, id+"/-", "u", "expected_second_order", 0, c.Expected, second.At)
	r.vectors(second, id+"/-", "R", "reactions", 0, c.Reactions, second.ReactionAt)
	r.vectors(linear, id+"/-", "u", "recomputed_linear", 0, map[string][]float64{"1": c.Recomputed["linear"]}, linear.At)
	r.vectors(second, id+"/-", "u", "recomputed_second_order", 0, map[string][]float64{"1": c.Recomputed["second_order"]}, second.At)
	return nil
}
