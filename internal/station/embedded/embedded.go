// Package embedded carries the catalogue's pack for the programs that need it whole: the
// server and the command line. The phone's core must not import it; it fetches the same
// bytes once and keeps them.
package embedded

import _ "embed"

//go:embed catalogue.bin
var catalogue []byte

// Catalogue is the pack, for station.Open. It must not be changed.
func Catalogue() []byte { return catalogue }
