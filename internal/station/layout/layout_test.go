package layout

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What is set is got, whatever else is set around it, and a sealed pack opens again.
func TestSetThenGet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var counts Counts
		for table := range counts {
			counts[table] = rapid.IntRange(1, 5).Draw(t, "rows")
		}
		p, err := New(counts)
		require.NoError(t, err)
		want := map[[2]int]int{}
		for c, f := range fields {
			for row := range counts[f.table] {
				v := rapid.IntRange(-1<<(8*f.width-1), 1<<(8*f.width-1)-1).Draw(t, "value")
				require.NoError(t, p.Set(Column(c), row, v))
				want[[2]int{c, row}] = v
			}
		}
		p, err = Open(p.Seal())
		require.NoError(t, err)
		assert.Equal(t, counts, p.Counts)
		for at, v := range want {
			c, row := Column(at[0]), at[1]
			width := fields[c].width
			assert.Equal(t, v, p.Signed(c, row))
			assert.Equal(t, v&(1<<(8*width)-1), p.Get(c, row))
			if width == 1 {
				assert.Equal(t, byte(v), p.Bytes(c)[row])
			}
		}
	})
}

func TestSetRefusesWhatDoesNotFit(t *testing.T) {
	var counts Counts
	for table := range counts {
		counts[table] = 1
	}
	p, err := New(counts)
	require.NoError(t, err)
	for _, row := range []struct {
		column Column
		v      int
		fits   bool
	}{
		{Count, 255, true}, {Count, 256, false}, {Count, -129, false},
		{MSL, None, true}, {MSL, None - 1, false}, {Amplitude, 65535, true}, {Amplitude, 65536, false},
		{Lon, -18_000_000, true}, {Lon, 1 << 32, false},
	} {
		assert.Equal(t, row.fits, p.Set(row.column, 0, row.v) == nil, "%d in column %d", row.v, row.column)
	}
}

func TestCountsAreBounded(t *testing.T) {
	for _, n := range []int{-1, MaxBytes + 1, 1 << 62} {
		_, err := New(Counts{Stations: n})
		assert.Error(t, err)
	}
	_, err := New(Counts{Stations: MaxBytes}) // in bounds by itself, but not with its columns
	assert.Error(t, err)
}
