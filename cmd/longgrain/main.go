// Command longgrain works small solid-wood furniture out before the first cut.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"github.com/alecthomas/kong"

	"longgrain/internal/book/workbook"
	"longgrain/internal/check/testlog"
	"longgrain/internal/phones"
	"longgrain/internal/web"
)

// commands is the command line.
type commands struct {
	Plan   planCommand   `cmd:"" help:"Work a piece out and write workbook, drawings, tables and data."`
	Check  checkCommand  `cmd:"" help:"Say whether a piece holds. Exit 1 when something does not hold, 2 on bad input."`
	Export exportCommand `cmd:"" help:"Write a piece in an open format."`
	Rack   rackCommand   `cmd:"" help:"Print the shop file with the timber on hand as it is after the job: boards taken, what stays over put among the offcuts."`
	Serve  serveCommand  `cmd:"" help:"Serve the workbench to a browser on this machine."`
	Joints jointsCommand `cmd:"" help:"Compare joints with each other."`
	Tests  testsCommand  `cmd:"" help:"Work out what the joints say that the shop broke."`
	Schema schemaCommand `cmd:"" help:"Print the JSON Schema of a file format."`
}

// exit is an error that only sets the exit status; what there is to say has been said.
type exit int

func (e exit) Error() string { return fmt.Sprintf("exit %d", int(e)) }

// The exit statuses besides 0.
const (
	doesNotHold exit = 1
	badInput    exit = 2
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:]))
}

// run runs one command and returns the exit status.
func run(ctx context.Context, args []string) int {
	var cli commands
	parser := kong.Must(&cli, kong.Name("longgrain"), kong.ShortUsageOnError(), kong.Vars{"address": web.DefaultAddress, "phone_address": phones.DefaultAddress, "test_columns": strings.Join(testlog.Columns(), ", "), "chapters": strings.Join(workbook.Selectable(), ", ")},
		kong.Description("Works small solid-wood furniture out before the first cut: joints, strength, movement, timber, marking, glue-ups, finish and order of work."))
	parsed, err := parser.Parse(args)
	if err != nil {
		parser.Errorf("%s", err)
		return int(badInput)
	}
	parsed.BindTo(ctx, (*context.Context)(nil))
	err = parsed.Run()
	var status exit
	switch {
	case err == nil:
		return 0
	case errors.As(err, &status):
		return int(status)
	}
	fmt.Fprintln(os.Stderr, "longgrain:", err)
	return int(badInput)
}
