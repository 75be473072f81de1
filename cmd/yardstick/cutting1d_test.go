package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// writeSet writes files, given by their paths below a new folder, and returns the folder of the set.
func writeSet(t *testing.T, set string, files map[string]string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), set)
	for name, text := range files {
		name = filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestOneDimensionalSetsAreRecognisedByTheirFolder(t *testing.T) {
	for _, tc := range []struct {
		set   string
		files map[string]string
		want  string
	}{
		{"csp1d", map[string]string{
			"best_known.csv":  "set,instance,best_known_rolls\nown,three,2\n",
			"own/three.txt":   "2\n10\n6 1\n5 2\n",
			"own/ignored.txt": "not listed, not read",
		}, "own,three,2,2,2,true,true"},
		{"vscsp1d", map[string]string{
			"best_known.csv": "set,instance,best_known_cost\nown,two,7\n",
			"own/two.txt":    "2\n10 1 4\n5 3 3\n1\n5 3\n",
		}, "own,two,7,7,7,true,true"},
		{"shop1d", map[string]string{
			"best_known.csv": "instance,best_known_cost_cents\njob,9\n",
			"job.json": `{"kerf_mm": 2, "end_trim_each_mm": 1, "stock": [{"length_mm": 100, "cost_cents": 9, "available": null}],
				"parts": [{"id": "P", "length_mm": 48, "qty": 2}]}`,
		}, "shop1d,job,9,9,9,true,true"},
	} {
		t.Run(tc.set, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "rows.csv")
			cmd := cuttingCommand{Dir: writeSet(t, tc.set, tc.files), Limit: time.Minute, CSV: out}
			if err := cmd.Run(); err != nil {
				t.Fatal(err)
			}
			text, err := os.ReadFile(out)
			if err != nil {
				t.Fatal(err)
			}
			if lines := strings.Split(string(text), "\n"); len(lines) != 3 || !strings.HasPrefix(lines[1], tc.want) {
				t.Errorf("rows are %q; want one that begins with %q", lines, tc.want)
			}
		})
	}
}

func TestFolderThatIsNoSetIsRefused(t *testing.T) {
	cmd := cuttingCommand{Dir: t.TempDir(), Limit: time.Second}
	if err := cmd.Run(); err == nil || !strings.Contains(err.Error(), "known are csp1d") {
		t.Errorf("error is %v; want one that lists the known sets", err)
	}
}

func TestSpoiledInstanceIsAnError(t *testing.T) {
	for name, text := range map[string]string{"ends too early": "2\n10\n6 1\n5", "no number": "2\n10\n6 1\n5 x\n"} {
		dir := writeSet(t, "csp1d", map[string]string{"best_known.csv": "set,instance,best_known_rolls\nown,bad,2\n", "own/bad.txt": text})
		if err := (&cuttingCommand{Dir: dir, Limit: time.Second}).Run(); err == nil || !strings.Contains(err.Error(), "bad.txt") {
			t.Errorf("%s: error is %v; want one that names the file", name, err)
		}
	}
}
