package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"fmt"
	"os"
)

// station is a line of the source. Numbers stay the text they are, so that what is packed
// is decimal and exact.
type station struct {
	ID           string
	Name         string
	Locality     string
	Region       string
	Country      string
	Lat, Lon     json.Number
	TZ           string
	Datum        string
	MSL          *json.Number
	Lowest       *json.Number
	Highest      *json.Number
	Source       string
	Licence      string
	Epoch        []string
	Constituents []constant
	Ref          string
	Minutes      []json.Number
	Heights      []json.Number
	HeightsAre   string
}

// constant is [name, amplitude in metres, phase lag in degrees].
type constant struct {
	name             string
	amplitude, phase json.Number
}

// UnmarshalJSON reads the three members of the list.
func (c *constant) UnmarshalJSON(data []byte) error {
	var parts []json.RawMessage
	if err := json.Unmarshal(data, &parts); err != nil {
		return err
	}
	if len(parts) != 3 {
		return fmt.Errorf("a constant has %d parts, not 3", len(parts))
	}
	return errors.Join(
		json.Unmarshal(parts[0], &c.name),
		json.Unmarshal(parts[1], &c.amplitude),
		json.Unmarshal(parts[2], &c.phase))
}

// read gives the stations in the order of the file. A field the pack has no place for is
// an error.
func read(path string) ([]station, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return nil, err
	}
	var stations []station
	lines := bufio.NewScanner(z)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		d := json.NewDecoder(bytes.NewReader(lines.Bytes()))
		d.DisallowUnknownFields()
		var s station
		if err := d.Decode(&s); err != nil {
			return nil, fmt.Errorf("line %d: %w", len(stations)+1, err)
		}
		stations = append(stations, s)
	}
	return stations, lines.Err()
}
