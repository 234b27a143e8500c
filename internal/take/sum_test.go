package take

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawMany draws finds that have everything a limit may read, in few groups.
func drawMany(t *rapid.T, most int) []Find {
	var finds []Find
	for i := range rapid.IntRange(0, most).Draw(t, "many") {
		f := drawFind(t, fmt.Sprintf("taken %02d", i))
		f.Shore = pick(t, "where", []string{"shore", "shore", "cove", ""})
		f.Outing = pick(t, "outing", []string{"outing", "other", ""})
		if rapid.IntRange(0, 3).Draw(t, "gone") == 0 {
			f.Gone = &Parted{At: f.At.Add(time.Duration(rapid.IntRange(-30, 60).Draw(t, "gone hours")) * time.Hour)}
			if f.Amount != nil && rapid.Bool().Draw(t, "part") {
				f.Gone.Amount = &Amount{float64(rapid.IntRange(0, 9).Draw(t, "part gone")), "count"}
			}
		}
		finds = append(finds, f)
	}
	return finds
}

// TestPutTogetherOrOneByOne: the same answer, to the byte of every count, however the ledger
// sums up: by groups, or each find by itself.
func TestPutTogetherOrOneByOne(t *testing.T) {
	most := 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		s.finds = append(s.finds, drawMany(t, 70)...)
		var got [2]Verdict
		var has [2]OnFile
		for i, few := range []int{0, 1 << 30} {
			l := NewLedger()
			l.few = few
			for _, f := range s.finds {
				l.Put(f)
			}
			q := s.q
			var err error
			got[i], err = Evaluate(s.sets, l, &q)
			require.NoError(t, err)
			has[i], err = Has(s.sets, l, &q)
			require.NoError(t, err)
		}
		require.Equal(t, got[1], got[0])
		require.Equal(t, has[1], has[0])
		for _, o := range got[0].Spoke {
			if o.Count != nil {
				most = max(most, len(o.Count.Finds)+o.Count.FindsMore)
			}
		}
	})
	require.Greater(t, most, 1, "nothing was ever counted together")
}

// TestTheLastFindsAreNamed: of more finds than a count names, the last by time.
func TestTheLastFindsAreNamed(t *testing.T) {
	law := lawOf("law", National, map[string]Rule{"all": {Of: Subject{All: true}, Take: "allowed", Limits: []Limit{{Most: 500, Unit: "count", Base: "person", Per: "year"}}}})
	for _, few := range []int{0, 1 << 30} {
		v := judge(t, []*Held{law}, winkle("asked", 1), nil, func(_ *Question, l *Ledger) {
			l.few = few
			for i := range 120 {
				f := winkle(fmt.Sprintf("taken %03d", i), 1)
				f.At = noon.Add(-time.Duration(200-i) * time.Hour)
				if i%2 == 1 {
					f.By = "bo"
				}
				l.Put(f)
			}
		})
		c := spoke(&v, "limit").Count
		require.Equal(t, 61.0, c.Total)
		require.Len(t, c.Finds, maxNamed)
		require.Equal(t, 11, c.FindsMore)
		require.Equal(t, []string{"taken 116", "taken 118", "asked"}, c.Finds[maxNamed-3:])
		require.Equal(t, "taken 022", c.Finds[0])
	}
}

// TestALedgerThatGrewIsAsOneMadeAnew: whatever was put in, changed and taken out in between.
func TestALedgerThatGrewIsAsOneMadeAnew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		grown := NewLedger()
		kept := map[string]Find{}
		for _, f := range drawMany(t, 40) {
			grown.Put(f)
			kept[f.ID] = f
		}
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			id := fmt.Sprintf("taken %02d", rapid.IntRange(0, 45).Draw(t, "which"))
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0:
				grown.Remove(id)
				delete(kept, id)
			case 1:
				grown.settle()
			default:
				f := drawFind(t, id)
				f.Fate = pick(t, "fate", []string{"taken", "taken", "seen"})
				f.Deleted = rapid.IntRange(0, 4).Draw(t, "deleted") == 0
				grown.Put(f)
				delete(kept, id)
				if f.Fate != "seen" && !f.Deleted {
					kept[id] = f
				}
			}
		}
		anew := NewLedger()
		for _, f := range kept {
			anew.Put(f)
		}
		require.Equal(t, len(kept), grown.Len())
		q, r := s.q, s.q
		v, err := Evaluate(s.sets, grown, &q)
		require.NoError(t, err)
		w, err := Evaluate(s.sets, anew, &r)
		require.NoError(t, err)
		require.Equal(t, w, v)
		require.Equal(t, len(anew.byTime), len(grown.byTime))
		for i := range anew.byTime {
			require.Equal(t, anew.byTime[i].ID, grown.byTime[i].ID)
		}
	})
}
