package zone

import (
	"slices"
	"strings"

	"wrackbook/internal/fault"
)

// The archive is text and numbers in this order, numbers little-endian:
//
//	"WRBKZONE"                   magic
//	uint8                        format version
//	uint8, bytes                 release of the tz database, by its length
//	uint16                       number of zone files
//	uint16 each                  their lengths in bytes
//	uint16                       number of names
//	uint8, bytes, uint16 each    name by its length, which zone file it reads
//	bytes                        the zone files (TZif, RFC 9636), one after another
//
// Names ascend in byte order. Links and zones that happen to agree share a file.
const (
	magic   = "WRBKZONE"
	version = 1
)

// archive is an opened database.
type archive struct {
	release string
	names   []string // ascending
	file    []uint16 // of the name at the same index
	start   []int    // of each file in body, and its end as the last
	body    string
}

// find gives the zone file that a name reads.
func (a *archive) find(name string) (string, bool) {
	i, ok := slices.BinarySearch(a.names, name)
	if !ok {
		return "", false
	}
	f := a.file[i]
	return a.body[a.start[f]:a.start[f+1]], true
}

// open reads the tables of a packed database and checks that nothing points outside it.
// Names share the memory of data.
func open(data string) (*archive, error) {
	r := reader{rest: data}
	if r.text(len(magic)) != magic {
		return nil, damaged("it does not begin as one")
	}
	if v := r.number(1); r.short || v != version {
		return nil, damaged("its format is not the one this program reads")
	}
	a := &archive{release: r.text(r.number(1))}

	files := r.number(2)
	a.start = make([]int, 1, files+1)
	for i := range files {
		a.start = append(a.start, a.start[i]+r.number(2))
	}

	count := r.number(2)
	a.names, a.file = make([]string, 0, count), make([]uint16, 0, count)
	for range count {
		name := r.text(r.number(1))
		file := r.number(2)
		if r.short {
			break
		}
		if file >= files {
			return nil, damaged("a name points to no zone")
		}
		if len(a.names) > 0 && strings.Compare(a.names[len(a.names)-1], name) >= 0 {
			return nil, damaged("its names are out of order")
		}
		a.names, a.file = append(a.names, name), append(a.file, uint16(file))
	}
	a.body = r.rest
	if r.short || len(a.body) != a.start[files] {
		return nil, damaged("it is cut short or overlong")
	}
	return a, nil
}

// reader takes a text apart from the front. Once something is missing it gives nothing
// more and remembers that.
type reader struct {
	rest  string
	short bool
}

func (r *reader) text(n int) string {
	if r.short || n > len(r.rest) {
		r.short = true
		return ""
	}
	s := r.rest[:n]
	r.rest = r.rest[n:]
	return s
}

func (r *reader) number(width int) int {
	n := 0
	for i, b := range []byte(r.text(width)) {
		n |= int(b) << (8 * i)
	}
	return n
}

func damaged(how string) error {
	return fault.New(fault.Internal, "", "The time zones that came with Wrackbook are damaged: %s. Reinstall Wrackbook.", how)
}
