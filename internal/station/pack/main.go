// Command pack writes the catalogue's pack, internal/station/embedded/catalogue.bin, from
// testdata/stations/stations.jsonl.gz. Run it by go generate in internal/station. It fails
// on anything that the pack could not give back exactly; the layout is in
// internal/station/layout.
package main

import (
	"log"
	"os"
)

// The paths are seen from internal/station, where go generate runs this.
const (
	sourcePath = "../../testdata/stations/stations.jsonl.gz"
	packPath   = "embedded/catalogue.bin"
)

// release is the edition of the data set that the source was compiled from.
const release = "2026-09-24"

func main() {
	log.SetFlags(0)
	data, err := build(sourcePath)
	if err == nil {
		err = os.WriteFile(packPath, data, 0o644)
	}
	if err != nil {
		log.Fatal("pack: ", err)
	}
}

// build makes the pack of the source file.
func build(source string) ([]byte, error) {
	stations, err := read(source)
	if err != nil {
		return nil, err
	}
	return encode(release, stations)
}
