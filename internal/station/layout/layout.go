// Package layout is the byte layout of the catalogue's pack, known to the one who writes it
// (internal/station/pack) and the one who reads it (internal/station) from this one place,
// so that the two cannot disagree.
//
// A pack is a header and then columns: each field of every row of a table kept together,
// a number's bytes in planes from the least, which is what compresses best and lets any
// row be read without those before it. Start reading at the list of columns.
package layout

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
)

// The header: magic, version, the sum of all that follows the sum, the counts.
const (
	Magic      = "WRBKSTNS"
	Version    = 1
	versionAt  = len(Magic)
	sumAt      = versionAt + 2
	countsAt   = sumAt + 4
	headerSize = countsAt + 4*int(tables)
)

// MaxBytes bounds a pack; the catalogue of 2026 has a tenth of it.
const MaxBytes = 16 << 20

// Table is a set of rows.
type Table int

const (
	Editions  Table = iota // one row: which release this is
	Texts                  // every string once; row 0 is "", rows 1… are the stations' ids ascending
	TextBytes              // the bytes of those strings, one after another
	Places                 // region and country
	Sources                // whose the constants are
	Kinds                  // names of constituents
	Stations               //
	Constants              // of all stations, one after another
	tables
)

// Column is one field of a table.
type Column int

const (
	Release Column = iota // text

	TextLen // bytes
	Text    // byte

	PlaceRegion      // text, as the source has it
	PlaceRegionName  // text, spelled out
	PlaceCountry     // text, ISO 3166 code
	PlaceCountryName // text, in English

	SourceName    // text
	SourceLicence // text
	SourceCredit  // text

	KindName // text

	Name        // text
	Locality    // text
	Place       // row of Places
	Lat         // signed, 1e-5 degrees
	Lon         // signed, 1e-5 degrees, east positive
	Zone        // text
	Datum       // text
	Source      // row of Sources
	MSL         // signed, mm, or None
	Lowest      // signed, cm, or None
	Highest     // signed, cm, or None
	EpochFrom   // text, a date
	EpochTo     // text, a date
	Count       // constants; zero for a secondary station
	Ref         // row of Stations and one; zero for a reference station
	MinutesHigh // signed
	MinutesLow  // signed
	HeightsHigh // signed, hundredths
	HeightsLow  // signed, hundredths
	HeightsAre  // 0 nothing, 1 ratio, 2 metres

	Kind      // row of Kinds
	Amplitude // 1e-4 m
	Phase     // tenths of a degree

	columns
)

// None is the two-byte number that stands for an unknown one.
const None = -1 << 15

// fields gives each column's table and its width in bytes.
var fields = [columns]struct {
	table Table
	width int
}{
	Release: {Editions, 2},
	TextLen: {Texts, 1}, Text: {TextBytes, 1},
	PlaceRegion: {Places, 2}, PlaceRegionName: {Places, 2}, PlaceCountry: {Places, 2}, PlaceCountryName: {Places, 2},
	SourceName: {Sources, 2}, SourceLicence: {Sources, 2}, SourceCredit: {Sources, 2},
	KindName: {Kinds, 2},
	Name:     {Stations, 2}, Locality: {Stations, 2}, Place: {Stations, 2}, Lat: {Stations, 4}, Lon: {Stations, 4},
	Zone: {Stations, 2}, Datum: {Stations, 2}, Source: {Stations, 1},
	MSL: {Stations, 2}, Lowest: {Stations, 2}, Highest: {Stations, 2},
	EpochFrom: {Stations, 2}, EpochTo: {Stations, 2}, Count: {Stations, 1}, Ref: {Stations, 2},
	MinutesHigh: {Stations, 2}, MinutesLow: {Stations, 2},
	HeightsHigh: {Stations, 2}, HeightsLow: {Stations, 2}, HeightsAre: {Stations, 1},
	Kind: {Constants, 1}, Amplitude: {Constants, 2}, Phase: {Constants, 2},
}

// Counts is the number of rows of each table.
type Counts [tables]int

// Pack is a pack in memory.
type Pack struct {
	Counts
	data []byte
	at   [columns]int // where each column begins
}

// New makes a pack of the given size, to be filled by Set and sealed by Seal.
func New(counts Counts) (*Pack, error) {
	p, size, err := place(counts)
	if err != nil {
		return nil, err
	}
	p.data = make([]byte, size)
	copy(p.data, Magic)
	binary.LittleEndian.PutUint16(p.data[versionAt:], Version)
	for t, n := range counts {
		binary.LittleEndian.PutUint32(p.data[countsAt+4*t:], uint32(n))
	}
	return p, nil
}

// ErrNewer says that a pack is of a format later than this program.
var ErrNewer = errors.New("the pack is of a newer format")

// Open reads the header of a pack and checks its length and its sum. What the columns hold
// is for the reader to check. The pack keeps data.
func Open(data []byte) (*Pack, error) {
	if len(data) < headerSize || string(data[:len(Magic)]) != Magic {
		return nil, errors.New("it does not begin as a pack")
	}
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("it has %d bytes, more than any pack", len(data))
	}
	switch v := binary.LittleEndian.Uint16(data[versionAt:]); {
	case v > Version:
		return nil, ErrNewer
	case v < Version:
		return nil, fmt.Errorf("its format %d was never in use", v)
	}
	var counts Counts
	for t := range counts {
		n := binary.LittleEndian.Uint32(data[countsAt+4*t:])
		if n > MaxBytes {
			return nil, errors.New("it claims more rows than it can hold")
		}
		counts[t] = int(n)
	}
	p, size, err := place(counts)
	if err != nil {
		return nil, err
	}
	if size != len(data) {
		return nil, fmt.Errorf("it has %d bytes where %d belong", len(data), size)
	}
	if crc32.ChecksumIEEE(data[countsAt:]) != binary.LittleEndian.Uint32(data[sumAt:]) {
		return nil, errors.New("its sum is wrong")
	}
	p.data = data
	return p, nil
}

// place finds where each column begins and the size of the whole.
func place(counts Counts) (*Pack, int, error) {
	for _, n := range counts {
		if n < 0 || n > MaxBytes {
			return nil, 0, errors.New("a table is larger than any pack")
		}
	}
	p, end := &Pack{Counts: counts}, headerSize
	for c, f := range fields {
		p.at[c] = end
		end += counts[f.table] * f.width
		if end > MaxBytes {
			return nil, 0, errors.New("the tables are larger than any pack")
		}
	}
	return p, end, nil
}

// Get is the unsigned number in a row of a column. The row must be one of the table.
func (p *Pack) Get(c Column, row int) int {
	n := p.Counts[fields[c].table]
	i := p.at[c] + row
	switch fields[c].width {
	case 1:
		return int(p.data[i])
	case 2:
		return int(p.data[i]) | int(p.data[i+n])<<8
	default:
		return int(p.data[i]) | int(p.data[i+n])<<8 | int(p.data[i+2*n])<<16 | int(p.data[i+3*n])<<24
	}
}

// Signed is the signed number in a row of a column. The row must be one of the table.
func (p *Pack) Signed(c Column, row int) int {
	switch v := p.Get(c, row); fields[c].width {
	case 1:
		return int(int8(v))
	case 2:
		return int(int16(v))
	default:
		return int(int32(v))
	}
}

// Bytes is a whole column whose numbers have one byte.
func (p *Pack) Bytes(c Column) []byte {
	return p.data[p.at[c]:][:p.Counts[fields[c].table]]
}

// Set puts a number, signed or not, in a row of a column, or says that it does not fit.
func (p *Pack) Set(c Column, row, v int) error {
	n, bits := p.Counts[fields[c].table], 8*fields[c].width
	if v >= 1<<bits || v < -1<<(bits-1) {
		return fmt.Errorf("%d does not fit in the %d bits of column %d", v, bits, c)
	}
	for plane := range fields[c].width {
		p.data[p.at[c]+plane*n+row] = byte(v >> (8 * plane))
	}
	return nil
}

// Seal writes the sum and gives the finished bytes.
func (p *Pack) Seal() []byte {
	binary.LittleEndian.PutUint32(p.data[sumAt:], crc32.ChecksumIEEE(p.data[countsAt:]))
	return p.data
}
