package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"longgrain/internal/solve/cutstock"
)

// The decks kept in testdata are those that are written today, and the solver's proven optimum is that of cbc.
func TestSmallJobsHaveTheOptimumOfTheReferee(t *testing.T) {
	names, err := filepath.Glob("testdata/referee/*.json")
	if err != nil || len(names) < 6 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		in, err := readShopJob(name)
		if err != nil {
			t.Fatal(err)
		}
		var deck bytes.Buffer
		if err := newArcModel(in).write(&deck); err != nil {
			t.Fatal(err)
		}
		base := strings.TrimSuffix(name, ".json")
		kept, err := os.ReadFile(base + ".lp")
		if err != nil || !bytes.Equal(kept, deck.Bytes()) {
			t.Errorf("%s.lp is not the deck that is written today: %v", base, err)
		}
		want, proven, err := readAnswer(base + ".sol")
		if err != nil || !proven {
			t.Fatalf("%s: %v, proven %v", base, err, proven)
		}
		sol := cutstock.Solve(context.Background(), in, cutstock.Options{Effort: 200_000_000})
		if err := cutstock.Verify(in, sol); err != nil || sol.Status != cutstock.Optimal || float64(sol.Cost) != want {
			t.Errorf("%s: %v at %d, cbc %g; %v", base, sol.Status, sol.Cost, want, err)
		}
	}
}

func TestAnswersOfTheRefereeAreRead(t *testing.T) {
	for text, want := range map[string]struct {
		value  float64
		proven bool
	}{"Optimal - objective value 48.00000000\n  0 x 1 1\n": {48, true}, "Stopped on time - objective value 79.00000000\n": {79, false}} {
		name := filepath.Join(t.TempDir(), "a.sol")
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if v, proven, err := readAnswer(name); err != nil || v != want.value || proven != want.proven {
			t.Errorf("%q: %v, %v, %v", text, v, proven, err)
		}
	}
}
