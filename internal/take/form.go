package take

// The form of a rule set as data: the strict decoder goes by it (read.go), and the JSON
// Schema beside it is made from it (schema_test.go), so that the two cannot drift.

// sort is what a value in the file may be.
type sort byte

const (
	text    sort = iota // of least to most characters
	word                // one of words, which are parted by "|"
	number              // least..most
	whole               // without a fraction
	yesOnly             // true, or left out
	day                 // "2026-11-25"
	daySpan             // the same, or "11-25" for every year
	clock               // "08:00", or one of words
	object              // with fields
	list                // of least to most values of the shape of
	named               // an object of least to most values of the shape of, under any names
)

type shape struct {
	sort        sort
	least, most float64
	words       string
	fields      []field
	of          *shape
}

type field struct {
	name   string
	needed bool
	shape  *shape
}

// The bounds of a file. A set must also fit into one change of the journal.
const (
	MaxFileBytes     = 1 << 20
	MaxDocumentBytes = 60_000
	maxDepth         = 12
	maxPoints        = 1000 // of all polygons of a set
)

func textOf(most float64) *shape          { return &shape{sort: text, least: 1, most: most} }
func wordOf(words string) *shape          { return &shape{sort: word, words: words} }
func wholeOf(least, most float64) *shape  { return &shape{sort: whole, least: least, most: most} }
func numberOf(least, most float64) *shape { return &shape{sort: number, least: least, most: most} }
func listOf(of *shape, least, most float64) *shape {
	return &shape{sort: list, least: least, most: most, of: of}
}

var (
	aDay      = &shape{sort: day}
	aDaySpan  = &shape{sort: daySpan}
	onlyYes   = &shape{sort: yesOnly}
	someTexts = listOf(textOf(120), 1, 200)
	someWords = listOf(textOf(60), 1, 60)
	someTaxa  = listOf(textOf(120), 1, 400)
	someGroup = listOf(wordOf(groupWords), 1, 20)

	level = &shape{sort: object, fields: []field{
		{"named", false, textOf(20)},
		{"plusM", true, numberOf(-500, 100)},
	}}
	strip = &shape{sort: object, fields: []field{
		{"above", false, level},
		{"below", false, level},
	}}
	rings = listOf(listOf(listOf(numberOf(-180, 180), 2, 2), 3, maxPoints), 1, 100)
	// area is that of a set; where, of a rule, has no everywhere.
	area = &shape{sort: object, fields: []field{
		{"place", true, textOf(200)},
		{"everywhere", false, onlyYes},
		{"polygons", false, rings},
		{"except", false, rings},
		{"strip", false, strip},
	}}
	where = &shape{sort: object, fields: []field{
		{"place", false, textOf(200)},
		{"polygons", false, rings},
		{"except", false, rings},
		{"strip", false, strip},
	}}
	kinds = &shape{sort: object, fields: []field{
		{"taxa", false, someTaxa},
		{"groups", false, someGroup},
	}}
	subject = &shape{sort: object, fields: []field{
		{"all", false, onlyYes},
		{"rest", false, onlyYes},
		{"taxa", false, someTaxa},
		{"groups", false, someGroup},
		{"except", false, kinds},
		{"states", false, listOf(wordOf("attached|drift|living|empty"), 1, 4)},
	}}
	span = &shape{sort: object, fields: []field{
		{"from", false, aDaySpan},
		{"to", false, aDaySpan},
		{"months", false, listOf(wholeOf(1, 12), 1, 12)},
		{"days", false, listOf(aDay, 1, 400)},
		{"moon", false, &shape{sort: object, fields: []field{
			{"of", true, wordOf("new|full|either")},
			{"first", true, wholeOf(-14, 14)},
			{"last", true, wholeOf(-14, 14)},
		}}},
	}}
	season = &shape{sort: object, fields: []field{
		{"open", false, listOf(span, 1, 40)},
		{"closed", false, listOf(span, 1, 40)},
	}}
	anAmount = numberOf(0, 1e9)
	units    = wordOf("count|g|mL|mm|containers|share")
	weighed  = wordOf("wet|drained|dried|in the shell|shelled")
	limit    = &shape{sort: object, fields: []field{
		{"most", true, anAmount},
		{"unit", true, units},
		{"weighed", false, weighed},
		{"base", true, wordOf("person|party|vehicle|licence|household|everyone")},
		{"per", true, wordOf("day|tide|outing|days|possession|season|year")},
		{"days", false, wholeOf(2, 366)},
		{"each", false, wordOf("taxon")},
		{"who", false, wordOf("gathers|adults|all")},
		{"putBack", false, wordOf("free")},
		{"keepFirst", false, onlyYes},
		{"or", false, &shape{sort: object, fields: []field{
			{"most", true, anAmount},
			{"unit", true, units},
			{"weighed", false, weighed},
		}}},
	}}
	anAge   = wholeOf(0, 120)
	choices = &shape{sort: object, fields: []field{
		{"only", false, someWords},
		{"never", false, someWords},
	}}
	millimetres = numberOf(0, 10000)
	rule        = &shape{sort: object, fields: []field{
		{"of", true, subject},
		{"where", false, where},
		{"during", false, season},
		{"unless", false, &shape{sort: object, fields: []field{
			{"licences", false, someTexts},
			{"rights", false, someTexts},
			{"ageUnder", false, anAge},
			{"ageFrom", false, anAge},
		}}},
		{"take", false, wordOf("allowed|forbidden")},
		{"limits", false, listOf(limit, 1, 20)},
		{"sizes", false, listOf(&shape{sort: object, fields: []field{
			{"axis", true, wordOf("length|height|diameter|shell|carapace|frond")},
			{"leastMm", false, millimetres},
			{"mostMm", false, millimetres},
		}}, 1, 6)},
		{"season", false, season},
		{"hours", false, &shape{sort: object, fields: []field{
			{"from", true, &shape{sort: clock, words: "sunrise"}},
			{"to", true, &shape{sort: clock, words: "sunset"}},
			{"fromMin", false, wholeOf(-720, 720)},
			{"toMin", false, wholeOf(-720, 720)},
		}}},
		{"gear", false, choices},
		{"use", false, choices},
		{"substrate", false, choices},
		{"person", false, &shape{sort: object, fields: []field{
			{"licence", false, textOf(120)},
			{"above", false, limit},
			{"consent", false, textOf(120)},
			{"ageFrom", false, anAge},
			{"ageTo", false, anAge},
		}}},
		{"rest", false, wholeOf(1, 3660)},
		{"cut", false, &shape{sort: object, fields: []field{
			{"leaveMm", false, millimetres},
			{"above", false, wordOf("holdfast|bulb|anchor|root")},
			{"leavePart", false, numberOf(0, 1)},
			{"notTorn", false, onlyYes},
		}}},
		{"duties", false, listOf(&shape{sort: object, fields: []field{
			{"do", true, textOf(300)},
			{"ask", false, textOf(300)},
		}}, 1, 20)},
		{"return", false, wordOf("demanded|allowed|forbidden")},
		{"note", false, textOf(1000)},
	}}
	// document is the whole file.
	document = &shape{sort: object, fields: []field{
		{"form", true, wholeOf(Form, Form)},
		{"name", true, textOf(300)},
		{"layer", true, wordOf("national|regional|park|closure|household")},
		{"authority", true, textOf(300)},
		{"ask", true, textOf(300)},
		{"source", true, textOf(300)},
		{"sourceDate", true, aDay},
		{"from", false, aDay},
		{"to", false, aDay},
		{"area", true, area},
		{"purposes", false, listOf(wordOf("home|teaching|trade"), 1, 3)},
		{"otherwise", false, wordOf("unchecked|forbidden|allowed|others")},
		{"note", false, textOf(2000)},
		{"rules", true, &shape{sort: named, least: 1, most: 200, of: rule}},
	}}
)
