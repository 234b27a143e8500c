// Package core is the table of everything Wrackbook computes: a name, a JSON request, a
// JSON answer. The server, the browser's worker and the command line all call it, so
// that a rule is written and tested once.
//
// It does no I/O and reads no clock: bytes of the station catalogue come in through
// OpenCatalogue and the present instant as an argument. Start reading at calls.go.
package core

import (
	"encoding/json"
	"sync"
	"time"

	"wrackbook/internal/fault"
)

// Core holds what is opened once and asked many times. It is safe for concurrent use.
type Core struct {
	mu sync.RWMutex
}

// New returns a core with nothing opened.
func New() *Core { return &Core{} }

// OpenCatalogue gives the core the packed station catalogue. The bytes are kept and must
// not be changed afterwards.
func (c *Core) OpenCatalogue(data []byte) error { return nil }

// Call answers one request. The error is always a *fault.Error.
func (c *Core) Call(name string, request []byte, now time.Time) ([]byte, error) {
	switch name {
	case "about":
		return json.Marshal(map[string]any{"core": "dev"})
	}
	return nil, fault.New(fault.UnknownCall, "", "There is no call named %q.", name)
}
