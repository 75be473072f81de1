package main

import (
	"os"

	"longgrain/internal/book/export"
	"longgrain/internal/design/piece"
	"longgrain/internal/trade/shop"
)

// schemaCommand is "longgrain schema".
type schemaCommand struct {
	Of string `arg:"" enum:"piece,shop,plan" help:"Format: piece, shop or plan."`
}

// Run prints the schema.
func (c schemaCommand) Run() error {
	_, err := os.Stdout.Write(schemas[c.Of]())
	return err
}

var schemas = map[string]func() []byte{"piece": piece.Schema, "shop": shop.Schema, "plan": export.Schema}
