package drawing

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"longgrain/internal/design/assembly"
	"longgrain/internal/ground/unit"
	"longgrain/internal/paper/scene"
	"longgrain/internal/trial"
	"longgrain/internal/work/markout"
)

// check reports texts that overlap, lettering too small to read, and a drawing that leaves its frame.
func check(t *testing.T, name string, s scene.Scene, st Style) {
	t.Helper()
	for _, c := range s.TextClashes() {
		t.Errorf("%s: %q lies on %q", name, c[0].Text, c[1].Text)
	}
	for _, text := range s.Texts() {
		if text.Height < Lettering {
			t.Errorf("%s: %q is %v mm high", name, text.Text, text.Height)
		}
	}
	width, height := st.frame()
	if w, h := s.Size(); w > width+0.01 || h > height+0.01 {
		t.Errorf("%s: %.0f × %.0f mm is larger than the frame of %.0f × %.0f", name, w, h, width, height)
	}
	if s.Title == "" {
		t.Errorf("%s: no title for a screen reader", name)
	}
}

func TestNoTextLiesOnAnother(t *testing.T) {
	tables := 40
	if testing.Short() {
		tables = 8
	}
	r := rand.New(rand.NewPCG(3, 3))
	for n := range tables {
		text := randomTable(r)
		a := trial.Dowelled(trial.Assembly(t, text))
		family := unit.Family(r.IntN(2))
		st := Style{Family: family, Projection: Projection(r.IntN(2))}
		m := markout.Make(a, markout.Options{Smallest: family.SmallestMark()})
		name := func(what string) string { return fmt.Sprintf("table %d, %s", n, what) }
		check(t, name("views"), Views(a, st), st)
		check(t, name("exploded"), Exploded(a, st), st)
		for i := range a.Parts {
			check(t, name("sheet of "+a.Parts[i].Name), PartSheet(a, m, i, st), st)
		}
		for i, c := range a.Connections {
			if c.Purpose == assembly.Joint {
				check(t, name("joint "+c.Name), JointSection(a, m, i, 50*mm, st), st)
			}
		}
		if t.Failed() {
			t.Fatal(text)
		}
	}
}

func TestChartsAreReadable(t *testing.T) {
	check(t, "board", BoardDiagram(sampleBoard, Style{}), Style{})
	check(t, "times", TimeChart(sampleTimes, Style{}), Style{})
	check(t, "intervals", IntervalChart(sampleIntervals, Style{}), Style{})
	check(t, "season", SeasonChart(sampleSeason, Style{}), Style{})
}

func TestAPieceOfManyPartsIsReadable(t *testing.T) {
	a := rack(t)
	check(t, "views", Views(a, Style{}), Style{})
	check(t, "exploded", Exploded(a, Style{}), Style{})
}

func TestTenonsMortisesAndGroovesAreReadable(t *testing.T) {
	a := tenoned(trial.Assembly(t, shelfTable))
	m := markout.Make(a, markout.Options{})
	for i := range a.Parts {
		check(t, "sheet of "+a.Parts[i].Name, PartSheet(a, m, i, Style{}), Style{})
	}
	for i := range a.Connections {
		check(t, "joint "+a.Connections[i].Name, JointSection(a, m, i, 0, Style{}), Style{})
	}
}
