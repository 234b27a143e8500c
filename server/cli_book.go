package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"

	"wrackbook/internal/fault"
	"wrackbook/internal/store"
)

const (
	defaultData = "./wrackbook-data"
	defaultAddr = "127.0.0.1:8710"
)

// bookCommand is a subcommand that works on the book in -data: its flags, and where it
// prints.
type bookCommand struct {
	flags          *flag.FlagSet
	data           *string
	stdout, stderr io.Writer
}

func newBookCommand(name, usage, about string, stdout, stderr io.Writer) *bookCommand {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(stderr)
	c := &bookCommand{flags: f, stdout: stdout, stderr: stderr}
	f.Usage = func() {
		fmt.Fprintf(f.Output(), "Usage: wrackbook %s %s\n\n%s\n\n", name, usage, about)
		f.PrintDefaults()
	}
	return c
}

func (c *bookCommand) withData() *bookCommand {
	c.data = c.flags.String("data", defaultData, "`folder` of the household's book")
	return c
}

// parse reads flags and exactly as many arguments as are wanted; ok is false when the
// subcommand ends with code.
func (c *bookCommand) parse(args []string, wanted int) (code int, ok bool) {
	for _, a := range args {
		if a == "-h" || a == "-help" || a == "--help" {
			c.flags.SetOutput(c.stdout)
		}
	}
	switch err := c.flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return exitOK, false
	case err != nil:
		return exitUsage, false
	case c.flags.NArg() > wanted:
		fmt.Fprintf(c.stderr, "wrackbook %s: %q is not understood; see -h.\n", c.flags.Name(), c.flags.Arg(wanted))
		return exitUsage, false
	case c.flags.NArg() < wanted:
		fmt.Fprintf(c.stderr, "wrackbook %s: something is missing; see -h.\n", c.flags.Name())
		return exitUsage, false
	}
	return exitOK, true
}

// end prints what went wrong, if anything, and gives the exit code.
func (c *bookCommand) end(err error) int {
	if err == nil {
		return exitOK
	}
	message := err.Error()
	var f *fault.Error
	if errors.As(err, &f) {
		message = f.Message
	}
	fmt.Fprintf(c.stderr, "wrackbook %s: %s\n", c.flags.Name(), message)
	if f != nil && f.Code == fault.BadInput && f.Field != "" { // what was asked for is wrong
		return exitUsage
	}
	return exitFailure
}

// do does a chore: by the server that has the book open, or here.
func (c *bookCommand) do(name string, t task) error {
	if there, err := hasHousehold(*c.data); err != nil {
		return err
	} else if !there {
		return fmt.Errorf("there is no book in %s yet. Name its folder with -data; a new one begins when the first device joins wrackbook serve", *c.data)
	}
	if err := askServer(*c.data, name, t); !errors.Is(err, errNotServed) {
		return err
	}
	book, err := store.Open(*c.data, store.Options{})
	if err != nil {
		return err
	}
	return errors.Join(chores[name](book, t), book.Close())
}

func pairCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	c := newBookCommand("pair", "[flags]", "Prints a one-time link by which a device joins as a keeper's: when the keeper's phone is lost.\nShut the lost one out in the app afterwards. Works while the server runs, and while it is stopped.", stdout, stderr).withData()
	public := c.flags.String("url", "", "`address` at which devices reach the server, if it is not running; http://"+defaultAddr+" unless given")
	if code, ok := c.parse(args, 0); !ok {
		return code
	}
	loopback, err := net.ResolveTCPAddr("tcp", defaultAddr)
	if err != nil {
		return c.end(err)
	}
	site, err := newSite(*public, loopback)
	if err != nil {
		fmt.Fprintln(stderr, "wrackbook pair:", err)
		return exitUsage
	}
	return c.end(c.do("pair", task{site: site, out: stdout}))
}

func backupCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	c := newBookCommand("backup", "[flags] FILE", "Writes the book with its photos into one new zip file, also while the server runs.", stdout, stderr).withData()
	if code, ok := c.parse(args, 1); !ok {
		return code
	}
	size, err := c.backup(c.flags.Arg(0))
	if err == nil {
		fmt.Fprintf(stdout, "%s has %d bytes. Keep it on another disk.\n", c.flags.Arg(0), size)
	}
	return c.end(err)
}

// backup writes to a passing name first: what has the right name is whole.
func (c *bookCommand) backup(file string) (size int64, err error) {
	if _, err := os.Lstat(file); err == nil {
		return 0, fmt.Errorf("%s is there already. Give the backup another name", file)
	}
	fresh, err := os.CreateTemp(filepath.Dir(file), ".wrackbook-*.zip") // mode 0600
	if err != nil {
		return 0, err
	}
	defer os.Remove(fresh.Name())
	err = c.do("backup", task{out: fresh})
	if err == nil {
		err = fresh.Sync()
	}
	if info, statErr := fresh.Stat(); statErr == nil {
		size = info.Size()
	}
	if err = errors.Join(err, fresh.Close()); err != nil {
		return 0, err
	}
	if err := os.Link(fresh.Name(), file); err != nil { // unlike a renaming, never over another
		return 0, err
	}
	return size, syncDir(filepath.Dir(file))
}

func syncDir(name string) error {
	dir, err := os.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(dir.Sync(), dir.Close())
}

func restoreCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	c := newBookCommand("restore", "FILE DIR", "Unfolds a backup into a new or empty folder and verifies every byte of it. Serve it with\n-data DIR: the phones bring back what came after the backup. Devices shut out since it was taken\nmust be shut out again.", stdout, stderr)
	if code, ok := c.parse(args, 2); !ok {
		return code
	}
	m, err := restore(c.flags.Arg(0), c.flags.Arg(1))
	if err == nil {
		fmt.Fprintf(stdout, "%s has %d changes and %d photos, and is ready to be served.\n", c.flags.Arg(1), m.Head, len(m.Files)-1)
	}
	return c.end(err)
}

func restore(file, dir string) (store.Manifest, error) {
	f, err := os.Open(file)
	if err != nil {
		return store.Manifest{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return store.Manifest{}, err
	}
	return store.Restore(f, info.Size(), dir, store.Options{})
}

func checkCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	c := newBookCommand("check", "[flags]", "Verifies the whole book and every photo, also while the server runs.", stdout, stderr).withData()
	if code, ok := c.parse(args, 0); !ok {
		return code
	}
	return c.end(c.do("check", task{out: stdout}))
}

func compactCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	c := newBookCommand("compact", "[flags]", "Rewrites the book without the room that it no longer uses. The server must be stopped.", stdout, stderr).withData()
	if code, ok := c.parse(args, 0); !ok {
		return code
	}
	before, after, err := store.Compact(*c.data, store.Options{})
	if err == nil {
		fmt.Fprintf(stdout, "The book had %d bytes and has %d.\n", before, after)
	}
	return c.end(err)
}

func unsentCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	c := newBookCommand("unsent", "[flags] FILE", "Takes in the file that a phone saved of what it could not send, also while the server runs.\nWhat is in the book already is not taken twice.", stdout, stderr).withData()
	as := c.flags.String("as", string(store.Collector), "`role` whose rights count for it: child, collector or keeper")
	if code, ok := c.parse(args, 1); !ok {
		return code
	}
	if err := checkWriter(store.Role(*as)); err != nil {
		return c.end(err)
	}
	f, err := os.Open(c.flags.Arg(0))
	if err != nil {
		return c.end(err)
	}
	defer f.Close()
	return c.end(c.do("unsent", task{as: *as, in: f, out: stdout}))
}
