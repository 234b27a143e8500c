// Command seed writes the book of an invented household into a folder, to be served:
//
//	go run ./scripts/seed [-finds N] [-seed N] [-until DAY] DIR
package main

import (
	"flag"
	"fmt"
	"os"
	"time"

	"wrackbook/scripts/seed/invented"
)

func main() {
	flags := flag.NewFlagSet("demo", flag.ExitOnError)
	finds := flags.Int("finds", 300, "about as many finds")
	seed := flags.Uint64("seed", 1, "of what is left to chance: the same gives the same household")
	until := flags.String("until", time.Now().UTC().Format(time.DateOnly), "last `day` of the year that it lived")
	flags.Usage = func() {
		fmt.Fprintln(flags.Output(), "Usage: scripts/demo [flags] DIR\n\nWrites the book of an invented household into DIR, which must be empty or not there yet.")
		flags.PrintDefaults()
	}
	flags.Parse(os.Args[1:]) // ends the program where it fails
	if flags.NArg() != 1 {
		flags.Usage()
		os.Exit(2)
	}
	if err := write(flags.Arg(0), *finds, *seed, *until); err != nil {
		fmt.Fprintln(os.Stderr, "demo:", err)
		os.Exit(1)
	}
}

func write(dir string, finds int, seed uint64, until string) error {
	day, err := time.Parse(time.DateOnly, until)
	if err != nil {
		return fmt.Errorf("-until %q is no day; write it as 2026-11-25", until)
	}
	household, err := invented.Make(invented.Options{Finds: finds, Seed: seed, Until: day})
	if err != nil {
		return err
	}
	if err := household.Save(dir); err != nil {
		return err
	}
	fmt.Printf("%s has %d changes and %d photos of a household that does not exist.\nServe it; the link for the first keeper's device is printed at the start:\n\n  ./scripts/run -data %s\n\n", dir, len(household.Changes), len(household.Photos), dir)
	return nil
}
