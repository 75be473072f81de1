package schedule

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"longgrain/examples"
	"longgrain/internal/design/joint"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/coating"
	"longgrain/internal/trade/shop"
	"longgrain/internal/trial"
	"longgrain/internal/work/cutting"
	"longgrain/internal/work/finishing"
	"longgrain/internal/work/glueup"

	"github.com/google/go-cmp/cmp"
)

// input works out everything that comes before the schedule.
func input(t testing.TB, text string, s shop.Shop, finish string) Input {
	t.Helper()
	a := trial.Assembly(t, text)
	joints := trial.Joints(t, a, trial.Means(s))
	a = trial.Cut(t, a, joints)
	air := Air(s, s.Calendar.Starts)
	f, ok := coating.LookupSchedule(finish)
	if !ok {
		t.Fatalf("no finish %s", finish)
	}
	cut := cutting.Make(context.Background(), a, s, max(1, a.Copies))
	return Input{Assembly: a, Joints: joints, Cutting: cut, GlueUps: glueup.Make(a, joints, cut.Groups, cut.Ways, s, air),
		Finish: finishing.Make(a, s, f, air), Shop: s}
}

func demo(t testing.TB) Input {
	t.Helper()
	return input(t, examples.PlayTable(), trial.Shop(t, examples.Shop()), "dye-and-oil")
}

func plan(t testing.TB, in Input) Plan {
	t.Helper()
	p := Make(context.Background(), in)
	check(t, in, p)
	return p
}

// check looks at a plan with the eyes of somebody who knows nothing of solvers.
func check(t testing.TB, in Input, p Plan) {
	t.Helper()
	if p.End.IsZero() {
		return
	}
	open := func(s Span) bool {
		day := s.From.Truncate(24 * time.Hour)
		if slices.ContainsFunc(in.Shop.Calendar.Holidays, day.Equal) {
			return false
		}
		from, to := shop.Clock(s.From.Sub(day).Minutes()), shop.Clock(s.To.Sub(day).Minutes())
		return slices.ContainsFunc(in.Shop.Calendar.Windows, func(w shop.Window) bool { return w.Day == day.Weekday() && w.From <= from && to <= w.To })
	}
	for _, x := range p.Tasks {
		if x.Start.Before(p.Start.Time) || x.End.After(p.End.Time) {
			t.Errorf("%s lies outside the plan: %v to %v", x.Name, x.Start, x.End)
		}
		sat := time.Duration(0)
		for _, s := range x.Sittings {
			sat += s.To.Sub(s.From.Time)
			if x.Kind != Buy && !open(s) {
				t.Errorf("%s is done while the shop is closed: %v to %v", x.Name, s.From, s.To)
			}
		}
		if x.Kind != Wait && x.Kind != Finished && sat.Minutes()+1e-6 < float64(x.Work) && len(p.Findings) == 0 {
			t.Errorf("%s has %v of its %.0f min", x.Name, sat, float64(x.Work))
		}
		for _, l := range x.After {
			gap := unit.Minutes(x.Start.Sub(p.Tasks[l.Task].End.Time).Minutes())
			if gap < l.AtLeast || l.Limited && gap > l.AtMost {
				t.Errorf("%s starts %.0f min after %s, allowed are %.0f to %.0f", x.Name, float64(gap), p.Tasks[l.Task].Name, float64(l.AtLeast), float64(l.AtMost))
			}
		}
	}
}

func TestPlayTableIsPlannedAndProven(t *testing.T) {
	in := demo(t)
	p := plan(t, in)
	if !p.Proven || p.Bound != p.End || !p.Dated || p.Start.Date() != "Tuesday 6 October" {
		t.Errorf("end %v, bound %v, proven %v, start %v", p.End, p.Bound, p.Proven, p.Start)
	}
	kinds := map[Kind]int{}
	for _, x := range p.Tasks {
		kinds[x.Kind]++
	}
	for k, n := range map[Kind]int{Buy: 1, Cut: 1, Mill: 6, Glue: 6, Scrape: 6, Plane: 3, Joints: 4, Fit: 1, Mask: 1, Rags: 2, FixTop: 1, Finished: 1} {
		if kinds[k] != n {
			t.Errorf("%d tasks of kind %q, want %d", kinds[k], k, n)
		}
	}
	if p.Sessions < 8 || p.Attended < 15*60 || p.Waiting >= p.Elapsed {
		t.Errorf("%d sessions, %.0f h of work, waiting %.0f of %.0f h", p.Sessions, float64(p.Attended)/60, float64(p.Waiting)/60, float64(p.Elapsed)/60)
	}
	// One limit cannot be kept by two evenings and a Saturday: sanding raised grain within a day.
	if len(p.Findings) != 1 || !strings.Contains(p.Findings[0].What, "within 24 h") {
		t.Errorf("findings %+v", p.Findings)
	}
}

func TestDaysReadAsADiary(t *testing.T) {
	p := plan(t, demo(t))
	var all []string
	for i, d := range p.Days {
		if i > 0 && !d.Date.After(p.Days[i-1].Date.Time) {
			t.Errorf("%s follows %s", d.Title, p.Days[i-1].Title)
		}
		for _, e := range d.Entries {
			all = append(all, d.Title+": "+e.Text)
		}
	}
	text := strings.Join(all, "\n")
	for _, want := range []string{
		"Tuesday 6 October: 9:00 buy timber, hardware, glue and finish",
		"timber takes on the air of the shop until Friday 16 October, 10:00",
		"laminate legs A1 and A2, 10 clamps", "go on: mill", "fasten top F1", ": 15:00 finished",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the days do not say %q:\n%s", want, text)
		}
	}
}

func TestRagsFollowOilAtOnce(t *testing.T) {
	p := plan(t, demo(t))
	rags := 0
	for _, x := range p.Tasks {
		if x.Kind != Rags {
			continue
		}
		rags++
		oil := p.Tasks[x.After[0].Task]
		if !strings.Contains(oil.Name, "oil") || !x.Start.Equal(oil.End.Time) {
			t.Errorf("rags at %v, %s ended at %v", x.Start, oil.Name, oil.End)
		}
	}
	if rags != 2 {
		t.Errorf("%d rag tasks for two coats of oil", rags)
	}
}

func TestCriticalTasksReachFromStartToEnd(t *testing.T) {
	p := plan(t, demo(t))
	count := 0
	for _, x := range p.Tasks {
		if x.Critical {
			count++
		}
	}
	if !p.Tasks[0].Critical || !p.Tasks[len(p.Tasks)-1].Critical || count < 15 || count == len(p.Tasks) {
		t.Errorf("%d of %d tasks are critical, the first %v", count, len(p.Tasks), p.Tasks[0].Critical)
	}
	for _, x := range p.Tasks {
		if x.Kind == FixTop && x.Critical {
			t.Error("the end does not wait for the top, but for the cure")
		}
	}
}

func TestSameInputGivesSamePlan(t *testing.T) {
	in := demo(t)
	if diff := cmp.Diff(plan(t, in), plan(t, in)); diff != "" {
		t.Error(diff)
	}
}

func TestEveryFinishHasASchedule(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	for _, f := range coating.ScheduleIDs() {
		p := plan(t, input(t, examples.PlayTable(), s, f))
		if p.End.IsZero() {
			t.Errorf("%s: %+v", f, p.Findings)
		}
	}
}

func TestMoreClampsNeverEndLater(t *testing.T) {
	in := demo(t)
	before := plan(t, in)
	for range 3 {
		for i := range in.Shop.Clamps {
			in.Shop.Clamps[i].Count *= 2
		}
		p := plan(t, in)
		if before.Proven && p.Proven && p.End.After(before.End.Time) {
			t.Errorf("twice the clamps end at %v, before at %v", p.End, before.End)
		}
		before = p
	}
}

func TestShopWithoutHoursIsAFinding(t *testing.T) {
	in := demo(t)
	in.Shop.Calendar.Windows = nil
	p := plan(t, in)
	if !p.End.IsZero() || len(p.Tasks) == 0 || len(p.Days) != 0 || !strings.Contains(p.Findings[len(p.Findings)-1].What, "no working hours") {
		t.Errorf("end %v, %d tasks, %+v", p.End, len(p.Tasks), p.Findings)
	}
}

func TestWithoutAFirstDayDaysAreCounted(t *testing.T) {
	in := demo(t)
	in.Shop.Calendar.Starts = time.Time{}
	p := plan(t, in)
	if p.Dated || p.Days[0].Title != "week 1, Monday" {
		t.Errorf("dated %v, first day %q", p.Dated, p.Days[0].Title)
	}
	in.Start = time.Date(2027, 1, 4, 0, 0, 0, 0, time.UTC)
	if p := plan(t, in); !p.Dated || p.Days[0].Title != "Monday 4 January" {
		t.Errorf("first day %q", p.Days[0].Title)
	}
}

func TestShortSessionsDropTheLimitsAsFindings(t *testing.T) {
	text := examples.Shop()
	from, to := strings.Index(text, "hours:"), strings.Index(text, "holidays:")
	s := trial.Shop(t, text[:from]+"hours:\n  - {days: [monday, wednesday, friday], from: 19:00, to: 20:00}\n"+text[to:])
	p := plan(t, input(t, examples.PlayTable(), s, "dye-and-oil"))
	if p.End.IsZero() {
		t.Fatalf("no schedule: %+v", p.Findings)
	}
	scrape, long := 0, 0
	for _, f := range p.Findings {
		if strings.Contains(f.What, "scraped while rubbery") {
			scrape++
		}
		if strings.Contains(f.What, "longest session") {
			long++
		}
	}
	if scrape != 6 || long == 0 {
		t.Errorf("%d findings on scraping, %d on long tasks: %+v", scrape, long, p.Findings)
	}
}

func TestShopWithoutClampsBenchOrOperatorsIsPlanned(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	s.Clamps, s.Benches, s.DryingPlaces = nil, 0, 0
	s.People = []shop.People{{Name: "learners", Number: 2, Barred: []string{"table-saw", "planer"}}}
	p := plan(t, input(t, examples.PlayTable(), s, "wax-oil"))
	if p.End.IsZero() {
		t.Fatalf("no schedule: %+v", p.Findings)
	}
	var where []string
	for _, f := range p.Findings {
		where = append(where, f.What)
	}
	text := strings.Join(where, "; ")
	for _, want := range []string{"no bench", "no place to dry", "nobody in the shop may use all machines"} {
		if !strings.Contains(text, want) {
			t.Errorf("no finding says %q: %s", want, text)
		}
	}
}

func TestScrewedFrameIsPutTogetherAfterTheFirstCoat(t *testing.T) {
	text := examples.Shop()
	from, to := strings.Index(text, "tools:"), strings.Index(text, "clamps:")
	s := trial.Shop(t, text[:from]+"tools: [table saw, jointer, thickness planer, pocket-hole guide, hand drill]\n\n"+text[to:])
	// A rail 22 mm thick takes pocket screws; nothing else can be made with these tools.
	in := input(t, examples.PlayTable(), s, "dye-and-oil")
	if in.Joints[0] == nil || in.Joints[0].Kind != joint.PocketScrews {
		t.Fatalf("joint %+v", in.Joints[0])
	}
	p := plan(t, in)
	coated := false
	for _, x := range p.Tasks {
		coated = coated || x.Kind == Coat
		if x.Kind == Screw {
			if !coated || !strings.Contains(x.Name, "legs A1") {
				t.Errorf("%+v", x)
			}
			return
		}
	}
	t.Error("nobody puts the frame together")
}

const lid = `longgrain: 1
name: Lid
parts:
  - {name: left half, length: 600 mm, width: 150 mm, thickness: 20 mm, at: [0 mm, 0 mm, 0 mm]}
  - {name: right half, length: 600 mm, width: 150 mm, thickness: 20 mm, at: [0 mm, 150 mm, 0 mm]}
connections:
  - {between: [left half, right half]}
`

func TestPieceOfTwoBoardsIsPlanned(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	for _, finish := range []string{"wax-oil", "none"} {
		p := plan(t, input(t, lid, s, finish))
		glued := slices.ContainsFunc(p.Tasks, func(x Task) bool { return x.Kind == Glue && strings.HasPrefix(x.Name, "assemble") })
		if p.End.IsZero() || !glued {
			t.Errorf("%s: %+v", finish, p.Findings)
		}
	}
}

func TestEmptyPieceIsFinishedAtOnce(t *testing.T) {
	p := Make(context.Background(), Input{Shop: shop.Unknown()})
	if len(p.Tasks) != 1 || p.End.IsZero() {
		t.Errorf("%+v", p)
	}
	if p := Make(context.Background(), Input{}); len(p.Findings) == 0 {
		t.Error("a shop of nothing has no finding")
	}
}

func TestLimitsAreComparedWithTheSessions(t *testing.T) {
	hours := shop.Calendar{Windows: []shop.Window{{Day: time.Tuesday, From: 18*60 + 30, To: 21 * 60}, {Day: time.Saturday, From: 9 * 60, To: 13 * 60}}}
	for _, c := range []struct {
		name                       string
		first, second, least, most int
		want                       bool
	}{
		{"within one evening", 2, 1, 7, 14, true},
		{"only on Saturday", 3, 2, 7, 14, true},
		{"too long for both", 8, 8, 7, 14, false},
		{"next session within a day", 2, 2, 26, 96, false},
		{"next session within four days", 2, 2, 26, 4 * 96, true},
	} {
		if got := reachable(hours, c.first, c.second, c.least, c.most); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

func TestAirOfTheMonthOrTheColdest(t *testing.T) {
	s := trial.Shop(t, examples.Shop())
	if w := Air(s, time.Time{}); w.Name != "winter" || w.Temperature != 14 {
		t.Errorf("%+v", w)
	}
	s.Workshop = s.Use
	if w := Air(s, time.Time{}); w.Name != "October" {
		t.Errorf("%+v", w)
	}
	if w := Air(shop.Shop{}, time.Time{}); w.Temperature != 20 {
		t.Errorf("%+v", w)
	}
}

func TestTimesAreWrittenWithoutAZone(t *testing.T) {
	at := Local{time.Date(2026, 10, 10, 9, 0, 0, 0, time.UTC)}
	text, err := json.Marshal([]Local{at, {}})
	if err != nil || string(text) != `["2026-10-10T09:00",null]` {
		t.Fatalf("%s, %v", text, err)
	}
	var back []Local
	if err := json.Unmarshal(text, &back); err != nil || !back[0].Equal(at.Time) || !back[1].IsZero() {
		t.Errorf("%v, %v", back, err)
	}
}

// Pieces, hours and means drawn at random: there is always a plan, and check finds nothing wrong with it.
func TestRandomPiecesAndShopsArePlanned(t *testing.T) {
	pieces := 60
	if testing.Short() {
		pieces = 10
	}
	text := examples.Shop()
	from, to := strings.Index(text, "hours:"), strings.Index(text, "holidays:")
	hours := []string{
		"  - {days: [saturday], from: 8:00, to: 17:00}", "  - {days: [monday, tuesday, wednesday, thursday, friday], from: 8:00, to: 16:30}",
		"  - {days: [wednesday], from: 19:00, to: 20:30}", "  - {days: [sunday], from: 10:00, to: 12:00}\n  - {days: [friday], from: 18:10, to: 20:50}",
	}
	r := rand.New(rand.NewPCG(8, 15))
	for n := range pieces {
		s := trial.Shop(t, text[:from]+"hours:\n"+hours[n%len(hours)]+"\n"+text[to:])
		s.People = s.People[:1+r.IntN(2)]
		s.Benches, s.DryingPlaces, s.Pace = 1+r.IntN(2), 1+r.IntN(3), 1+r.Float64()
		s.Clamps = s.Clamps[:r.IntN(len(s.Clamps)+1)]
		below := []string{"low rails", "shelf", "nothing"}[r.IntN(3)]
		piece := strings.NewReplacer("length: 900 mm", fmt.Sprintf("length: %d mm", 600+r.IntN(900)), "width: 560 mm", fmt.Sprintf("width: %d mm", 420+r.IntN(500)),
			"leg: 48 mm", fmt.Sprintf("leg: %d mm", 38+r.IntN(40)), "below: low rails", "below: "+below).Replace(examples.PlayTable())
		if p := plan(t, input(t, piece, s, coating.ScheduleIDs()[r.IntN(7)])); p.End.IsZero() {
			t.Errorf("piece %d has no plan: %+v", n, p.Findings)
		}
	}
}

// BenchmarkMake plans the demo with every finish, as often as a size is dragged.
func BenchmarkMake(b *testing.B) {
	s := trial.Shop(b, examples.Shop())
	for _, f := range coating.ScheduleIDs() {
		in := input(b, examples.PlayTable(), s, f)
		b.Run(f, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Make(context.Background(), in)
			}
		})
	}
}

func TestADateNamesItsYearOnlyWhenItIsAnother(t *testing.T) {
	start := Local{time.Date(2026, time.October, 6, 0, 0, 0, 0, time.UTC)}
	for want, end := range map[string]time.Time{"Wednesday 2 December": time.Date(2026, time.December, 2, 0, 0, 0, 0, time.UTC),
		"Wednesday 29 December 2027": time.Date(2027, time.December, 29, 0, 0, 0, 0, time.UTC)} {
		if got := (Local{end}).DateFrom(start); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
