package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"longgrain/internal/trade/shop"
)

// rackCommand is "longgrain rack".
type rackCommand struct {
	input
	Write bool `help:"Write the shop file anew; without it the new text is printed."`
}

// Run prints or writes the shop file with the timber on hand as it is after the job.
func (c rackCommand) Run(ctx context.Context) error {
	if c.Shop == "" {
		return errors.New("name the shop file with --shop")
	}
	text, err := readFile(c.Shop)
	if err != nil {
		return err
	}
	made, err := c.make(ctx, false)
	if err != nil {
		return err
	}
	if f := made.Cutting.Findings; len(f) > 0 {
		return fmt.Errorf("the boards do not give every part: %s", f[0].What)
	}
	change := made.Cutting.AfterJob(made.Shop)
	after, err := shop.ChangeRack(text, change)
	if err != nil {
		return fmt.Errorf("change %s: %w", c.Shop, err)
	}
	if !c.Write {
		_, err := os.Stdout.Write(after)
		return err
	}
	if err := replace(c.Shop, after); err != nil {
		return err
	}
	taken := 0
	for _, t := range change.Take {
		taken += t.Count
	}
	fmt.Printf("%s: %d boards taken from the rack, %d pieces put on it\n", c.Shop, taken, len(change.Put))
	return nil
}

// replace writes a file beside the old one and puts it in its place, so that a power cut leaves one of the two.
func replace(name string, data []byte) error {
	info, err := os.Stat(name)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".rack-*")
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	defer os.Remove(f.Name())
	_, err = f.Write(data)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := os.Chmod(f.Name(), info.Mode().Perm()); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return os.Rename(f.Name(), name)
}
