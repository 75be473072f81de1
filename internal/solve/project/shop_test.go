package project

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// shops is the folder of workshop projects; best.csv there has the proven ends and where they come from.
const shops = "../../../bench/project"

// readShop reads a workshop project and divides every slot into a number of finer ones.
func readShop(tb testing.TB, name string, finer int) Instance {
	tb.Helper()
	data, err := os.ReadFile(filepath.Join(shops, name))
	if err != nil {
		tb.Fatal(err)
	}
	var file struct {
		Horizon   int
		Windows   [][2]int
		Resources map[string]int
		Tasks     []struct {
			ID, Name string
			Duration int
			Need     map[string]int
		}
		Lags []struct {
			From, To string
			Min      int
			Max      *int
		}
		Holds []struct {
			Resource, From, To string
			Amount             int
		}
	}
	if err := json.Unmarshal(data, &file); err != nil {
		tb.Fatal(err)
	}
	in := Instance{Horizon: finer * file.Horizon, Calendars: []Calendar{{Name: "shop hours"}}}
	var names []string
	for name := range file.Resources {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		in.Resources = append(in.Resources, Resource{name, file.Resources[name]})
	}
	for _, w := range file.Windows {
		in.Calendars[0].Windows = append(in.Calendars[0].Windows, Window{finer * w[0], finer * w[1]})
	}
	task := map[string]int{}
	for k, t := range file.Tasks {
		task[t.ID] = k
		if t.ID == "END" {
			in.Goal = k
		}
		var needs []Need
		for r, name := range names {
			if t.Need[name] > 0 {
				needs = append(needs, Need{r, t.Need[name]})
			}
		}
		in.Tasks = append(in.Tasks, NewTask(t.ID+" "+t.Name, 0, finer*t.Duration, needs...))
	}
	for _, l := range file.Lags {
		lag := Lag{From: task[l.From], To: task[l.To], Min: finer * l.Min}
		if l.Max != nil {
			lag.Limited, lag.Max = true, finer**l.Max
		}
		in.Lags = append(in.Lags, lag)
	}
	for _, h := range file.Holds {
		in.Holds = append(in.Holds, Hold{slices.Index(names, h.Resource), h.Amount, task[h.From], task[h.To]})
	}
	return in
}

// bestKnown reads best.csv: file name to value, -1 for projects proven to have no schedule.
func bestKnown(tb testing.TB) (names []string, value map[string]int) {
	tb.Helper()
	f, err := os.Open(filepath.Join(shops, "best.csv"))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		tb.Fatal(err)
	}
	value = map[string]int{}
	for _, row := range rows[1:] {
		v, err := strconv.Atoi(row[1])
		if row[2] == "infeasible" {
			v, err = -1, nil
		}
		if err != nil {
			tb.Fatal(err)
		}
		names, value[row[0]] = append(names, row[0]), v
	}
	return names, value
}

func TestWorkshopProjectsReachTheProvenEnd(t *testing.T) {
	names, best := bestKnown(t)
	for _, name := range names {
		t.Run(strings.TrimSuffix(name, ".json"), func(t *testing.T) {
			s := solveVerified(t, readShop(t, name, 1), Options{})
			switch {
			case best[name] < 0 && (s.Status != Infeasible || len(s.Conflict.Lags) == 0):
				t.Errorf("no schedule exists, got %v with conflict %+v", s.Status, s.Conflict)
			case best[name] >= 0 && (s.Status != Optimal || s.Value != best[name]):
				t.Errorf("proven end %d, got %v value %d bound %d", best[name], s.Status, s.Value, s.Bound)
			}
		})
	}
}

// BenchmarkWorkshopProjects solves each workshop project in slots of 15 minutes, once within a small budget
// as a live view would, once to the proof.
func BenchmarkWorkshopProjects(b *testing.B) {
	names, best := bestKnown(b)
	for _, name := range names {
		if best[name] < 0 {
			continue
		}
		in := readShop(b, name, 2)
		for _, limit := range []struct {
			name string
			opt  Options
		}{{"live", Live()}, {"proof", Options{}}} {
			b.Run(strings.TrimSuffix(name, ".json")+"/"+limit.name, func(b *testing.B) {
				var s Solution
				for b.Loop() {
					s = Solve(context.Background(), in, limit.opt)
				}
				b.ReportMetric(float64(len(in.Tasks)), "tasks")
				b.ReportMetric(float64(s.Value), "value")
				b.ReportMetric(float64(s.Bound), "bound")
				b.ReportMetric(float64(s.DeadEnds), "deadends")
			})
		}
	}
}
