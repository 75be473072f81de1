package cards

import (
	"context"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"longgrain/examples"
	"longgrain/internal/design/joint"
	"longgrain/internal/plan"
	"longgrain/internal/trial"
	"longgrain/internal/work/glueup"
	"longgrain/internal/work/schedule"
	"longgrain/patterns"
)

var update = flag.Bool("update", false, "rewrite golden files")

func planOf(t testing.TB, text string, change ...func(*plan.Input)) plan.Plan {
	t.Helper()
	in, problems := plan.Read(plan.Text{Name: "piece", Text: []byte(text)}, plan.Text{Name: "shop", Text: []byte(examples.Shop())}, patterns.All())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, c := range change {
		c(&in)
	}
	p, problems := plan.Make(context.Background(), in)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return p
}

// words prints a deck for a golden file.
func words(d Deck) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s, ends %s\n", d.Piece, d.Shop, d.End)
	for _, c := range d.Cards {
		fmt.Fprintf(&b, "\n%d. %s [%s] %s %s, %d min, %d people\n", c.Number, c.Title, c.Kind, c.Day, c.At, c.Minutes, c.People)
		for _, x := range c.Again {
			fmt.Fprintf(&b, "   goes on %s\n", x)
		}
		for _, x := range c.After {
			fmt.Fprintf(&b, "   after: %s\n", x)
		}
		for _, x := range c.Cautions {
			fmt.Fprintf(&b, "   ! %s | %s | %s\n", x.Title, x.Text, x.Stop)
		}
		fmt.Fprintf(&b, "   figures: %s\n", strings.Join(c.Figures, " "))
		for _, x := range c.Notes {
			fmt.Fprintf(&b, "   mind: %s\n", x)
		}
		for _, x := range c.Settings {
			fmt.Fprintf(&b, "   %s = %s\n", x.Name, x.Value)
		}
		for _, x := range c.Steps {
			fmt.Fprintf(&b, "   [ ] %s\n", x)
		}
		for _, x := range c.Timers {
			fmt.Fprintf(&b, "   timer %s: %d min; %s; %s\n", x.Name, x.Minutes, x.Ring, x.Note)
		}
		if c.Then != "" {
			fmt.Fprintf(&b, "   then: %s\n", c.Then)
		}
	}
	return b.String()
}

func TestTheCardsOfThePlayTableReadAsKept(t *testing.T) {
	got := words(Make(planOf(t, examples.PlayTable()), Options{}))
	const file = "testdata/play-table.txt"
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("differs from %s; run with -update and read the difference", file)
	}
}

// pieces are small pieces whose cards must be whole: every kind of glue-up and fastening, inches, several copies.
func pieces(t testing.TB) map[string]string {
	table := examples.PlayTable()
	out := map[string]string{
		"table": table, "inches": strings.Replace(table, "units: mm", "units: in", 1), "three": table + "copies: 3\n",
		"crossed": trial.CrossedPiece(t), "screwed top": trial.FastenedPiece(t, "slotted screws"),
	}
	for _, k := range []joint.Kind{joint.Tenon, joint.Screws, joint.Dovetails, joint.TongueAndGroove} {
		out[string(k)] = trial.KindPiece(t, k)
	}
	if testing.Short() {
		for _, name := range []string{"inches", string(joint.Dovetails), "crossed"} {
			delete(out, name)
		}
	}
	return out
}

func TestEveryTaskThatSomebodyDoesIsOnOneCard(t *testing.T) {
	for name, text := range pieces(t) {
		p := planOf(t, text)
		d := Make(p, Options{})
		on := map[string]int{}
		last := ""
		for i, c := range d.Cards {
			for _, x := range c.Tasks {
				on[x.ID]++
			}
			if c.Number != i+1 || c.Title == "" || c.Day == "" || c.At == "" || len(c.Steps) == 0 {
				t.Errorf("%s: card %d is not whole: %+v", name, i+1, c)
			}
			if c.Minutes <= 0 {
				t.Errorf("%s: %q takes no time", name, c.Title)
			}
			last = c.Title
		}
		for _, x := range p.Schedule.Tasks {
			want := 1
			if x.Kind == schedule.Wait || x.Kind == schedule.Finished {
				want = 0
			}
			if on[x.ID] != want {
				t.Errorf("%s: %s (%s) is on %d cards, not %d", name, x.ID, x.Name, on[x.ID], want)
			}
		}
		if last == "" {
			t.Errorf("%s: no cards", name)
		}
	}
}

func TestCardsComeInTheOrderOfTheSchedule(t *testing.T) {
	for name, text := range pieces(t) {
		p := planOf(t, text)
		var before time.Time
		for _, c := range Make(p, Options{}).Cards {
			k := slices.IndexFunc(p.Schedule.Tasks, func(x schedule.Task) bool { return x.ID == c.Tasks[0].ID })
			if at := p.Schedule.Tasks[k].Start.Time; at.Before(before) {
				t.Errorf("%s: %q begins before the card in front of it", name, c.Title)
			} else {
				before = at
			}
		}
	}
}

// What a card says of a glue-up is what the glue-up says: set beside the chapter's own numbers.
func TestCardsOfGlueUpsCarryTheTimesOfTheGlue(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	seen := 0
	for _, c := range Make(p, Options{}).Cards {
		if c.Kind != schedule.Glue {
			continue
		}
		k := slices.IndexFunc(p.Schedule.Tasks, func(x schedule.Task) bool { return x.ID == c.Tasks[0].ID })
		g := p.GlueUps.GlueUps[p.Schedule.Tasks[k].GlueUp-1]
		seen++
		want := map[string]float64{"Close the joint": float64(g.Allowed), "Clamps stay on": float64(g.ClampTime), "Scrape the squeeze-out": float64(g.Scrape.Low)}
		for _, x := range c.Timers {
			if diff := float64(x.Minutes) - want[x.Name]; diff <= -1 || diff >= 1 || strings.HasPrefix(x.Name, "Close") != (diff < 0) && diff != 0 {
				t.Errorf("%q: %s rings after %d min, the glue asks for %g", c.Title, x.Name, x.Minutes, want[x.Name])
			}
			delete(want, x.Name)
		}
		if len(want) > 0 {
			t.Errorf("%q lacks timers: %v", c.Title, want)
		}
		if len(c.Figures) == 0 {
			t.Errorf("%q shows nothing", c.Title)
		}
		if g.Kind == glueup.Lamination && !strings.Contains(fmt.Sprint(c.Settings), "apart") {
			t.Errorf("%q does not say how far the clamps stand apart: %v", c.Title, c.Settings)
		}
	}
	if seen != len(p.GlueUps.GlueUps) {
		t.Errorf("%d cards of glue-ups, want %d", seen, len(p.GlueUps.GlueUps))
	}
}

// A bore is on the card of its joint with the fence and the stop of the mark-out.
func TestCardsOfJointsCarryTheSettingsOfTheirCuts(t *testing.T) {
	for name, text := range pieces(t) {
		p := planOf(t, text)
		d := Make(p, Options{})
		for _, c := range d.Cards {
			if c.Kind != schedule.Joints {
				continue
			}
			k := slices.IndexFunc(p.Schedule.Tasks, func(x schedule.Task) bool { return x.ID == c.Tasks[0].ID })
			settings := fmt.Sprint(c.Settings)
			for _, i := range p.Schedule.Tasks[k].Joints {
				for _, part := range p.Schedule.Tasks[k].Parts {
					for _, m := range p.Markout.Sheets[part].Marks {
						if m.For != p.Assembly.Connections[i].Name || m.Kind != "bore" || m.Tilt != 0 {
							continue
						}
						if !strings.Contains(settings, "Bit "+m.Diameter.Show(p.Family)) || !strings.Contains(settings, m.Stop.Show(p.Family)) {
							t.Fatalf("%s: %q lacks the setting of %+v: %s", name, c.Title, m, settings)
						}
					}
				}
			}
			if len(c.Figures) == 0 {
				t.Errorf("%s: %q shows nothing", name, c.Title)
			}
		}
		for _, f := range d.Figures {
			if w, h := f.Scene.Size(); w <= 0 || h <= 0 || f.Caption == "" || f.Scene.Title == "" {
				t.Errorf("%s: figure %s is %g × %g, %q, %q", name, f.ID, w, h, f.Caption, f.Scene.Title)
			}
			for _, pair := range f.Scene.TextClashes() {
				t.Errorf("%s: figure %s writes %q over %q", name, f.ID, pair[0].Text, pair[1].Text)
			}
		}
	}
}

func TestCautionsStandWhereTheyBelong(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	for _, c := range Make(p, Options{}).Cards {
		text := fmt.Sprint(c.Cautions)
		for kind, want := range map[schedule.Kind]string{
			schedule.Cut: "Riving knife", schedule.Mill: "Push block", schedule.Rags: "one by one outdoors", schedule.Sand: "FFP2", schedule.Joints: "Clamp the work",
		} {
			if c.Kind == kind && !strings.Contains(text, want) {
				t.Errorf("%q does not say %q: %s", c.Title, want, text)
			}
		}
		if strings.Contains(c.Title, "oil") && c.Kind == schedule.Coat && !strings.Contains(text, "never in a bin") {
			t.Errorf("%q does not speak of rags: %s", c.Title, text)
		}
	}
}

func TestWhatWasDoneIsTickedAndWaitsAreTold(t *testing.T) {
	at := time.Date(2026, 10, 17, 12, 30, 0, 0, time.UTC)
	p := planOf(t, examples.PlayTable(), func(in *plan.Input) {
		in.Log = schedule.Fold([]schedule.Event{{Task: "buy", Action: schedule.TickOff, At: at.Add(-200 * time.Hour)}, {Task: "cut", Action: schedule.TickOff, At: at, Note: "dull blade"}})
		in.Now = at
	})
	done, notes := 0, ""
	for _, c := range Make(p, Options{}).Cards {
		if c.Done {
			done++
		}
		for _, x := range c.Tasks {
			notes += x.Note
		}
	}
	if done != 2 || notes != "dull blade" {
		t.Errorf("%d cards done, notes %q", done, notes)
	}
	fresh := Make(planOf(t, examples.PlayTable()), Options{})
	for _, c := range fresh.Cards {
		if c.Kind == schedule.Cut && !strings.Contains(strings.Join(c.After, " "), "Friday 16 October") {
			t.Errorf("the saw does not wait for the timber: %v", c.After)
		}
		if c.Kind == schedule.Buy && !strings.Contains(c.Then, "10 days") {
			t.Errorf("buying does not say that the timber waits: %q", c.Then)
		}
	}
}

// Slots for the top are cut with the joints of their rails, before anything is glued.
func TestSlotsForTheTopAreOnACardOfJoints(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	cut := map[string]bool{}
	for _, c := range Make(p, Options{}).Cards {
		for _, x := range c.Steps {
			if mark, what, ok := strings.Cut(x, ": "); ok && c.Kind == schedule.Joints && strings.Contains(what, "slot") {
				if cut[mark] {
					t.Errorf("the slots of %s are cut twice", mark)
				}
				cut[mark] = true
			}
		}
	}
	for _, f := range p.Fastenings {
		k, _ := p.Assembly.PartNamed(f.Rail)
		if mark := p.Assembly.Parts[k].Mark; !cut[mark] {
			t.Errorf("no card cuts the slots of %s", mark)
		}
	}
}

func TestTheSameCardsTwice(t *testing.T) {
	p := planOf(t, examples.PlayTable())
	if first, second := words(Make(p, Options{})), words(Make(p, Options{})); first != second {
		t.Error("two decks of one plan differ")
	}
}
