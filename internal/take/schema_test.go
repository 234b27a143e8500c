package take

import (
	"encoding/json"
	"flag"
	"os"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write ruleset.schema.json anew")

// objects lists the objects of the form.
func objects() []string {
	var names []string
	for _, part := range strings.Split(form, "\n\n") {
		lines := strings.Split(part, "\n")
		for strings.HasPrefix(lines[0], "#") {
			lines = lines[1:]
		}
		names = append(names, lines[0])
	}
	return names
}

// schemaOf gives the JSON Schema of a kind of the form.
func schemaOf(kind string) map[string]any {
	switch {
	case kind[0] == '[':
		least, most, of := bounds(kind[1 : len(kind)-1])
		return map[string]any{"type": "array", "minItems": least, "maxItems": most, "items": schemaOf(of)}
	case kind[0] == '{':
		least, most, of := bounds(kind[1 : len(kind)-1])
		return map[string]any{"type": "object", "minProperties": least, "maxProperties": most, "additionalProperties": schemaOf(of),
			"propertyNames": map[string]any{"minLength": 1, "maxLength": 60, "pattern": `^[^./\[\]]+$`}}
	case kind[0] == '"':
		most, _ := strconv.Atoi(kind[1:])
		return map[string]any{"type": "string", "minLength": 1, "maxLength": most}
	case kind[0] == '=':
		return map[string]any{"enum": strings.Split(kind[1:], "|")}
	case kind[0] == '#':
		least, most, _ := bounds(kind[1:])
		return map[string]any{"type": "number", "minimum": least, "maximum": most}
	case strings.Contains(kind, ".."):
		least, most, _ := bounds(kind)
		return map[string]any{"type": "integer", "minimum": least, "maximum": most}
	case kind == "yes":
		return map[string]any{"const": true}
	case kind == "day":
		return map[string]any{"type": "string", "format": "date"}
	case kind == "daySpan":
		return map[string]any{"type": "string", "pattern": `^([0-9]{4}-)?[0-9]{2}-[0-9]{2}$`}
	case strings.HasPrefix(kind, "clock:"):
		return map[string]any{"type": "string", "pattern": `^([0-9]{2}:[0-9]{2}|` + kind[len("clock:"):] + `)$`}
	}
	return map[string]any{"$ref": "#/$defs/" + kind}
}

// TestTheSchemaIsOfTheForm: the JSON Schema beside the form says what the decoder goes by.
func TestTheSchemaIsOfTheForm(t *testing.T) {
	defs := map[string]any{}
	for _, name := range objects() {
		properties, required := map[string]any{}, []string{}
		for _, line := range object(name) {
			field, kind, needed := field(line)
			properties[field] = schemaOf(kind)
			if needed {
				required = append(required, field)
			}
		}
		defs[name] = map[string]any{"type": "object", "additionalProperties": false, "properties": properties, "required": required}
	}
	require.Greater(t, len(defs), 15)
	want, err := json.MarshalIndent(map[string]any{
		"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Wrackbook rule set, form 1",
		"description": "Made from ruleset.form by go test ./internal/take -run Schema -update. FORM.md says what each part means, and what must not contradict itself.",
		"$ref":        "#/$defs/set", "$defs": defs,
	}, "", " ")
	require.NoError(t, err)
	if *update {
		require.NoError(t, os.WriteFile("ruleset.schema.json", append(want, '\n'), 0o644))
	}
	got, err := os.ReadFile("ruleset.schema.json")
	require.NoError(t, err)
	assert.Equal(t, string(append(want, '\n')), string(got), "run go test ./internal/take -run Schema -update")
}

// TestTheFormIsOfTheModel: every field of the form is one of the Go types and the other
// way about, so that nothing is let in and then lost.
func TestTheFormIsOfTheModel(t *testing.T) {
	types := map[string]reflect.Type{}
	var walk func(kind string, typ reflect.Type)
	walk = func(kind string, typ reflect.Type) {
		for typ.Kind() == reflect.Pointer {
			typ = typ.Elem()
		}
		switch kind[0] {
		case '[', '{':
			_, _, of := bounds(kind[1 : len(kind)-1])
			if typ.Kind() == reflect.Array {
				assert.Equal(t, "[2..2 #-180..180]", kind)
				return
			}
			walk(of, typ.Elem())
			return
		}
		if typ.Kind() != reflect.Struct {
			want := map[bool]reflect.Kind{true: reflect.String}[strings.ContainsAny(kind[:1], `"=`) || strings.HasPrefix(kind, "day") || strings.HasPrefix(kind, "clock")]
			if want != 0 {
				assert.Equal(t, want, typ.Kind(), kind)
			}
			return
		}
		if types[kind] != nil && kind != "where" && kind != "kinds" {
			assert.Equal(t, types[kind], typ)
			return
		}
		types[kind] = typ
		inForm := map[string]bool{}
		for _, line := range object(kind) {
			name, of, _ := field(line)
			inForm[name] = true
			found := false
			for i := range typ.NumField() {
				if tag, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ","); tag == name {
					found = true
					walk(of, typ.Field(i).Type)
				}
			}
			assert.True(t, found, "%s.%s is not in %s", kind, name, typ)
		}
		for i := range typ.NumField() {
			tag, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
			assert.True(t, inForm[tag] || kind == "where" && tag == "everywhere", "%s has %s, which the form of %s does not", typ, tag, kind)
		}
	}
	walk("set", reflect.TypeOf(Set{}))
	assert.Len(t, types, len(objects()))
}

// TestThePageNamesEveryField: FORM.md leaves no field of the form out.
func TestThePageNamesEveryField(t *testing.T) {
	page, err := os.ReadFile("FORM.md")
	require.NoError(t, err)
	fields := 0
	for _, name := range objects() {
		for _, line := range object(name) {
			fields++
			field, kind, _ := field(line)
			assert.Contains(t, string(page), "`"+field+"`", "%s.%s", name, field)
			if kind[0] == '=' {
				for _, word := range strings.Split(kind[1:], "|") {
					assert.Contains(t, string(page), word, "%s.%s", name, field)
				}
			}
		}
	}
	assert.Greater(t, fields, 70)
}
