package book

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Records without a flag, from which the rows below depart.
var sound = map[string]string{
	"household": `{"name":"Ledge house","country":"NO","emergency/017f22e2-79b0-7cc3-98c4-dc0c0c07398f":{"what":"coast","number":"120"},"graceMin":30,"childrenAtNight":false,
		"home":{"zone":"Europe/Oslo","climate":"temperate"},"sinkDrain":"sewer","handling/greens":{"days":35,"cPerHour":2}}`,
	"member": `{"name":"Wren","age":"child"}`,
	"device": `{"name":"Wren's phone","member":"` + someID + `"}`,
	"shore": `{"name":"Gull Ledge","basis":{"station":"noaa/9414290","stationName":"San Francisco","place":"California","source":"NOAA","datum":"MLLW","release":"1",
		"differences":{"minutes":[5,-10],"heights":[0.1,0],"heightsAre":"metres"},"below":0.4,"wayOff":1.2},
		"place":{"lat":37.8,"lon":-122.5,"zone":"America/Los_Angeles","distanceKm":null},"cutOff":true,"margin":20,"walkOut":15,"travel":40,"escape":"","swellLimit":null,"wayIn":"","wayOut":""}`,
	"outing": `{"shore":"` + someID + `","purpose":"home","planned":{"from":"2026-12-12T13:00:00Z","to":"2026-12-12T15:00:00Z","startBack":null,"offBy":"2026-12-12T14:50:00Z"},
		"party/` + someID + `":{"as":"adult"},"gear/net":{"what":"net","packed":true},"containers/bucket":{"what":"bucket","litres":10,"packed":false},
		"ashore":{"who":"Aunt","dueBack":"2026-12-12T17:00:00Z"},"ashoreCall":"by phone","started":{"at":"2026-12-12T13:05:00Z","by":null},
		"heads/` + someID + `":{"at":"2026-12-12T14:00:00Z","count":1,"by":null},"ended":{"at":"2026-12-12T15:00:00Z","by":null},"checks/swell":{"at":"2026-12-12T08:00:00Z","fine":true,"value":0.8},
		"alarms":{"at":"2026-12-12T13:00:00Z","by":null},"thunder/017f22e2-79b0-7cc3-98c4-dc0c0c07398f":{"at":"2026-12-12T14:00:00Z","by":null},
		"higher/017f22e2-79b0-7cc3-98c4-dc0c0c07398f":{"at":"2026-12-12T14:10:00Z","by":null,"seenM":0.6,"predictedM":0.4,"lateMin":null}}`,
	"find": `{"at":"2026-12-12T13:30:00Z","outing":"` + someID + `","by":null,"taxon":"Littorina littorea","group":"snails","state":"living","amount":{"value":3,"unit":"count"},
		"mass":{"g":12.5,"weighed":"wet"},"size":{"mm":20,"axis":"shell"},"fate":"taken","putBack":{"at":"2026-12-12T14:00:00Z","by":null,"amount":{"value":1,"unit":"count"}},"height":"mid","habitat":"under weed",
		"position":{"lat":37.8,"lon":-122.5,"accuracyM":8},"photos/` + strings.Repeat("0a", 32) + `":true,"container":"bucket","note":"",
		"identified/` + someID + `":{"at":"2026-12-13T09:00:00Z","by":null,"taxon":"Littorina saxatilis","group":"snails"}}`,
	"ruleset":  `{"document":{"form":1,"name":"Shore rules","area":{},"authority":"the county","source":"notice of May","rules":{"list":[]}},"checked":{"on":"2026-11-01","by":"Wren"}}`,
	"specimen": `{"find":"` + someID + `","taxon":"unsure","group":"unsure","amount":{"value":1,"unit":"count"},"origin":"wild"}`,
	"tank": `{"name":"Jar 2","use":"quarantine","volumeL":3.5,"keeps":{"salinityLow":33,"salinityHigh":36,"lowC":8,"highC":16},"order":2.5,
		"targets":{"pH":{"low":7.9,"high":8.4},"alkalinity":{"low":7,"high":11,"unit":"dKH"},"nitrateMgNL":null},"fillLine":{"litresPerCm":0.8},"every":{"waterChangeDays":14,"topUpDays":2,"trimDays":null}}`,
	"system":  `{"name":"Shelf","protocol":{"quietDays":28,"dips":1},"order":1,"every":{"readDays":7}}`,
	"reading": `{"sample":{"at":"2026-12-12T18:00:00Z","of":"tank/` + someID + `","by":null},"salinity":{"value":1.0255,"instrument":"hydrometer","scale":"SG 60F/60F","sampleC":21},"temperatureC":12.5,"pH":{"value":8.1,"scale":"NBS"},"phosphateMgL":0.05,"alkalinity":{"value":2.9,"unit":"meq/L"}}`,
	"event":   `{"checked":{"at":"2026-12-12T18:00:00Z","of":"system/` + someID + `","by":null,"signs":[]},"note":""}`,
}

func with(t *testing.T, kind string, set map[string]string) map[string]json.RawMessage {
	t.Helper()
	fields := map[string]json.RawMessage{}
	require.NoError(t, json.Unmarshal([]byte(sound[kind]), &fields))
	for name, value := range set {
		if value == "" {
			delete(fields, name)
		} else {
			fields[name] = json.RawMessage(value)
		}
	}
	return fields
}

func TestSoundRecordsHaveNoFlag(t *testing.T) {
	require.Len(t, sound, len(Kinds()))
	for _, k := range Kinds() {
		assert.Empty(t, Check(k.Name, with(t, k.Name, nil)), k.Name)
	}
}

func TestCheckFlags(t *testing.T) {
	type set map[string]string
	rows := []struct {
		name, kind string
		set        set
		field      string // where the one flag is; "-" for no flag
		code       Code
		says       string
	}{
		{"a name missing", "shore", set{"name": ""}, "name", Missing, "The name is missing"},
		{"a name too long", "tank", set{"name": `"` + strings.Repeat("é", 81) + `"`}, "name", Bound, "80 characters"},
		{"a name as long as may be", "tank", set{"name": `"` + strings.Repeat("é", 80) + `"`}, "-", "", ""},
		{"a name that is a number", "tank", set{"name": `7`}, "name", Form, "text"},
		{"null where it must be known", "find", set{"taxon": `null`}, "taxon", Form, "text"},
		{"null where it may be", "find", set{"outing": `null`}, "-", "", ""},
		{"a field from later", "find", set{"tideState": `1`}, "tideState", Unknown, "kept"},
		{"a field that is not JSON", "find", set{"note": `{`}, "note", Form, "cannot be read"},
		{"a number beyond all", "tank", set{"volumeL": `1e400`}, "volumeL", Form, "number"},
		{"the margin above", "shore", set{"margin": `181`}, "margin", Bound, "from 0 to 180 min"},
		{"the margin at the bound", "shore", set{"margin": `180`}, "-", "", ""},
		{"a latitude past the pole", "shore", set{"place": `{"lat":91,"lon":0,"zone":"UTC","distanceKm":null}`}, "place.lat", Bound, "north positive"},
		{"a place without its zone", "shore", set{"place": `{"lat":1,"lon":0,"distanceKm":null}`}, "place.zone", Missing, "text"},
		{"a place with a piece from later", "shore", set{"place": `{"lat":1,"lon":0,"zone":"UTC","distanceKm":null,"exposure":3}`}, "-", "", ""},
		{"differences for one water", "shore", set{"basis": strings.Replace(string(with(t, "shore", nil)["basis"]), "[5,-10]", "[5]", 1)}, "basis.differences.minutes", Bound, "2 to 2"},
		{"a difference out of bounds", "shore", set{"basis": strings.Replace(string(with(t, "shore", nil)["basis"]), "[0.1,0]", "[0.1,30]", 1)}, "basis.differences.heights.2", Bound, "-20 to 20"},
		{"the way cut below bare", "shore", set{"basis": strings.Replace(string(with(t, "shore", nil)["basis"]), "1.2", "0.1", 1)}, "basis.wayOff", Together, "right way round"},
		{"an instant of a zone", "find", set{"at": `"2026-12-12T13:30:00+01:00"`}, "at", Form, "UTC"},
		{"an instant of another century", "find", set{"at": `"1026-12-12T13:30:00Z"`}, "at", Bound, "1900"},
		{"a 31 November", "ruleset", set{"checked": `{"on":"2026-11-31","by":"Wren"}`}, "checked.on", Form, "day"},
		{"unsure is proper", "find", set{"taxon": `"unsure"`, "group": `"unsure"`}, "-", "", ""},
		{"a kind of the household's", "find", set{"taxon": `"Nereis pelagica"`, "group": `"rock"`}, "-", "", ""},
		{"a group that is none", "find", set{"group": `"birds"`}, "group", Bound, "unsure"},
		{"a kind in another group", "find", set{"group": `"reds"`}, "group", Together, "Littorina littorea belongs to the group snails"},
		{"a kind as an empty shell", "find", set{"group": `"shells"`, "state": `"empty"`}, "-", "", ""},
		{"no fix", "find", set{"position": `"noFix"`}, "-", "", ""},
		{"another word than no fix", "find", set{"position": `"home"`}, "position", Form, "noFix"},
		{"an amount without a unit", "find", set{"amount": `{"value":3}`, "putBack": ""}, "amount.unit", Missing, "count"},
		{"half an animal", "find", set{"amount": `{"value":2.5,"unit":"count"}`}, "amount.value", Together, "whole"},
		{"half a gram", "find", set{"amount": `{"value":2.5,"unit":"g"}`, "putBack": ""}, "-", "", ""},
		{"put back, not taken", "find", set{"fate": `"seen"`}, "putBack", Together, "not noted as taken"},
		{"put back before", "find", set{"putBack": `{"at":"2026-12-12T12:00:00Z","by":null}`}, "putBack.at", Together, "before it was found"},
		{"more put back than found", "find", set{"putBack": `{"at":"2026-12-12T14:00:00Z","by":null,"amount":{"value":4,"unit":"count"}}`}, "putBack.amount", Together, "More"},
		{"a photo by another name", "find", set{"photos/x.jpg": `true`}, "photos/x.jpg", Form, "SHA-256"},
		{"a photo taken out", "find", set{"photos/" + strings.Repeat("0b", 32): `null`}, "-", "", ""},
		{"a set without an element", "find", set{"photos/": `true`}, "photos/", Form, "SHA-256"},
		{"the set itself", "find", set{"photos/*": `true`}, "photos/*", Form, "SHA-256"},
		{"a window that ends before", "outing", set{"planned": `{"from":"2026-12-12T15:00:00Z","to":"2026-12-12T13:00:00Z","startBack":null,"offBy":null}`}, "planned.to", Together, "ends before"},
		{"an outing that ends before", "outing", set{"ended": `{"at":"2026-12-12T12:00:00Z","by":null}`}, "ended.at", Together, "ends before"},
		{"due back too early", "outing", set{"ashore": `{"who":"Aunt","dueBack":"2026-12-12T14:00:00Z"}`}, "ashore.dueBack", Together, "later"},
		{"children alone", "outing", set{"party/" + someID: `{"as":"child"}`}, "party", Together, "No adult"},
		{"one missing at the count", "outing", set{"heads/" + someID: `{"at":"2026-12-12T14:00:00Z","count":0,"by":null}`}, "heads/" + someID + ".count", Together, "0 were counted and 1"},
		{"a count of halves", "outing", set{"heads/" + someID: `{"at":"2026-12-12T14:00:00Z","count":0.5,"by":null}`}, "heads/" + someID + ".count", Bound, "whole"},
		{"a purpose that is none", "outing", set{"purpose": `"fun"`}, "purpose", Bound, "home, teaching, trade"},
		{"a specimen from nowhere", "specimen", set{"find": ""}, "find", Missing, "where it comes from"},
		{"a specimen that was bought", "specimen", set{"find": "", "source": `"a friend"`}, "-", "", ""},
		{"a reading of a member", "reading", set{"sample": `{"at":"2026-12-12T18:00:00Z","of":"member/` + someID + `","by":null}`}, "sample.of", Form, "tank"},
		{"1.025 is no practical salinity of 1025", "reading", set{"salinity": `{"value":102.5,"instrument":"conductivity","scale":"PSS-78","sampleC":21}`}, "salinity.value", Together, "no salinity"},
		{"35 is no specific gravity", "reading", set{"salinity": `{"value":35,"instrument":"hydrometer","scale":"SG 20/20","sampleC":null}`}, "salinity.value", Together, "0.99 to 1.04"},
		{"53 mS/cm is sea water", "reading", set{"salinity": `{"value":53,"instrument":"conductivity","scale":"mS/cm","sampleC":25}`}, "-", "", ""},
		{"a salinity without its scale", "reading", set{"salinity": `{"value":1.025,"instrument":"hydrometer","sampleC":null}`}, "salinity.scale", Missing, "SG 20/20"},
		{"an event of nothing", "event", set{"checked": ""}, "", Missing, "what happened"},
		{"an event of two things", "event", set{"fed": `{"at":"2026-12-12T18:00:00Z","of":"tank/` + someID + `","by":null}`}, "fed", Together, "several"},
		{"an acclimation that runs, with a note and a photo", "event", set{"checked": "", "acclimated": `{"at":"2026-12-12T18:00:00Z","of":"tank/` + someID + `","by":null,"specimens":["` + someID + `"],"plan":{},"ended":null}`,
			"along/" + someID: `{"at":"2026-12-12T18:20:00Z","by":null,"what":"moving well"}`, "photos/" + strings.Repeat("0a", 32): `true`}, "-", "", ""},
		{"a note alone is no event", "event", set{"checked": "", "along/" + someID: `{"at":"2026-12-12T18:20:00Z","by":null,"what":"moving well"}`}, "", Missing, "what happened"},
		{"more than all of a weed died", "event", set{"died": `{"at":"2026-12-12T18:00:00Z","of":"specimen/` + someID + `","by":null,"explained":null,"percent":101}`}, "died.percent", Bound, "0 to 100"},
		{"a jar topped up to its line", "event", set{"checked": "", "toppedUp": `{"at":"2026-12-12T18:00:00Z","of":"tank/` + someID + `","by":null,"litres":null}`}, "-", "", ""},
		{"a water change every 0 days", "system", set{"every": `{"waterChangeDays":0}`}, "every.waterChangeDays", Bound, "1 to 365"},
		{"a pH of 15 as a target", "tank", set{"targets": `{"pH":{"low":8,"high":15}}`}, "targets.pH.high", Bound, "4 to 11"},
		{"bounds the wrong way round", "tank", set{"targets": `{"nitrateMgNL":{"low":20,"high":5}}`}, "targets.nitrateMgNL.low", Together, "Set one"},
		{"kept between 16 and 8 °C", "tank", set{"keeps": `{"salinityLow":33,"salinityHigh":36,"lowC":16,"highC":8}`}, "keeps.lowC", Together, "Set one"},
		{"a home without its zone", "household", set{"home": `{"climate":"tropical"}`}, "home.zone", Missing, "64"},
		{"a protocol with no days", "system", set{"protocol": `{"quietDays":0,"dips":0}`}, "protocol.quietDays", Bound, "1 to 365"},
		{"a rule set that is text", "ruleset", set{"document": `{"form":1,"name":"","area":{},"authority":"","source":"","rules":"none"}`}, "document.rules", Form, "JSON object"},
		{"a deleted shore may lack its name", "shore", set{"name": "", "deleted": `true`}, "-", "", ""},
		{"deleted is yes or no", "shore", set{"deleted": `1`}, "deleted", Form, "yes or no"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			flags := Check(row.kind, with(t, row.kind, row.set))
			if row.field == "-" {
				assert.Empty(t, flags)
				return
			}
			require.Len(t, flags, 1, "%v", flags)
			assert.Equal(t, row.field, flags[0].Field)
			assert.Equal(t, row.code, flags[0].Code, flags[0].Text)
			assert.Contains(t, flags[0].Text, row.says)
		})
	}
}

func TestCheckOfAKindFromLater(t *testing.T) {
	flags := Check("survey", map[string]json.RawMessage{"name": json.RawMessage("1")})
	require.Len(t, flags, 1)
	assert.Equal(t, Unknown, flags[0].Code)
}

func TestFlagsComeInOrder(t *testing.T) {
	flags := Check("find", with(t, "find", map[string]string{"taxon": "", "state": `7`, "at": `"noon"`, "fate": `"seen"`}))
	var fields []string
	for _, f := range flags {
		fields = append(fields, f.Field)
	}
	assert.Equal(t, []string{"at", "state", "taxon", "putBack"}, fields)
}

// Whatever stands in a field: no panic, and every flag is a sentence about that field.
func FuzzCheck(f *testing.F) {
	for kind, record := range sound {
		fields := map[string]json.RawMessage{}
		require.NoError(f, json.Unmarshal([]byte(record), &fields))
		for name, value := range fields {
			f.Add(kind, name, string(value))
		}
	}
	f.Add("find", "photos/*", "null")
	f.Fuzz(func(t *testing.T, kind, name, value string) {
		for _, flag := range Check(kind, map[string]json.RawMessage{name: json.RawMessage(value), "taxon": json.RawMessage(value)}) {
			if flag.Text == "" || flag.Code == "" {
				t.Errorf("%+v", flag)
			}
		}
		for _, role := range Roles() {
			MayWrite(role, kind, name)
			MaySee(role, kind, name)
		}
	})
}
