package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/wood"
)

// jointColumns are the columns that a file of measured joints must have; others are read where they are there.
var jointColumns = []string{"id", "joint", "load_case", "species", "member_size_mm", "joint_size_mm", "quantity", "value", "unit"}

// jointRow is one published measurement, as printed.
type jointRow struct {
	line  int
	cells map[string]string
}

func (r jointRow) text(column string) string { return r.cells[column] }

// readJointRows reads a file of measured joints.
func readJointRows(text []byte) ([]jointRow, error) {
	in := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(text), "\ufeff")))
	in.Comment = '#'
	in.FieldsPerRecord = -1
	head, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("no heading: %w", err)
	}
	for i := range head {
		head[i] = strings.ToLower(strings.TrimSpace(head[i]))
	}
	for _, c := range jointColumns {
		if !slices.Contains(head, c) {
			return nil, fmt.Errorf("no column %q", c)
		}
	}
	var rows []jointRow
	for {
		rec, err := in.Read()
		if err == io.EOF {
			return rows, nil
		}
		if err != nil {
			return nil, err
		}
		line, _ := in.FieldPos(0)
		cells := make(map[string]string, len(head))
		for i, c := range head {
			if i < len(rec) {
				cells[c] = strings.TrimSpace(rec[i])
			}
		}
		if slices.ContainsFunc(rec, func(s string) bool { return strings.TrimSpace(s) != "" }) {
			rows = append(rows, jointRow{line, cells})
		}
	}
}

// label is what a number in a description of sizes stands for.
type label string

const (
	thickness label = "thickness"
	height    label = "height"
	length    label = "length"
	depth     label = "depth"
	depthA    label = "depth in the rail"
	depthB    label = "depth in the other part"
	diameter  label = "diameter"
	spacing   label = "spacing"
	edge      label = "edge"
	lever     label = "lever"
	howMany   label = "count"
	plate     label = "plate" // number of a biscuit
	gauge     label = "gauge"
)

// labels are the words that say what the number beside them is.
var labels = map[string]label{
	"thickness": thickness, "thick": thickness, "height": height, "high": height, "width": height, "wide": height,
	"length": length, "long": length, "depth": depth, "deep": depth, "embedded": depth, "embedment": depth, "penetration": depth,
	"insertion": depth, "inserted": depth, "thread": depth, "bite": depth, "diameter": diameter, "dia": diameter, "diam": diameter, "d": diameter,
	"⌀": diameter, "ø": diameter, "spacing": spacing, "spaced": spacing, "apart": spacing, "centres": spacing, "centers": spacing,
	"edge": edge, "shoulder": edge, "lever": lever, "arm": lever, "count": howMany, "number": howMany, "gauge": gauge,
}

// inA and inB are the words for the two parts of a joint: A's end meets B.
var (
	inA = []string{"rail", "end", "apron", "tenon"}
	inB = []string{"post", "leg", "stile", "upright", "side", "face", "mortise", "block", "mortice"}
)

var pins = []string{"dowel", "dowels", "pin", "pins", "screw", "screws", "biscuit", "biscuits", "plate", "plates", "row"}

var counts = map[string]float64{"one": 1, "single": 1, "two": 2, "double": 2, "three": 3, "four": 4, "five": 5}

// sizes are the numbers of a description by what they stand for, in mm or as plain counts.
type sizes map[label]float64

var (
	brackets = regexp.MustCompile(`\([^)]*\)`)
	tokens   = regexp.MustCompile(`\d+(?:\.\d+)?|[a-zµ⌀ø]+|[x×*"#]`)
	isNumber = regexp.MustCompile(`^\d`)
	clauses  = regexp.MustCompile(`[,;]|\band\b|\bwith\b`)
)

// scan finds labelled numbers and products such as 22.2 x 63.5 in a description. A length in inches is turned into
// millimetres. Products come without a label, in the order of the text, each with the words beside it.
func scan(text string) (sizes, []product) {
	out := sizes{}
	var products []product
	text = brackets.ReplaceAllString(strings.ToLower(text), " ")
	for _, clause := range clauses.Split(text, -1) {
		products = append(products, scanClause(clause, out)...)
	}
	return out, products
}

type product struct {
	of    []float64
	words []string
}

func scanClause(clause string, out sizes) []product {
	type piece struct {
		value  float64
		length bool // its unit says so
		before []string
		times  bool // multiplied with the number before
	}
	var found []piece
	var words []string
	var all []string
	list := tokens.FindAllString(clause, -1)
	times := false
	for i := 0; i < len(list); i++ {
		t := list[i]
		if v, ok := counts[t]; ok && hasAny(list[i+1:], pins) {
			out[howMany] = v
			continue
		}
		if !isNumber.MatchString(t) {
			if t == "x" || t == "×" || t == "*" {
				times = len(found) > 0
				continue
			}
			words, all = append(words, t), append(all, t)
			continue
		}
		v, err := strconv.ParseFloat(t, 64)
		if err != nil || v > mostSize {
			continue // no size of a joint
		}
		p := piece{value: v, before: words, times: times && len(words) == 0}
		words, times = nil, false
		if i+1 < len(list) {
			switch u := list[i+1]; {
			case u == "mm":
				p.length = true
				i++
			case u == "cm":
				p.value, p.length = v*10, true
				i++
			case u == "inch" || u == "inches" || u == `"` || (u == "in" && (i+2 == len(list) || (labels[list[i+2]] != ""))):
				p.value, p.length = v*25.4, true
				i++
			}
		}
		found = append(found, p)
	}
	after := words // words behind the last number
	var products []product
	for i := 0; i < len(found); i++ {
		run := []float64{found[i].value}
		for i+1 < len(found) && found[i+1].times {
			i++
			run = append(run, found[i].value)
		}
		if len(run) > 1 {
			products = append(products, product{run, all})
			continue
		}
		behind := after
		if i+1 < len(found) {
			behind = found[i+1].before
		}
		p := found[i]
		if !p.length && p.value == float64(int(p.value)) && p.value <= 12 && len(behind) > 0 && slices.Contains(pins, behind[0]) {
			out[howMany] = p.value
			continue
		}
		if len(p.before) > 0 && slices.Contains([]string{"no", "size", "#"}, p.before[len(p.before)-1]) {
			out[plate] = p.value
			continue
		}
		name, words := label(""), slices.Concat(p.before, behind)
		for k := len(p.before) - 1; k >= 0 && name == ""; k-- {
			if p.before[k] != "used" {
				name = labels[p.before[k]]
			}
		}
		if name == "" {
			for k, w := range behind {
				if name = labels[w]; name != "" {
					behind[k] = "used"
					break
				}
			}
		}
		if name == "" && p.length && slices.ContainsFunc(behind, func(w string) bool { return slices.Contains(pins, w) }) {
			name = diameter // "8 mm dowels"
		}
		if name == "" && hasAny(words, append(slices.Clone(inA), inB...)) && slices.Contains(words, "in") {
			name = depth // "25 in the rail"
		}
		if name == "" {
			continue
		}
		if name == depth {
			switch a, b := hasAny(words, inA), hasAny(words, inB); {
			case a && !b:
				name = depthA
			case b && !a:
				name = depthB
			}
		}
		out[name] = p.value
	}
	return products
}

// mostSize is the largest size that is read, mm. Judgement: no joint of furniture and no rig for one is ten metres large.
const mostSize = 10_000

func hasAny(words, of []string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(of, w) })
}

var leverText = regexp.MustCompile(`(?:lever(?: arm)?|moment arm|arm)\s*(?:of|=|:)?\s*(\d+(?:\.\d+)?)|(\d+(?:\.\d+)?)\s*(?:mm )?(?:lever|moment arm)|(?:load(?:ed)?|force) (?:at )?(\d+(?:\.\d+)?)\s*(?:mm )?from`)

// findLever returns the distance from the load to the joint in mm, zero where no column gives it.
func findLever(r jointRow) float64 {
	for _, column := range []string{"lever_mm", "lever", "member_size_mm", "joint_size_mm", "configuration", "load_case", "note"} {
		text := strings.ToLower(brackets.ReplaceAllString(r.text(column), " "))
		if column == "lever_mm" || column == "lever" {
			if v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "mm")), 64); err == nil && v > 0 && v <= mostSize {
				return v
			}
		}
		if m := leverText.FindStringSubmatch(text); m != nil {
			for _, g := range m[1:] {
				if v, err := strconv.ParseFloat(g, 64); err == nil && v > 0 {
					return v
				}
			}
		}
	}
	return 0
}

// tradeNames are the woods that reports call by a short name; each is the one that the trade of the region of the report
// means by it. Common practice. A name that means several woods, such as pine, stays unknown.
var tradeNames = map[string]string{
	"red oak": "northern-red-oak", "cherry": "black-cherry", "oak": "european-oak", "beech": "european-beech", "turkish beech": "european-beech",
	"oriental beech": "european-beech", "fagus orientalis": "european-beech", "fagus sylvatica": "european-beech", "spruce": "norway-spruce",
	"picea abies": "norway-spruce", "scotch pine": "scots-pine", "pinus sylvestris": "scots-pine", "poplar": "eastern-cottonwood",
	"populus": "eastern-cottonwood", "maple": "sugar-maple", "hard maple": "sugar-maple", "walnut": "black-walnut", "ash": "white-ash",
	"white pine": "eastern-white-pine", "southern yellow pine": "loblolly-pine", "southern pine": "loblolly-pine", "douglas fir": "douglas-fir", "birch": "yellow-birch",
}

// findWood returns the species that a report names.
func findWood(name string) (wood.Species, bool) {
	name = strings.ToLower(strings.TrimSpace(brackets.ReplaceAllString(name, "")))
	name = strings.TrimSuffix(strings.TrimSuffix(name, " wood"), " block")
	if id, ok := tradeNames[name]; ok {
		return wood.Lookup(id)
	}
	return wood.Find(name)
}

// quantityOf returns the factor that brings a unit to N, N·m or MPa, and what is measured.
func quantityOf(u string) (factor float64, kind string) {
	u = strings.NewReplacer(".", "", "·", "", "-", "", " ", "", "*", "").Replace(strings.ToLower(u))
	switch u {
	case "n":
		return 1, "force"
	case "kn":
		return 1000, "force"
	case "lbf", "lb", "lbs", "pounds":
		return unit.NewtonsPerPoundForce, "force"
	case "kgf":
		return 9.80665, "force"
	case "nm":
		return 1, "moment"
	case "nmm":
		return 0.001, "moment"
	case "knm":
		return 1000, "moment"
	case "lbfin", "inlb", "inlbf", "lbin":
		return unit.NewtonsPerPoundForce * 0.0254, "moment"
	case "mpa", "n/mm2", "n/mm²":
		return 1, "stress"
	case "psi":
		return unit.MPaPerPSI, "stress"
	case "nm/rad":
		return 1, "stiffness"
	case "knm/rad":
		return 1000, "stiffness"
	}
	return 0, ""
}

// actionOf returns how a row was loaded; empty where it is not said.
func actionOf(loadCase string) joint.Action {
	c := strings.ReplaceAll(strings.ToLower(loadCase), "_", " ")
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(c, w) })
	}
	switch {
	case has("out of plane", "flatwise", "sideways"):
		return joint.BentSideways
	case has("bending", "racking", "moment", "diagonal"):
		return joint.Bent
	case has("withdrawal", "tension", "pull"):
		return joint.Pulled
	case has("shear"):
		return joint.Sheared
	}
	return ""
}
