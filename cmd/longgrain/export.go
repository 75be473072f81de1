package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"longgrain/internal/book/cards"
	"longgrain/internal/book/export"
	"longgrain/internal/plan"
)

// exportCommand is "longgrain export".
type exportCommand struct {
	input
	As  string `required:"" enum:"frame-deck,cards" help:"Format: frame-deck, the piece's frame with its load cases for the CalculiX solver; cards, all bench cards in one page that needs no network."`
	Out string `required:"" help:"File to write." placeholder:"FILE"`
}

// Run writes one file.
func (c exportCommand) Run(ctx context.Context) error {
	made, err := c.make(ctx, false)
	if err != nil {
		return err
	}
	f, err := c.file(made)
	if err != nil {
		return err
	}
	if err := write(c.Out, f.Data); err != nil {
		return err
	}
	fmt.Printf("%s: %s\n", made.Name, filepath.Base(c.Out))
	return nil
}

// file makes the file that was asked for.
func (c exportCommand) file(made plan.Plan) (export.File, error) {
	if c.As == "cards" {
		f, ok, err := export.Make(made, cards.FileName)
		if err == nil && !ok {
			err = errors.New("there is nothing to do: no task could be put on a card")
		}
		return f, err
	}
	f, ok := export.FrameDeck(made)
	if !ok {
		return f, errors.New("the piece has no frame that could be solved: longgrain check says why")
	}
	return f, nil
}
