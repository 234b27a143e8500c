package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"strconv"
	"unicode/utf8"

	"wrackbook/internal/fault"
)

// Append writes the change as JSON to the end of dst: members in the order of the struct,
// fields by name, values byte for byte as they came. Equal changes give equal bytes.
func (c *Change) Append(dst []byte) []byte {
	dst = appendText(append(dst, `{"id":`...), c.ID)
	dst = appendText(append(dst, `,"kind":`...), c.Kind)
	dst = appendText(append(dst, `,"record":`...), c.Record)
	dst = appendText(append(dst, `,"stamp":`...), string(c.Stamp))
	dst = append(dst, `,"fields":{`...)
	for i, name := range slices.Sorted(maps.Keys(c.Fields)) {
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = append(appendText(dst, name), ':')
		dst = appendValue(dst, c.Fields[name])
	}
	dst = append(dst, '}')
	if r := c.Receipt; r != nil {
		dst = strconv.AppendUint(append(dst, `,"receipt":{"seq":`...), r.Seq, 10)
		dst = strconv.AppendInt(append(dst, `,"atMs":`...), r.AtMS, 10)
		if r.Refused != "" {
			dst = appendText(append(dst, `,"refused":`...), r.Refused)
		}
		dst = append(dst, '}')
	}
	return append(dst, '}')
}

// MarshalJSON is Append, for changes inside a larger answer. The encoder around it removes
// space between tokens and may escape letters inside strings; the meaning stays.
func (c Change) MarshalJSON() ([]byte, error) { return c.Append(nil), nil }

// UnmarshalJSON reads the form and holds it to nothing else: call Validate after it.
// Members are matched to the letter, and one that is not known is refused: what a later
// program adds, it adds as a field.
func (c *Change) UnmarshalJSON(data []byte) error {
	return c.read(bytes.Clone(data)) // the decoder goes on to use its own
}

// read fills in the change, which then shares the memory of data.
func (c *Change) read(data []byte) error {
	*c = Change{}
	err := eachMember(data, func(name string, value []byte) (err error) {
		switch name {
		case "id":
			c.ID, err = readString(value)
		case "kind":
			c.Kind, err = readString(value)
		case "record":
			c.Record, err = readString(value)
		case "stamp":
			var s string
			s, err = readString(value)
			c.Stamp = Stamp(s)
		case "fields":
			c.Fields, err = readFields(value)
		case "receipt":
			c.Receipt, err = readReceipt(value)
		default:
			return fault.New(fault.BadInput, name, "A change has no member %.40q. If a newer Wrackbook wrote it, update this one.", name)
		}
		if err != nil {
			return fault.Wrap(fault.BadJSON, name, err, "The change's member %q is not of the expected form.", name)
		}
		return nil
	})
	var known *fault.Error
	if err != nil && !errors.As(err, &known) {
		return fault.Wrap(fault.BadJSON, "", err, "A change must be a JSON object.")
	}
	return err
}

func readFields(data []byte) (map[string]json.RawMessage, error) {
	fields := make(map[string]json.RawMessage, min(bytes.Count(data, []byte(":")), MaxFields))
	err := eachMember(data, func(name string, value []byte) error {
		fields[name] = value
		return nil
	})
	return fields, err
}

func readReceipt(data []byte) (*Receipt, error) {
	if string(data) == "null" {
		return nil, nil
	}
	r := &Receipt{}
	err := eachMember(data, func(name string, value []byte) (err error) {
		var n int64
		switch name {
		case "seq":
			n, err = readInt(value)
			r.Seq = uint64(max(n, 0))
		case "atMs":
			r.AtMS, err = readInt(value)
		case "refused":
			r.Refused, err = readString(value)
		default: // a later server's; of no use to a phone
			if !json.Valid(value) {
				err = errors.New("not JSON")
			}
		}
		return err
	})
	return r, err
}

// DecodeChange reads one change as Append writes it and validates it; what is wrong is a
// *fault.Error. The change shares no memory with data.
func DecodeChange(data []byte) (Change, error) {
	return decode(bytes.Clone(data))
}

// decode is DecodeChange, but the change shares the memory of data.
func decode(data []byte) (Change, error) {
	var c Change
	if len(data) > 2*MaxChangeBytes { // room for spaces and the receipt; Validate has the bound
		return Change{}, fault.New(fault.TooLarge, "", "The change has %d bytes; at most %d are kept.", len(data), MaxChangeBytes)
	}
	if !utf8.Valid(data) {
		return Change{}, fault.New(fault.BadJSON, "", "The change is not UTF-8 text.")
	}
	if err := c.read(data); err != nil {
		return Change{}, err
	}
	if err := Validate(&c); err != nil {
		return Change{}, err
	}
	return c, nil
}

// appendText writes s as a JSON string.
func appendText(dst []byte, s string) []byte {
	for i := range len(s) {
		if s[i] < ' ' || s[i] >= 0x7f || s[i] == '"' || s[i] == '\\' {
			text, _ := json.Marshal(s)
			return append(dst, text...)
		}
	}
	return append(append(append(dst, '"'), s...), '"')
}

func appendValue(dst []byte, value json.RawMessage) []byte {
	if len(value) == 0 { // only in a change that was never validated
		return append(dst, "null"...)
	}
	return append(dst, value...)
}
