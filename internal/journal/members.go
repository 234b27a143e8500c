package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"strconv"
)

// eachMember walks the members of a JSON object in one pass, which encoding/json would
// take several for: a phone opens a book of tens of thousands of changes. A value is
// handed on as the bytes of data that it stands in; only its end is looked for, and
// whether it is JSON must be asked of json.Valid.
func eachMember(data []byte, use func(name string, value []byte) error) error {
	rest, ok := take(data, '{')
	if !ok {
		return errNotObject
	}
	if after, ok := take(rest, '}'); ok {
		return atEnd(after)
	}
	for {
		rest = skipSpace(rest)
		n := stringLength(rest)
		if n == 0 {
			return errNotObject
		}
		name, err := readString(rest[:n])
		if err != nil {
			return err
		}
		if rest, ok = take(rest[n:], ':'); !ok {
			return errNotObject
		}
		rest = skipSpace(rest)
		if n = valueLength(rest); n == 0 {
			return errNotObject
		}
		if err := use(name, rest[:n:n]); err != nil {
			return err
		}
		rest = rest[n:]
		if after, ok := take(rest, ','); ok {
			rest = after
		} else if after, ok := take(rest, '}'); ok {
			return atEnd(after)
		} else {
			return errNotObject
		}
	}
}

var errNotObject = errors.New("not a JSON object")

// take takes one token off the front, after space.
func take(data []byte, token byte) (rest []byte, ok bool) {
	data = skipSpace(data)
	if len(data) == 0 || data[0] != token {
		return data, false
	}
	return data[1:], true
}

func atEnd(data []byte) error {
	if len(skipSpace(data)) > 0 {
		return errNotObject
	}
	return nil
}

func skipSpace(data []byte) []byte {
	for len(data) > 0 && (data[0] == ' ' || data[0] == '\n' || data[0] == '\t' || data[0] == '\r') {
		data = data[1:]
	}
	return data
}

// valueLength finds the end of the value that data begins with; 0 if it has none.
func valueLength(data []byte) int {
	depth := 0
	for i := 0; i < len(data); i++ {
		switch data[i] {
		case '"':
			n := stringLength(data[i:])
			if n == 0 {
				return 0
			}
			if i += n - 1; depth == 0 {
				return i + 1
			}
		case '{', '[':
			depth++
		case '}', ']':
			if depth == 0 {
				return i
			}
			if depth--; depth == 0 {
				return i + 1
			}
		case ',', ' ', '\n', '\t', '\r':
			if depth == 0 {
				return i
			}
		}
	}
	return 0
}

// stringLength is the length of the string that data begins with, quotes included; 0 if
// it begins with none.
func stringLength(data []byte) int {
	if len(data) == 0 || data[0] != '"' {
		return 0
	}
	for i := 1; i < len(data); i++ {
		switch data[i] {
		case '"':
			return i + 1
		case '\\':
			i++
		}
	}
	return 0
}

func readString(data []byte) (string, error) {
	if len(data) < 2 || data[0] != '"' {
		return "", errors.New("not a string")
	}
	plain := data[1 : len(data)-1]
	for _, b := range plain {
		if b < ' ' || b == '\\' || b >= 0x80 || b == '"' {
			var s string
			err := json.Unmarshal(data, &s)
			return s, err
		}
	}
	return string(plain), nil
}

func readInt(data []byte) (int64, error) {
	if len(data) > 1 && (data[0] == '0' || data[0] == '+') || bytes.HasPrefix(data, []byte("-0")) {
		return 0, errors.New("not a whole number as JSON writes it")
	}
	return strconv.ParseInt(string(data), 10, 64)
}
