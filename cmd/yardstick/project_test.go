package main

import (
	"context"
	"strings"
	"testing"

	"longgrain/internal/solve/project"
)

// Three tasks in each format, written for this test.
const (
	smText = `jobs (incl. supersource/sink ):  4
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        1          1           4
   3        1          1           4
   4        1          0
****
REQUESTS/DURATIONS:
jobnr. mode duration  R 1  R 2
------
  1      1     0       0    0
  2      1     4       2    0
  3      1     3       1    1
  4      1     0       0    0
****
RESOURCEAVAILABILITIES:
  R 1  R 2
    2    1
`
	schText = `2	1	0	0
0	1	2	1	2	[0]	[0]
1	1	2	2	3	[6]	[4]
2	1	2	1	3	[-7]	[2]
3	1	0
0	1	0	0
1	1	4	1
2	1	2	1
3	1	0	0
1
`
	shopText = `{"horizon": 20, "windows": [[2, 6], [10, 16]], "resources": {"person": 1, "clamp": 2},
"tasks": [{"id": "A", "name": "glue", "duration": 2, "need": {"person": 1}}, {"id": "B", "name": "release", "duration": 1, "need": {"person": 1}},
          {"id": "END", "name": "end", "duration": 0, "need": {}}],
"lags": [{"from": "A", "to": "B", "min": 3, "max": 8}, {"from": "B", "to": "END", "min": 0, "max": null}],
"holds": [{"resource": "clamp", "amount": 2, "from": "A", "to": "B"}]}`
)

func TestEachFormatIsReadAndSolved(t *testing.T) {
	for name, c := range map[string]struct {
		read func() (project.Instance, error)
		want int
	}{
		"single mode": {func() (project.Instance, error) { return readSM(strings.NewReader(smText)) }, 7},
		"time lags":   {func() (project.Instance, error) { return readSCH(strings.NewReader(schText)) }, 8},
		"shop":        {func() (project.Instance, error) { return readShop([]byte(shopText)) }, 11},
		"shop with gaps": {func() (project.Instance, error) {
			return readShop([]byte(strings.Replace(shopText, `"max": 8`, `"max": 7`, 1)))
		}, 11},
	} {
		t.Run(name, func(t *testing.T) {
			in, err := c.read()
			if err != nil {
				t.Fatal(err)
			}
			s := project.Solve(context.Background(), in, project.Options{})
			if wrong := project.Verify(in, s); s.Status != project.Optimal || s.Value != c.want || len(wrong) > 0 {
				t.Errorf("got %v %d, want optimal %d (%v)", s.Status, s.Value, c.want, wrong)
			}
		})
	}
}

func FuzzProjectFormats(f *testing.F) {
	f.Add(smText)
	f.Add(schText)
	f.Add(shopText)
	f.Fuzz(func(t *testing.T, text string) {
		readSM(strings.NewReader(text))
		readSCH(strings.NewReader(text))
		readShop([]byte(text))
	})
}
