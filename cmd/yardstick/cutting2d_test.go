package main

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

func writeFiles(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		full := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(full, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// runOnly reads a set of one instance and runs it.
func runOnly(t *testing.T, read func(string) ([]cuttingCase, error), dir string) (cuttingCase, cuttingResult) {
	t.Helper()
	cases, err := read(dir)
	if err != nil || len(cases) != 1 {
		t.Fatalf("%d cases, error %v", len(cases), err)
	}
	return cases[0], cases[0].run(context.Background(), 1)
}

func TestUnlimitedKnapsackIsRead(t *testing.T) {
	dir := t.TempDir()
	writeFiles(t, dir, map[string]string{
		"best_known.csv": "instance,optimal_profit\nx,12\n",
		"x.txt":          "10 6\n2\n5 6 4 3\n10 2 4 5\n",
	})
	c, got := runOnly(t, readUnlimitedKnapsack, dir)
	if c.reference != 12 || !c.maximise || got.value != 12 || !got.proven || !got.verified {
		t.Errorf("%+v %+v", c.reference, got)
	}
}

func TestGuillotinePatternWordsAreRead(t *testing.T) {
	dir := t.TempDir()
	writeFiles(t, dir, map[string]string{
		"best_known.csv": "instance,problem,pattern,first_cut,best_known,bound,status,source_table\n" +
			"a/x,variable-sized bin packing,2-stage non-exact horizontal-first rotation,,50,50,optimal,table\n" +
			"a/x,bin packing,3-stage homogenous any-first,,1,1,optimal,table\n",
		"a/x_bins.csv":  "ID,WIDTH,HEIGHT,COST\n0,10,5,50\n",
		"a/x_items.csv": "ID,WIDTH,HEIGHT,COPIES\n0,5,10,1\n",
	})
	if _, got := runOnly(t, readGuillotine2D, dir); got.value != 50 || !got.proven || !got.verified {
		t.Errorf("%+v", got)
	}
}

func TestGlassWasteIsCountedToTheLastCut(t *testing.T) {
	dir := t.TempDir()
	writeFiles(t, dir, map[string]string{
		"best_known.csv": "instance,best_known_waste_mm2\nG,0\n",
		"G_items.csv":    "ID,WIDTH,HEIGHT,STACK_ID\n0,1000,3210,0\n",
		"G_defects.csv":  "ID,BIN,X,Y,WIDTH,HEIGHT\n0,0,200,50,2,2\n",
	})
	// the part goes right of the defect, which ends at 202
	if _, got := runOnly(t, readGlass, dir); got.value != 202*3210 || !got.verified {
		t.Errorf("%+v", got)
	}
}
