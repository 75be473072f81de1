package plan

import (
	"context"
	"strings"
	"testing"

	"longgrain/examples"
)

const oneOak = `changes:
  - {part: apron front, species: northern red oak}
  - {between: [apron front, leg front left], joint: {kind: mortise and tenon}}
`

// What is changed by hand goes through every chapter: the oak rail is of oak, heavier, cut from oak boards, and the joint is the one asked for.
func TestWhatIsChangedByHandIsPlanned(t *testing.T) {
	as := made(t, input(t, examples.PlayTable(), examples.Shop()))
	p := made(t, input(t, examples.PlayTable()+oneOak, examples.Shop()))
	consistent(t, p)
	oak, _ := p.Assembly.PartNamed("apron front")
	if p.Assembly.Parts[oak].Species == as.Assembly.Parts[oak].Species || p.Structure.Mass <= as.Structure.Mass {
		t.Errorf("%+v weighs %v, before %v", p.Assembly.Parts[oak], p.Structure.Mass, as.Structure.Mass)
	}
	twin := 0
	for _, g := range p.Joints {
		if g.Made && string(g.Final.Joint.Kind) == "mortise and tenon" {
			twin += len(g.Connections)
		}
	}
	if twin != 1 || len(p.Changed) != 2 {
		t.Errorf("%d through tenon, changed %+v", twin, p.Changed)
	}
	none := strings.Replace(oneOak, "mortise and tenon", "twin tenons", 1) // the rail is too thin for two
	if q := made(t, input(t, examples.PlayTable()+none, examples.Shop())); q.Chapters[0].Word != "tight" || !strings.Contains(q.Chapters[0].Answer, "which no longer fits: twin tenons cannot be made between apron front and leg") {
		t.Errorf("%+v", q.Chapters[0])
	}
	if !strings.Contains(p.Chapters[0].Answer, "2 changed by hand") {
		t.Errorf("%q", p.Chapters[0].Answer)
	}
}

func TestAChangeThatNoLongerFitsStopsThePlanAndSaysWhere(t *testing.T) {
	text := strings.Replace(examples.PlayTable(), "below: low rails", "below: nothing", 1)
	text = strings.Replace(text, "  below_height: 90 mm\n  rail_width: 60 mm\n", "", 1) + "changes:\n  - {part: low rail front, species: northern red oak}\n"
	_, problems := Make(context.Background(), input(t, text, examples.Shop()))
	if len(problems) != 1 || problems[0].Code != "no-longer-fits" || problems[0].At.Line == 0 || !strings.Contains(problems[0].Mend, "take the change out") {
		t.Errorf("%v", problems)
	}
}
