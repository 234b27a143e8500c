package journal

import (
	"strconv"
	"strings"

	"wrackbook/internal/fault"
)

// Stamp is a hybrid logical clock reading with its device, as text that sorts in its
// order: 12 hexadecimal digits of Unix milliseconds, a dash, 4 of a counter, a dash, and
// the device's UUID; all lower case.
//
//	0199f0c3a2b4-0003-0199f0c3-a2b4-7c1e-9d3f-2b6f1c5d8e90
type Stamp string

// Reading is a stamp taken apart.
type Reading struct {
	MS      int64  // Unix milliseconds, 0..2^48-1
	Counter uint16 // orders the readings of one millisecond
	Device  string // UUID of the device that made it
}

const (
	stampLength = 12 + 1 + 4 + 1 + 36
	timeLength  = 12 // hexadecimal digits of the milliseconds
	greatestMS  = 1<<48 - 1
)

// Read takes a stamp apart. What is not of the form above is a *fault.Error.
func (s Stamp) Read() (Reading, error) {
	text := string(s)
	if len(text) != stampLength || text[12] != '-' || text[17] != '-' || !isID(text[18:]) {
		return Reading{}, badStamp(text)
	}
	ms, ok := parseHex(text[:timeLength])
	counter, ok2 := parseHex(text[13:17])
	if !ok || !ok2 {
		return Reading{}, badStamp(text)
	}
	return Reading{MS: ms, Counter: uint16(counter), Device: text[18:]}, nil
}

// Stamp writes the reading. A time outside 0..2^48-1 is brought to the nearer bound.
func (r Reading) Stamp() Stamp {
	var b strings.Builder
	b.Grow(stampLength)
	writeHex(&b, min(max(r.MS, 0), greatestMS), timeLength)
	b.WriteByte('-')
	writeHex(&b, int64(r.Counter), 4)
	b.WriteByte('-')
	b.WriteString(r.Device)
	return Stamp(b.String())
}

func badStamp(text string) error {
	return fault.New(fault.BadInput, "stamp",
		"The stamp is %.60q; it must be 12 and 4 hexadecimal digits and the device's UUID, with dashes between, in lower case.", text)
}

// parseHex reads lower-case digits alone; strconv would also take signs and capitals.
func parseHex(s string) (n int64, ok bool) {
	for i := range len(s) {
		if !isHex(s[i]) {
			return 0, false
		}
	}
	n, err := strconv.ParseInt(s, 16, 64)
	return n, err == nil
}

func writeHex(b *strings.Builder, n int64, width int) {
	digits := strconv.FormatInt(n, 16)
	for range width - len(digits) {
		b.WriteByte('0')
	}
	b.WriteString(digits)
}
