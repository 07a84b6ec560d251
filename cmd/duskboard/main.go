// Command duskboard plans and runs a club's public astronomy nights.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	_ "time/tzdata" // zones on machines that have none
)

const usage = `duskboard plans and runs a club's public astronomy nights.

  duskboard serve [--addr :8080] [--data DIR] [--demo]   the server
  duskboard sky --lat DEG --lon DEG --tz ZONE --date YYYY-MM-DD --json
  duskboard lineup --night FILE --json                   a line-up from a night file
  duskboard kit import FILE.csv --data DIR               kit from a spreadsheet
  duskboard kit export --data DIR                        kit to a spreadsheet
  duskboard export FILE.json --data DIR                  everything the club entered, as JSON
  duskboard import FILE.json --data DIR                  the same, into a new folder
  duskboard account link NAME --data DIR                 a link for a forgotten password
  duskboard backup FILE --data DIR                       copy the data of a running server
  duskboard restore FILE --data DIR                      put a copy back
  duskboard doctor --data DIR                            check this machine and the data
  duskboard health --addr HOST:PORT                      ask a server whether it is well

Each command says more with --help.
`

// errUsage is returned when the words of a command are off; main exits with 2.
var errUsage = errors.New("usage")

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Getenv, os.Stdout, os.Stderr))
}

// command is one sub-command: it gets the words behind its name.
type command func(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) error

var commands = map[string]command{
	"serve":   serve,
	"backup":  backup,
	"restore": restore,
	"doctor":  doctor,
	"health":  health,
	"lineup":  lineUp,
	"account": accounts,
	"kit":     kitCommand,
	"export":  exportWhole,
	"import":  importWhole,
}

// run carries out one command line and returns the exit code: 0 done, 1
// failed, 2 the words of the command were off.
func run(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) int {
	if len(args) == 0 || args[0] == "help" || args[0] == "--help" || args[0] == "-h" {
		fmt.Fprint(stdout, usage)
		return 0
	}
	if args[0] == "sky" {
		return runSky(args[1:], stdout, stderr)
	}
	c, ok := commands[args[0]]
	if !ok {
		fmt.Fprintf(stderr, "duskboard: there is no command %q; see duskboard help\n", args[0])
		return 2
	}
	switch err := c(ctx, args[1:], env, stdout, stderr); {
	case err == nil:
		return 0
	case errors.Is(err, errUsage):
		fmt.Fprintf(stderr, "duskboard %s: %v\n", args[0], err)
		return 2
	default:
		fmt.Fprintf(stderr, "duskboard %s: %v\n", args[0], err)
		return 1
	}
}
