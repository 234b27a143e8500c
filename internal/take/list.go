package take

import (
	"slices"
	"strings"
)

func has(list []string, s string) bool { return slices.Contains(list, s) }

// join makes "a, b and c".
func join(list []string, last string) string {
	switch n := len(list); n {
	case 0:
		return ""
	case 1:
		return list[0]
	default:
		return strings.Join(list[:n-1], ", ") + " " + last + " " + list[n-1]
	}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
