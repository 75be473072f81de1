package chance

import (
	"testing"

	"longgrain/examples"
	"longgrain/internal/check/structure"
	"longgrain/internal/design/joint"
	"longgrain/internal/trial"
)

func input(t testing.TB, text string) Input {
	t.Helper()
	a := trial.Assembly(t, text)
	js := trial.Joints(t, a, trial.Everything)
	return Input{Assembly: a, Joints: js, Answer: structure.Analyse(a, js, 1.3, trial.DryWood), Lowest: 2}
}

func TestX(t *testing.T) {
	in := input(t, examples.Pieces()[0])
	for _, o := range []Options{{}, {Trials: 10000}, {Trials: 10000, Free: true}, {Trials: 10000, Stiff: true}} {
		a := Of(in, o)
		t.Logf("%+v", a.Species)
		t.Log(a.Sentence)
	}
}

var _ = joint.DefaultReserve

func BenchmarkQuick(b *testing.B) {
	in := input(b, examples.Pieces()[0])
	for b.Loop() {
		Of(in, Options{})
	}
}

func BenchmarkTenThousand(b *testing.B) {
	in := input(b, examples.Pieces()[0])
	for b.Loop() {
		Of(in, Options{Trials: 10000, Stiff: true})
	}
}
