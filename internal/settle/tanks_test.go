package settle

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/book"
	"wrackbook/internal/fault"
)

func read(t *testing.T, text string) *history {
	return readHistory(t, t.Name(), append([]string{"rules scene", "> scene"}, strings.Split(text, "\n")...))
}

func (h *history) reading(t *testing.T, id, at, of string, parts fields) {
	parts["sample"] = fields{"at": at, "of": of}
	h.records.Readings = append(h.records.Readings, record(t, id, parts))
}

func salinity(value float64, scale string) fields {
	return fields{"value": value, "instrument": "refractometer", "scale": scale}
}

// A display is held to the quarantine: 1 in salinity, 2 °C, both read within 48 hours, and
// within what it is kept at.
func TestFits(t *testing.T) {
	const life = "wait 5\n03-01 18:00 arrived rosa jar\n03-01 18:00 arrived clem show\n03-02..03-06 09:00 checked rack\nnow 03-07 12:00"
	const day, old = "2026-03-06T20:00:00Z", "2026-03-05T11:00:00Z"
	for _, row := range []struct {
		name        string
		jarS, showS fields
		jarC, showC float64
		showAt      string
		missing     []string
		gapS, gapC  float64
	}{
		{"alike", salinity(34, "PSS-78"), salinity(35, "PSS-78"), 14, 16, day, nil, 1, 2},
		{"saltier", salinity(33, "PSS-78"), salinity(34.5, "PSS-78"), 14, 14, day, []string{"salinity"}, 1.5, 0},
		{"warmer", salinity(34, "PSS-78"), salinity(34, "PSS-78"), 14, 17, day, []string{"temperature"}, 0, 3},
		{"read long ago", salinity(34, "PSS-78"), salinity(34, "PSS-78"), 14, 14, old, []string{"salinity reading", "temperature reading"}, 0, 0},
		{"on no known scale", salinity(34, "PSS-78"), salinity(1.025, "SG unknown"), 14, 14, day, []string{"salinity reading"}, 0, 0},
		{"outside what it is kept at", salinity(36, "PSS-78"), salinity(36.5, "PSS-78"), 18, 19, day, []string{"display salinity", "display temperature"}, 0.5, 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			h := read(t, life)
			for i, data := range h.records.Tanks {
				if strings.Contains(string(data), `"show"`) {
					h.records.Tanks[i] = json.RawMessage(`{"id":"show","use":"display","keeps":{"salinityLow":33,"salinityHigh":36,"lowC":10,"highC":18}}`)
				}
			}
			h.reading(t, "r1", day, "tank/jar", fields{"salinity": row.jarS, "temperatureC": row.jarC})
			h.reading(t, "r2", row.showAt, "system/home", fields{"salinity": row.showS, "temperatureC": row.showC})
			h.reading(t, "r3", "2026-02-01T12:00:00Z", "tank/show", fields{"salinity": salinity(20, "PSS-78"), "temperatureC": 5.0})
			fit, err := h.derive(t).Fits("rosa", "show")
			require.NoError(t, err)
			assert.Equal(t, append([]string{}, row.missing...), fit.Missing)
			require.Equal(t, slices.Contains(row.missing, "salinity reading"), fit.GapPSU == nil)
			if fit.GapPSU != nil {
				assert.InDelta(t, row.gapS, *fit.GapPSU, 1e-9)
			}
			require.Equal(t, slices.Contains(row.missing, "temperature reading"), fit.GapC == nil)
			if fit.GapC != nil {
				assert.InDelta(t, row.gapC, *fit.GapC, 1e-9)
			}
		})
	}
	p := read(t, life).derive(t)
	fit, err := p.Fits("rosa", "jar")
	require.NoError(t, err)
	assert.Empty(t, fit.Missing, "what graduates in place needs no comparison")
	fit, err = p.Fits("rosa", "cup")
	require.NoError(t, err)
	assert.Contains(t, fit.Missing, "display")
	fit, err = read(t, life+"\n03-06 10:00 sign show notify").derive(t).Fits("rosa", "show")
	require.NoError(t, err)
	assert.Contains(t, fit.Missing, "display", "it is stopped")
	for _, pair := range [][2]string{{"nobody", "show"}, {"rosa", "nowhere"}} {
		_, err = p.Fits(pair[0], pair[1])
		var f *fault.Error
		require.True(t, errors.As(err, &f))
		assert.Equal(t, fault.BadInput, f.Code)
	}
}

// Who harms whom, as the trade's group table says: hermits eat small fish and snails; crabs
// eat their tank-mates; anemones sting shrimps and fish.
func TestMates(t *testing.T) {
	lotOf := func(id, group, taxon string) *lot {
		return &lot{Specimen: &Specimen{ID: id, Group: group}, taxon: taxon}
	}
	for _, row := range []struct {
		who, taxon, whom string
		how              []string
	}{
		{"hermits", "", "fish", []string{"eats"}},
		{"hermits", "", "snails", []string{"eats"}},
		{"crabs", "", "shrimps", []string{"eats"}},
		{"crabs", "Carcinus maenas", "hermits", []string{"eats"}},
		{"crabs", "Porcellana platycheles", "shrimps", nil},
		{"anemones", "", "shrimps", []string{"stings"}},
		{"anemones", "", "fish", []string{"stings"}},
		{"snails", "Nucella lapillus", "bivalves", []string{"eats"}},
		{"snails", "Littorina littorea", "bivalves", nil},
		{"greens", "", "snails", nil},
	} {
		got := harms(lotOf("a", row.who, row.taxon), lotOf("b", row.whom, ""))
		var how []string
		for _, c := range got {
			how = append(how, c.How)
			assert.NotEmpty(t, c.From)
		}
		assert.Equal(t, row.how, how, "%s %s and %s", row.who, row.taxon, row.whom)
	}
	both := quarrels(lotOf("a", "shrimps", ""), []*lot{lotOf("b", "anemones", "")})
	require.Len(t, both, 2)
	assert.Equal(t, "b", both[1].Who)
}

// Every word of the lists is one that is known.
func TestLists(t *testing.T) {
	known := map[string]bool{"*": true}
	for _, g := range book.Groups() {
		known[g.ID] = true
	}
	for _, x := range book.Taxa() {
		genus, _, _ := strings.Cut(x.Name, " ")
		known[genus] = true
	}
	require.GreaterOrEqual(t, len(mates().Pairs), 60)
	for _, p := range mates().Pairs {
		assert.True(t, known[p.Who] && known[p.Whom], "%v", p)
		assert.Contains(t, []string{"eats", "stings", "overgrows", "robs", "starves", "harmless"}, p.How)
		assert.NotEmpty(t, mates().Sources[p.From], "%v", p)
	}
	n := Defaults()
	require.Len(t, n.Groups, 14)
	for _, g := range book.Groups() {
		require.NotNil(t, n.Groups[g.ID], "%s has no numbers", g.ID)
	}
	all := map[string]*Group{"unsure": n.Unsure}
	for id, g := range n.Groups {
		all[id] = g
	}
	for id, g := range all {
		for _, x := range []Sourced{g.Days, g.SalinityPerHour, g.CPerHour, g.DripMin, g.FreshDipS, {1, g.Carry.From}} {
			assert.NotEmpty(t, n.Sources[x.From], "%s", id)
		}
		assert.Positive(t, g.SalinityPerHour.Is, id)
		assert.Positive(t, g.CPerHour.Is, id)
		assert.GreaterOrEqual(t, n.Unsure.Days.Is, g.Days.Is, "nobody waits longer than the unsure")
		if g.Weed {
			assert.GreaterOrEqual(t, g.Days.Is, 28.0, id)
		}
	}
	for _, from := range []string{n.Cold.From, n.Search.From, n.Siphonous.From, n.IsolatedFrom, n.Tropics.From} {
		assert.NotEmpty(t, n.Sources[from])
	}
}

// What may be seen is in order: every sign has its group, grade and source, every group has
// signs of trouble of its own, and what must be told is graded so.
func TestSigns(t *testing.T) {
	var handling struct {
		Groups  map[string]*Group
		Sources map[string]string
		Signs   []struct {
			ID, What, Look, Grade, From string
			Groups                      []string
			Found                       bool
		}
	}
	require.NoError(t, json.Unmarshal(DefaultsJSON(), &handling))
	require.Len(t, handling.Groups, 14)
	ids, own := map[string]string{}, map[string]int{}
	require.GreaterOrEqual(t, len(handling.Signs), 33)
	for _, s := range handling.Signs {
		assert.Empty(t, ids[s.ID], "twice: %s", s.ID)
		ids[s.ID] = s.Grade
		assert.Contains(t, []string{Harmless, Watch, Pest, Notify, Unsure}, s.Grade, s.ID)
		assert.NotEmpty(t, handling.Sources[s.From], s.ID)
		assert.NotEmpty(t, s.What, s.ID)
		assert.LessOrEqual(t, len(s.What+s.Look), 120, s.ID)
		require.NotEmpty(t, s.Groups, s.ID)
		for _, g := range s.Groups {
			assert.True(t, g == "*" || g == "animals" || handling.Groups[g] != nil, "%s: %s", s.ID, g)
			for id, group := range handling.Groups {
				if g == id || g == "animals" && !group.Weed {
					own[id]++
				}
			}
		}
	}
	for id := range handling.Groups {
		assert.GreaterOrEqual(t, own[id], 2, id)
	}
	// As the design grades them, and the trade: grazers that clean are no pest.
	for id, grade := range map[string]string{"amphipods": Harmless, "strangeWeed": Watch, "glassAnemone": Pest, "listed": Notify} {
		assert.Equal(t, grade, ids[id], id)
	}
}

// The waits are the longer end of the trade's ranges (weeks): greens, reds, browns and hermits
// 2 to 4; calcareous and crabs 4; shrimps and snails 3 to 4; bivalves, anemones and fish 4 to
// 6; rock 4 to 8; shells dry 2. Dips in fresh water: never for calcareous and most
// invertebrates, 10 to 60 s for reds, 2 to 5 min for greens and fish, none for siphonous greens.
func TestNumbersOfTheTrade(t *testing.T) {
	weeks := map[string]float64{"greens": 4, "reds": 4, "browns": 4, "calcareous": 4, "hermits": 4, "crabs": 4, "shrimps": 4,
		"snails": 4, "bivalves": 6, "anemones": 6, "fish": 6, "rock": 8, "shells": 2}
	for id, w := range weeks {
		assert.Equal(t, 7*w, group(id).Days.Is, id)
	}
	perHour := map[string]float64{"calcareous": 1, "hermits": 2, "crabs": 2, "shrimps": 1, "snails": 2, "bivalves": 2, "anemones": 1, "fish": 1}
	for id, s := range perHour {
		assert.Equal(t, s, group(id).SalinityPerHour.Is, id)
	}
	for _, row := range []struct {
		group, taxon string
		seconds      float64
	}{{"greens", "Ulva lactuca", 300}, {"greens", "Codium tomentosum", 0}, {"greens", "Bryopsis plumosa", 0}, {"greens", "caulerpa prolifera", 0},
		{"calcareous", "Corallina officinalis", 0}, {"reds", "Chondrus crispus", 60}, {"fish", "", 300}, {"anemones", "", 0}, {"", "", 0}} {
		got, from := FreshDipS(row.group, row.taxon)
		assert.Equal(t, row.seconds, got, "%v", row)
		assert.NotEmpty(t, Defaults().Sources[from])
	}
	c := CarryFor("browns", false)
	assert.Equal(t, [2]float64{4, 12}, [2]float64{*c.LowC, *c.HighC})
	assert.Zero(t, c.WithinC)
	c = CarryFor("browns", true)
	assert.Equal(t, 3.0, c.WithinC, "in the tropics within 3 °C of the pool")
	assert.Nil(t, c.LowC)
	assert.Nil(t, c.HighC)
	assert.NotNil(t, CarryFor("browns", false).LowC, "the table stays as it is")
}

// A lot that is called back: what was parted from it, who has a piece, and whatever shared
// its water, though it moved on or died.
func TestRecall(t *testing.T) {
	h := read(t, `03-01 18:00 arrived weed jar
03-01 18:00 arrived before jar
03-02 10:00 moved before cup
03-03 10:00 parted weed piece
03-04 10:00 parted piece crumb
03-05 10:00 gone piece given
03-06 10:00 moved weed cup
03-07 10:00 arrived after jar
03-08 10:00 arrived late cup
03-09 10:00 died late explained
03-09 11:00 water home bench
03-09 12:00 arrived apart pot
03-11 10:00 parted weed dream
now 03-10 12:00`)
	b, err := Read(h.records)
	require.NoError(t, err)
	for range 3 {
		slices.Reverse(b.Events)
		r, err := RecallOf(b, h.now, "weed")
		require.NoError(t, err)
		var told []string
		for _, s := range r.Specimens {
			told = append(told, strings.TrimSpace(s.ID+" "+s.As+" "+s.Tank+" "+s.Gone))
		}
		// "after" came into the jar when the weed had left, but a fragment was still there.
		assert.Equal(t, []string{"weed lot cup", "crumb fragment jar", "piece fragment jar given away", "after mate jar", "before mate cup", "late mate cup died"}, told)
		assert.Equal(t, []Ref{{"system", "bench"}, {"system", "home"}, {"system", "rack"}}, r.Systems)
		other, err := RecallOf(b, h.now, "crumb")
		require.NoError(t, err)
		assert.Equal(t, "crumb", other.Specimens[0].ID)
		assert.Len(t, other.Specimens, 6, "from any fragment the whole lot is found")
	}
	r, err := RecallOf(b, h.now, "apart")
	require.NoError(t, err)
	assert.Len(t, r.Specimens, 1)
	_, err = RecallOf(b, h.now, "nobody")
	require.Error(t, err)
}

// Who still waits is not given away, nor who lives with a sign or a clearance in question.
func TestHandOn(t *testing.T) {
	const waited = `
03-01 18:00 arrived rosa jar
03-02..03-15 09:00 checked rack
03-16 10:00 cleared rosa show
03-16 10:30 identified rosa Littorina littorea
`
	for _, row := range []struct {
		name, history string
		want          []string
	}{
		{"cleared, and named", waited + "now 03-17 12:00", []string{}},
		{"nobody has named it", strings.Replace(waited, "Littorina littorea", "unsure", 1) + "now 03-17 12:00", []string{"unidentified"}},
		{"it waits", "03-01 18:00 arrived rosa jar\n03-02 10:30 identified rosa Littorina littorea\nnow 03-03 12:00", []string{"waiting"}},
		{"a sign in the display", waited + "03-16 18:00 sign show pest\nnow 03-17 12:00", []string{"sign"}},
		{"a sign that was settled", waited + "03-16 18:00 sign show pest #s\n03-16 19:00 settled show s\nnow 03-17 12:00", []string{}},
		{"a stop in the display", waited + "03-16 18:00 sign show notify\nnow 03-17 12:00", []string{"stopped"}},
		{"another came into the display too early", waited + "03-01 18:00 arrived tom cup\n03-16 18:00 cleared tom show\nnow 03-17 12:00", []string{"question"}},
		{"a keeper overruled its clock", "03-01 18:00 arrived rosa jar\n03-01 19:00 identified rosa Littorina littorea\n03-02..03-05 09:00 checked rack\n03-05 10:00 overruled rosa clearance\n03-05 11:00 cleared rosa show\nnow 03-05 12:00", []string{"waiting"}},
		{"and overruled it afterwards", "03-01 18:00 arrived rosa jar\n03-01 19:00 identified rosa Littorina littorea\n03-02..03-05 09:00 checked rack\n03-05 11:00 cleared rosa show\n03-05 11:30 overruled rosa clearance\nnow 03-05 12:00", []string{"waiting"}},
		{"it was done when a keeper overruled it", strings.Replace(waited, "03-16 10:00", "03-16 09:30 overruled rosa clearance\n03-16 10:00", 1) + "now 03-17 12:00", []string{}},
		{"its own clearance does not stand", waited + "03-14 18:00 sign rosa pest\nnow 03-17 12:00", []string{"waiting"}},
		{"a kind that may not be kept", strings.Replace(waited, "Littorina littorea", "Caulerpa taxifolia", 1) + "now 03-17 12:00", []string{"stopped", "controlled"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			for _, s := range read(t, row.history).derive(t).Specimens {
				if s.ID == "rosa" {
					assert.Equal(t, row.want, s.HandOn)
				}
			}
		})
	}
}

// However much the events name and however long ago, what is kept of it is bounded.
func TestWhatEventsNameIsBounded(t *testing.T) {
	r := &Records{Zone: "Europe/London", Tanks: []json.RawMessage{record(t, "jar", fields{"use": "quarantine"})}}
	put := func(n int, at time.Time) {
		r.Events = append(r.Events, record(t, fmt.Sprintf("e%05d", len(r.Events)), fields{"arrived": fields{"at": at.Format(time.RFC3339), "of": fmt.Sprintf("specimen/s%05d", n), "tank": "jar"}}))
	}
	put(0, time.Date(2010, 1, 2, 9, 0, 0, 0, time.UTC))
	b, err := Read(r)
	require.NoError(t, err)
	w := newWalk(b, time.Date(2026, 1, 2, 9, 0, 0, 0, time.UTC))
	w.run()
	assert.LessOrEqual(t, len(w.waters[Ref{"tank", "jar"}].marks), 500, "of sixteen years")
	days := w.picture().Systems[0].Days
	assert.Equal(t, []string{"2026-01-02", "2024-11-28"}, []string{days[len(days)-1].Day.String(), days[0].Day.String()}, "400 days before today, by a calendar")

	for n := range maxRecords {
		put(n, time.Date(2026, 1, 1, 0, 0, n, 0, time.UTC))
	}
	_, err = Read(r)
	require.NoError(t, err)
	put(maxRecords, time.Date(2026, 1, 1, 9, 0, 0, 0, time.UTC))
	_, err = Read(r)
	assert.Equal(t, fault.TooLarge, fault.From(err).Code)
}

// dueOf tells what is due, a line each.
func dueOf(t *testing.T, history string) (told []string) {
	for _, d := range read(t, history).derive(t).DueNow() {
		late := ""
		if d.Overdue {
			late = " overdue"
		}
		told = append(told, strings.Join(strings.Fields(d.What+" "+d.System.ID+" "+d.Specimen+" "+d.Day.String()[5:]+late), " "))
	}
	return told
}

func TestDue(t *testing.T) {
	assert.Equal(t, []string{
		"sign bench 03-05 overdue", "search bench weed 03-08 overdue", // a week after it came
		"check rack 03-04 overdue", "read rack 03-08 overdue",
		"check bench 03-10", "confirm rack 03-10"}, dueOf(t, `dips 1
greens weed holdfast
03-01 18:00 arrived rosa jar
03-01 18:30 dipped rosa planned
03-02 09:00 checked rack
03-03 09:00 checked rack by kid
03-01 18:00 arrived weed cup
03-02..03-09 09:00 checked bench
03-05 09:30 sign weed watch #odd
03-09 09:00 temp cup 14
now 03-10 12:00`))
	// Ann went into the display before her time; what was seen in her jar is for the authority.
	assert.Equal(t, []string{"question home ann 03-04 overdue", "ask bench 03-05", "dip rack rosa 03-05", "clear rack tom 03-05"}, dueOf(t, `wait 3
dips 1
03-01 18:00 arrived rosa jar
03-01 18:00 arrived tom jar
03-02 10:00 dipped tom planned
03-02..03-05 09:00 checked rack
03-01 18:00 arrived ann cup
03-04 10:00 cleared ann show
03-05 09:00 sign cup notify
now 03-05 12:00`))
}

// Half of a weed dies, and half of what was left.
func TestWhatIsLeft(t *testing.T) {
	p := read(t, "greens rosa cut\n03-01 18:00 arrived rosa jar\n03-02 10:00 died rosa explained 50 %\n03-03 10:00 died rosa explained 50 %\nnow 03-04 12:00").derive(t)
	require.Len(t, p.Specimens, 1)
	require.NotNil(t, p.Specimens[0].Left)
	assert.InDelta(t, 25, *p.Specimens[0].Left, 1e-9)
}

// Of two lots that became one it is only said that it grew at home where both did.
func TestOriginOfTwoLots(t *testing.T) {
	for _, row := range [][3]string{{"wild", "homeGrown", "wild"}, {"homeGrown", "wild", "wild"}, {"", "homeGrown", "wild"}, {"homeGrown", "homeGrown", "homeGrown"}} {
		h := read(t, "03-01 18:00 arrived rosa jar\n03-01 18:00 arrived tom jar\n03-02 10:00 merged rosa tom\nnow 03-04 12:00")
		h.records.Specimens = []json.RawMessage{record(t, "rosa", fields{"group": "snails", "origin": row[0]}), record(t, "tom", fields{"group": "snails", "origin": row[1]})}
		p := h.derive(t)
		require.Equal(t, "tom", p.Specimens[1].ID)
		assert.Equal(t, row[2], p.Specimens[1].Origin, "%v", row)
	}
}

// A figure of a reading is doubtful where the book does not take it; a temperature already above
// 40 °C, where nothing in a tank lives.
func TestCheckReadingIsTheBooks(t *testing.T) {
	figures := 0
	for _, kind := range book.Kinds() {
		for _, f := range kind.Fields {
			if kind.Name != "reading" || f.Type != book.Number {
				continue
			}
			figures++
			for value, doubtful := range map[float64]bool{f.Least: false, f.Most: false, f.Least - 0.01: true, f.Most + 0.01: true} {
				list, err := CheckReading(fmt.Appendf(nil, `{%q:%v}`, f.Name, value))
				require.NoError(t, err)
				doubtful = doubtful || f.Name == "temperatureC" && value > 40
				require.Equal(t, doubtful, len(list) > 0, "%s %v", f.Name, value)
				for _, fault := range list {
					assert.Equal(t, f.Name, fault.Field)
				}
			}
		}
	}
	assert.Equal(t, 6, figures)
	for fields, field := range map[string]string{`{"pH":{"value":15,"scale":"NBS"}}`: "pH", `{"temperatureC":40.1}`: "temperatureC", `{"alkalinity":{"value":51,"unit":"dKH"}}`: "alkalinity", `{"alkalinity":{"value":18.1,"unit":"meq/L"}}`: "alkalinity",
		`{"salinity":{"value":90,"instrument":"refractometer","scale":"PSS-78"}}`: "salinity"} {
		list, err := CheckReading([]byte(fields))
		require.NoError(t, err)
		require.Len(t, list, 1, fields)
		assert.Equal(t, field, list[0].Field)
	}
}

// What comes round is due by the household's own rhythm, counted from the last time, or from
// when anything was first heard of the water; nothing where it has set none.
func TestRhythms(t *testing.T) {
	h := read(t, `
03-01 18:00 arrived rosa jar
03-02..03-20 09:00 checked rack
03-10 12:00 water rack clean
03-12 08:00 toppedUp jar
03-13 09:00 temp jar 14
03-01 18:00 arrived tom cup
03-02..03-20 09:00 checked bench
03-19 09:00 temp cup 14
now 03-20 12:00`)
	every := func(list []json.RawMessage, id string, days fields) {
		for i, data := range list {
			var f fields
			require.NoError(t, json.Unmarshal(data, &f))
			if f["id"] == id {
				f["every"] = days
				list[i] = record(t, id, f)
				return
			}
		}
		require.Fail(t, "nothing is called "+id)
	}
	rack := fields{"waterChangeDays": 10, "topUpDays": 2, "trimDays": 90, "readDays": 9}
	every(h.records.Systems, "rack", rack)
	every(h.records.Tanks, "jar", fields{"waterChangeDays": 1}) // it stands in a system: the system's holds
	every(h.records.Systems, "home", fields{"waterChangeDays": 30, "trimDays": 365})
	every(h.records.Tanks, "pot", fields{"topUpDays": 1}) // nobody lives in it
	rhythms := func() (told []string) {
		for _, d := range h.derive(t).DueNow() {
			if d.What != "clear" && d.What != "check" {
				told = append(told, fmt.Sprint(d.What, " ", d.System.ID, " ", d.Day.String()[5:], " ", d.Overdue))
			}
		}
		return told
	}
	assert.Equal(t, []string{
		"waterChange home 01-31 true", // joined on 1 January
		"topUp rack 03-14 true", "waterChange rack 03-20 false"}, rhythms())
	rack["readDays"], rack["trimDays"] = 7, 19 // read on the 13th, first heard of on 1 January
	every(h.records.Systems, "rack", rack)
	assert.Equal(t, []string{
		"waterChange home 01-31 true",
		"topUp rack 03-14 true", "trim rack 01-20 true", "waterChange rack 03-20 false", "read rack 03-20 false"}, rhythms())
}

// A book that records are put into one after another, changed and taken out again says the
// same as one that is read whole.
func TestPutIsRead(t *testing.T) {
	for _, h := range readHistories(t) {
		whole, err := json.Marshal(h.derive(t))
		require.NoError(t, err)
		r := h.records
		b, err := Read(&Records{Zone: r.Zone})
		require.NoError(t, err)
		one := func(list []json.RawMessage, put func(*Records, json.RawMessage)) {
			for _, data := range list {
				var f fields
				require.NoError(t, json.Unmarshal(data, &f))
				id := f["id"].(string)
				for _, gone := range []fields{{"id": id, "checked": 7, "use": 7, "protocol": 7, "group": 7, "age": 7, "temperatureC": "x", "identified/x": 7}, {"id": id, "deleted": true}, nil} {
					in := new(Records)
					if gone == nil {
						put(in, data)
					} else {
						put(in, record(t, id, gone))
					}
					require.NoError(t, b.Put(in))
				}
			}
		}
		one(r.Members, func(in *Records, data json.RawMessage) { in.Members = append(in.Members, data) })
		one(r.Specimens, func(in *Records, data json.RawMessage) { in.Specimens = append(in.Specimens, data) })
		one(r.Finds, func(in *Records, data json.RawMessage) { in.Finds = append(in.Finds, data) })
		one(r.Tanks, func(in *Records, data json.RawMessage) { in.Tanks = append(in.Tanks, data) })
		one(r.Systems, func(in *Records, data json.RawMessage) { in.Systems = append(in.Systems, data) })
		one(r.Readings, func(in *Records, data json.RawMessage) { in.Readings = append(in.Readings, data) })
		one(r.Events, func(in *Records, data json.RawMessage) { in.Events = append(in.Events, data) })
		require.NoError(t, b.Put(&Records{Household: r.Household, Events: []json.RawMessage{[]byte(`{"id":"slip","sign":{"at":"2026-03-02T00:00:00Z","of":"tank/jar","what":"x","grade":"notify"}}`)}}))
		require.NoError(t, b.Put(&Records{Removed: []string{"slip", "nobody"}}))
		parts, err := json.Marshal(Derive(b, h.now))
		require.NoError(t, err)
		require.JSONEq(t, string(whole), string(parts), h.name)
	}
}

func TestReadRefusesAndKeeps(t *testing.T) {
	for _, row := range []struct {
		zone, field string
	}{{"", "zone"}, {"Local", ""}, {"Mars/Olympus", ""}} {
		_, err := Read(&Records{Zone: row.zone})
		var f *fault.Error
		require.True(t, errors.As(err, &f), row.zone)
		if row.field != "" {
			assert.Equal(t, row.field, f.Field)
		}
	}
	_, err := Read(&Records{Zone: "Europe/London", Tanks: make([]json.RawMessage, maxRecords+1)})
	require.Error(t, err)
	_, err = Read(&Records{Zone: "Europe/London", Events: make([]json.RawMessage, maxEvents+1)})
	require.Error(t, err)

	// What cannot be read may be a sign: nobody is cleared until it is mended.
	for _, text := range []string{`{"id":"x"}`, `{"id":"x","sign":7}`, `[]`, `{"id":"x","sign":{"at":"noon"}}`, `{"sign":{}}`,
		`{"id":"x","sign":{"at":"2026-03-01T00:00:00Z","of":"tank/jar"},"fed":{"at":"2026-03-01T00:00:00Z","of":"tank/jar"}}`} {
		h := read(t, "wait 1\n03-01 18:00 arrived rosa jar\n03-02 09:00 checked rack\nnow 03-03 12:00")
		h.records.Events = append(h.records.Events, json.RawMessage(text))
		b, err := Read(h.records)
		require.NoError(t, err)
		require.Len(t, b.Unread, 1, text)
		p := Derive(b, h.now)
		assert.Equal(t, []string{"not record"}, []string{tellSpecimen(p.Specimens[0])}, text)
	}
	h := read(t, "wait 1\n03-01 18:00 arrived rosa jar\n03-02 09:00 checked rack\nnow 03-03 12:00")
	h.records.Events = append(h.records.Events, json.RawMessage(`{"id":"x","deleted":true,"sign":{"at":"2026-03-02T00:00:00Z","of":"tank/jar","grade":"pest"}}`))
	assert.Equal(t, "may", tellSpecimen(h.derive(t).Specimens[0]), "a deleted sign is none")
}

// Whatever records hold, reading and deriving them neither panics nor takes for ever.
func FuzzRead(f *testing.F) {
	seeds := 0
	for _, h := range readHistories(f) {
		data, err := json.Marshal(h.records)
		require.NoError(f, err)
		f.Add(data, h.now.Unix())
		seeds++
	}
	require.Greater(f, seeds, 100)
	f.Fuzz(func(t *testing.T, data []byte, now int64) {
		var in Records
		if json.Unmarshal(data, &in) != nil || len(data) > 100_000 {
			return
		}
		b, err := Read(&in)
		if err != nil {
			return
		}
		at := time.Date(2026, 3, 1, 0, 0, int(now%40_000_000), 0, time.UTC)
		p := Derive(b, at)
		p.DueNow()
		for _, s := range p.Specimens {
			_, _ = RecallOf(b, at, s.ID)
			for _, tank := range p.Systems {
				_, _ = p.Fits(s.ID, tank.Key.ID)
			}
		}
		_, err = json.Marshal(p)
		require.NoError(t, err)
	})
}

// Whatever is typed in, a reading is judged with sentences and fields, and no panic.
func FuzzCheckReading(f *testing.F) {
	f.Add([]byte(`{"salinity":{"value":90,"instrument":"refractometer","scale":"PSS-78"},"temperatureC":59,"pH":{"value":15},"nitrateMgNL":-1,"alkalinity":{"value":60,"unit":"dKH"}}`))
	f.Add([]byte(`{"salinity":{"value":1.025,"instrument":"hydrometer","scale":"SG unknown","sampleC":-3},"alkalinity":{"value":2.9,"unit":"meq/L"},"oxygenMgL":1e300}`))
	f.Add([]byte(`{"pH":null,"temperatureC":"warm"}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := CheckReading(data)
		if err != nil {
			require.Equal(t, fault.BadJSON, fault.From(err).Code)
		}
		for _, f := range list {
			require.NotEmpty(t, f.Field)
			require.Contains(t, []fault.Code{fault.BadInput, fault.AskUnit}, f.Code, f.Message)
			require.Regexp(t, `[.…]$`, f.Message)
		}
	})
}
