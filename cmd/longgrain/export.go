package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"longgrain/internal/book/export"
)

// exportCommand is "longgrain export".
type exportCommand struct {
	input
	As  string `required:"" enum:"frame-deck" help:"Format: frame-deck, the piece's frame with its load cases for the CalculiX solver."`
	Out string `required:"" help:"File to write." placeholder:"FILE"`
}

// Run writes one file.
func (c exportCommand) Run(ctx context.Context) error {
	made, err := c.make(ctx, false)
	if err != nil {
		return err
	}
	f, ok := export.FrameDeck(made)
	if !ok {
		return errors.New("the piece has no frame that could be solved: longgrain check says why")
	}
	if err := write(c.Out, f.Data); err != nil {
		return err
	}
	fmt.Printf("%s: %s\n", made.Name, filepath.Base(c.Out))
	return nil
}
