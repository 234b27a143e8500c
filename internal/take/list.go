package take

import (
	"slices"
	"strings"
)

func has(list []string, s string) bool { return slices.Contains(list, s) }

// hasWord looks for a word whatever its capitals.
func hasWord(list []string, s string) bool {
	return slices.ContainsFunc(list, func(word string) bool { return strings.EqualFold(strings.TrimSpace(word), strings.TrimSpace(s)) })
}

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

// sorted puts names in order.
func sorted(names []string) []string {
	slices.Sort(names)
	return names
}

func keysOf(m map[string]any) []string {
	names := make([]string, 0, len(m))
	for name := range m {
		names = append(names, name)
	}
	return sorted(names)
}

// names lists the names of the rules, in order.
func (s *Set) names() []string {
	names := make([]string, 0, len(s.Rules))
	for name := range s.Rules {
		names = append(names, name)
	}
	return sorted(names)
}
