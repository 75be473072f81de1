package schedule

import (
	"slices"
	"strings"
	"testing"

	"longgrain/examples"
	"longgrain/internal/trial"
)

// withTasks is the demo in a shop with tasks of its own.
func withTasks(t testing.TB, tasks string) Input {
	t.Helper()
	return input(t, examples.PlayTable(), trial.Shop(t, examples.Shop()+"\ntasks:\n"+tasks), "wax-oil")
}

func taskNamed(t testing.TB, p Plan, what string) Task {
	t.Helper()
	i := slices.IndexFunc(p.Tasks, func(x Task) bool { return x.What == what })
	if i < 0 {
		t.Fatalf("there is no task %q", what)
	}
	return p.Tasks[i]
}

func TestOwnTasksTakeTheirPlace(t *testing.T) {
	in := withTasks(t, `  - {name: burn the mark, minutes: 30, after: [dry fit], before: [sand], bench: true}
  - {name: wait for the castors, minutes: 15, after: [buy], wait_hours: 96, before: [fix top]}
`)
	p := plan(t, in)
	checkMeans(t, in, p)
	checkOnce(t, p)
	mark := taskNamed(t, p, "burn the mark")
	for _, x := range p.Tasks {
		if x.Kind == Fit && x.End.After(mark.Start.Time) || x.Kind == Sand && x.Start.Before(mark.End.Time) {
			t.Errorf("%s from %v to %v, the mark from %v to %v", x.Name, x.Start, x.End, mark.Start, mark.End)
		}
	}
	castors := taskNamed(t, p, "wait for the castors")
	if top := taskNamed(t, p, "fasten top F1"); top.Start.Sub(castors.End.Time).Hours() < 96 {
		t.Errorf("castors at %v, top at %v", castors.End, top.Start)
	}
	if last := p.Tasks[len(p.Tasks)-1]; last.Kind != Finished {
		t.Errorf("the end is %s", last.Name)
	}
}

func TestOwnTasksInTurnAreAFinding(t *testing.T) {
	for name, tasks := range map[string]string{
		"with each other":    "  - {name: first, minutes: 30, after: [second]}\n  - {name: second, minutes: 30, after: [first]}\n",
		"with the work":      "  - {name: paint the box, minutes: 30, after: [finish], before: [mill]}\n",
		"after the end":      "  - {name: sweep, minutes: 30, after: [finished]}\n",
		"with itself":        "  - {name: alone, minutes: 30, after: [alone], before: [sand]}\n",
		"through three":      "  - {name: a, minutes: 30, after: [c]}\n  - {name: b, minutes: 30, after: [a]}\n  - {name: c, minutes: 30, after: [b]}\n",
		"of some and others": "  - {name: good, minutes: 30, after: [mill], before: [sand]}\n  - {name: bad, minutes: 30, after: [sand], before: [good]}\n",
	} {
		p := plan(t, withTasks(t, tasks))
		told := slices.ContainsFunc(p.Findings, func(f Finding) bool {
			return strings.Contains(f.What, "wait for each other in turn") && f.Advice != ""
		})
		if name == "with itself" {
			told = true // naming itself asks for nothing, and nothing is lost by leaving it out
		}
		if !told || p.End.IsZero() {
			t.Errorf("%s: end %v, findings %+v", name, p.End, p.Findings)
		}
	}
}

func TestWaitBeyondTheCalendarIsAFinding(t *testing.T) {
	p := plan(t, withTasks(t, "  - {name: season the boards, minutes: 30, after: [buy], before: [cut], wait_hours: 20000}\n"))
	if len(p.Days) != 0 || len(p.Tasks) == 0 {
		t.Errorf("%d days, %d tasks", len(p.Days), len(p.Tasks))
	}
	if !slices.ContainsFunc(p.Findings, func(f Finding) bool {
		return f.Where == "season the boards" && strings.Contains(f.What, "833 days") && strings.Contains(f.What, "730 days")
	}) {
		t.Errorf("findings %+v", p.Findings)
	}
}

// A wait of nearly two years ends, with its work, beyond the calendar: the plan says so instead of searching for ever.
func TestWaitThatHardlyFitsIsPlannedOrAFinding(t *testing.T) {
	p := plan(t, withTasks(t, "  - {name: season the boards, minutes: 30, after: [buy], before: [cut], wait_hours: 17400}\n"))
	if p.End.IsZero() && len(p.Findings) == 0 {
		t.Error("neither a plan nor a finding")
	}
}

func TestHolidaysForEverAreAFinding(t *testing.T) {
	in := demo(t)
	in.Shop.Calendar.Windows = in.Shop.Calendar.Windows[:0]
	if p := plan(t, in); len(p.Days) != 0 || !slices.ContainsFunc(p.Findings, func(f Finding) bool { return strings.Contains(f.What, "no working hours") }) {
		t.Errorf("findings %+v", p.Findings)
	}
}

func TestMeasuredTimesReplaceAssumedOnes(t *testing.T) {
	before := plan(t, demo(t))
	s := trial.Shop(t, examples.Shop()+"\ntimes:\n  - {work: mask, minutes: 3, note: on the first table}\n  - {work: joints, factor: 0.5}\n")
	after := plan(t, input(t, examples.PlayTable(), s, "dye-and-oil"))
	mask := func(p Plan) float64 {
		x := taskNamed(t, p, "mask the 32 glue surfaces")
		return float64(x.Work) * float64(x.People)
	}
	// Assumed: a minute a place at the pace of 1.5. Measured: three minutes, in which the pace is.
	if mask(before) != 48 || mask(after) != 96 {
		t.Errorf("masking took %v min and takes %v", mask(before), mask(after))
	}
	joints := func(p Plan) (sum float64) {
		for _, x := range p.Tasks {
			if x.Kind == Joints {
				sum += float64(x.Work) * float64(x.People)
			}
		}
		return sum
	}
	if got, want := joints(after), joints(before)/1.5*0.5; got < want*0.999 || got > want*1.001 {
		t.Errorf("joints take %v min, want %v", got, want)
	}
	if slices.ContainsFunc(after.Notes, func(n string) bool { return strings.Contains(n, "Working times are assumed") }) {
		t.Error("measured times are called assumed")
	}
}
