// Command yardstick runs the solvers over folders of benchmark instances and prints a table.
package main

import "github.com/alecthomas/kong"

var commands struct {
	Project projectCommand `cmd:"" help:"Schedule the projects in a folder."`
}

func main() {
	ctx := kong.Parse(&commands, kong.Name("yardstick"), kong.UsageOnError())
	ctx.FatalIfErrorf(ctx.Run())
}
