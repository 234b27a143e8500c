package take

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

// TestShareByHand: shares that are plain to reckon.
func TestShareByHand(t *testing.T) {
	for name, row := range map[string]struct {
		ask             ShareAsk
		part, low, high float64
		how             string
		inPatch         float64 // 0 is not told
	}{
		// 6 of 120; a count may be a tenth off: 6 of 132 to 6 of 108.
		"counted": {ShareAsk{Counted: 120, Taking: 6}, 0.05, 0.0455, 0.0556, "counts", 120},
		"all":     {ShareAsk{Counted: 4, Taking: 4}, 1, 0.9091, 1, "counts", 4},
		// 6 of 120 square paces; half a pace lost each way.
		"paced": {ShareAsk{Patch: &Stretch{LongPaces: 20, WidePaces: 6}, Part: &Stretch{LongPaces: 2, WidePaces: 3}}, 0.05, 0.0281, 0.0816, "paces", 0},
		// 10 in each square of a quarter of a square metre are 40 a square metre; the patch has 100 of them.
		"squares": {ShareAsk{Square: &Square{0.5, []float64{10, 10, 10, 10}}, Patch: &Stretch{10, 10, 1}, Taking: 40}, 0.01, 0, 0, "squares", 4000},
	} {
		got, err := EstimateShare(&row.ask)
		require.NoError(t, err, name)
		assert.InDelta(t, row.part, got.Part, 0.00006, name)
		if row.high > 0 {
			assert.InDelta(t, row.low, got.Low, 0.00006, name)
			assert.InDelta(t, row.high, got.High, 0.00006, name)
		}
		assert.Equal(t, row.how, got.How, name)
		if row.inPatch > 0 {
			require.NotNil(t, got.InPatch, name)
			assert.Equal(t, row.inPatch, *got.InPatch, name)
		} else {
			assert.Nil(t, got.InPatch, name)
		}
		assert.True(t, got.Low <= got.Part && got.Part <= got.High && got.High <= 1 && got.Low > 0, name)
		assert.Contains(t, got.Text, "of the patch", name)
	}
}

// TestBoundsOfACount against the exact bounds, half the chi-squared of 2n degrees below and
// of 2n+2 above, from the table of the NIST handbook (1.3.6.7.4): for n = 5, 10, 20 and 50 the
// quantiles 3.247 and 23.337, 9.591 and 36.781, 24.433 and 61.777 (40 and 42 degrees),
// 74.222 and 131.838 (100 and 102 degrees; the last from memory).
func TestBoundsOfACount(t *testing.T) {
	worst := 0.0
	for n, exact := range map[float64][2]float64{5: {3.247 / 2, 23.337 / 2}, 10: {9.591 / 2, 36.781 / 2}, 20: {24.433 / 2, 61.777 / 2}, 50: {74.222 / 2, 131.838 / 2}} {
		low, high := poissonBounds(n)
		worst = max(worst, math.Abs(low/exact[0]-1), math.Abs(high/exact[1]-1))
	}
	t.Logf("worst %.3f %%", worst*100)
	assert.Less(t, worst, 0.01)
}

// TestTheTruthLiesInTheBounds: of made patches in which the plants lie by chance, counted in
// four squares and paced by somebody whose pace is a tenth off, the true share is within the
// bounds in at least nineteen of twenty.
func TestTheTruthLiesInTheBounds(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	held, tried := 0, 0
	for range 2000 {
		density := 2 + 30*r.Float64() // a square metre
		long, wide := 5+20*r.Float64(), 3+10*r.Float64()
		true_ := density * long * wide
		counts := make([]float64, 4)
		for i := range counts {
			counts[i] = float64(poisson(r, density*0.25))
		}
		pace := 0.7 * (0.9 + 0.2*r.Float64())
		taking := math.Ceil(true_ / 50)
		got, err := EstimateShare(&ShareAsk{Square: &Square{0.5, counts}, Patch: &Stretch{LongPaces: math.Round(long / pace), WidePaces: math.Round(wide / pace)}, Taking: taking})
		if err != nil {
			continue // nothing was counted
		}
		tried++
		if share := taking / true_; got.Low <= share+1e-4 && share <= got.High+1e-4 {
			held++
		}
	}
	require.Greater(t, tried, 1900)
	t.Logf("%d of %d", held, tried)
	assert.GreaterOrEqual(t, float64(held)/float64(tried), 0.95)
}

func poisson(r *rand.Rand, mean float64) int {
	n, p, limit := 0, 1.0, math.Exp(-mean)
	for {
		if p *= r.Float64(); p <= limit {
			return n
		}
		n++
	}
}

// TestFewSquaresSayLess: the same counts in fewer squares, or a pace that nobody measured,
// never narrow the bounds.
func TestFewSquaresSayLess(t *testing.T) {
	ask := func(pace float64, counts ...float64) ShareOf {
		got, err := EstimateShare(&ShareAsk{Square: &Square{0.5, counts}, Patch: &Stretch{20, 6, pace}, Taking: 5})
		require.NoError(t, err)
		return got
	}
	many, one := ask(0.7, 9, 10, 11, 10, 10, 10), ask(0.7, 10)
	assert.Less(t, one.Low, many.Low)
	assert.Greater(t, one.High, many.High)
	assert.Greater(t, ask(0, 9, 10, 11).High, ask(0.7, 9, 10, 11).High)
	assert.Greater(t, ask(0.7, 1, 2, 27).High, ask(0.7, 9, 10, 11).High, "a clumped patch")
}

func TestSharesThatCannotBe(t *testing.T) {
	patch := &Stretch{20, 6, 0}
	for name, row := range map[string]struct {
		ask   ShareAsk
		field string
	}{
		"nothing":               {ShareAsk{}, "taking"},
		"taking nothing":        {ShareAsk{Counted: 5}, "taking"},
		"more than all":         {ShareAsk{Counted: 5, Taking: 6}, "taking"},
		"less than nothing":     {ShareAsk{Counted: 5, Taking: -1}, "taking"},
		"not a number":          {ShareAsk{Counted: math.NaN(), Taking: 1}, "counted"},
		"counts and paces":      {ShareAsk{Counted: 5, Taking: 1, Patch: patch}, ""},
		"squares, no patch":     {ShareAsk{Square: &Square{0.5, []float64{3}}, Taking: 1}, ""},
		"none in the squares":   {ShareAsk{Square: &Square{0.5, []float64{0, 0}}, Patch: patch, Taking: 1}, "square.counts"},
		"no squares":            {ShareAsk{Square: &Square{0.5, nil}, Patch: patch, Taking: 1}, "square.counts"},
		"half a plant":          {ShareAsk{Square: &Square{0.5, []float64{1.5}}, Patch: patch, Taking: 1}, "square.counts"},
		"a square of a mile":    {ShareAsk{Square: &Square{1600, []float64{3}}, Patch: patch, Taking: 1}, "square.sideM"},
		"squares over it":       {ShareAsk{Square: &Square{10, []float64{3, 3}}, Patch: patch, Taking: 1}, "square"},
		"more than there are":   {ShareAsk{Square: &Square{0.5, []float64{1}}, Patch: patch, Taking: 100000}, "taking"},
		"a patch of nothing":    {ShareAsk{Patch: &Stretch{0, 6, 0}, Part: &Stretch{2, 3, 0}}, "patch"},
		"a patch without end":   {ShareAsk{Patch: &Stretch{math.Inf(1), 6, 0}, Part: &Stretch{2, 3, 0}}, "patch"},
		"a giant's pace":        {ShareAsk{Patch: &Stretch{20, 6, 7}, Part: &Stretch{2, 3, 0}}, "patch"},
		"a part over its patch": {ShareAsk{Patch: patch, Part: &Stretch{30, 6, 0}}, "part"},
	} {
		_, err := EstimateShare(&row.ask)
		require.Error(t, err, name)
		assert.Equal(t, row.field, fault.From(err).Field, name)
		assert.Equal(t, fault.BadInput, fault.From(err).Code, name)
	}
}

// TestTheShareOfAFind is what the estimate answers, in the field of the book, and counts at
// the most that it may be.
func TestTheShareOfAFind(t *testing.T) {
	ours := lawOf("ours", Household, map[string]Rule{"tenth": {Of: Subject{All: true}, Limits: []Limit{{Most: 0.1, Unit: "share", Base: "party", Per: "outing"}}}})
	for share, want := range map[string]Grade{`{"part":0.05,"low":0.03,"high":0.08,"how":"squares"}`: Within, `{"part":0.08,"low":0.05,"high":0.12,"how":"eye"}`: Over, `0.1`: AtLimit, `null`: Unchecked} {
		var f Find
		require.NoError(t, json.Unmarshal([]byte(`{"share":`+share+`}`), &f))
		asked := winkle("", 1)
		asked.Share = f.Share
		assert.Equal(t, want, judge(t, []*Held{ours}, asked, nil, nil).Household, share)
	}
}
