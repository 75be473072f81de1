package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/gob"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"longgrain/examples"
	"longgrain/internal/book/export"
	"longgrain/internal/plan"
	"longgrain/internal/solve/spaceframe"
	"longgrain/patterns"
)

// deckCommand solves the frame of a piece with CalculiX and with spaceframe, each as a process of its own, and compares displacements and
// times.
type deckCommand struct {
	Piece string `arg:"" optional:"" type:"existingfile" help:"Piece file; without it the play table of the examples."`
	Shop  string `type:"existingfile" help:"Shop file; without it the shop of the examples."`
	CCX   string `default:"ccx" help:"The CalculiX solver."`
	Runs  int    `default:"3" help:"How often each process runs; the shortest time of each counts."`
	Keep  string `placeholder:"DIR" help:"Keep deck, frame and results in this folder."`
}

// Run compares and prints.
func (c *deckCommand) Run() error {
	solver, err := exec.LookPath(c.CCX)
	if err != nil {
		return fmt.Errorf("no %s here, so nothing was compared: install calculix-ccx: %w", c.CCX, err)
	}
	folder := c.Keep
	if folder == "" {
		if folder, err = os.MkdirTemp("", "frame-deck"); err != nil {
			return err
		}
		defer os.RemoveAll(folder)
	} else if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	text, shop, err := c.texts()
	if err != nil {
		return err
	}
	d, err := compareDeck(solver, folder, text, shop, c.Runs)
	if err != nil {
		return err
	}
	d.print()
	return nil
}

func (c *deckCommand) texts() (piece, shop []byte, err error) {
	piece, shop = []byte(examples.PlayTable()), []byte(examples.Shop())
	if c.Piece != "" {
		if piece, err = os.ReadFile(c.Piece); err != nil {
			return nil, nil, err
		}
	}
	if c.Shop != "" {
		shop, err = os.ReadFile(c.Shop)
	}
	return piece, shop, err
}

// deckResult is the comparison.
type deckResult struct {
	cases, values  int
	worst          float64 // relative miss of all displacements that were compared
	worstAt        string
	ccx, own       time.Duration
	ccxCPU, ownCPU time.Duration
}

func (d *deckResult) times() float64 { return d.ccx.Seconds() / d.own.Seconds() }

func (d *deckResult) print() {
	fmt.Printf("%d load cases, %d displacements above %g mm and %g %% of the largest of their case: within %.2f %% (%s)\n", d.cases, d.values, leastMoved, 100*leastMovedShare, 100*d.worst, d.worstAt)
	fmt.Printf("whole process, wall:      ccx %8.1f ms   spaceframe %7.2f ms   %6.0f times\n", 1e3*d.ccx.Seconds(), 1e3*d.own.Seconds(), d.times())
	fmt.Printf("whole process, processor: ccx %8.1f ms   spaceframe %7.2f ms   %6.0f times\n", 1e3*d.ccxCPU.Seconds(), 1e3*d.ownCPU.Seconds(), d.ccxCPU.Seconds()/d.ownCPU.Seconds())
}

// Displacements that count: smaller ones are strains along members, which nobody measures.
const (
	leastMoved      = 0.02 // mm
	leastMovedShare = 0.02 // of the largest of the case
)

// mostMiss is what any displacement may differ by.
const mostMiss = 0.02

// compareDeck writes deck and frame, runs both and compares.
func compareDeck(solver, folder string, piece, shop []byte, runs int) (*deckResult, error) {
	in, problems := plan.Read(plan.Text{Name: "piece", Text: piece}, plan.Text{Name: "shop", Text: shop}, patterns.All())
	if len(problems) > 0 {
		return nil, errors.New(problems.Error())
	}
	made, problems := plan.Make(context.Background(), in)
	if len(problems) > 0 {
		return nil, errors.New(problems.Error())
	}
	deck, ok := export.FrameDeck(made)
	frame, solved := made.Structure.Frame()
	if !ok || !solved {
		return nil, errors.New("the piece has no frame that could be solved")
	}
	if err := os.WriteFile(filepath.Join(folder, "frame.inp"), deck.Data, 0o644); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(struct {
		Model spaceframe.Model
		Cases []spaceframe.Case
	}{frame.Model, frame.Cases}); err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(folder, "frame.gob"), b.Bytes(), 0o644); err != nil {
		return nil, err
	}
	own := filepath.Join(folder, "framesolve")
	if out, err := exec.Command("go", "build", "-o", own, "longgrain/cmd/framesolve").CombinedOutput(); err != nil {
		return nil, fmt.Errorf("build framesolve: %w: %s", err, out)
	}
	d := &deckResult{ccx: time.Hour, own: time.Hour, ccxCPU: time.Hour, ownCPU: time.Hour}
	var text []byte
	for range max(1, runs) { // turn about, so that other work on the machine meets both
		if _, err := d.time(&d.ccx, &d.ccxCPU, folder, solver, "-i", "frame"); err != nil {
			return nil, err
		}
		for range 5 { // short runs feel other work more
			var err error
			if text, err = d.time(&d.own, &d.ownCPU, folder, own, "frame.gob"); err != nil {
				return nil, err
			}
		}
	}
	theirs, err := readDisplacements(filepath.Join(folder, "frame.dat"))
	if err != nil {
		return nil, err
	}
	return d, d.compare(theirs, frame.Model, text)
}

// time runs a process and keeps the shortest times.
func (d *deckResult) time(wall, cpu *time.Duration, folder, name string, args ...string) ([]byte, error) {
	if strings.ContainsRune(name, filepath.Separator) {
		absolute, err := filepath.Abs(name)
		if err != nil {
			return nil, err
		}
		name = absolute
	}
	c := exec.Command(name, args...)
	c.Dir = folder
	c.Env = append(os.Environ(), "OMP_NUM_THREADS=2")
	start := time.Now()
	out, err := c.Output()
	*wall = min(*wall, time.Since(start))
	if err != nil {
		return nil, fmt.Errorf("run %s: %w: %s", filepath.Base(name), err, out[max(0, len(out)-400):])
	}
	*cpu = min(*cpu, c.ProcessState.UserTime()+c.ProcessState.SystemTime())
	return out, nil
}

// readDisplacements reads the displacements that ccx printed, by step and node.
func readDisplacements(name string) ([]map[int]spaceframe.Vec, error) {
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, errors.New("ccx wrote no results")
	}
	if err != nil {
		return nil, err
	}
	var steps []map[int]spaceframe.Vec
	for line := range strings.Lines(string(text)) {
		fields := strings.Fields(line)
		if len(fields) > 0 && fields[0] == "displacements" {
			steps = append(steps, map[int]spaceframe.Vec{})
		}
		if len(fields) != 4 || len(steps) == 0 {
			continue
		}
		node, err := strconv.Atoi(fields[0])
		if err != nil {
			continue
		}
		var u spaceframe.Vec
		for k := range u {
			if u[k], err = strconv.ParseFloat(fields[k+1], 64); err != nil {
				return nil, fmt.Errorf("read %s: %w", filepath.Base(name), err)
			}
		}
		steps[len(steps)-1][node] = u
	}
	return steps, nil
}

// compare sets the displacements that ccx printed beside those that framesolve printed. Steps are the cases that have an answer.
func (d *deckResult) compare(theirs []map[int]spaceframe.Vec, m spaceframe.Model, text []byte) error {
	node := -1
	name := ""
	var ours [][]spaceframe.Vec
	var names []string
	scan := bufio.NewScanner(bytes.NewReader(text))
	for scan.Scan() {
		line := scan.Text()
		if head, ok := strings.CutPrefix(line, "case "); ok {
			var done bool
			name, done = strings.CutSuffix(head, ": solved")
			if done {
				ours, names, node = append(ours, make([]spaceframe.Vec, len(m.Nodes))), append(names, name), 0
			}
			continue
		}
		fields := strings.Split(line, "\t")
		for k, f := range fields[1:] {
			v, err := strconv.ParseFloat(f, 64)
			if err != nil {
				return fmt.Errorf("read framesolve: %w", err)
			}
			ours[len(ours)-1][node][k] = v
		}
		node++
	}
	if len(ours) == 0 || len(ours) != len(theirs) {
		return fmt.Errorf("ccx answered %d cases, framesolve %d", len(theirs), len(ours))
	}
	d.cases = len(ours)
	for i := range ours {
		largest := 0.0
		for _, u := range theirs[i] {
			for _, x := range u {
				largest = max(largest, math.Abs(x))
			}
		}
		for n := range ours[i] {
			u, printed := theirs[i][n+1]
			if !printed {
				continue
			}
			for k, x := range u {
				if math.Abs(x) < max(leastMoved, leastMovedShare*largest) {
					continue
				}
				d.values++
				if miss := math.Abs(ours[i][n][k]/x - 1); miss > d.worst {
					d.worst, d.worstAt = miss, fmt.Sprintf("%s, %s, %s: ccx %.4f mm, spaceframe %.4f mm", names[i], m.Nodes[n].Name, spaceframe.DOF(k), x, ours[i][n][k])
				}
			}
		}
	}
	if d.values == 0 {
		return errors.New("no displacement is large enough to compare")
	}
	return nil
}
