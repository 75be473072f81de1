// Command framesolve solves a frame with its load cases and prints the displacements of its nodes, and does nothing else: so that the
// solver can be timed as a whole process beside others. The file is what "yardstick deck" writes: a Frame in Go's gob format.
package main

import (
	"bufio"
	"encoding/gob"
	"fmt"
	"os"
	"strconv"

	"longgrain/internal/solve/spaceframe"
)

// Frame is what a file holds.
type Frame struct {
	Model spaceframe.Model
	Cases []spaceframe.Case
}

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "framesolve:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("usage: framesolve FILE")
	}
	file, err := os.Open(args[0])
	if err != nil {
		return fmt.Errorf("read the frame: %w", err)
	}
	defer file.Close()
	var f Frame
	if err := gob.NewDecoder(bufio.NewReader(file)).Decode(&f); err != nil {
		return fmt.Errorf("read the frame %s: %w", args[0], err)
	}
	r := spaceframe.Solve(f.Model, f.Cases, spaceframe.Options{})
	if len(r.Cases) == 0 {
		return fmt.Errorf("%s: %v", r.Status, r.Findings)
	}
	out := bufio.NewWriter(os.Stdout)
	line := make([]byte, 0, 128)
	for i := range r.Cases {
		c := &r.Cases[i]
		fmt.Fprintf(out, "case %s: %s\n", c.Name, c.Status)
		if c.Status != spaceframe.Solved {
			continue
		}
		for n, u := range c.Displacement {
			line = append(line[:0], f.Model.Nodes[n].Name...)
			for _, x := range u[:3] {
				line = append(line, '\t')
				line = strconv.AppendFloat(line, x, 'e', 6, 64)
			}
			out.Write(append(line, '\n'))
		}
	}
	return out.Flush()
}
