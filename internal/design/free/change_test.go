package free_test

import (
	"fmt"
	"strings"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/design/free"
	"longgrain/internal/design/pattern"
	"longgrain/internal/design/piece"
	"longgrain/internal/ground/problem"
	"longgrain/patterns"
)

// work reads a piece and works it out until its parts are placed.
func work(t *testing.T, text string) (piece.Piece, []free.Changed, problem.List) {
	t.Helper()
	p, problems := piece.Parse("p.yaml", []byte(text))
	var changed []free.Changed
	if len(problems) == 0 {
		p, _, problems = pattern.Expand(p, patterns.All())
	}
	if len(problems) == 0 {
		p, changed, problems = free.Work(p)
	}
	if len(problems) == 0 {
		_, problems = assembly.Build(p)
	}
	return p, changed, problems
}

func part(t *testing.T, p piece.Piece, name string) piece.Part {
	t.Helper()
	for _, x := range p.Parts {
		if x.Name == name {
			return x
		}
	}
	t.Fatalf("there is no part %q", name)
	return piece.Part{}
}

const table = "longgrain: 1\nname: A\npattern: leg-and-apron-table\nsizes:\n  length: 900 mm\n  below: low rails\n"

func TestAChangeByHandSurvivesAChangeOfSize(t *testing.T) {
	const changes = `changes:
  - {part: apron front, species: northern red oak, thickness: 24 mm}
  - {part: top, thickness: 30 mm}
  - {between: [apron front, leg front left], joint: {kind: twin tenons}}
  - {part: low rail back, out: yes}
`
	for _, length := range []string{"900 mm", "1200 mm", "30 in"} {
		p, changed, problems := work(t, strings.Replace(table, "900 mm", length, 1)+changes)
		if len(problems) > 0 {
			t.Fatalf("%s: %v", length, problems)
		}
		apron := part(t, p, "apron front")
		if apron.Species != "northern red oak" || apron.Thickness.String() != "24 mm" {
			t.Errorf("%s: %+v", length, apron)
		}
		if top := part(t, p, "top"); top.Thickness.String() != "30 mm" || top.At[2].String() != "482 mm" {
			t.Errorf("%s: the top must grow upwards, it lies at %s", length, top.At[2])
		}
		twin := 0
		for _, c := range p.Connections {
			if c.Joint != nil && c.Joint.Kind == "twin tenons" {
				twin++
			}
			if strings.Contains(strings.Join(c.Between[:], " "), "low rail back") {
				t.Errorf("%s: %v is still connected", length, c.Between)
			}
		}
		if twin != 1 || len(p.Parts) != 12 {
			t.Errorf("%s: %d twin tenons, %d parts", length, twin, len(p.Parts))
		}
		var said []string
		for _, c := range changed {
			said = append(said, fmt.Sprintf("%d %s: %s %s > %s", c.Index, c.Of, c.What, c.Was, c.Now))
		}
		want := "0 apron front: species the wood of the piece > northern red oak, 0 apron front: thickness 18 mm > 24 mm, 1 top: thickness 18 mm > 30 mm, 2 apron front to leg front left: joint left to the plan > twin tenons, 3 low rail back: part there > left out"
		if got := strings.Join(said, ", "); got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
}

func TestAChangeOfARoleChangesEveryPartOfIt(t *testing.T) {
	p, changed, problems := work(t, table+"changes:\n  - {part: apron, species: northern red oak}\n  - {between: [apron, leg], joint: {kind: half-lap}}\n")
	if len(problems) > 0 || len(changed) != 4+8 {
		t.Fatalf("%v, %d changes", problems, len(changed))
	}
	for _, x := range p.Parts {
		if (x.Role == "apron") != (x.Species == "northern red oak") {
			t.Errorf("%s is of %q", x.Name, x.Species)
		}
	}
}

func TestAChangeThatNoLongerFitsSaysSoWhereItStands(t *testing.T) {
	for name, c := range map[string]struct{ sizes, change, want string }{
		"part gone": {"", "{part: shelf, thickness: 24 mm}",
			`p.yaml:8:12: changes[0].part: the piece has no part "shelf" at these sizes; take the change out, or choose sizes that make the part [no-longer-fits]`},
		"part misspelt":   {"", "{part: apron frnt, out: yes}", `did you mean "apron front"?`},
		"joint gone":      {"", "{between: [apron front, top], joint: {kind: dowels}}\n  - {between: [leg front left, leg front right], joint: {kind: dowels}}", `nothing connects "leg front left" and "leg front right"`},
		"no room":         {"", "{part: apron front, width: 460 mm}", "changes[0]: \"apron front\" and "},
		"loose":           {"", "{part: apron front, length: 300 mm}", "changes[0]: \"apron front\" and \"leg front right\" do not touch"},
		"wrong way round": {"", "{part: apron front, thickness: 90 mm}", `"apron front" would be 90 mm thick and 80 mm wide`},
		"odd side":        {"", "{part: apron front, thickness: 20 mm, stays: left}", "the thickness of \"apron front\" does not lie from left"},
		"nothing":         {"", "{part: apron front}", "changes nothing"},
		"no name":         {"", "{out: yes}", "must name either a part or the two parts of a joint"},
		"both":            {"", "{part: top, out: yes, species: northern red oak}", "what is left out cannot be changed as well"},
		"unknown wood":    {"", "{part: top, species: red oka}", `there is no species "red oka"`},
		"moved away":      {"", "{part: top, move: [0 mm, 0 mm, 10 mm]}", "changes[0]: "},
	} {
		_, _, problems := work(t, table+"changes:\n  - "+c.change+"\n")
		if !strings.Contains(problems.Error(), c.want) {
			t.Errorf("%s: got\n%v\nwant %s", name, problems, c.want)
		}
	}
}

func TestTheSideThatIsNamedStays(t *testing.T) {
	for stays, want := range map[string]string{"front": "33 mm", "back": "31 mm", "middle": "32 mm"} {
		p, _, problems := work(t, table+"changes:\n  - {part: apron front, thickness: 20 mm, stays: "+stays+"}\n")
		if len(problems) > 0 || part(t, p, "apron front").At[1].String() != want {
			t.Errorf("%s: %v, %v", stays, part(t, p, "apron front").At, problems)
		}
	}
}
