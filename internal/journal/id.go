package journal

import "wrackbook/internal/fault"

// isID says whether s is a UUID (RFC 9562) as text: 36 lower-case characters, and not the
// nil UUID, which stands for a forgotten one. We mint version 7 and accept every version.
func isID(s string) bool {
	if len(s) != 36 {
		return false
	}
	some := false
	for i := range len(s) {
		switch i {
		case 8, 13, 18, 23:
			if s[i] != '-' {
				return false
			}
		default:
			if !isHex(s[i]) {
				return false
			}
			some = some || s[i] != '0'
		}
	}
	return some
}

func isHex(b byte) bool { return b >= '0' && b <= '9' || b >= 'a' && b <= 'f' }

func checkID(field, what, s string) error {
	if isID(s) {
		return nil
	}
	return fault.New(fault.BadInput, field, "%s is %.40q; it must be a UUID in lower case.", what, s)
}
