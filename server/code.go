package main

import (
	"crypto/sha256"
	"encoding/base32"
	"encoding/base64"
	"strings"
)

// The store's codes are base64url, which nobody types without a mistake. What a person
// sees is the same bytes and one more, the first of their SHA-256, in letters that are not
// taken for one another, in groups of five. The last byte catches mistyping before it
// counts as a wrong try.

// readable is the alphabet of base32 by Crockford: no I, L, O and U.
var readable = base32.NewEncoding("0123456789ABCDEFGHJKMNPQRSTVWXYZ").WithPadding(base32.NoPadding)

const (
	codeGroup   = 5
	maxCodeText = 100 // characters read of what is typed
)

// readableCode spells a code of the store for a person.
func readableCode(code string) string {
	raw, err := base64.RawURLEncoding.DecodeString(code)
	if err != nil {
		return code // not one of the store's
	}
	text := readable.EncodeToString(append(raw, codeCheck(raw)))
	var groups []string
	for ; len(text) > codeGroup; text = text[codeGroup:] {
		groups = append(groups, text[:codeGroup])
	}
	return strings.Join(append(groups, text), "-")
}

// storeCode reads what a person typed: capitals or not, with any spaces and dashes, I and L
// for 1, O for 0. It is not ok where that cannot be a code, most likely by a mistake.
func storeCode(typed string) (code string, ok bool) {
	if len(typed) > maxCodeText {
		return "", false
	}
	text := strings.NewReplacer("-", "", " ", "", "I", "1", "L", "1", "O", "0").Replace(strings.ToUpper(typed))
	raw, err := readable.DecodeString(text)
	if err != nil || len(raw) < 2 {
		return "", false
	}
	last := len(raw) - 1
	if codeCheck(raw[:last]) != raw[last] || readable.EncodeToString(raw) != text {
		return "", false
	}
	return base64.RawURLEncoding.EncodeToString(raw[:last]), true
}

func codeCheck(raw []byte) byte {
	sum := sha256.Sum256(raw)
	return sum[0]
}
