// Command table writes ../FIELDS.md, the list of all kinds and fields for people, from the
// table of package book. Run it by `go generate ./internal/book`.
package main

import (
	"fmt"
	"log"
	"os"
	"strings"

	"wrackbook/internal/book"
)

func main() {
	if err := os.WriteFile("FIELDS.md", []byte(markdown()), 0o644); err != nil {
		log.Fatal(err)
	}
}

func markdown() string {
	var b strings.Builder
	b.WriteString(`# Kinds and fields

Written by ` + "`go generate ./internal/book`" + ` from internal/book/fields.json; do not edit. A set has
one field an element. Parts with "?" may be left out. "Who" may write; guests only read. An
asterisk after "who" says that children and guests do not see it.
`)
	for _, k := range book.Kinds() {
		fmt.Fprintf(&b, "\n## %s\n\n%s.\n\n| field | what | value | who |\n|---|---|---|---|\n", k.Name, capital(k.What))
		for _, f := range k.Fields {
			needed, private := "", ""
			if f.Needed {
				needed = " (needed)"
			}
			if f.Private {
				private = " *"
			}
			what := f.What
			if f.Element != "" {
				what += "; named by " + f.Element
			}
			fmt.Fprintf(&b, "| %s%s | %s | %s | %s%s |\n", f.Name, needed, what, form(f.Value), writers(k.Name, f.Name), private)
		}
		fmt.Fprintf(&b, "| any other | from a later program; kept | | %s |\n", writers(k.Name, "not-known-yet"))
	}
	return b.String()
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func writers(kind, field string) string {
	var names []string
	for _, role := range book.Roles() {
		if book.MayWrite(role, kind, field) {
			names = append(names, string(role))
		}
	}
	return strings.Join(names, ", ")
}

// form says what a value is, its unit and its bounds.
func form(v book.Value) string {
	s := ""
	switch v.Type {
	case book.Text:
		s = fmt.Sprintf("text, %v characters at most", v.Most)
	case book.Whole, book.Number:
		s = fmt.Sprintf("%s, %v to %v", v.Type, v.Least, v.Most)
	case book.Choice:
		s = strings.Join(v.OneOf, " / ")
	case book.ID:
		s = "id of a " + v.OneOf[0]
	case book.Of:
		s = "kind/id of a " + strings.Join(v.OneOf, ", ")
	case book.Object:
		parts := make([]string, len(v.Parts))
		for i, p := range v.Parts {
			mark := ""
			if p.Optional {
				mark = "?"
			}
			parts[i] = fmt.Sprintf("%s%s: %s", p.Name, mark, form(p.Value))
		}
		s = "{" + strings.Join(parts, "; ") + "}"
	case book.List:
		s = fmt.Sprintf("list of %v to %v: %s", v.Least, v.Most, form(v.Parts[0].Value))
	default:
		s = string(v.Type)
	}
	if v.Unit != "" {
		s += " " + v.Unit
	}
	if v.Word != "" {
		s += fmt.Sprintf(", or %q", v.Word)
	}
	if v.Null {
		s += ", or null"
	}
	return s
}
