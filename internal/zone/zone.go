// Package zone is the one tz database of every home of the core: server, command line and
// phone reckon local days from the same bytes. It never asks the host for a zone, so a
// phone that is years behind its tz updates and a server without any give the same answer.
//
// The database is zones.bin, packed unaltered from the zoneinfo.zip of the Go toolchain by
// go generate; Release names the edition. It refuses "" and "Local": the host's own zone
// means nothing on another machine. Start reading at Load.
package zone

import (
	_ "embed"
	"slices"
	"sync"
	"time"

	"wrackbook/internal/fault"
)

//go:generate go run ./pack

//go:embed zones.bin
var packed string

// maxNameLen bounds the names that are looked up. The longest in the database has 32 bytes.
const maxNameLen = 64

// database is opened at the first call rather than at start, which the phone waits for.
var database = sync.OnceValues(func() (*archive, error) { return open(packed) })

// loaded keeps each zone once read: name → *time.Location. It cannot outgrow the database.
var loaded sync.Map

// Load gives the zone of an IANA name such as "Europe/Oslo", spelled exactly. It is safe
// for concurrent use and gives the same pointer for the same name. The error is a
// *fault.Error of code UnknownZone.
func Load(name string) (*time.Location, error) {
	if name == "UTC" {
		return time.UTC, nil
	}
	if loc, ok := loaded.Load(name); ok {
		return loc.(*time.Location), nil
	}
	if name == "" || name == "Local" {
		return nil, fault.New(fault.UnknownZone, "zone",
			"No time zone was named. Name the one of the shore, such as \"Europe/Oslo\".")
	}
	if len(name) > maxNameLen {
		return nil, fault.New(fault.UnknownZone, "zone",
			"The name of the time zone is longer than any (%d bytes). Use an IANA name, such as \"Europe/Oslo\".", len(name))
	}
	a, err := database()
	if err != nil {
		return nil, err
	}
	data, ok := a.find(name)
	if !ok {
		return nil, fault.New(fault.UnknownZone, "zone",
			"There is no time zone %q in the tz database %s. Use an IANA name with its capitals, such as \"Europe/Oslo\" or \"Pacific/Auckland\".",
			name, a.release)
	}
	loc, err := time.LoadLocationFromTZData(name, []byte(data))
	if err != nil {
		return nil, fault.Wrap(fault.Internal, "zone", err,
			"The time zone %q cannot be read. Reinstall Wrackbook.", name)
	}
	kept, _ := loaded.LoadOrStore(name, loc)
	return kept.(*time.Location), nil
}

// Release names the edition of the tz database, such as "2025c"; empty if the database
// cannot be read, which a test rules out.
func Release() string {
	a, err := database()
	if err != nil {
		return ""
	}
	return a.release
}

// Names lists every name that Load knows, in byte order. The slice is the caller's own.
func Names() []string {
	a, err := database()
	if err != nil {
		return nil
	}
	return slices.Clone(a.names)
}
