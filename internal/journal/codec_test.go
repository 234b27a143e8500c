package journal

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/fault"
)

// good is a change as a phone writes it.
const good = `{"id":"` + deviceA + `","kind":"find","record":"` + deviceB + `","stamp":"017f22e279b0-0003-` + deviceA + `","fields":{"note":"under <weed> & stone"}}`

func TestDecodeKeepsValuesByteForByte(t *testing.T) {
	values := []string{`"<b> & é \u00e9 \u2028"`, "\"\u2028\"", `1.50`, `1e400`, `-0`, `{ "b" : 1, "a" : [ ] }`, `null`, `"\ud800"`, `12345678901234567890`, `{"a":1,"a":2}`}
	for _, value := range values {
		text := strings.Replace(good, `"under <weed> & stone"`, value, 1)
		c, err := DecodeChange([]byte(text))
		require.NoError(t, err, value)
		assert.Equal(t, value, string(c.Fields["note"]))
		assert.Equal(t, text, string(c.Append(nil)))
		r := NewRecord(c.Key())
		r.Apply(&c)
		assert.Equal(t, text+"\n", string(r.Append(nil)), "through a fold")
	}
}

func TestChangeForm(t *testing.T) {
	c := Change{ID: deviceA, Kind: "find", Record: deviceB, Stamp: Stamp("017f22e279b0-0003-" + deviceA),
		Fields: map[string]json.RawMessage{"b": json.RawMessage("2"), "a": json.RawMessage("1")}, Receipt: &Receipt{Seq: 7, AtMS: 9, Refused: `a "guest" reads`}}
	want := `{"id":"` + deviceA + `","kind":"find","record":"` + deviceB + `","stamp":"017f22e279b0-0003-` + deviceA + `","fields":{"a":1,"b":2},"receipt":{"seq":7,"atMs":9,"refused":"a \"guest\" reads"}}`
	assert.Equal(t, want, string(c.Append(nil)), "the form is for ever")
	list, err := json.Marshal([]Change{c})
	require.NoError(t, err)
	assert.JSONEq(t, "["+want+"]", string(list))
	var back []Change
	require.NoError(t, json.Unmarshal(list, &back))
	assert.Equal(t, []Change{c}, back)
}

func TestDecodeRefuses(t *testing.T) {
	replace := func(old, new string) string {
		require.Contains(t, good, old)
		return strings.Replace(good, old, new, 1)
	}
	fields := func(n int) string {
		names := make([]string, n)
		for i := range names {
			names[i] = fmt.Sprintf(`"f%d":1`, i)
		}
		return replace(`"note":"under <weed> & stone"`, strings.Join(names, ","))
	}
	long := func(n int) string { return replace("under <weed> & stone", strings.Repeat("x", n)) }
	spare := MaxChangeBytes - len(good) + len("under <weed> & stone")
	rows := []struct {
		name, text  string
		code        fault.Code // "" where it is accepted
		field, says string
	}{
		{"a change", good, "", "", ""},
		{"spaces and a receipt that is null", replace(`,"fields"`, ` , "receipt":null, "fields"`), "", "", ""},
		{"nothing", "", fault.BadJSON, "", "object"},
		{"null", "null", fault.BadJSON, "", "object"},
		{"no member", "{}", fault.BadInput, "id", "UUID"},
		{"a comma too many", replace(`}}`, `},}`), fault.BadJSON, "", "object"},
		{"a comma too few", replace(`,"kind"`, ` "kind"`), fault.BadJSON, "", "object"},
		{"a value too few", replace(`"find"`, ``), fault.BadJSON, "", "object"},
		{"half of it", good[:len(good)-1], fault.BadJSON, "", "object"},
		{"a member's name with a bad escape", replace(`"kind"`, `"\x"`), fault.BadJSON, "", "object"},
		{"a member's name with an escape", replace(`"kind"`, `"\u006bind"`), "", "", ""},
		{"a value that is two", replace(`"under <weed> & stone"`, `1 2`), fault.BadJSON, "fields", "form"},
		{"a value that closes what it did not open", replace(`"under <weed> & stone"`, `[1}`), fault.BadJSON, "note", "not JSON"},
		{"a value that is no word", replace(`"under <weed> & stone"`, `yes`), fault.BadJSON, "note", "not JSON"},
		{"a line end inside text", replace("weed", "we\ned"), fault.BadJSON, "note", "not JSON"},
		{"an id with a line end", replace(deviceA, deviceA[:35]+"\n"), fault.BadJSON, "id", "form"},
		{"a receipt with more in it", replace(`,"fields"`, `,"receipt":{"seq":1,"atMs":2,"by":[3]},"fields"`), "", "", ""},
		{"a receipt with half a value", replace(`,"fields"`, `,"receipt":{"seq":1,"atMs":2,"by":[}},"fields"`), fault.BadJSON, "receipt", "form"},
		{"a receipt with a leading nought", replace(`,"fields"`, `,"receipt":{"seq":01,"atMs":2},"fields"`), fault.BadJSON, "receipt", "form"},
		{"a list", "[]", fault.BadJSON, "", "object"},
		{"two", good + good, fault.BadJSON, "", "object"},
		{"not UTF-8", replace("weed", "we\xffd"), fault.BadJSON, "", "UTF-8"},
		{"an id in capitals", replace(deviceA, strings.ToUpper(deviceA)), fault.BadInput, "id", "UUID"},
		{"the nil id", replace(deviceA, "00000000-0000-0000-0000-000000000000"), fault.BadInput, "id", "UUID"},
		{"an id that is a number", replace(`"`+deviceA+`"`, "7"), fault.BadJSON, "id", "form"},
		{"a record that is none", replace(deviceB, "shore-1"), fault.BadInput, "record", "UUID"},
		{"no kind", replace(`"find"`, `""`), fault.BadInput, "kind", "small letter"},
		{"a kind with a capital", replace(`"find"`, `"Find"`), fault.BadInput, "kind", "small letter"},
		{"a kind from later", replace(`"find"`, `"tide-pool2"`), "", "", ""},
		{"a kind too long", replace(`"find"`, `"`+strings.Repeat("k", MaxKind+1)+`"`), fault.BadInput, "kind", "40"},
		{"a bad stamp", replace("017f22e279b0-0003", "017f22e279b0-3"), fault.BadInput, "stamp", "hexadecimal"},
		{"no field", fields(0), fault.BadInput, "fields", "0 fields"},
		{"as many fields as may be", fields(MaxFields), "", "", ""},
		{"a field too many", fields(MaxFields + 1), fault.BadInput, "fields", "201 fields"},
		{"fields that are a list", replace(`{"note":"under <weed> & stone"}`, `[]`), fault.BadJSON, "fields", "form"},
		{"as long as may be", long(spare), "", "", ""},
		{"a byte too long", long(spare + 1), fault.TooLarge, "fields", "65537 bytes"},
		{"far too long", long(3 * MaxChangeBytes), fault.TooLarge, "", "at most 65536"},
		{"a name as long as may be", replace("note", strings.Repeat("n", MaxFieldName)), "", "", ""},
		{"a name too long", replace("note", strings.Repeat("n", MaxFieldName+1)), fault.BadInput, "fields", "120"},
		{"an element of a set", replace("note", "party/"+deviceA), "", "", ""},
		{"a name with a space", replace("note", "no te"), fault.BadInput, "fields", "letters"},
		{"a name with an empty part", replace("note", "party//x"), fault.BadInput, "fields", "letters"},
		{"a name with an end missing", replace("note", "party/"), fault.BadInput, "fields", "letters"},
		{"a name that begins with a digit", replace("note", "1st"), fault.BadInput, "fields", "letters"},
		{"a name beyond ASCII", replace("note", "größe"), fault.BadInput, "fields", "letters"},
		{"an empty name", replace("note", ""), fault.BadInput, "fields", "letters"},
		{"a member from later", replace(`"kind"`, `"colour":1,"kind"`), fault.BadInput, "colour", "update"},
		{"a member in capitals", replace(`"kind"`, `"Kind"`), fault.BadInput, "Kind", "no member"},
		{"a receipt", replace(`,"fields"`, `,"receipt":{"seq":1,"atMs":2},"fields"`), "", "", ""},
		{"a receipt without a place", replace(`,"fields"`, `,"receipt":{"atMs":2},"fields"`), fault.BadInput, "receipt", "place"},
		{"a receipt past what JavaScript counts", replace(`,"fields"`, `,"receipt":{"seq":9007199254740992,"atMs":2},"fields"`), fault.BadInput, "receipt", "2^53"},
		{"a receipt before 1970", replace(`,"fields"`, `,"receipt":{"seq":1,"atMs":-2},"fields"`), fault.BadInput, "receipt", "milliseconds"},
		{"a receipt that says too much", replace(`,"fields"`, `,"receipt":{"seq":1,"atMs":2,"refused":"`+strings.Repeat("x", MaxRefused+1)+`"},"fields"`), fault.BadInput, "receipt", "400"},
		{"a receipt of another form", replace(`,"fields"`, `,"receipt":[1],"fields"`), fault.BadJSON, "receipt", "form"},
		{"a receipt with a fraction", replace(`,"fields"`, `,"receipt":{"seq":1.5,"atMs":2},"fields"`), fault.BadJSON, "receipt", "form"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			c, err := DecodeChange([]byte(row.text))
			if row.code == "" {
				require.NoError(t, err)
				require.NoError(t, Validate(&c))
				return
			}
			requireFault(t, err, row.code, row.field, row.name)
			assert.Contains(t, err.Error(), row.says)
			assert.LessOrEqual(t, len(err.Error()), 400)
		})
	}
}

func TestValidateRefusesWhatDecodingCannotMeet(t *testing.T) {
	c, err := DecodeChange([]byte(good))
	require.NoError(t, err)
	c.Fields["note"] = nil
	requireFault(t, Validate(&c), fault.BadJSON, "note", "no value")
	c.Fields["note"] = json.RawMessage("{")
	requireFault(t, Validate(&c), fault.BadJSON, "note", "half a value")
	c.Stamp = ""
	f := &Fold{}
	assert.False(t, f.Apply(&c), "a stamp that cannot be read leaves no trace")
	assert.False(t, f.Record(c.Key()).Exists())
	assert.Empty(t, History(c.Key(), []Change{c}))
}

func TestEncodeThenDecodeIsTheIdentity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, c := range history(t) {
			back, err := DecodeChange(c.Append(nil))
			require.NoError(t, err)
			require.Equal(t, c, back)
		}
	})
}

func TestDecodeSnapshotRefuses(t *testing.T) {
	c, err := DecodeChange([]byte(good))
	require.NoError(t, err)
	line := string(c.Append(nil)) + "\n"
	rows := []struct{ name, text, says string }{
		{"nothing", "", "not a snapshot"},
		{"a change", line, "not a snapshot"},
		{"a later form", `{"snapshot":2,"through":1,"changes":0}` + "\n", "form 2"},
		{"a place out of bounds", `{"snapshot":1,"through":9007199254740992,"changes":0}` + "\n", "out of bounds"},
		{"a line missing", `{"snapshot":1,"through":1,"changes":2}` + "\n" + line, "cut off"},
		{"a line more", `{"snapshot":1,"through":1,"changes":0}` + "\n" + line, "cut off"},
		{"half a line", `{"snapshot":1,"through":1,"changes":1}` + "\n" + line[:40], "cut off"},
		{"an altered line", `{"snapshot":1,"through":1,"changes":1}` + "\n" + strings.Replace(line, "find", "FIND", 1), "In change 1"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			_, _, err := DecodeSnapshot([]byte(row.text))
			var e *fault.Error
			require.ErrorAs(t, err, &e)
			assert.Contains(t, e.Message, row.says)
		})
	}
	_, err = DecodeRecord(Key{"tank", deviceB}, []byte(line))
	requireFault(t, err, fault.BadInput, "record", "a change of another record")
}

func FuzzDecodeChange(f *testing.F) {
	f.Add([]byte(good))
	f.Add([]byte(strings.Replace(good, `"fields"`, `"receipt":{"seq":1,"atMs":2,"refused":"é"},"fields"`, 1)))
	f.Add([]byte(`{"fields":{}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := DecodeChange(data)
		if err != nil {
			require.NotEqual(t, fault.Internal, fault.From(err).Code, "%v", err)
			return
		}
		text := c.Append(nil)
		back, err := DecodeChange(text)
		require.NoError(t, err, "%s", text)
		require.Equal(t, text, back.Append(nil))
	})
}

func FuzzDecodeSnapshot(f *testing.F) {
	c, err := DecodeChange([]byte(good))
	require.NoError(f, err)
	f.Add(folded([]Change{c}).AppendSnapshot(nil, 3))
	f.Add([]byte(`{"snapshot":1,"through":0,"changes":0}` + "\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		fold, through, err := DecodeSnapshot(data)
		if err != nil {
			require.NotEqual(t, fault.Internal, fault.From(err).Code, "%v", err)
			return
		}
		text := fold.AppendSnapshot(nil, through)
		again, through2, err := DecodeSnapshot(text)
		require.NoError(t, err)
		require.Equal(t, string(text), string(again.AppendSnapshot(nil, through2)))
	})
}
