package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"longgrain/internal/solve/spaceframe"
)

// framesCommand compares the frame solver with a file of reference cases: closed_form, published_frames, timber_frames
// or joint_zone_check. Which it is follows from what it contains.
type framesCommand struct {
	File string `arg:"" type:"existingfile" help:"JSON file of reference cases."`
	CSV  string `placeholder:"FILE" help:"Also write one row a checked value to this file."`
}

// frameRow is one compared value. Instance is case/load/quantity/expected set.
type frameRow struct {
	instance         string
	value, reference float64
	verified         bool
	seconds          float64
	tooSmall         bool // for the digits or the method of the reference
}

// frameReport gathers rows and what could not be computed.
type frameReport struct {
	rows    []frameRow
	skipped []string
}

// Run reads the file, solves its cases and prints the comparison.
func (c *framesCommand) Run() error {
	text, err := os.ReadFile(c.File)
	if err != nil {
		return fmt.Errorf("read reference cases: %w", err)
	}
	report, err := compareFrames(text)
	if err != nil {
		return fmt.Errorf("read reference cases %s: %w", c.File, err)
	}
	report.print()
	if c.CSV == "" {
		return nil
	}
	set := strings.TrimSuffix(filepath.Base(c.File), ".json")
	if err := report.writeCSV(c.CSV, set); err != nil {
		return fmt.Errorf("write %s: %w", c.CSV, err)
	}
	return nil
}

// compareFrames solves every case of a file it knows.
func compareFrames(text []byte) (*frameReport, error) {
	r := &frameReport{}
	var list []json.RawMessage
	if json.Unmarshal(text, &list) == nil {
		for _, raw := range list {
			var head struct {
				ID     string
				Inputs map[string]any
			}
			if err := json.Unmarshal(raw, &head); err != nil {
				return nil, err
			}
			compare := r.published
			if head.Inputs != nil {
				compare = r.closedForm
			}
			if err := r.attempt(head.ID, func() error { return compare(head.ID, raw) }); err != nil {
				return nil, fmt.Errorf("case %s: %w", head.ID, err)
			}
		}
		return r, nil
	}
	var object map[string]json.RawMessage
	if err := json.Unmarshal(text, &object); err != nil {
		return nil, err
	}
	switch {
	case object["cases"] != nil:
		return r, r.attempt("timber frames", func() error { return r.timber(text) })
	case object["pred"] != nil:
		return r, r.attempt("joint zones", func() error { return r.jointZone(text) })
	}
	return nil, fmt.Errorf("neither a list of cases nor an object with cases or pred")
}

// unsolved is what solveFrame panics with when a case has no solution; attempt turns it into a line of the report.
type unsolved struct {
	status   spaceframe.Status
	findings []spaceframe.Finding
}

// attempt runs a comparison and lists it as not computable if one of its frames cannot be solved.
func (r *frameReport) attempt(id string, compare func() error) error {
	defer func() {
		switch u := recover().(type) {
		case nil:
		case unsolved:
			r.skip("%s: %s %v", id, u.status, u.findings)
		default:
			panic(u)
		}
	}()
	return compare()
}

func (r *frameReport) skip(format string, args ...any) {
	r.skipped = append(r.skipped, fmt.Sprintf(format, args...))
}

// relativeError returns the error as a share of the reference; of a reference of 0 it is the error itself.
func relativeError(value, reference float64) float64 {
	if reference == 0 {
		return value
	}
	return value/reference - 1
}

func (f frameRow) note() string {
	if f.reference == 0 {
		return fmt.Sprintf("absolute error %.2e", f.value)
	}
	if f.tooSmall {
		return fmt.Sprintf("relative error %.2e; too small to compare", relativeError(f.value, f.reference))
	}
	note := fmt.Sprintf("relative error %.2e", relativeError(f.value, f.reference))
	if f.withinDigits() {
		note += "; equal to the digits of the reference"
	}
	return note
}

// withinDigits tells whether the value rounds to the reference as it is written, for published values of few digits.
func (f frameRow) withinDigits() bool {
	digits := len(strings.Trim(strings.NewReplacer(".", "", "-", "").Replace(strings.Split(figure(f.reference), "e")[0]), "0"))
	return digits <= 4 && f.reference != 0 && math.Abs(f.value-f.reference) <= 0.5*math.Pow(10, math.Floor(math.Log10(math.Abs(f.reference)))-float64(digits-1))*(1+1e-9)
}

// print writes the table, without what is too small to compare, and a summary by expected set.
func (r *frameReport) print() {
	worst, count := map[string]frameRow{}, map[string]int{}
	fmt.Printf("%-66s %14s %14s %10s\n", "case/load/quantity/expected set", "expected", "computed", "error")
	for _, f := range r.rows {
		if f.reference == 0 || f.tooSmall {
			continue
		}
		e := relativeError(f.value, f.reference)
		fmt.Printf("%-66s %14.7g %14.7g %9.4f%%\n", f.instance, f.reference, f.value, 100*e)
		set := f.instance[strings.LastIndex(f.instance, "/")+1:]
		count[set]++
		if w, ok := worst[set]; !ok || math.Abs(e) > math.Abs(relativeError(w.value, w.reference)) {
			worst[set] = f
		}
	}
	fmt.Println()
	for _, set := range slices.Sorted(maps.Keys(worst)) {
		w := worst[set]
		fmt.Printf("%s: %d values, largest error %.4f %% (%s)\n", set, count[set], 100*relativeError(w.value, w.reference), w.instance)
	}
	for _, s := range r.skipped {
		fmt.Println("not computable:", s)
	}
}

func (r *frameReport) writeCSV(path, set string) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	w := csv.NewWriter(file)
	w.Write([]string{"set", "instance", "value", "bound", "reference", "proven", "verified", "seconds", "note"})
	for _, f := range r.rows {
		w.Write([]string{set, f.instance, figure(f.value), "", figure(f.reference), "",
			strconv.FormatBool(f.verified), fmt.Sprintf("%.6f", f.seconds), f.note()})
	}
	w.Flush()
	if err := w.Error(); err != nil {
		file.Close()
		return err
	}
	return file.Close()
}

func figure(v float64) string { return strconv.FormatFloat(v, 'g', 10, 64) }

// answer is a solved case with its verification and time.
type answer struct {
	*spaceframe.CaseResult
	verified bool
	seconds  float64
}

// verifiedLimit is the miss of equilibrium, compatibility or floor up to which an answer counts as verified.
const verifiedLimit = 1e-8

// solveFrame solves one case. Panics with unsolved if there is no solution.
func solveFrame(m spaceframe.Model, c spaceframe.Case, o spaceframe.Options) answer {
	start := time.Now()
	r := spaceframe.Solve(m, []spaceframe.Case{c}, o)
	seconds := time.Since(start).Seconds()
	if r.Status != spaceframe.Solved {
		findings := r.Findings
		for i := range r.Cases {
			findings = append(findings, r.Cases[i].Findings...)
		}
		panic(unsolved{r.Status, findings})
	}
	v := spaceframe.Verify(m, c, &r.Cases[0])
	return answer{&r.Cases[0], max(v.Equilibrium, v.Compatibility, v.Floor) < verifiedLimit, seconds}
}

// row adds one value of an answer.
func (r *frameReport) row(a answer, instance string, value, reference float64) {
	r.rows = append(r.rows, frameRow{instance, value, reference, a.verified, a.seconds, false})
}

// timberCase is a frame of timber_frames.json.
type timberCase struct {
	ID       string
	Material struct{ E, G float64 }
	Nodes    map[string]spaceframe.Vec
	Members  []struct {
		ID, I, J string
		B, H     float64
		BAxis    spaceframe.Vec `json:"b_axis"`
		KI       [3]*float64    `json:"k_i"`
		KJ       [3]*float64    `json:"k_j"`
	}
	Supports map[string][]int
	Loads    map[string][]struct {
		Node string
		F    spaceframe.Vec
	}
	Expected  map[string]map[string]json.RawMessage
	HandCheck map[string]float64 `json:"hand_check"`
}

func endSprings(k [3]*float64) spaceframe.Springs {
	s := spaceframe.Springs{}
	for i, v := range k {
		if v != nil {
			s[spaceframe.RX+spaceframe.DOF(i)] = *v
		}
	}
	return s
}

func (c *timberCase) model() spaceframe.Model {
	var m spaceframe.Model
	for _, name := range slices.Sorted(maps.Keys(c.Nodes)) {
		n := spaceframe.Node{Name: name, At: c.Nodes[name]}
		for _, d := range c.Supports[name] {
			n.Support.Hold[d-1] = spaceframe.Rigid()
		}
		m.Nodes = append(m.Nodes, n)
	}
	for _, b := range c.Members {
		m.Members = append(m.Members, spaceframe.Member{
			Name: b.ID, I: b.I, J: b.J, Section: spaceframe.Rectangle(b.B, b.H), YAxis: b.BAxis,
			Material: spaceframe.Material{E: c.Material.E, G: c.Material.G},
			SpringsI: endSprings(b.KI), SpringsJ: endSprings(b.KJ),
		})
	}
	return m
}

func (c *timberCase) load(name string) spaceframe.Case {
	k := spaceframe.Case{Name: name}
	for _, l := range c.Loads[name] {
		k.Nodal = append(k.Nodal, spaceframe.NodalLoad{Node: l.Node, Force: l.F})
	}
	return k
}

// perpendicular is E across the grain of the solids of table4 and of the L joint, MPa: the engineering constants of
// the decks.
const perpendicular = 510

// zoneSprings are the springs that stand for the wood around a perfectly glued rail end b x h.
//
//	K about y = 0.5 sqrt(Ep G) b h^2,  K about z = 0.28 sqrt(Ep G) h b^2
//
// Ep is E across the grain, G the shear modulus, b and h the rail's width and depth; any consistent units.
//
// Source: fitted to orthotropic solids in this project's reference notes, not a published law; up to 14 % too stiff.
func zoneSprings(ep, g, b, h float64) spaceframe.Springs {
	k := math.Sqrt(ep * g)
	return spaceframe.Springs{spaceframe.RY: 0.5 * k * b * h * h, spaceframe.RZ: 0.28 * k * h * b * b}
}

// axiallyRigid is a factor on a stiffness that a formula takes as infinite; what is left of it shows below 1e-6.
const axiallyRigid = 1e5

// withZones moves rail ends at leg nodes to the face of the leg and puts the zone springs there.
func withZones(m spaceframe.Model, leg, ep float64, isRail func(spaceframe.Member) bool, atLeg func(node string) bool) spaceframe.Model {
	at := map[string]spaceframe.Vec{}
	for _, n := range m.Nodes {
		at[n.Name] = n.At
	}
	m.Members = slices.Clone(m.Members)
	for i := range m.Members {
		b := &m.Members[i]
		if !isRail(*b) {
			continue
		}
		from, to := at[b.I], at[b.J]
		length := math.Hypot(math.Hypot(to[0]-from[0], to[1]-from[1]), to[2]-from[2])
		var arm spaceframe.Vec
		for d := range arm {
			arm[d] = (to[d] - from[d]) / length * leg / 2
		}
		// b and h from the moments: Iy/Area = h^2/12, Iz/Area = b^2/12.
		width, depth := math.Sqrt(12*b.Section.Iz/b.Section.Area), math.Sqrt(12*b.Section.Iy/b.Section.Area)
		springs := zoneSprings(ep, b.Material.G, width, depth)
		if atLeg(b.I) {
			b.OffsetI, b.SpringsI = arm, springs
		}
		if atLeg(b.J) {
			b.OffsetJ, b.SpringsJ = spaceframe.Vec{-arm[0], -arm[1], -arm[2]}, springs
		}
	}
	return m
}

// timber compares the frames of timber_frames.json, its buckling factors and its L joint.
func (r *frameReport) timber(text []byte) error {
	var file struct {
		Cases    []timberCase
		Buckling []struct {
			Leg    float64   `json:"leg_mm"`
			Direct float64   `json:"factor_direct_stiffness"`
			CCX    []float64 `json:"factor_ccx_BUCKLE_modes_1_2"`
			Euler  float64   `json:"euler_sway_rigid_apron"`
		}
		LJoint *lJoint
	}
	if err := json.Unmarshal(text, &file); err != nil {
		return err
	}
	for i := range file.Cases {
		if err := r.timberCase(&file.Cases[i]); err != nil {
			return fmt.Errorf("case %s: %w", file.Cases[i].ID, err)
		}
	}
	if len(file.Cases) == 0 {
		return nil
	}
	for _, b := range file.Buckling {
		m := file.Cases[0].model()
		stiff := file.Cases[0].model()
		c := spaceframe.Case{}
		for i := range m.Members {
			if strings.HasPrefix(m.Members[i].Name, "leg") {
				m.Members[i].Section = spaceframe.Rectangle(b.Leg, b.Leg)
				stiff.Members[i].Section = m.Members[i].Section
				stiff.Members[i].Section.Ay, stiff.Members[i].Section.Az = 0, 0
				stiff.Members[i].Section.Area *= axiallyRigid
			} else {
				stiff.Members[i].Material.E *= axiallyRigid
				stiff.Members[i].Material.G *= axiallyRigid
			}
		}
		for _, n := range []string{"A2", "B2", "C2", "D2"} {
			c.Nodal = append(c.Nodal, spaceframe.NodalLoad{Node: n, Force: spaceframe.Vec{0, 0, -250}})
		}
		name := fmt.Sprintf("buckling_%g/vertical_1000/", b.Leg)
		a := solveFrame(m, c, spaceframe.Options{Buckling: 2})
		r.row(a, name+"factor 1/direct_stiffness", a.Buckling[0].Value, b.Direct)
		for i, want := range b.CCX {
			r.row(a, fmt.Sprintf("%sfactor %d/ccx_BUCKLE", name, i+1), a.Buckling[i].Value, want)
		}
		a = solveFrame(stiff, c, spaceframe.Options{Buckling: 1})
		r.row(a, name+"factor with rigid aprons/euler", a.Buckling[0].Value, b.Euler)
	}
	if file.LJoint != nil {
		r.lJoint(file.LJoint)
	}
	return nil
}

func (r *frameReport) timberCase(c *timberCase) error {
	leg := math.Sqrt(12 * c.model().Members[0].Section.Iy / c.model().Members[0].Section.Area)
	for _, load := range slices.Sorted(maps.Keys(c.Expected)) {
		for _, set := range slices.Sorted(maps.Keys(c.Expected[load])) {
			m, o := c.model(), spaceframe.Options{}
			switch set {
			case "beam_timoshenko_kappa_5_6", "ccx_B32R":
			case "beam_timoshenko_second_order", "ccx_B32R_NLGEOM":
				o.SecondOrder = true
			case "ccx_C3D20R_orthotropic_solid":
				m = withZones(m, leg, perpendicular,
					func(b spaceframe.Member) bool { return strings.HasPrefix(b.Name, "ap") },
					func(node string) bool { return strings.HasSuffix(node, "2") })
			default:
				r.skip("%s/%s: unknown expected set %s", c.ID, load, set)
				continue
			}
			want := struct {
				Disp      map[string][]float64
				Reactions map[string][]float64 `json:"reactions_F"`
			}{}
			into := any(&want)
			if set == "ccx_C3D20R_orthotropic_solid" {
				into = &want.Disp
			}
			if err := json.Unmarshal(c.Expected[load][set], into); err != nil {
				return err
			}
			a := solveFrame(m, c.load(load), o)
			r.vectors(a, c.ID+"/"+load, "u", set, leastComparable(set, "u"), want.Disp, a.At)
			r.vectors(a, c.ID+"/"+load, "R", set, leastComparable(set, "R"), want.Reactions, a.ReactionAt)
		}
	}
	for _, load := range slices.Sorted(maps.Keys(c.HandCheck)) {
		a := solveFrame(c.model(), c.load(load), spaceframe.Options{})
		d := spaceframe.UX
		if strings.Contains(load, "_y_") {
			d = spaceframe.UY
		}
		r.row(a, fmt.Sprintf("%s/%s/A2 %s/hand_check", c.ID, load, d), a.At("A2")[d], c.HandCheck[load])
	}
	return nil
}

// vectors adds the components of displacements or reactions by node; below least they are too small to compare.
func (r *frameReport) vectors(a answer, instance, letter, set string, least float64,
	want map[string][]float64, got func(string) spaceframe.Vec6) {
	for _, node := range slices.Sorted(maps.Keys(want)) {
		for d, w := range want[node] {
			name := spaceframe.DOF(d).String()
			if letter == "R" {
				name = "R" + name[1:]
			}
			r.row(a, fmt.Sprintf("%s/%s %s/%s", instance, node, name, set), got(node)[d], w)
			r.rows[len(r.rows)-1].tooSmall = math.Abs(w) < least
		}
	}
}

// leastComparable returns the size below which a figure of timber_frames.json does not count. The beam sets are printed
// to six decimals, so that 0.1 % takes 0.0005; the sets of solid elements and of beams made of them differ below
// 0.06 mm by axial strain and local strain at the knots.
func leastComparable(set, letter string) float64 {
	switch {
	case letter == "R":
		return 0.1
	case strings.HasPrefix(set, "ccx"):
		return 0.06
	}
	return 0.0005
}

// lJoint is the leg with one rail of timber_frames.json.
type lJoint struct {
	Solid      map[string]map[string]float64 `json:"result_at_apron_end_mid_depth_mm"`
	Centreline map[string]float64            `json:"frame_model_centreline_rigid"`
	Offset     map[string]float64            `json:"frame_model_offset_22_5_rigid"`
}

func (r *frameReport) lJoint(j *lJoint) {
	pine := spaceframe.Material{E: 8500, G: 531.25}
	plain := spaceframe.Model{
		Nodes: []spaceframe.Node{{Name: "foot", Support: spaceframe.Fixed()}, {Name: "joint", At: spaceframe.Vec{0, 0, 255}},
			{Name: "end", At: spaceframe.Vec{322.5, 0, 255}}},
		Members: []spaceframe.Member{
			{Name: "leg", I: "foot", J: "joint", Section: spaceframe.Rectangle(45, 45), Material: pine},
			{Name: "rail", I: "joint", J: "end", Section: spaceframe.Rectangle(20, 90), Material: pine, YAxis: spaceframe.Vec{0, 1, 0}},
		},
	}
	zone := withZones(plain, 45, perpendicular,
		func(b spaceframe.Member) bool { return b.Name == "rail" },
		func(n string) bool { return n == "joint" })
	offset := plain
	offset.Members = slices.Clone(zone.Members)
	offset.Members[1].SpringsI = nil
	for _, load := range []struct {
		name  string
		force spaceframe.Vec
		d     spaceframe.DOF
	}{{"down_50_uz", spaceframe.Vec{0, 0, -50}, spaceframe.UZ}, {"out_20_uy", spaceframe.Vec{0, 20, 0}, spaceframe.UY}} {
		c := spaceframe.Case{Nodal: []spaceframe.NodalLoad{{Node: "end", Force: load.force}}}
		add := func(m spaceframe.Model, set string, want float64) {
			a := solveFrame(m, c, spaceframe.Options{})
			r.row(a, fmt.Sprintf("ljoint/%s/end %s/%s", load.name, load.d, set), a.At("end")[load.d], want)
		}
		add(plain, "frame_centreline", j.Centreline[load.name])
		add(offset, "frame_offset", j.Offset[load.name])
		for _, mesh := range slices.Sorted(maps.Keys(j.Solid)) {
			add(zone, "ccx_C3D20R_"+mesh, j.Solid[mesh][load.name])
		}
	}
}

// jointZone compares the frames of joint_zone_check.json: E is 8500 throughout.
func (r *frameReport) jointZone(text []byte) error {
	var file struct {
		Frames map[string]struct {
			Leg, X, Y, H, EP, Gv float64
			Ap                   [2]float64
		}
		Pred, Rigid, Solid map[string]map[string]float64
	}
	if err := json.Unmarshal(text, &file); err != nil {
		return err
	}
	for _, id := range slices.Sorted(maps.Keys(file.Frames)) {
		f := file.Frames[id]
		rigid := zoneTable(f.Leg, f.Ap, f.X, f.Y, f.H, spaceframe.Material{E: 8500, G: f.Gv})
		zone := withZones(rigid, f.Leg, f.EP,
			func(b spaceframe.Member) bool { return strings.HasPrefix(b.Name, "ap") },
			func(n string) bool { return strings.HasSuffix(n, "2") })
		for _, load := range zoneLoads() {
			add := func(m spaceframe.Model, set string, want float64) {
				a := solveFrame(m, load.c, spaceframe.Options{})
				r.row(a, fmt.Sprintf("%s/%s/%s %s/%s", id, load.c.Name, load.node, load.d, set), a.At(load.node)[load.d], want)
			}
			add(zone, "pred", file.Pred[id][load.c.Name])
			add(rigid, "rigid", file.Rigid[id][load.c.Name])
			for _, mesh := range slices.Sorted(maps.Keys(file.Solid)) {
				if strings.HasPrefix(mesh, id) {
					add(zone, "solid_"+strings.TrimPrefix(mesh, id+"_"), file.Solid[mesh][load.c.Name])
				}
			}
		}
	}
	return nil
}

// zoneTable is an open four-leg frame like table4 with half lengths x and y and height h.
func zoneTable(leg float64, ap [2]float64, x, y, h float64, wood spaceframe.Material) spaceframe.Model {
	var m spaceframe.Model
	z := h - ap[1]/2
	corners := []struct {
		name string
		x, y float64
	}{{"A", -x, -y}, {"B", x, -y}, {"C", x, y}, {"D", -x, y}}
	bar := func(name, i, j string, b, h float64, axis spaceframe.Vec) {
		m.Members = append(m.Members, spaceframe.Member{Name: name, I: i, J: j,
			Section: spaceframe.Rectangle(b, h), Material: wood, YAxis: axis})
	}
	for _, c := range corners {
		m.Nodes = append(m.Nodes,
			spaceframe.Node{Name: c.name + "0", At: spaceframe.Vec{c.x, c.y, 0}, Support: spaceframe.Pinned()},
			spaceframe.Node{Name: c.name + "2", At: spaceframe.Vec{c.x, c.y, z}})
		bar("leg_"+c.name, c.name+"0", c.name+"2", leg, leg, spaceframe.Vec{1, 0, 0})
	}
	m.Nodes = append(m.Nodes,
		spaceframe.Node{Name: "P", At: spaceframe.Vec{0, -y, z}},
		spaceframe.Node{Name: "Q", At: spaceframe.Vec{0, y, z}})
	bar("ap_x1a", "A2", "P", ap[0], ap[1], spaceframe.Vec{0, 1, 0})
	bar("ap_x1b", "P", "B2", ap[0], ap[1], spaceframe.Vec{0, 1, 0})
	bar("ap_x2a", "D2", "Q", ap[0], ap[1], spaceframe.Vec{0, 1, 0})
	bar("ap_x2b", "Q", "C2", ap[0], ap[1], spaceframe.Vec{0, 1, 0})
	bar("ap_y1", "A2", "D2", ap[0], ap[1], spaceframe.Vec{1, 0, 0})
	bar("ap_y2", "B2", "C2", ap[0], ap[1], spaceframe.Vec{1, 0, 0})
	return m
}

// zoneLoad is a load case of table4 and where its result is read.
type zoneLoad struct {
	c    spaceframe.Case
	node string
	d    spaceframe.DOF
}

func zoneLoads() []zoneLoad {
	loads := func(name string, force spaceframe.Vec, nodes ...string) (c spaceframe.Case) {
		c.Name = name
		for _, n := range nodes {
			c.Nodal = append(c.Nodal, spaceframe.NodalLoad{Node: n, Force: force})
		}
		return c
	}
	return []zoneLoad{
		{loads("push_x_300", spaceframe.Vec{75, 0, 0}, "A2", "B2", "C2", "D2"), "B2", spaceframe.UX},
		{loads("push_y_300", spaceframe.Vec{0, 75, 0}, "A2", "B2", "C2", "D2"), "B2", spaceframe.UY},
		{loads("corner_push_y_300", spaceframe.Vec{0, 300, 0}, "B2"), "B2", spaceframe.UY},
		{loads("vertical_1000_midspan", spaceframe.Vec{0, 0, -500}, "P", "Q"), "P", spaceframe.UZ},
	}
}
