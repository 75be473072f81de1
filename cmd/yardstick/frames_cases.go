package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"

	sf "longgrain/internal/solve/spaceframe"
)

// figures are the numbers a closed-form case is given by; pine fills in what a case leaves out.
type figures map[string]float64

var pineFigures = figures{"E": 8500, "G": 531.25, "kappa": 5.0 / 6, "b": 20, "h": 90}

func (f figures) get(name string) float64 {
	if v, ok := f[name]; ok {
		return v
	}
	return pineFigures[name]
}

func (f figures) material() sf.Material { return sf.Material{E: f.get("E"), G: f.get("G")} }

// closedCase computes the quantities of one closed-form case; a quantity that is not in the map is not computable.
type closedCase func(f figures) (answer, map[string]float64)

var closedCases = map[string]closedCase{
	"cant_strong": func(f figures) (answer, map[string]float64) {
		tip := func(s sf.Section) answer {
			return solveFrame(f.beam(s, sf.Fixed(), sf.Support{}), atEnd(sf.Vec{0, 0, -f["P"]}), sf.Options{})
		}
		a := tip(sf.Rectangle(f["b"], f["h"]))
		return a, map[string]float64{"tip_mm": -a.At("j")[sf.UZ], "bending_only_mm": -tip(slender(f["b"], f["h"])).At("j")[sf.UZ]}
	},
	"cant_weak": func(f figures) (answer, map[string]float64) {
		a := solveFrame(f.beam(sf.Rectangle(f["b"], f["h"]), sf.Fixed(), sf.Support{}), atEnd(sf.Vec{0, -f["P"], 0}), sf.Options{})
		return a, map[string]float64{"tip_mm": -a.At("j")[sf.UY]}
	},
	"ss_short_deep": func(f figures) (answer, map[string]float64) {
		i, j := simpleEnds()
		mid := func(s sf.Section) answer { return solveFrame(f.beam(s, i, j), f.atMiddle(), sf.Options{}) }
		a := mid(sf.Rectangle(f["b"], f["h"]))
		return a, map[string]float64{"mid_mm": f.sag(a), "bending_only_mm": f.sag(mid(slender(f["b"], f["h"])))}
	},
	"ff_centre": func(f figures) (answer, map[string]float64) {
		a := solveFrame(f.beam(sf.Rectangle(f["b"], f["h"]), sf.Fixed(), sf.Fixed()), f.atMiddle(), sf.Options{})
		return a, map[string]float64{"mid_mm": f.sag(a), "end_moment_Nmm": math.Abs(a.Member("beam").EndForce[0][sf.RY])}
	},
	"semi_udl": func(f figures) (answer, map[string]float64) {
		m := f.beam(slender(20, 90), sf.Fixed(), sf.Fixed())
		k := sf.Springs{sf.RY: f["k_Nmm_per_rad"]}
		m.Members[0].Section.Iy, m.Members[0].SpringsI, m.Members[0].SpringsJ = f["I"], k, k
		a := solveFrame(m, f.allAlong(f["w"]), sf.Options{})
		b := a.Member("beam")
		return a, map[string]float64{"end_moment_Nmm": math.Abs(b.EndForce[0][sf.RY]), "mid_bending_mm": f.sag(a),
			"end_rotation_rad": math.Abs(b.Slip[0][sf.RY])}
	},
	"torsion_20x90": func(f figures) (answer, map[string]float64) {
		s := sf.Rectangle(f["b"], f["a"])
		twist := sf.Case{Nodal: []sf.NodalLoad{{Node: "j", Moment: sf.Vec{f["T_Nmm"], 0, 0}}}}
		a := solveFrame(f.beam(s, sf.Fixed(), sf.Support{}), twist, sf.Options{})
		return a, map[string]float64{"J_mm4": s.J, "J_over_ab3": s.J / (f["a"] * math.Pow(f["b"], 3)), "theta_rad": a.At("j")[sf.RX]}
	},
	"torsion_45sq": func(f figures) (answer, map[string]float64) {
		j := sf.RectangleTorsion(f["a"], f["b"])
		return answer{}, map[string]float64{"J_mm4": j, "J_over_a4": j / math.Pow(f["a"], 4)}
	},
	"bent_cantilever": func(f figures) (answer, map[string]float64) {
		s := sf.Section{Area: 2025, Iy: f["I"], Iz: f["I"], J: f["J"]}
		m := sf.Model{
			Nodes: []sf.Node{{Name: "wall", Support: sf.Fixed()}, {Name: "knee", At: sf.Vec{f["L1"], 0, 0}},
				{Name: "j", At: sf.Vec{f["L1"], f["L2"], 0}}},
			Members: []sf.Member{{Name: "a", I: "wall", J: "knee", Section: s, Material: f.material()},
				{Name: "b", I: "knee", J: "j", Section: s, Material: f.material()}},
		}
		a := solveFrame(m, atEnd(sf.Vec{0, 0, -f["P"]}), sf.Options{})
		return a, map[string]float64{"tip_mm": -a.At("j")[sf.UZ]}
	},
	"portal_pinned_sway": func(f figures) (answer, map[string]float64) {
		a := f.euler(false)
		return a, map[string]float64{"sway_mm": a.At("b")[sf.UX], "knee_moment_Nmm": kneeMoment(a),
			"leg_axial_N": a.ReactionAt("d")[sf.UZ]}
	},
	"portal_fixed_sway": func(f figures) (answer, map[string]float64) {
		a := f.euler(true)
		return a, map[string]float64{"sway_mm": a.At("b")[sf.UX], "foot_moment_Nmm": math.Abs(a.ReactionAt("a")[sf.RY]),
			"knee_moment_Nmm": kneeMoment(a)}
	},
	"portal_pinned_sway_full": portalTerms,
	"beam_column": func(f figures) (answer, map[string]float64) {
		m := f.beam(sf.Section{Area: 900, Iy: f["I"], Iz: f["I"], J: f["I"]}, sf.Fixed(), sf.Support{})
		c := atEnd(sf.Vec{-f["N"], 0, f["H"]})
		a := solveFrame(m, c, sf.Options{SecondOrder: true})
		return a, map[string]float64{"tip_mm": a.At("j")[sf.UZ], "base_moment_Nmm": math.Abs(a.ReactionAt("i")[sf.RY]),
			"linear_tip_mm": solveFrame(m, c, sf.Options{}).At("j")[sf.UZ]}
	},
	"euler": func(f figures) (answer, map[string]float64) {
		f["L"] = f["h"]
		foot, top := sf.Pinned(), sf.Fixed()
		foot.Hold[sf.RX] = sf.Rigid()
		top.Hold[sf.UX], top.Hold[sf.UZ] = 0, 0
		m := f.beam(sf.Section{Area: 900, Iy: f["I"], Iz: f["I"], J: f["I"]}, foot, top)
		a := solveFrame(m, atEnd(sf.Vec{-1, 0, 0}), sf.Options{Buckling: 1})
		return a, map[string]float64{"Pcr_N": a.Buckling[0].Value}
	},
	"four_legs":      fourLegs,
	"four_legs_lift": fourLegs,
	"tip_edge_load": func(f figures) (answer, map[string]float64) {
		m := onFeet(f["s"], -f["arm"], 700)
		tip := tippingLoad(m, f["mass_kg"]*f["g"], sf.Vec{0, 0, -1})
		return answer{}, map[string]float64{"P_tip_N": tip}
	},
	"tip_push": func(f figures) (answer, map[string]float64) {
		tip := tippingLoad(onFeet(f["s"], f["s"], f["z"]), f["mass_kg"]*f["g"], sf.Vec{-1, 0, 0})
		return answer{}, map[string]float64{"H_tip_N": tip}
	},
	"tip_combined": func(f figures) (answer, map[string]float64) {
		// Both loads grow together until the seat tips; V outside the foot line (c below 0) helps to overturn.
		factor := tippingLoad(onFeet(f["s"], f["c"], f["z"]), f["mass_kg"]*f["g"], sf.Vec{-f["H"], 0, -f["V"]})
		stable := 0.0
		if factor >= 1 {
			stable = 1
		}
		overturning := f["H"]*f["z"] - f["V"]*f["c"]
		return answer{}, map[string]float64{"restoring_Nmm": factor * overturning, "margin": factor, "stable": stable}
	},
	"shelf_aws_fir_ply_40": shelf, "shelf_aws_fir_ply_50": shelf, "shelf_aws_red_oak_40": shelf, "shelf_aws_red_oak_50": shelf,
	"shelf_aws_fir_ply_1in_40": shelf, "shelf_aws_red_oak_1in_40": shelf,
	"shelf_books_pine": func(f figures) (answer, map[string]float64) {
		i, j := simpleEnds()
		a := solveFrame(f.beam(slender(f["b"], f["t"]), i, j), f.allAlong(f["w_N_per_mm"]), sf.Options{})
		return a, map[string]float64{"instant_mm": f.sag(a), "ratio_L_over": f["L"] / f.sag(a), "long_term_kdef_0_6_mm": 1.6 * f.sag(a)}
	},
}

// shelf is a strip one inch wide under a load in pounds per square foot.
func shelf(f figures) (answer, map[string]float64) {
	f["E"], f["L"] = f["E_psi"], f["L_in"]
	i, j := simpleEnds()
	a := solveFrame(f.beam(slender(1, f["t_in"]), i, j), f.allAlong(f["load_psf"]/144), sf.Options{})
	return a, map[string]float64{"deflection_in": f.sag(a), "ratio": f.sag(a) / (f["L_in"] / 144)}
}

func slender(b, h float64) sf.Section {
	s := sf.Rectangle(b, h)
	s.Ay, s.Az = 0, 0
	return s
}

func (f figures) beam(s sf.Section, i, j sf.Support) sf.Model {
	return sf.Model{
		Nodes:   []sf.Node{{Name: "i", Support: i}, {Name: "j", At: sf.Vec{f["L"], 0, 0}, Support: j}},
		Members: []sf.Member{{Name: "beam", I: "i", J: "j", Section: s, Material: f.material(), YAxis: sf.Vec{0, 1, 0}}},
	}
}

func simpleEnds() (i, j sf.Support) {
	i, j = sf.Pinned(), sf.Pinned()
	i.Hold[sf.RX] = sf.Rigid()
	j.Hold[sf.UX] = 0
	return i, j
}

func atEnd(force sf.Vec) sf.Case { return sf.Case{Nodal: []sf.NodalLoad{{Node: "j", Force: force}}} }

func (f figures) atMiddle() sf.Case {
	return sf.Case{Point: []sf.PointLoad{{Member: "beam", At: f["L"] / 2, Force: sf.Vec{0, 0, -f["P"]}}}}
}

func (f figures) allAlong(w float64) sf.Case {
	return sf.Case{Spread: []sf.SpreadLoad{sf.Uniform("beam", sf.Vec{0, 0, -w})}}
}

func (f figures) sag(a answer) float64 { return -a.Member("beam").Along(f["L"] / 2).Local[sf.UZ] }

// portal is a plane frame in x and z with a push of v at each knee.
func (f figures) portal(leg, rail sf.Section, springs sf.Springs, fixed bool, v float64) answer {
	foot, knee := sf.Fixed(), sf.Support{Hold: sf.Vec6{sf.UY: sf.Rigid(), sf.RX: sf.Rigid(), sf.RZ: sf.Rigid()}}
	if !fixed {
		foot.Hold[sf.RY] = 0
	}
	y := sf.Vec{0, 1, 0}
	m := sf.Model{
		Nodes: []sf.Node{{Name: "a", Support: foot}, {Name: "b", At: sf.Vec{0, 0, f["h"]}, Support: knee},
			{Name: "c", At: sf.Vec{f["L"], 0, f["h"]}, Support: knee}, {Name: "d", At: sf.Vec{f["L"], 0, 0}, Support: foot}},
		Members: []sf.Member{{Name: "left", I: "a", J: "b", Section: leg, Material: f.material(), YAxis: y},
			{Name: "rail", I: "b", J: "c", Section: rail, Material: f.material(), YAxis: y, SpringsI: springs, SpringsJ: springs},
			{Name: "right", I: "d", J: "c", Section: leg, Material: f.material(), YAxis: y}},
	}
	push := sf.Case{Nodal: []sf.NodalLoad{{Node: "b", Force: sf.Vec{v, 0, 0}}, {Node: "c", Force: sf.Vec{v, 0, 0}}}}
	return solveFrame(m, push, sf.Options{})
}

func (f figures) euler(fixed bool) answer {
	leg := sf.Section{Area: 2025 * axiallyRigid, Iy: f["Ic"], Iz: f["Ic"], J: f["Ic"]}
	rail := sf.Section{Area: 1800 * axiallyRigid, Iy: f["Ib"], Iz: f["Ib"], J: f["Ib"]}
	return f.portal(leg, rail, nil, fixed, f["P"]/2)
}

func kneeMoment(a answer) float64 { return math.Abs(a.Member("rail").EndForce[0][sf.RY]) }

// portalTerms takes the leg-racking formula apart by making all but one thing rigid.
func portalTerms(f figures) (answer, map[string]float64) {
	leg, rail := sf.Rectangle(f["leg"], f["leg"]), sf.Rectangle(f["apron.0"], f["apron.1"])
	sway := func(leg, rail sf.Section, k sf.Springs) float64 {
		return f.portal(leg, rail, k, false, f["V"]).At("b")[sf.UX]
	}
	stiff := func(s sf.Section) sf.Section {
		s.Area, s.Iy, s.Ay, s.Az = s.Area*axiallyRigid, s.Iy*axiallyRigid, 0, 0
		return s
	}
	shear := func(s sf.Section) sf.Section { s = stiff(s); s.Az = s.Area / axiallyRigid * f["kappa"]; return s }
	bend := func(s sf.Section) sf.Section { i := s.Iy; s = stiff(s); s.Iy = i; return s }
	axial := func(s sf.Section) sf.Section { a := s.Area; s = stiff(s); s.Area = a; return s }
	joint := sf.Springs{sf.RY: f["k_Nmm_per_rad"]}
	a := f.portal(leg, rail, nil, false, f["V"])
	rigid := a.At("b")[sf.UX]
	with := sway(leg, rail, joint)
	none := sway(stiff(leg), stiff(rail), nil)
	return a, map[string]float64{
		"rigid_joint_mm": rigid, "with_k_mm": with,
		"terms_mm.leg_bending": sway(bend(leg), stiff(rail), nil) - none, "terms_mm.apron_bending": sway(stiff(leg), bend(rail), nil) - none,
		"terms_mm.leg_shear": sway(shear(leg), stiff(rail), nil) - none, "terms_mm.apron_shear": sway(stiff(leg), shear(rail), nil) - none,
		"terms_mm.leg_axial": sway(axial(leg), stiff(rail), nil) - none, "terms_mm.joint": with - rigid,
	}
}

// rigidOnFeet is a rigid top on short legs at four feet, with the given nodes tied to it.
func rigidOnFeet(feet map[string]sf.Vec, tied map[string]sf.Vec) sf.Model {
	m := sf.Model{Bodies: []sf.Body{{Name: "top"}}}
	tie := func(name string, at sf.Vec) {
		m.Nodes = append(m.Nodes, sf.Node{Name: name, At: at})
		m.Bodies[0].Nodes = append(m.Bodies[0].Nodes, name)
	}
	for _, name := range slices.Sorted(maps.Keys(tied)) {
		tie(name, tied[name])
	}
	for _, name := range slices.Sorted(maps.Keys(feet)) {
		at := feet[name]
		m.Nodes = append(m.Nodes, sf.Node{Name: name, At: at, Support: sf.Foot(0)})
		tie("top "+name, sf.Vec{at[0], at[1], 100})
		m.Members = append(m.Members, sf.Member{Name: "leg " + name, I: name, J: "top " + name,
			Section: sf.Rectangle(45, 45), Material: pineFigures.material()})
	}
	return m
}

func fourLegs(f figures) (answer, map[string]float64) {
	a, b := f["a"]/2, f["b"]/2
	m := rigidOnFeet(map[string]sf.Vec{"pp": {a, b, 0}, "pm": {a, -b, 0}, "mp": {-a, b, 0}, "mm": {-a, -b, 0}},
		map[string]sf.Vec{"j": {f["ex"], f["ey"], 100}})
	r := solveFrame(m, atEnd(sf.Vec{0, 0, -f["P"]}), sf.Options{})
	push := func(foot string) float64 { return r.ReactionAt(foot)[sf.UZ] }
	got := map[string]float64{"R_pp": push("pp"), "R_pm": push("pm"), "R_mp": push("mp"), "R_mm": push("mm"), "R_opposite": push("mm")}
	got["lifts"] = float64(len(r.Lifted))
	return r, got
}

// onFeet is a rigid piece whose near foot line is x = 0, with "mass" at s inside it and "j" at x and z.
func onFeet(s, x, z float64) sf.Model {
	return rigidOnFeet(map[string]sf.Vec{"a": {0, -200, 0}, "b": {0, 200, 0}, "c": {2 * s, -200, 0}, "d": {2 * s, 200, 0}},
		map[string]sf.Vec{"mass": {s, 0, 100}, "j": {x, 0, z}})
}

// tippingLoad returns the largest multiple of the force at node j before the piece tips over, by halving.
func tippingLoad(m sf.Model, weight float64, force sf.Vec) float64 {
	stands := func(load float64) bool {
		c := atEnd(sf.Vec{force[0] * load, force[1] * load, force[2] * load})
		c.Nodal = append(c.Nodal, sf.NodalLoad{Node: "mass", Force: sf.Vec{0, 0, -weight}})
		return sf.Solve(m, []sf.Case{c}, sf.Options{}).Status == sf.Solved
	}
	low, high := 0.0, 100*weight
	for range 60 {
		if middle := (low + high) / 2; stands(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// closedForm compares one case of closed_form.json.
func (r *frameReport) closedForm(id string, raw []byte) error {
	var c struct{ Inputs, Expected map[string]any }
	if err := json.Unmarshal(raw, &c); err != nil {
		return err
	}
	solve, ok := closedCaseOf(id)
	if !ok {
		r.skip("%s: not a frame", id)
		return nil
	}
	a, got := solve(flatten(c.Inputs))
	want := flatten(c.Expected)
	for _, quantity := range slices.Sorted(maps.Keys(want)) {
		if v, ok := got[quantity]; ok {
			r.row(a, fmt.Sprintf("%s/-/%s/closed_form", id, quantity), v, want[quantity])
		} else {
			r.skip("%s/%s: follows from the inputs alone", id, quantity)
		}
	}
	return nil
}

// flatten turns numbers and truth values, nested by name or place, into figures with dotted names.
func flatten(values map[string]any) figures {
	f := figures{}
	var put func(name string, v any)
	put = func(name string, v any) {
		switch v := v.(type) {
		case float64:
			f[name] = v
		case bool:
			f[name] = 0
			if v {
				f[name] = 1
			}
		case map[string]any:
			for k, x := range v {
				put(name+"."+k, x)
			}
		case []any:
			for i, x := range v {
				put(fmt.Sprintf("%s.%d", name, i), x)
			}
		}
	}
	for k, v := range values {
		put(k, v)
	}
	return f
}
