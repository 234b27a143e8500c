// Command wrackbook serves the app and answers its questions on the command line.
//
// main.go names the subcommands, serve.go runs the server. routes.go is the table of the
// API with who may call what; doors.go lets devices in, sync.go exchanges what was written
// and says how, photos.go and api.go have the rest, assets.go the files of the app.
// household.go has the book behind them, control.go and chores.go serve the subcommands of
// cli_book.go while it is open.
package main

import (
	"fmt"
	"io"
	"os"
)

// Exit codes, as a shell expects them.
const (
	exitOK      = 0
	exitFailure = 1
	exitUsage   = 2 // the call itself was wrong
)

// command is one subcommand. run parses its own arguments (-h included) and returns an
// exit code; errors go to stderr.
type command struct {
	name, summary string
	run           func(args []string, stdin io.Reader, stdout, stderr io.Writer) int
}

// commands lists every subcommand in the order in which the usage shows them.
var commands = []command{
	{"serve", "serve the app on this machine", serve},
	{"windows", "low-tide windows of a shore, and when to be off it", windowsCommand},
	{"tides", "high and low waters at a station", tidesCommand},
	{"heights", "heights of the water at even steps", heightsCommand},
	{"stations", "tide stations by name, or near a place", stationsCommand},
	{"sky", "sun, twilight and moon over a place", skyCommand},
	{"pair", "a link for a new keeper's device, when the keeper's is lost", pairCommand},
	{"backup", "write the book and its photos into one file", backupCommand},
	{"restore", "unfold a backup into an empty folder", restoreCommand},
	{"check", "verify the book and every photo", checkCommand},
	{"compact", "make the book's file smaller", compactCommand},
	{"unsent", "take in a file that a phone saved of what it could not send", unsentCommand},
}

func main() { os.Exit(dispatch(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// dispatch runs the subcommand that args begins with.
func dispatch(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	if len(args) == 0 {
		usage(stderr)
		return exitUsage
	}
	switch args[0] {
	case "-h", "-help", "--help", "help":
		usage(stdout)
		return exitOK
	}
	for _, c := range commands {
		if c.name == args[0] {
			return c.run(args[1:], stdin, stdout, stderr)
		}
	}
	fmt.Fprintf(stderr, "wrackbook: there is no subcommand %q.\n\n", args[0])
	usage(stderr)
	return exitUsage
}

func usage(w io.Writer) {
	fmt.Fprint(w, "Wrackbook: low tides on your shore, what you find there, and how it settles in at home.\n\n"+
		"Usage: wrackbook <subcommand> [flags]; -h after a subcommand lists its flags.\n\n")
	for _, c := range commands {
		fmt.Fprintf(w, "  %-10s %s\n", c.name, c.summary)
	}
}
