// Command yardstick runs the solvers over files and folders of benchmark instances and prints a table: what was found,
// what is proven, what is known, and how long it took.
package main

import "github.com/alecthomas/kong"

// commands is the command line; each kind of benchmark is one field.
type commands struct {
	Cutting cuttingCommand `cmd:"" help:"Cutting and panel-planning sets: one row an instance, one summary a set."`
	Frames  framesCommand  `cmd:"" help:"Frames with expected values: one row a value."`
	Deck    deckCommand    `cmd:"" help:"The frame of a piece, solved with CalculiX and with spaceframe as processes: differences and times."`
	Joints  jointsCommand  `cmd:"" help:"Measured joints: one row a measurement, one summary a kind."`
	Referee refereeCommand `cmd:"" help:"One-dimensional instances here and with cbc over an arc-flow model, in one run."`
	Project projectCommand `cmd:"" help:"Project scheduling sets: one row an instance, one summary a set."`
}

func main() {
	var cli commands
	ctx := kong.Parse(&cli, kong.Name("yardstick"), kong.Description("Measure the solvers on benchmark instances."), kong.UsageOnError())
	ctx.FatalIfErrorf(ctx.Run())
}
