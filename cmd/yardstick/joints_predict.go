package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
	"longgrain/internal/trade/wood"
)

// jointResult is a row with what the models say of it. Measured and predicted are in N, N·m, MPa or N·m/rad.
type jointResult struct {
	row                 jointRow
	kind                string
	measured, predicted float64
	lower, upper        float64  // predicted 90 % interval of one joint
	unit                string   // of both
	governs             string   // the limit that governs
	missing             []string // why there is no prediction
	softwood            bool     // both parts
	mean                bool     // the measured figure is a mean
	relative            bool     // the lever of the rig was taken out by the other rows of the rig
	moment              float64  // predicted bending strength, where only the lever is missing
	cov                 float64
}

// ratio is predicted over measured: above 1 is the unsafe side.
func (r jointResult) ratio() float64 { return r.predicted / r.measured }

// kindsOfReports gives the kind of joint by the word of the column. Words that are not here name the kind themselves.
var kindsOfReports = map[string]joint.Kind{
	"dowel": joint.Dowels, "dowels": joint.Dowels, "dowel_two": joint.Dowels, "dowel_three": joint.Dowels, "dowel_l": joint.Dowels, "dowel_t": joint.Dowels,
	"dowel_single": joint.Dowels, "dowel_joint": joint.Dowels, "mortise_tenon": joint.Tenon, "mortise and tenon": joint.Tenon, "mortise_and_tenon": joint.Tenon,
	"mortise_tenon_l": joint.Tenon, "mortise_tenon_t": joint.Tenon, "tenon": joint.Tenon,
	"half_lap": joint.HalfLap, "half lap": joint.HalfLap, "bridle": joint.Bridle, "loose_tenon": joint.LooseTenon, "loose_tenon_t": joint.LooseTenon, "corner_block": joint.CornerBlock,
	"pocket_screw": joint.PocketScrews, "pocket_screws": joint.PocketScrews, "biscuit": joint.Biscuits, "biscuits": joint.Biscuits,
}

func kindOf(word string) joint.Kind {
	word = strings.ToLower(strings.TrimSpace(word))
	if k, ok := kindsOfReports[word]; ok {
		return k
	}
	return joint.Kind(strings.ReplaceAll(word, "_", " "))
}

// predictRow reads a row and predicts it. Nothing is guessed: what is not said is listed as missing.
func predictRow(r jointRow) jointResult {
	out := jointResult{row: r, kind: string(kindOf(r.text("joint")))}
	st := strings.ToLower(r.text("statistic"))
	out.mean = st == "" || strings.HasPrefix(st, "mean") || strings.HasPrefix(st, "average")
	value, err := parseValue(r.text("value"))
	if err != nil {
		out.missing = append(out.missing, err.Error())
		return out
	}
	factor, quantity := quantityOf(r.text("unit"))
	if quantity == "" {
		out.missing = append(out.missing, fmt.Sprintf("a unit that is known, not %q", r.text("unit")))
		return out
	}
	out.measured = value * factor
	out.unit = map[string]string{"force": "N", "moment": "N·m", "stress": "MPa", "stiffness": "N·m/rad"}[quantity]
	action := actionOf(r.text("load_case"))
	if action == "" {
		out.missing = append(out.missing, "how the joint was loaded")
		return out
	}
	if action == joint.Pulled && singlePin(r) {
		out.predictPull(quantity)
		return out
	}
	if quantity == "stress" {
		out.missing = append(out.missing, "a load: a stress says nothing without the area that it was worked out over")
		return out
	}
	out.predictJoint(action, quantity)
	return out
}

func parseValue(text string) (float64, error) {
	var v float64
	if n, err := fmt.Sscanf(text, "%g", &v); n != 1 || err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("a measured value, not %q", text)
	}
	if v <= 0 {
		return 0, fmt.Errorf("a measured value above 0, not %q", text)
	}
	return v, nil
}

// singlePin tells whether a row is one pin or screw drawn from a block rather than a whole joint.
func singlePin(r jointRow) bool {
	j, c := strings.ToLower(r.text("joint")), strings.ToLower(r.text("configuration"))
	return strings.Contains(j, "single") || strings.HasPrefix(j, "screw") || strings.Contains(c, "block") || c == "face" || c == "edge" || strings.Contains(c, "grain")
}

// timber finds the wood of a row and notes what is missing.
func (out *jointResult) timber(name, part string) (joint.Timber, bool) {
	s, ok := findWood(name)
	if !ok {
		out.missing = append(out.missing, fmt.Sprintf("%s: %q names no single species that is known", part, name))
		return joint.Timber{}, false
	}
	t, err := joint.TimberOf(s.ID, 12)
	if err != nil {
		out.missing = append(out.missing, err.Error())
		return joint.Timber{}, false
	}
	out.softwood = s.Group == wood.Softwood
	return t, true
}

// predictPull predicts one dowel or screw drawn from a block.
func (out *jointResult) predictPull(quantity string) {
	r := out.row
	block := strings.ToLower(r.text("species"))
	for _, in := range []string{"dowel in ", "dowels in ", "screw in ", "screws in "} {
		if _, after, ok := strings.Cut(block, in); ok {
			block = after
		}
	}
	if i := strings.LastIndex(block, ";"); i >= 0 {
		block = strings.TrimSpace(block[i+1:])
	}
	t, okWood := out.timber(block, "the wood of the block")
	z, products := scan(r.text("joint_size_mm"))
	screw := strings.HasPrefix(strings.ToLower(r.text("joint")), "screw")
	if screw {
		out.kind = "screw drawn"
	} else {
		out.kind = "dowel drawn"
	}
	for _, p := range products {
		if len(p.of) == 2 && z[diameter] == 0 {
			z[diameter] = min(p.of[0], p.of[1])
			if z[depth] == 0 && z[depthB] == 0 {
				z[depth] = max(p.of[0], p.of[1])
			}
		}
	}
	if g := cmpOr(z[gauge], z[plate]); screw && g > 0 && g <= mostGauge && z[diameter] == 0 { // "no. 8" is a gauge
		z[diameter] = hardware.ShankDiameter(int(g)).MM()
	}
	d, l := z[diameter], cmpOr(z[depthB], z[depthA], z[depth])
	if d <= 0 {
		out.missing = append(out.missing, "the diameter")
	}
	if l <= 0 {
		out.missing = append(out.missing, "the depth in the block")
	}
	if !okWood || len(out.missing) > 0 {
		return
	}
	end := strings.Contains(strings.ToLower(r.text("configuration")+" "+r.text("load_case")), "end")
	var res joint.Resistance
	if screw {
		res = joint.DrawnScrew(t, unit.MM(d), unit.MM(l), end)
	} else {
		res = joint.DrawnDowel(t, unit.MM(d), unit.MM(l), end)
	}
	scale := 1.0
	switch quantity {
	case "stress":
		scale = 1 / (math.Pi * d * l)
	case "force":
	default:
		out.missing = append(out.missing, "a pull in N or a stress in MPa")
		return
	}
	out.take(res, scale)
}

// mostGauge is the thickest wood screw of the table of gauges.
const mostGauge = 24

func cmpOr(values ...float64) float64 {
	for _, v := range values {
		if v > 0 {
			return v
		}
	}
	return 0
}

// take keeps a prediction.
func (out *jointResult) take(res joint.Resistance, scale float64) {
	out.predicted, out.governs, out.cov = res.Mean*scale, res.Governs, res.COV
	out.interval()
}

// interval is the range that 90 of 100 joints are predicted to lie in, lognormal with the scatter of the model.
func (out *jointResult) interval() {
	s := math.Sqrt(math.Log1p(out.cov * out.cov))
	mid := out.predicted / math.Sqrt(1+out.cov*out.cov)
	out.lower, out.upper = mid*math.Exp(-1.645*s), mid*math.Exp(1.645*s)
}

// specimen reads the woods and sizes of a whole joint.
func (out *jointResult) specimen(action joint.Action) joint.Specimen {
	r := out.row
	p := joint.Specimen{Kind: kindOf(r.text("joint")), Action: action}
	if _, ok := out.timber(r.text("species"), "the wood"); ok {
		s, _ := findWood(r.text("species"))
		p.SpeciesA = s.ID
	}
	members, of := scan(r.text("member_size_mm"))
	for i, m := range of {
		if i == 0 && !hasAny(m.words, inB) || hasAny(m.words, inA) {
			p.Width, p.Thickness = unit.MM(max(m.of[0], m.of[1])), unit.MM(min(m.of[0], m.of[1]))
		}
	}
	if p.Width == 0 {
		p.Width, p.Thickness = unit.MM(members[height]), unit.MM(members[thickness])
	}
	z, products := scan(r.text("joint_size_mm"))
	n := int(z[howMany])
	switch j := strings.ToLower(r.text("joint")); {
	case n > 0:
	case strings.Contains(j, "two") || strings.Contains(j, "double"):
		n = 2
	case strings.Contains(j, "three"):
		n = 3
	case strings.Contains(j, "single") || strings.Contains(r.text("joint_size_mm"), "one joint element"):
		n = 1
	}
	p.Spacing, p.Edge, p.Lever = unit.MM(z[spacing]), unit.MM(z[edge]), unit.MM(findLever(r))
	p.Sizes = joint.Sizes{Count: n, Diameter: unit.MM(z[diameter])}
	switch p.Kind {
	case joint.Dowels:
		out.dowelSizes(&p, z, products)
	case joint.PocketScrews:
		p.Sizes.DepthB = unit.MM(cmpOr(z[depthB], z[depth]))
	case joint.Biscuits:
		p.Sizes.Width = unit.MM(z[length])
		for _, b := range hardware.Biscuits() {
			if v, ok := z[plate]; ok && b.ID == fmt.Sprint(v) {
				p.Sizes.Width = b.Length
			}
		}
	default:
		p.Sizes.Count = max(n, 1)
		out.tenonSizes(&p, z, products)
	}
	if p.Kind == joint.HalfLap || p.Kind == joint.Bridle {
		// The lap is as long as the other part is wide; a half-lap halves the thickness. Both are in the name.
		if p.Sizes.DepthB == 0 {
			p.Sizes.DepthB = otherWidth(of, p.Width)
		}
		if p.Sizes.Thickness == 0 && p.Kind == joint.HalfLap {
			p.Sizes.Thickness = p.Thickness / 2
		}
	}
	return p
}

// otherWidth is the width of the part that is met: that of the post where it is given, or that of the rail where one size
// stands for both parts.
func otherWidth(of []product, rail unit.Length) unit.Length {
	for _, m := range of {
		if hasAny(m.words, inB) {
			return unit.MM(max(m.of[0], m.of[1]))
		}
	}
	if len(of) == 1 && !hasAny(of[0].words, inA) {
		return rail
	}
	return 0
}

func (out *jointResult) dowelSizes(p *joint.Specimen, z sizes, products []product) {
	long := z[length]
	for _, x := range products {
		of := x.of
		if len(of) == 3 && of[0] <= 6 && p.Sizes.Count == 0 {
			p.Sizes.Count, of = int(of[0]), of[1:]
		}
		if len(of) == 2 && p.Sizes.Diameter == 0 {
			p.Sizes.Diameter, long = unit.MM(min(of[0], of[1])), max(of[0], of[1])
		}
	}
	a, b := cmpOr(z[depthA], z[depth]), cmpOr(z[depthB], z[depth])
	if a == 0 && b > 0 && long > b {
		a = long - b
	}
	if b == 0 && a > 0 && long > a {
		b = long - a
	}
	p.Sizes.DepthA, p.Sizes.DepthB = unit.MM(a), unit.MM(b)
}

// tenonSizes reads the sizes of a tenon, loose or fixed. Of three sizes without words the least is the thickness; which of
// the others is the length is not guessed unless they are equal.
func (out *jointResult) tenonSizes(p *joint.Specimen, z sizes, products []product) {
	t, w, l := z[thickness], z[height], cmpOr(z[length], z[depthB], z[depth])
	for _, x := range products {
		if len(x.of) == 3 && t == 0 {
			of := slices.Sorted(slices.Values(x.of))
			t = of[0]
			if of[1] == of[2] {
				w, l = of[1], of[2]
			}
		}
	}
	p.Sizes.Thickness, p.Sizes.Width, p.Sizes.DepthB = unit.MM(t), unit.MM(w), unit.MM(l)
	p.Sizes.DepthA = unit.MM(cmpOr(z[depthA], z[depth]))
}

// predictJoint predicts a whole joint.
func (out *jointResult) predictJoint(action joint.Action, quantity string) {
	p := out.specimen(action)
	got, missing := p.Predict()
	for _, m := range missing {
		if m != "the wood" { // said more fully by timber
			out.missing = append(out.missing, m)
		}
	}
	if len(out.missing) > 0 {
		if quantity == "force" && p.Lever == 0 && (action == joint.Bent || action == joint.BentSideways) {
			out.missing = append(out.missing, "the lever arm")
		}
		return
	}
	bent := action == joint.Bent || action == joint.BentSideways
	switch {
	case quantity == "moment" && bent, quantity == "force" && !bent:
		out.take(got.Resistance, 1)
	case quantity == "force" && p.Lever > 0:
		out.take(got.Resistance, 1/p.Lever.Metres())
	case quantity == "force":
		out.moment, out.governs, out.cov = got.Resistance.Mean, got.Resistance.Governs, got.Resistance.COV
		out.missing = append(out.missing, "the lever arm")
	default:
		out.missing = append(out.missing, fmt.Sprintf("a quantity that fits how the joint was loaded, not %s", out.row.text("unit")))
	}
}

// takeOutLevers predicts rows for which only the lever is missing where one rig broke several of them: the lever common
// to all is the median of predicted moment over measured load. Such rows say nothing of the level, only of the
// proportions between them.
func takeOutLevers(rows []jointResult) {
	rigs := map[string][]int{}
	for i, r := range rows {
		if r.moment > 0 {
			rig := strings.Join([]string{r.row.text("source"), r.row.text("load_case"), r.row.text("configuration"), r.row.text("member_size_mm")}, "|")
			rigs[rig] = append(rigs[rig], i)
		}
	}
	for _, of := range rigs {
		if len(of) < 2 {
			continue
		}
		var levers []float64
		for _, i := range of {
			levers = append(levers, rows[i].moment/rows[i].measured)
		}
		slices.Sort(levers)
		n := len(levers)
		common := (levers[(n-1)/2] + levers[n/2]) / 2
		for _, i := range of {
			r := &rows[i]
			r.predicted, r.relative, r.missing = r.moment/common, true, nil
			r.interval()
		}
	}
}
