package main

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const frameData = "../../internal/solve/spaceframe/testdata/"

// worstError returns the largest relative error of an expected set, and how many values it has.
func worstError(r *frameReport, set string) (worst float64, count int) {
	for _, f := range r.rows {
		if strings.HasSuffix(f.instance, "/"+set) && f.reference != 0 && !f.tooSmall {
			worst = max(worst, math.Abs(relativeError(f.value, f.reference)))
			count++
		}
	}
	return worst, count
}

func compareFile(t *testing.T, name string) *frameReport {
	t.Helper()
	text, err := os.ReadFile(frameData + name)
	if err != nil {
		t.Fatal(err)
	}
	r, err := compareFrames(text)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestReferenceFramesStayWithinTheirTolerance(t *testing.T) {
	for _, c := range []struct {
		file, set string
		tolerance float64
		count     int
	}{
		{"timber_frames.json", "beam_timoshenko_kappa_5_6", 1e-3, 300},
		{"timber_frames.json", "beam_timoshenko_second_order", 1e-3, 80},
		{"timber_frames.json", "ccx_B32R", 2e-2, 80},
		{"timber_frames.json", "direct_stiffness", 1e-3, 3},
		{"timber_frames.json", "hand_check", 1e-6, 4},
		{"joint_zone.json", "pred", 1e-5, 8},
		{"joint_zone.json", "rigid", 1e-5, 8},
		{"joint_zone.json", "solid_0.6", 0.15, 8}, // the bracket of the joint zone springs
		{"published_frames.json", "exact_no_shear", 1e-3, 16},
		{"published_frames.json", "recomputed_linear", 1e-3, 5},
		{"published_frames.json", "recomputed_here", 1e-3, 3},
		{"published_frames.json", "reactions", 1e-3, 12},
	} {
		worst, count := worstError(compareFile(t, c.file), c.set)
		if worst > c.tolerance || count < c.count {
			t.Errorf("%s %s: %d values, largest error %.3g", c.file, c.set, count, worst)
		}
	}
}

func TestUnknownCasesAreListed(t *testing.T) {
	r, err := compareFrames([]byte(`[{"id": "plate", "inputs": {"a": 1}, "expected": {"w": 2}}, {"id": "arch"},
		{"id": "euler", "inputs": {"h": 0}, "expected": {"Pcr_N": 2}}]`))
	if err != nil || len(r.rows) != 0 || len(r.skipped) != 3 {
		t.Errorf("%v %+v", err, r)
	}
	if _, err := compareFrames([]byte(`{"other": 1}`)); err == nil {
		t.Error("an unknown file is accepted")
	}
}

func TestTippingIsFoundByTheSolver(t *testing.T) {
	r, err := compareFrames([]byte(`[
		{"id": "tip_edge_load", "inputs": {"mass_kg": 15, "g": 9.81, "s": 250, "arm": 60}, "expected": {"P_tip_N": 613.125}},
		{"id": "tip_push", "inputs": {"mass_kg": 40, "g": 9.81, "s": 150, "z": 1200}, "expected": {"H_tip_N": 49.05}},
		{"id": "tip_combined", "inputs": {"mass_kg": 5, "g": 9.81, "s": 180, "V": 600, "c": -10, "H": 20, "z": 450}, "expected": {"margin": 0.5886, "stable": false}}]`))
	if err != nil {
		t.Fatal(err)
	}
	if worst, count := worstError(r, "closed_form"); worst > 1e-6 || count != 3 {
		t.Errorf("%d values, largest error %g", count, worst)
	}
}

func TestFramesCSVHasOneRowAValue(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out.csv")
	r := compareFile(t, "joint_zone.json")
	if err := r.writeCSV(path, "joint_zone"); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != len(r.rows)+1 || strings.Join(rows[0], ",") != "set,instance,value,bound,reference,proven,verified,seconds,note" {
		t.Errorf("%v, %d rows, %v", err, len(rows), rows[0])
	}
}
