package take

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/fault"
)

func instant(t *testing.T, s string) time.Time {
	t.Helper()
	out, err := time.Parse(time.RFC3339, s)
	require.NoError(t, err)
	return out
}

func shutAt(t *testing.T, sets []*Held, taken []Find, from, to string, change func(*Question)) (Shutting, ShutWindow) {
	t.Helper()
	l := NewLedger()
	for _, f := range taken {
		l.Put(f)
	}
	q := &Question{Find: Find{Shore: "bay"}, Shore: &Spot{60.5, 10.5, 1000}, Zone: mustZone("Europe/Oslo"), Purpose: "home", Now: noon}
	if change != nil {
		change(q)
	}
	out, err := ShutIn(sets, l, q, []Window{{instant(t, from), instant(t, to)}})
	require.NoError(t, err)
	require.Len(t, out.Windows, 1)
	return out, out.Windows[0]
}

// TestWhatSpeaksAgainstAWindow: windows on days of June 2026 in Oslo, two hours before UTC.
func TestWhatSpeaksAgainstAWindow(t *testing.T) {
	allowed := Rule{Of: Subject{All: true}, Take: "allowed"}
	all := Subject{All: true}
	midnight := instant(t, "2026-06-11T22:00:00Z") // of 12 June
	for _, row := range []struct {
		name     string
		rule     Rule
		layer    Layer
		from, to string
		list     string // where it stands
		open     []Window
		text     string
	}{
		{"a closed season", Rule{Of: all, Season: &Season{Closed: []Span{{From: "06-12", To: "06-12"}}}}, National, "2026-06-12T04:00:00Z", "2026-06-12T07:00:00Z", "closed", nil, "Closed from 12 June to 12 June."},
		{"the day before", Rule{Of: all, Season: &Season{Closed: []Span{{From: "06-12", To: "06-12"}}}}, National, "2026-06-11T04:00:00Z", "2026-06-11T07:00:00Z", "", nil, ""},
		{"over midnight into it", Rule{Of: all, Season: &Season{Closed: []Span{{From: "06-12", To: "06-12"}}}}, National, "2026-06-11T20:00:00Z", "2026-06-12T01:00:00Z", "closed", []Window{{instant(t, "2026-06-11T20:00:00Z"), midnight}}, ""},
		{"over midnight out of it", Rule{Of: all, Season: &Season{Closed: []Span{{From: "06-11", To: "06-11"}}}}, National, "2026-06-11T20:00:00Z", "2026-06-12T01:00:00Z", "closed", []Window{{midnight, instant(t, "2026-06-12T01:00:00Z")}}, ""},
		{"hours that begin in it", Rule{Of: all, Hours: &Hours{From: "08:00", To: "20:00"}}, Regional, "2026-06-12T04:00:00Z", "2026-06-12T07:00:00Z", "closed", []Window{{instant(t, "2026-06-12T06:00:00Z"), instant(t, "2026-06-12T07:00:00Z")}}, "Open from 08:00 to 20:00."},
		{"hours that leave it open", Rule{Of: all, Hours: &Hours{From: "08:00", To: "20:00"}}, Regional, "2026-06-12T07:00:00Z", "2026-06-12T09:00:00Z", "", nil, ""},
		{"hours over midnight", Rule{Of: all, Hours: &Hours{From: "22:00", To: "02:00"}}, Regional, "2026-06-11T19:00:00Z", "2026-06-12T01:00:00Z", "closed", []Window{{instant(t, "2026-06-11T20:00:00Z"), instant(t, "2026-06-12T00:00:00Z")}}, ""},
		{"forbidden", Rule{Of: all, Take: "forbidden", Note: "It is a nursery."}, Closure, "2026-06-12T07:00:00Z", "2026-06-12T09:00:00Z", "closed", nil, "Not to be taken. It is a nursery."},
		{"some kinds", Rule{Of: Subject{Taxa: []string{"Ostrea edulis"}}, Season: &Season{Open: []Span{{Months: []int{1}}}}}, National, "2026-06-12T07:00:00Z", "2026-06-12T09:00:00Z", "some", nil, "Open in January."},
		{"all that lives", Rule{Of: Subject{All: true, States: []string{"living"}}, Take: "forbidden"}, National, "2026-06-12T07:00:00Z", "2026-06-12T09:00:00Z", "some", nil, ""},
		{"rest", Rule{Of: all, Rest: 5}, Household, "2026-06-15T07:00:00Z", "2026-06-15T09:00:00Z", "rests", nil, "The shore rests for 5 days after a visit; the last was on 2026-06-10."},
		{"rested", Rule{Of: all, Rest: 5}, Household, "2026-06-16T07:00:00Z", "2026-06-16T09:00:00Z", "", nil, ""},
		{"not then", Rule{Of: all, Take: "forbidden", During: &Season{Open: []Span{{Months: []int{1}}}}}, Park, "2026-06-12T07:00:00Z", "2026-06-12T09:00:00Z", "", nil, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			sets := []*Held{lawOf("base", National, map[string]Rule{"all": allowed}), lawOf("set", row.layer, map[string]Rule{"rule": row.rule})}
			out, w := shutAt(t, sets, []Find{winkle("a", 1)}, row.from, row.to, nil)
			assert.Equal(t, "", w.Unchecked)
			lists := map[string][]Shut{"closed": w.Closed, "some": w.Some, "rests": w.Rests}
			for name, list := range lists {
				if name != row.list {
					assert.Empty(t, list, name)
					continue
				}
				require.Len(t, list, 1, name)
				note := out.Notes[list[0].Note]
				assert.Equal(t, "set", note.Set)
				assert.True(t, note.Sure)
				if row.text != "" {
					assert.Equal(t, row.text, note.Text)
				}
				require.Len(t, list[0].Open, len(row.open))
				for i := range row.open {
					assert.True(t, row.open[i].From.Equal(list[0].Open[i].From) && row.open[i].To.Equal(list[0].Open[i].To), "%v", list[0].Open)
				}
			}
		})
	}
}

// TestSunriseShutsAWindow: in San Francisco the sun rises at the solstice at 05:48 PDT (the
// Naval Observatory's figure, from memory), so of a window from 05:00 to 07:00 that much is left.
func TestSunriseShutsAWindow(t *testing.T) {
	law := lawOf("law", National, map[string]Rule{"day": {Of: Subject{All: true}, Take: "allowed", Hours: &Hours{From: "sunrise", To: "sunset"}}})
	_, w := shutAt(t, []*Held{law}, nil, "2026-06-21T12:00:00Z", "2026-06-21T14:00:00Z", func(q *Question) {
		q.Shore, q.Zone = &Spot{37.77, -122.42, 1000}, mustZone("America/Los_Angeles")
	})
	require.Len(t, w.Closed, 1)
	require.Len(t, w.Closed[0].Open, 1)
	assert.WithinDuration(t, instant(t, "2026-06-21T12:48:00Z"), w.Closed[0].Open[0].From, time.Minute)
	assert.True(t, instant(t, "2026-06-21T14:00:00Z").Equal(w.Closed[0].Open[0].To))
}

// TestLightPastMidnightShutsAWindow: on the polar circle what is lit after midnight belongs to
// the day before, which closed at eight (TestLightPastMidnight holds finds to the same).
func TestLightPastMidnightShutsAWindow(t *testing.T) {
	open := func(h Hours, from, to string) []Window {
		law := lawOf("law", National, map[string]Rule{"day": {Of: Subject{All: true}, Take: "allowed", Hours: &h}})
		window := Window{instant(t, from).UTC(), instant(t, to).UTC()}
		_, w := shutAt(t, []*Held{law}, nil, from, to, func(q *Question) { q.Shore = &Spot{66.2, 18, 0} })
		if len(w.Closed) == 0 {
			return []Window{window}
		}
		return w.Closed[0].Open
	}
	evening, morning := Hours{From: "sunrise", To: "20:00"}, Hours{From: "06:00", To: "sunset"}
	assert.Empty(t, open(evening, "2026-06-08T00:05:00+02:00", "2026-06-08T00:10:00+02:00"))
	assert.Equal(t, []Window{{instant(t, "2026-06-07T17:00:00Z"), instant(t, "2026-06-07T18:00:00Z")}},
		open(evening, "2026-06-07T19:00:00+02:00", "2026-06-08T00:10:00+02:00"))
	assert.Equal(t, []Window{{instant(t, "2026-06-07T22:05:00Z"), instant(t, "2026-06-07T22:10:00Z")}},
		open(morning, "2026-06-08T00:05:00+02:00", "2026-06-08T00:10:00+02:00"), "the sun of the day before has not set")
	// Under the midnight sun the clock alone opens and closes, asked of one day or of a summer.
	law := lawOf("law", National, map[string]Rule{"day": {Of: Subject{All: true}, Take: "allowed", Hours: &evening}})
	var windows []Window
	for day := range 110 {
		noon, nine := instant(t, "2026-05-01T10:00:00Z").AddDate(0, 0, day), instant(t, "2026-05-01T19:00:00Z").AddDate(0, 0, day)
		windows = append(windows, Window{noon, noon.Add(time.Hour)}, Window{nine, nine.Add(time.Hour)})
	}
	out, err := ShutIn([]*Held{law}, NewLedger(), &Question{Find: Find{Shore: "bay"}, Shore: &Spot{70, 18, 0}, Zone: mustZone("Europe/Oslo"), Purpose: "home", Now: noon}, windows)
	require.NoError(t, err)
	for i, w := range out.Windows {
		if i%2 == 0 {
			assert.Empty(t, w.Closed, "%v", windows[i].From)
		} else if assert.Len(t, w.Closed, 1, "%v", windows[i].From) {
			assert.Empty(t, w.Closed[0].Open, "%v", windows[i].From)
		}
	}
	assert.Equal(t, []Window{{instant(t, "2026-06-20T22:05:00Z"), instant(t, "2026-06-21T18:00:00Z")}},
		open(evening, "2026-06-21T00:05:00+02:00", "2026-06-21T21:00:00+02:00"))
}

// TestWhetherAWindowIsChecked: why nothing on file permits on a day.
func TestWhetherAWindowIsChecked(t *testing.T) {
	good := func() *Held { return lawOf("law", National, fiveADay()) }
	elsewhere := good()
	elsewhere.Shores = []string{"cove"}
	unsaid := good()
	unsaid.Shores = nil
	old := good()
	old.Checked = &Checked{On: "2025-06-01", By: "Ada"}
	teaching := good()
	teaching.Set.Purposes = []string{"teaching"}
	ours := lawOf("ours", Household, fiveADay())
	closure := lawOf("closure", Closure, map[string]Rule{"mussels": {Of: Subject{Groups: []string{"bivalves"}}, Take: "forbidden"}})
	ended := good()
	ended.Set.To = "2026-06-11"
	for name, row := range map[string]struct {
		sets []*Held
		want string
	}{
		"checked":        {[]*Held{good()}, ""},
		"nothing":        {nil, "none"},
		"another shore":  {[]*Held{elsewhere}, "none"},
		"our own alone":  {[]*Held{ours}, "none"},
		"a closure only": {[]*Held{closure}, "none"},
		"ended by then":  {[]*Held{ended}, "none"},
		"nobody said":    {[]*Held{unsaid}, "unsure"},
		"old":            {[]*Held{good(), old}, "stale"},
		"for lessons":    {[]*Held{teaching}, "purpose"},
		"unread":         {[]*Held{good(), {ID: "x", Fault: "later"}}, "unread"},
	} {
		_, w := shutAt(t, row.sets, nil, "2026-06-12T07:00:00Z", "2026-06-12T09:00:00Z", nil)
		assert.Equal(t, row.want, w.Unchecked, name)
	}
	_, w := shutAt(t, []*Held{good()}, nil, "2027-05-12T07:00:00Z", "2027-05-12T09:00:00Z", nil)
	assert.Equal(t, "", w.Unchecked, "a year ahead the check is as it is today")
}

// TestAWhiteListWithNothingOpenIsClosed: to everything.
func TestAWhiteListWithNothingOpenIsClosed(t *testing.T) {
	reserve := lawOf("park", Park, map[string]Rule{"drift": {Of: Subject{Groups: []string{"algae"}, States: []string{"drift"}}, Take: "allowed", Season: &Season{Open: []Span{{Months: []int{7}}}}}})
	reserve.Set.Otherwise = WhiteList
	out, w := shutAt(t, []*Held{reserve}, nil, "2026-06-12T07:00:00Z", "2026-06-12T09:00:00Z", nil)
	require.Len(t, w.Closed, 1)
	assert.Equal(t, "otherwise", out.Notes[w.Closed[0].Note].What)
	assert.True(t, out.Notes[w.Closed[0].Note].Sure)
	forSome := lawOf("park", Park, map[string]Rule{"drift": reserve.Set.Rules["drift"]})
	r := forSome.Set.Rules["drift"]
	r.Unless = &Unless{AgeUnder: ptr(16)}
	forSome.Set.Rules["drift"], forSome.Set.Otherwise = r, WhiteList
	out, w = shutAt(t, []*Held{forSome}, nil, "2026-06-12T07:00:00Z", "2026-06-12T09:00:00Z", nil)
	for _, x := range w.Closed {
		assert.False(t, out.Notes[x.Note].Sure, "it hangs on who goes")
	}
	require.Len(t, w.Closed, 1)
	_, w = shutAt(t, []*Held{reserve}, nil, "2026-07-12T07:00:00Z", "2026-07-12T09:00:00Z", nil)
	assert.Empty(t, w.Closed)
	assert.Empty(t, w.Some)
}

// TestWhoGoesMayBeExempt: a closing that some of the party are exempt from is not sure; of
// which all are it is none.
func TestWhoGoesMayBeExempt(t *testing.T) {
	law := lawOf("law", National, map[string]Rule{"adults": {Of: Subject{All: true}, Take: "forbidden", Unless: &Unless{AgeUnder: ptr(16)}}})
	for name, row := range map[string]struct {
		party []Person
		list  int
		sure  bool
	}{
		"nobody named":     {nil, 1, false},
		"an adult":         {[]Person{{ID: "a", As: "adult"}}, 1, true},
		"a child of ten":   {[]Person{{ID: "a", As: "child", Born: ptr(2015)}}, 0, false},
		"one of each":      {[]Person{{ID: "a", As: "adult"}, {ID: "b", As: "child", Born: ptr(2015)}}, 1, false},
		"a child, no year": {[]Person{{ID: "a", As: "child"}}, 1, false},
	} {
		out, w := shutAt(t, []*Held{law}, nil, "2026-06-12T07:00:00Z", "2026-06-12T09:00:00Z", func(q *Question) { q.Party = row.party })
		require.Len(t, w.Closed, row.list, name)
		if row.list > 0 {
			assert.Equal(t, row.sure, out.Notes[w.Closed[0].Note].Sure, name)
		}
	}
}

// TestWindowsThatCannotBe are refused.
func TestWindowsThatCannotBe(t *testing.T) {
	for name, windows := range map[string][]Window{
		"backwards":       {{noon, noon.Add(-time.Hour)}},
		"nothing between": {{noon, noon}},
		"days long":       {{noon, noon.Add(49 * time.Hour)}},
		"year 1":          {{time.Time{}, time.Time{}.Add(time.Hour)}},
		"four years":      {{noon, noon.Add(time.Hour)}, {noon.AddDate(4, 0, 0), noon.AddDate(4, 0, 0).Add(time.Hour)}},
		"too many":        make([]Window, MaxWindows+1),
	} {
		_, err := ShutIn(nil, NewLedger(), &Question{Zone: time.UTC}, windows)
		require.Error(t, err, name)
		assert.Equal(t, "windows", fault.From(err).Field, name)
	}
}

// TestShutIsForbidden: at an instant that is shut for sure, whatever is found there and then
// is forbidden; and what a rule about everything forbids by day or hour, is shut.
func TestShutIsForbidden(t *testing.T) {
	both := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		s.q.Find.By, s.q.Find.Shore = "ada", "shore"
		from := s.q.Find.At.Add(-time.Duration(rapid.IntRange(0, 20).Draw(t, "before")) * time.Hour)
		w := Window{from, from.Add(time.Duration(rapid.IntRange(21, 47).Draw(t, "long")) * time.Hour)}
		q := s.q
		q.Find.Position = nil
		v := (&scene{s.sets, nil, q}).ask(t, s.sets, s.finds)
		l := NewLedger()
		for _, f := range s.finds {
			l.Put(f)
		}
		out, err := ShutIn(s.sets, l, &q, []Window{w})
		require.NoError(t, err)
		shut := func(list []Shut) bool {
			for _, x := range list {
				open := !out.Notes[x.Note].Sure
				for _, o := range x.Open {
					open = open || !s.q.Find.At.Before(o.From) && s.q.Find.At.Before(o.To)
				}
				if !open {
					return true
				}
			}
			return false
		}
		closed := shut(out.Windows[0].Closed)
		if closed {
			// Of a name that may be one of several kinds it is not told which rule forbids it.
			unclear := v.Verdict == Unchecked && slices.ContainsFunc(v.Missing, func(f Fact) bool { return f.Fact == "taxon" })
			require.True(t, v.Verdict == Forbidden || unclear, "%s: %s", v.Verdict, v.Text)
		}
		both[closed]++
		for _, o := range v.Spoke {
			if o.Verdict != Forbidden || o.House || o.What != "take" && o.What != "season" && o.What != "hours" {
				continue
			}
			for _, h := range s.sets {
				if r := h.Set.Rules[o.Rule]; h.ID == o.Set && r.Of.everything() {
					require.True(t, closed, "%+v", o)
				}
			}
		}
	})
	require.Positive(t, both[true])
	require.Positive(t, both[false])
}

// BenchmarkShutYear is held to 60 ms in the worker: a window for each day of a year.
func BenchmarkShutYear(b *testing.B) {
	sets, finds := fullBook()
	l := NewLedger()
	for _, f := range finds {
		l.Put(f)
	}
	sets = append(sets, lawOf("day", Regional, map[string]Rule{
		"day":  {Of: Subject{All: true}, Hours: &Hours{From: "sunrise", To: "sunset"}},
		"moon": {Of: Subject{Taxa: []string{"Haliotis"}}, Season: &Season{Open: []Span{{Moon: &Moon{"either", 0, 3}}}}},
	}), lawOf("ours", Household, map[string]Rule{"rest": {Of: Subject{All: true}, Rest: 30}}))
	var windows []Window
	for i := range MaxWindows {
		from := noon.Add(time.Duration(i) * 22 * time.Hour)
		windows = append(windows, Window{from, from.Add(3 * time.Hour)})
	}
	var visits []time.Time
	for i := range 300 {
		visits = append(visits, noon.AddDate(0, 0, -i))
	}
	for b.Loop() {
		out, err := ShutIn(sets, l, &Question{Find: Find{Shore: "bay"}, Shore: &Spot{60.5, 10.5, 1000}, Zone: mustZone("Europe/Oslo"), Purpose: "home", Now: noon, Visits: visits}, windows)
		require.NoError(b, err)
		require.Len(b, out.Windows, MaxWindows)
	}
}
