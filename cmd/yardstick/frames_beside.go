package main

import (
	"math"
	"strings"
	"time"

	"longgrain/internal/check/structure"
	"longgrain/internal/ground/stats"
	"longgrain/internal/solve/reliability"
)

// beside are closed-form cases that are no frames: the top as a plate and the reliability of one part, computed by the packages that the
// product uses for them.
func init() {
	closedCases["ortho_plate"] = func(f figures) (answer, map[string]float64) {
		if f["nu_LT"] != platePoisson {
			return answer{}, nil // the product knows one ratio of Poisson
		}
		a := timed(func() {})
		sag := structure.PlateSag(f["E_L"], f["E_T"], f["G_LT"], f["t"], f["a"], f["b"], f["q"]*f["a"]*f["b"], math.Max(f["a"], f["b"]))
		return a, map[string]float64{"centre_mm": sag}
	}
	closedCases["lognormal_beta"] = func(f figures) (answer, map[string]float64) {
		var r reliability.Result
		a := timed(func() {
			r = reliability.Solve(reliability.Problem{Variables: []reliability.Variable{{Law: stats.LognormalLaw, COV: f["VR"]}},
				Loads:      []reliability.Load{{Law: stats.LognormalLaw, Mean: 1 / f["mean_ratio"], COV: f["VS"]}},
				Components: []reliability.Component{{Strength: []int{0}, States: []reliability.State{{Knots: []float64{0, 1}, Terms: []reliability.Term{{Share: []float64{0, 1}}}}}}}},
				reliability.Options{Trials: 400000, Seed: 1})
		})
		a.verified = r.Low <= r.Estimate && r.Estimate <= r.High && (r.High-r.Low) < 0.01*r.Estimate
		return a, map[string]float64{"beta": r.Index, "Pf": r.Estimate}
	}
	closedCases["lognormal_5pct"] = func(f figures) (answer, map[string]float64) {
		m, s := stats.LognormalOf(f["mean"], f["V"])
		return timed(func() {}), map[string]float64{"x05": stats.LognormalQuantile(0.05, m, s)}
	}
}

// platePoisson is the ratio of Poisson that structure.PlateSag counts with.
const platePoisson = 0.35

// timed runs something and returns how long it took, as an answer that is no frame.
func timed(do func()) answer {
	start := time.Now()
	do()
	return answer{seconds: time.Since(start).Seconds(), verified: true}
}

// closedCaseOf returns how to solve a closed-form case: that of its id, or of the longest id that its id begins with, so that "euler_2" is solved as
// "euler" is.
func closedCaseOf(id string) (closedCase, bool) {
	best := ""
	for known := range closedCases {
		if strings.HasPrefix(id, known) && len(known) > len(best) && (len(id) == len(known) || strings.ContainsRune("_-.", rune(id[len(known)]))) {
			best = known
		}
	}
	solve, ok := closedCases[best]
	return solve, ok
}
