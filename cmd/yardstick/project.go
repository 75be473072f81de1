package main

import (
	"bufio"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"time"

	"longgrain/internal/solve/project"
)

// projectCommand schedules every instance of a folder: .sm (single-mode project library), .SCH (generalised
// precedence) and .json (shops with calendars and holds). Reference values are read from best_known*.csv or
// best.csv in the folder or its parent; the set is the folder's name.
type projectCommand struct {
	Dir       string        `arg:"" type:"existingdir" help:"Folder with instances."`
	Limit     time.Duration `default:"5s" help:"Time for each instance."`
	CSV       string        `name:"csv" help:"Write the table to this file."`
	Match     string        `help:"Only instances whose name contains this text."`
	DeadEnds  int           `default:"2000000000" help:"Limit of dead ends for each instance."`
	Schedules int           `default:"2000000000" help:"Limit of schedules for each instance."`
	Seed      uint64        `help:"Seed of the random numbers."`
}

// reference is a known result: value is -1 if the instance is known to be infeasible.
type reference struct {
	value int
	known bool
}

type projectTally struct {
	instances, feasible, found, best, proven, infeasible, wrong int
	excess                                                      float64
}

// Run solves the folder and prints one line per instance and a summary.
func (c *projectCommand) Run() error {
	files, err := instanceFiles(c.Dir, c.Match)
	if err != nil {
		return err
	}
	known, err := readReferences(c.Dir)
	if err != nil {
		return err
	}
	rows := [][]string{{"set", "instance", "value", "bound", "reference", "proven", "verified", "seconds", "note"}}
	var tally projectTally
	for _, file := range files {
		in, err := readProject(file)
		if err != nil {
			return fmt.Errorf("read %s: %w", file, err)
		}
		row := c.solve(file, in, known[filepath.Base(file)], &tally)
		fmt.Println(strings.Join(row, " "))
		rows = append(rows, row)
	}
	tally.print(filepath.Base(c.Dir))
	if c.CSV == "" {
		return nil
	}
	out, err := os.Create(c.CSV)
	if err != nil {
		return fmt.Errorf("write the table: %w", err)
	}
	return errors.Join(csv.NewWriter(out).WriteAll(rows), out.Close())
}

func (c *projectCommand) solve(file string, in project.Instance, ref reference, tally *projectTally) []string {
	ctx, cancel := context.WithTimeout(context.Background(), c.Limit)
	defer cancel()
	begin := time.Now()
	s := project.Solve(ctx, in, project.Options{DeadEnds: c.DeadEnds, Schedules: c.Schedules, Seed: c.Seed})
	seconds := time.Since(begin).Seconds()
	verified := ""
	note := fmt.Sprintf("%s; %d schedules; %d dead ends", s.Status, s.Schedules, s.DeadEnds)
	if s.Start != nil {
		wrong := project.Verify(in, s)
		verified = strconv.FormatBool(len(wrong) == 0)
		if len(wrong) > 0 {
			note += "; " + wrong[0]
		}
	}
	if s.Status == project.Infeasible {
		note += "; " + s.Conflict.Reason
	}
	note += tally.add(s, ref, verified)
	value, reference := "", ""
	if s.Start != nil {
		value = strconv.Itoa(s.Value)
	}
	if ref.known {
		reference = strconv.Itoa(ref.value)
	}
	proven := strconv.FormatBool(s.Status == project.Optimal || s.Status == project.Infeasible)
	return []string{filepath.Base(filepath.Dir(file)), filepath.Base(file), value, strconv.Itoa(s.Bound), reference, proven, verified, fmt.Sprintf("%.3f", seconds), note}
}

// add counts a result and returns a note if it contradicts the reference.
func (t *projectTally) add(s project.Solution, ref reference, verified string) string {
	t.instances++
	proven := s.Status == project.Optimal || s.Status == project.Infeasible
	if proven {
		t.proven++
	}
	if verified == "false" {
		t.wrong++
		return "; NOT VERIFIED"
	}
	if !ref.known {
		return ""
	}
	if ref.value < 0 {
		if s.Status == project.Infeasible {
			t.infeasible++
		} else if s.Start != nil {
			t.wrong++
			return "; CONTRADICTS the reference"
		}
		return ""
	}
	t.feasible++
	if s.Start == nil {
		if s.Status == project.Infeasible {
			t.wrong++
			return "; CONTRADICTS the reference"
		}
		return ""
	}
	t.found++
	t.excess += float64(s.Value-ref.value) / float64(ref.value)
	if s.Value <= ref.value {
		t.best++
	}
	if s.Bound > ref.value {
		t.wrong++
		return "; CONTRADICTS the reference"
	}
	if s.Value < ref.value {
		return "; BETTER than the reference"
	}
	return ""
}

func (t *projectTally) print(set string) {
	fmt.Printf("%s: %d instances, %d feasible: %d found, %d at best known (%.1f %%), mean %.2f %% above; %d infeasible proven; %d proven in all (%.1f %%); %d wrong\n",
		set, t.instances, t.feasible, t.found, t.best, percent(t.best, t.feasible), 100*t.excess/float64(max(t.found, 1)), t.infeasible, t.proven, percent(t.proven, t.instances), t.wrong)
}

func percent(part, whole int) float64 { return 100 * float64(part) / float64(max(whole, 1)) }

// instanceFiles lists the instances of a folder by name.
func instanceFiles(dir, match string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("list instances: %w", err)
	}
	var files []string
	for _, e := range entries {
		switch filepath.Ext(e.Name()) {
		case ".sm", ".SCH", ".json":
			if strings.Contains(e.Name(), match) {
				files = append(files, filepath.Join(dir, e.Name()))
			}
		}
	}
	sort.Strings(files)
	return files, nil
}

// readReferences reads best known values by file name from the folder and its parent. The columns are found
// by their heads: file or instance, best_makespan or best_end_slot or value, status.
func readReferences(dir string) (map[string]reference, error) {
	known := map[string]reference{}
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("find %s: %w", dir, err)
	}
	for _, d := range []string{filepath.Dir(dir), dir} {
		files, _ := filepath.Glob(filepath.Join(d, "best*.csv"))
		for _, file := range files {
			if err := readReferenceFile(file, filepath.Base(dir), known); err != nil {
				return nil, fmt.Errorf("read %s: %w", file, err)
			}
		}
	}
	return known, nil
}

func readReferenceFile(name, set string, known map[string]reference) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) == 0 {
		return err
	}
	column := map[string]int{}
	for k, head := range rows[0] {
		switch head {
		case "file", "instance":
			column["file"] = k
		case "best_makespan", "best_end_slot", "value":
			column["value"] = k
		case "set", "status":
			column[head] = k
		}
	}
	for _, row := range rows[1:] {
		if k, ok := column["set"]; ok && row[k] != set {
			continue
		}
		value, err := strconv.Atoi(row[column["value"]])
		infeasible := row[column["status"]] == "infeasible"
		if infeasible {
			value, err = -1, nil
		}
		if err == nil {
			known[row[column["file"]]] = reference{value, true}
		}
	}
	return nil
}

// readProject reads one instance in the format that its file name ends with.
func readProject(name string) (project.Instance, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return project.Instance{}, err
	}
	switch filepath.Ext(name) {
	case ".sm":
		return readSM(strings.NewReader(string(data)))
	case ".SCH":
		return readSCH(strings.NewReader(string(data)))
	default:
		return readShop(data)
	}
}

// numberLines returns the whole numbers of each line, brackets ignored; words give no number.
func numberLines(r io.Reader) (lines [][]int, texts []string, err error) {
	scanner := bufio.NewScanner(r)
	scanner.Buffer(nil, 1<<20)
	for scanner.Scan() {
		texts = append(texts, scanner.Text())
		var numbers []int
		for _, field := range strings.Fields(strings.NewReplacer("[", " ", "]", " ").Replace(scanner.Text())) {
			if n, err := strconv.Atoi(field); err == nil {
				numbers = append(numbers, n)
			}
		}
		lines = append(lines, numbers)
	}
	return lines, texts, scanner.Err()
}

// readSM reads the single-mode format: precedence relations, durations with requests, capacities.
func readSM(r io.Reader) (project.Instance, error) {
	lines, texts, err := numberLines(r)
	if err != nil {
		return project.Instance{}, err
	}
	var in project.Instance
	section := ""
	for k, numbers := range lines {
		switch text := texts[k]; {
		case strings.HasPrefix(text, "PRECEDENCE"), strings.HasPrefix(text, "REQUESTS"), strings.HasPrefix(text, "RESOURCEAVAIL"):
			section = strings.Fields(text)[0]
		case strings.HasPrefix(text, "***"):
			section = ""
		case len(numbers) == 0 || strings.HasPrefix(text, "jobnr") || strings.HasPrefix(strings.TrimSpace(text), "R "):
		case section == "PRECEDENCE" && len(numbers) >= 3:
			for _, to := range numbers[3:] {
				in.Lags = append(in.Lags, project.Lag{From: numbers[0] - 1, To: to - 1})
			}
		case strings.HasPrefix(section, "REQUESTS") && len(numbers) >= 3:
			in.Tasks = append(in.Tasks, project.NewTask(fmt.Sprint("job ", numbers[0]), project.AnyTime, numbers[2], needs(numbers[3:])...))
		case strings.HasPrefix(section, "RESOURCEAVAIL"):
			in.Resources = resources(numbers)
		}
	}
	if len(in.Tasks) == 0 || len(in.Resources) == 0 {
		return in, errors.New("no jobs or no capacities")
	}
	return finish(in)
}

// finish makes the last task the goal, sets a horizon that is long enough, and checks that every task and
// resource that is named is there.
func finish(in project.Instance) (project.Instance, error) {
	for _, l := range in.Lags {
		if min(l.From, l.To) < 0 || max(l.From, l.To) >= len(in.Tasks) {
			return in, fmt.Errorf("successor %d of task %d: there are %d tasks", l.To, l.From, len(in.Tasks))
		}
	}
	for i, t := range in.Tasks {
		for _, n := range t.Modes[0].Needs {
			if n.Resource >= len(in.Resources) || t.Modes[0].Duration < 0 {
				return in, fmt.Errorf("task %d: resource %d of %d, duration %d", i, n.Resource, len(in.Resources), t.Modes[0].Duration)
			}
		}
	}
	in.Goal = len(in.Tasks) - 1
	in.Horizon = serialHorizon(in)
	return in, nil
}

// readSCH reads the format with generalised precedence: start-to-start lags, negative for maximum lags.
func readSCH(r io.Reader) (project.Instance, error) {
	lines, _, err := numberLines(r)
	if err != nil {
		return project.Instance{}, err
	}
	if len(lines) == 0 || len(lines[0]) == 0 || len(lines) < 2*(lines[0][0]+2)+2 {
		return project.Instance{}, errors.New("too few lines")
	}
	n := max(lines[0][0], 0) + 2
	var in project.Instance
	for k := range n {
		arcs, work := lines[1+k], lines[1+n+k]
		if len(arcs) < 3 || len(work) < 3 || arcs[2] < 0 || len(arcs) != 3+2*arcs[2] {
			return in, fmt.Errorf("activity %d: wrong number of columns", k)
		}
		for s := range arcs[2] {
			in.Lags = append(in.Lags, project.Lag{From: arcs[0], To: arcs[3+s], FromStart: true, Min: arcs[3+arcs[2]+s]})
		}
		in.Tasks = append(in.Tasks, project.NewTask(fmt.Sprint("activity ", work[0]), project.AnyTime, work[2], needs(work[3:])...))
	}
	in.Resources = resources(lines[1+2*n])
	return finish(in)
}

// serialHorizon is long enough for any schedule worth having: for each task its duration or its longest lag.
func serialHorizon(in project.Instance) int {
	longest := make([]int, len(in.Tasks))
	for i, t := range in.Tasks {
		longest[i] = t.Modes[0].Duration
	}
	for _, l := range in.Lags {
		lag := l.Min
		if !l.FromStart {
			lag += in.Tasks[l.From].Modes[0].Duration
		}
		longest[l.From] = max(longest[l.From], lag)
	}
	sum := 0
	for _, d := range longest {
		sum += d
	}
	return sum
}

func needs(amounts []int) []project.Need {
	var list []project.Need
	for r, a := range amounts {
		if a > 0 {
			list = append(list, project.Need{Resource: r, Amount: a})
		}
	}
	return list
}

func resources(capacities []int) []project.Resource {
	var list []project.Resource
	for k, c := range capacities {
		list = append(list, project.Resource{Name: fmt.Sprint("R", k+1), Capacity: c})
	}
	return list
}

// shopProject is the JSON format of shops: times in slots, lags from end to start.
type shopProject struct {
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

func readShop(data []byte) (project.Instance, error) {
	var file shopProject
	if err := json.Unmarshal(data, &file); err != nil {
		return project.Instance{}, err
	}
	in := project.Instance{Horizon: file.Horizon, Goal: -1}
	names := make([]string, 0, len(file.Resources))
	for name := range file.Resources {
		names = append(names, name)
	}
	sort.Strings(names)
	resource := map[string]int{}
	for k, name := range names {
		resource[name] = k
		in.Resources = append(in.Resources, project.Resource{Name: name, Capacity: file.Resources[name]})
	}
	var windows []project.Window
	for _, w := range file.Windows {
		windows = append(windows, project.Window{First: w[0], End: w[1]})
	}
	in.Calendars = []project.Calendar{{Name: "shop hours", Windows: windows}}
	task := map[string]int{}
	for k, t := range file.Tasks {
		task[t.ID] = k
		if t.ID == "END" {
			in.Goal = k
		}
		var list []project.Need
		for _, name := range names {
			if a := t.Need[name]; a > 0 {
				list = append(list, project.Need{Resource: resource[name], Amount: a})
			}
		}
		in.Tasks = append(in.Tasks, project.NewTask(t.ID+" "+t.Name, 0, t.Duration, list...))
	}
	if in.Goal < 0 {
		return in, errors.New("no task END")
	}
	for _, l := range file.Lags {
		if err := known(task, l.From, l.To); err != nil {
			return in, err
		}
		lag := project.Lag{From: task[l.From], To: task[l.To], Min: l.Min}
		if l.Max != nil {
			lag.Limited, lag.Max = true, *l.Max
		}
		in.Lags = append(in.Lags, lag)
	}
	for _, h := range file.Holds {
		if err := errors.Join(known(task, h.From, h.To), known(resource, h.Resource)); err != nil {
			return in, err
		}
		in.Holds = append(in.Holds, project.Hold{Resource: resource[h.Resource], Amount: h.Amount, From: task[h.From], To: task[h.To]})
	}
	return in, nil
}

func known(index map[string]int, names ...string) error {
	for _, name := range names {
		if _, ok := index[name]; !ok {
			return fmt.Errorf("%q is not in the file", name)
		}
	}
	return nil
}
