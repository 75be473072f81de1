// Command yardstick runs the solvers over folders of benchmark instances and prints what they give beside the
// reference values. Each sub-command lives in its own file.
package main

import "github.com/alecthomas/kong"

type commands struct {
	Frames framesCommand `cmd:"" help:"Compare frames with reference values in a JSON file."`
}

func main() {
	run := kong.Parse(&commands{}, kong.Name("yardstick"))
	run.FatalIfErrorf(run.Run())
}
