package main

import (
	"context"
	"fmt"
	"log/slog"
	"os"
	"runtime/debug"
	"time"

	"longgrain/cmd/longgrain/keeping"
	"longgrain/examples"
	"longgrain/internal/store"
	"longgrain/internal/web"
	"longgrain/patterns"
	frontend "longgrain/web"
)

// serveCommand is "longgrain serve".
type serveCommand struct {
	Address string `default:"${address}" help:"Address to listen on; others can only reach it when it says so, such as 0.0.0.0:7474."`
	Phones  bool   `help:"Let phones in the same network reach the bench cards from the start; the page can do so later. Each needs a code from the page."`
	Door    string `name:"phone-address" default:"${phone_address}" help:"Address at which phones come in, once they may." placeholder:"ADDRESS"`
	Data    string `type:"path" help:"Folder of the data; without it that of LONGGRAIN_DATA or of the user." placeholder:"DIR"`
}

// collectPercent lets the memory grow to five times what is in use before it is collected: a plan makes some megabytes of
// short-lived values, and collecting them after every plan costs an eighth of the time while a size is dragged.
const collectPercent = 400

// Run serves until the program is told to stop.
func (c serveCommand) Run(ctx context.Context) error {
	debug.SetGCPercent(collectPercent)
	kept, err := store.Open(ctx, store.Options{Folder: c.Data})
	if err != nil {
		return err
	}
	defer kept.Close()
	if err := firstPieces(ctx, kept); err != nil {
		return err
	}
	server, err := web.New(web.Config{
		Planner: web.NewPlans(patterns.All()), Keeper: keeping.In(kept), Files: frontend.Files(),
		Log: slog.New(slog.NewTextHandler(os.Stderr, &slog.HandlerOptions{Level: slog.LevelWarn})), DefaultShop: examples.Shop(), Version: "0.1", PhoneDoor: c.Door,
	})
	if err != nil {
		return err
	}
	listener, err := web.Listen(ctx, c.Address)
	if err != nil {
		return err
	}
	fmt.Printf("Longgrain is at http://%s/ (stop with Ctrl-C)\n", listener.Addr())
	if c.Phones {
		addresses, err := server.LetPhonesIn(ctx)
		if err != nil {
			return err
		}
		for _, a := range addresses {
			fmt.Printf("Phones find the cards at %s/cards (with a code from the page)\n", a)
		}
	}
	return server.Serve(ctx, listener)
}

// demoLoaded marks a store that has been given the pieces of the examples, so that deleted ones do not come back.
const demoLoaded = "examples-loaded"

// firstPieces puts the pieces of the examples into a new store.
func firstPieces(ctx context.Context, kept *store.Store) error {
	if done, err := kept.Setting(ctx, demoLoaded); err != nil || done != "" {
		return err
	}
	planner := web.NewPlans(patterns.All())
	for _, text := range examples.Pieces() {
		if _, err := kept.Pieces().Create(ctx, store.Draft{Name: planner.Name(text), Text: text, Note: "comes with the program"}); err != nil {
			return fmt.Errorf("put the examples on the shelf: %w", err)
		}
	}
	return kept.SetSetting(ctx, demoLoaded, time.Now().UTC().Format(time.DateOnly))
}
