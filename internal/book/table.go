package book

import "strings"

// Field is one row of the table.
type Field struct {
	Name    string // "party/*" is a set, one field an element
	Element string // how the elements of a set are named
	Value
	Needed  bool // a record without it is flagged
	Private bool // children and guests do not see it
	Write   who
	What    string // for people; begins the sentence of a flag
}

// Kind is what a record is about.
type Kind struct {
	Name     string
	What     string
	fields   []Field
	others   who // who may write fields that this program does not know
	together func(record) []Flag
	byName   map[string]*Field
}

const deleted = "deleted"

// How elements of sets are named.
const (
	byID   = "a UUID"
	byHash = "a SHA-256, 64 hexadecimal digits"
	byWord = "a word"
)

// field finds the row of a field; for an element of a set, that of the set.
func (k *Kind) field(name string) (*Field, bool) {
	f, ok := k.byName[name]
	if !ok {
		if set, element, isSet := strings.Cut(name, "/"); isSet && element != "*" {
			f, ok = k.byName[set+"/*"]
		}
	}
	return f, ok
}

// Kinds lists the kinds in the order of the table.
func Kinds() []*Kind { return table }

// Fields lists the rows of a kind.
func (k *Kind) Fields() []Field { return k.fields }

var kinds = func() map[string]*Kind {
	byKind := map[string]*Kind{}
	for _, k := range table {
		k.fields = append(k.fields, Field{Name: deleted, Value: yesNo(), Write: min(k.others, collectors), What: "whether it is deleted"})
		k.byName = map[string]*Field{}
		for i := range k.fields {
			k.byName[k.fields[i].Name] = &k.fields[i]
		}
		byKind[k.Name] = k
	}
	return byKind
}()

// Forms of values, to keep the table readable.

func text(most float64) Value { return Value{Type: Text, Most: most} }
func yesNo() Value            { return Value{Type: Bool} }
func whole(unit string, least, most float64) Value {
	return Value{Type: Whole, Unit: unit, Least: least, Most: most}
}
func number(unit string, least, most float64) Value {
	return Value{Type: Number, Unit: unit, Least: least, Most: most}
}
func instant() Value               { return Value{Type: Instant} }
func day() Value                   { return Value{Type: Day} }
func choice(words ...string) Value { return Value{Type: Choice, OneOf: words} }
func id(kind string) Value         { return Value{Type: ID, OneOf: []string{kind}} }
func of(kinds ...string) Value     { return Value{Type: Of, OneOf: kinds} }
func group() Value                 { return Value{Type: Group} }
func opaque() Value                { return Value{Type: Opaque} }
func object(parts ...Part) Value   { return Value{Type: Object, Parts: parts} }
func list(least, most float64, v Value) Value {
	return Value{Type: List, Least: least, Most: most, Parts: []Part{{Value: v}}}
}
func part(name string, v Value) Part     { return Part{Name: name, Value: v} }
func optional(name string, v Value) Part { return Part{Name: name, Optional: true, Value: v} }
func (v Value) orNull() Value            { v.Null = true; return v }
func (v Value) orWord(word string) Value { v.Word = word; return v }
func field(name string, v Value, w who, what string) Field {
	return Field{Name: name, Value: v, Write: w, What: what}
}
func needed(name string, v Value, w who, what string) Field {
	return Field{Name: name, Value: v, Needed: true, Write: w, What: what}
}
func set(name, element string, v Value, w who, what string) Field {
	return Field{Name: name + "/*", Element: element, Value: v, Write: w, What: what}
}
func private(f Field) Field { f.Private = true; return f }

// Bounds that several fields share.
var (
	name  = text(80)
	note  = text(2000)
	line  = text(300)
	level = number("m above the station's chart datum", -20, 20) // as internal/window bounds it
)

// Taxon is a scientific name as in taxa.json or one of the household's, or "unsure".
var taxon = text(120)

// amount is how much was found or taken.
var amount = object(part("value", number("", 0, 100000)), part("unit", choice("count", "g", "mL", "mm")))

// position is where, or that there was no fix.
var position = object(
	part("lat", number("degrees, north positive", -90, 90)),
	part("lon", number("degrees, east positive", -180, 180)),
	part("accuracyM", number("m", 0, 100000).orNull()),
).orWord("noFix")

// photo is an element of a set of photos: true, or null for one taken out.
var photo = yesNo().orNull()

var table = []*Kind{
	{Name: "member", What: "a person of the household or club", others: keepers, fields: []Field{
		needed("name", name, keepers, "the name"),
		needed("age", choice("adult", "child"), keepers, "whether an adult or a child"),
		field("role", text(40), keepers, "what the person does; a word for people that gives no rights"),
		private(field("contact", line, keepers, "how to reach the person")),
	}},
	{Name: "device", What: "a phone or computer, as people speak of it; its role and token are the server's", others: keepers, fields: []Field{
		needed("name", name, keepers, "the name"),
		field("member", id("member").orNull(), keepers, "whose it mostly is"),
	}},
	{Name: "shore", What: "a place to work", others: collectors, together: shoreTogether, fields: []Field{
		needed("name", name, collectors, "the name"),
		needed("basis", object(
			part("station", text(120)), part("stationName", text(200)), part("place", text(200)), part("source", text(200)),
			part("datum", text(80)), part("release", text(80)),
			part("differences", object(
				part("minutes", list(2, 2, number("min", -720, 720))), part("heights", list(2, 2, number("m", -20, 20))), part("heightsAre", choice("metres")),
			).orNull()),
			part("below", level), part("wayOff", level.orNull()),
		), collectors, "the station and the heights that count from its datum"),
		needed("place", object(
			part("lat", number("degrees, north positive", -90, 90)), part("lon", number("degrees, east positive", -180, 180)),
			part("zone", text(64)), part("distanceKm", number("km", 0, 20100).orNull()),
		), collectors, "where it is"),
		field("cutOff", yesNo(), collectors, "whether it can be cut off"),
		field("margin", number("min", 0, 180), collectors, "the margin before the way back is cut"),
		field("walkOut", number("min", 0, 180), collectors, "what the slowest needs to walk out"),
		field("travel", number("min", 0, 1440), collectors, "the time from home"),
		field("escape", text(2000), collectors, "the way of escape"),
		field("swellLimit", number("m", 0, 20).orNull(), collectors, "the swell above which nobody goes"),
		field("wayIn", text(2000), collectors, "notes on the way in"),
		field("wayOut", text(2000), collectors, "notes on the way out"),
	}},
	{Name: "outing", What: "one visit to a shore", others: collectors, together: outingTogether, fields: []Field{
		needed("shore", id("shore"), collectors, "the shore"),
		needed("purpose", choice("home", "teaching", "trade"), collectors, "what it is for"),
		field("planned", object(
			part("from", instant()), part("to", instant()), part("startBack", instant().orNull()), part("offBy", instant().orNull()),
		).orNull(), collectors, "the planned window"),
		set("party", byID, object(part("as", choice("adult", "child")), optional("name", name)).orNull(), collectors, "one of the party, a member or a guest"),
		set("gear", byWord, object(part("what", name), part("packed", yesNo())).orNull(), collectors, "a piece of gear on the list"),
		set("containers", byWord, object(part("what", name), part("litres", number("L", 0, 1000).orNull()), part("packed", yesNo())).orNull(), collectors, "a container on the list"),
		field("ashore", object(part("who", name), part("dueBack", instant())).orNull(), collectors, "who ashore knows, and when the party is due back"),
		private(field("ashoreCall", line.orNull(), collectors, "how those ashore are reached")),
		field("started", object(part("at", instant()), part("by", id("member").orNull())).orNull(), collectors, "the start"),
		field("ended", object(part("at", instant()), part("by", id("member").orNull())).orNull(), collectors, "the end"),
		set("heads", byID, object(part("at", instant()), part("count", whole("people", 0, 200)), part("by", id("member").orNull())).orNull(), collectors, "a head count"),
		field("note", note, collectors, "the note"),
	}},
	{Name: "find", What: "something met on a shore, taken or not", others: children, together: findTogether, fields: []Field{
		needed("at", instant(), children, "when"),
		field("outing", id("outing").orNull(), children, "on which outing"),
		field("shore", id("shore").orNull(), children, "on which shore"),
		field("by", id("member").orNull(), children, "who found it"),
		needed("taxon", taxon, children, `what it is, a scientific name or "unsure"`),
		field("group", group(), children, "its handling group"),
		field("state", choice("attached", "drift", "living", "empty"), children, "the state of life"),
		field("amount", amount.orNull(), children, "how much"),
		field("mass", object(part("g", number("g", 0, 100000)), part("weighed", choice("wet", "drained", "dried", "in the shell", "shelled"))).orNull(), children, "the mass and how it was weighed"),
		field("size", object(part("mm", number("mm", 0, 10000)), part("axis", choice("length", "height", "diameter", "shell", "carapace", "frond"))).orNull(), children, "the size and along which axis"),
		field("fate", choice("seen", "taken"), children, "whether it was seen or taken"),
		field("putBack", object(part("at", instant()), part("by", id("member").orNull()), optional("amount", amount)).orNull(), children, "what was put back on the same shore and tide"),
		field("height", choice("high", "mid", "low", "pool"), children, "the height on the shore"),
		field("habitat", line, children, "the habitat"),
		field("position", position.orNull(), children, "the position"),
		set("photos", byHash, photo, children, "a photo"),
		field("container", text(60).orNull(), children, "the container, by its word on the outing's list"),
		field("note", note, children, "the note"),
		set("identified", byID, object(
			part("at", instant()), part("by", id("member").orNull()), part("taxon", taxon), part("group", group()), optional("how", line),
		).orNull(), collectors, "a later identification, which leaves the first"),
	}},
	{Name: "ruleset", What: "rules of one authority for one area, read by internal/take", others: collectors, fields: []Field{
		needed("document", object(
			part("form", whole("", 1, 1000)), part("name", line), part("area", opaque()), part("authority", line), part("source", line), part("rules", opaque()),
		), collectors, "the rules with their area, authority and source"),
		field("checked", object(part("on", day()), part("by", line)).orNull(), collectors, "the last check against the source, and by whom"),
	}},
	{Name: "specimen", What: "what was taken and is kept: one animal or plant, or a lot of them", others: collectors, together: specimenTogether, fields: []Field{
		field("name", name, collectors, "the name"),
		field("find", id("find").orNull(), collectors, "the find that it comes from"),
		field("source", line, collectors, "where it comes from, if from no find"),
		needed("taxon", taxon, collectors, `what it is, a scientific name or "unsure"`),
		field("group", group(), collectors, "its handling group"),
		field("amount", amount.orNull(), collectors, "how much"),
		field("lot", id("specimen").orNull(), collectors, "the lot that it was parted from or found on"),
		set("photos", byHash, photo, collectors, "a photo"),
		field("note", note, collectors, "the note"),
	}},
	{Name: "tank", What: "a vessel of water, from a jar to a display", others: collectors, fields: []Field{
		needed("name", name, collectors, "the name"),
		field("use", choice("holding", "quarantine", "display"), collectors, "what it is for"),
		field("volumeL", number("L", 0, 1000000), collectors, "the volume"),
		field("keeps", object(
			part("salinityLow", number("PSS-78", 0, 42)), part("salinityHigh", number("PSS-78", 0, 42)), part("lowC", number("°C", -2, 40)), part("highC", number("°C", -2, 40)),
		).orNull(), collectors, "the salinity and temperature that it is kept within"),
		set("photos", byHash, photo, collectors, "a photo"),
		field("note", note, collectors, "the note"),
	}},
	{Name: "system", What: "tanks that share water; which, events say", others: collectors, fields: []Field{
		needed("name", name, collectors, "the name"),
		field("protocol", object(part("quietDays", whole("days", 1, 365)), part("dips", whole("dips", 0, 20))).orNull(), collectors, "the quiet days and dips that a clearance asks for"),
		field("note", note, collectors, "the note"),
	}},
	{Name: "reading", What: "what an instrument showed", others: children, together: readingTogether, fields: []Field{
		needed("sample", object(
			part("at", instant()), part("of", of("tank", "system", "shore", "outing", "specimen")), part("by", id("member").orNull()),
		), children, "when, of what and by whom it was read"),
		field("salinity", object(
			part("value", number("as the scale reads", 0, 110)),
			part("instrument", choice("refractometer", "hydrometer", "conductivity")),
			part("scale", choice("PSS-78", "ppt", "SG 20/20", "SG 25/25", "SG 15/15", "SG 60F/60F", "SG 20/4", "SG 25/4", "SG 15/4", "SG unknown", "mS/cm")),
			part("sampleC", number("°C", -2, 45).orNull()),
		).orNull(), children, "the salinity with its instrument, scale and sample temperature"),
		field("temperatureC", number("°C", -2, 45).orNull(), children, "the temperature"),
		field("pH", object(part("value", number("", 0, 14)), part("scale", choice("NBS", "total", "free", "unknown"))).orNull(), children, "the pH and its scale"),
		field("ammoniaMgNL", number("mg N/L, total ammonia", 0, 100).orNull(), children, "the total ammonia"),
		field("nitriteMgNL", number("mg N/L", 0, 100).orNull(), children, "the nitrite"),
		field("nitrateMgNL", number("mg N/L", 0, 1000).orNull(), children, "the nitrate"),
		field("oxygenMgL", number("mg/L", 0, 40).orNull(), children, "the oxygen"),
		field("note", note, children, "the note"),
	}},
	{Name: "event", What: "something that happened to a specimen, tank or system: exactly one of the fields beside the note", others: collectors, together: eventTogether,
		fields: append(acts(), field("note", note, children, "the note"))},
}

// acts are what can happen. Each is one field with all that belongs to it.
func acts() []Field {
	act := func(name string, w who, what string, more ...Part) Field {
		return field(name, object(append([]Part{
			part("at", instant()), part("of", of("specimen", "tank", "system")), part("by", id("member").orNull()),
		}, more...)...), w, what)
	}
	return []Field{
		act("arrived", collectors, "an arrival", part("tank", id("tank"))),
		act("checked", children, "a check; no sign on the list means no signs seen", part("signs", list(0, 40, line))),
		act("sign", children, "a sign of trouble, raised by anyone", part("what", line), part("grade", choice("harmless", "watch", "pest", "notify", "unsure"))),
		act("confirmed", collectors, "a quiet day, confirmed by an adult", part("day", day())),
		act("settled", collectors, "a sign that was looked into and is over", part("sign", id("event")), part("how", line)),
		act("dipped", collectors, "a dip", part("how", line), part("planned", yesNo())),
		act("treated", collectors, "a treatment", part("how", line), part("planned", yesNo())),
		act("moved", collectors, "a move", part("tank", id("tank"))),
		act("parted", collectors, "a part made a specimen of its own", part("into", id("specimen"))),
		act("joined", collectors, "a tank joining a system", part("system", id("system"))),
		act("left", collectors, "a tank leaving a system", part("system", id("system"))),
		act("waterChanged", collectors, "a change of water", part("litres", number("L", 0, 1000000)), part("from", choice("clean", "stored", "shore", "system")), optional("system", id("system"))),
		act("trimmed", collectors, "a trim", optional("amount", amount)),
		act("fed", children, "a feeding", optional("what", line)),
		act("died", children, "a death", part("explained", line.orNull()), optional("amount", amount)),
		act("gone", collectors, "a leaving for good that is no death", part("how", choice("given away", "disposed of", "lost")), optional("to", line)),
		act("cleared", collectors, "a clearance into a display", part("tank", id("tank"))),
		act("graduated", collectors, "a tank that was the quarantine and becomes the display"),
		act("overruled", keepers, "a keeper's decision against the clock", part("what", line), part("reason", line)),
	}
}
