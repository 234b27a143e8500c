package sky

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// reference holds the tables of the US Naval Observatory and others; its README says whence.
const reference = "../../testdata/sky"

// readTruth reads a table and holds it to the number of samples it is known to have, so
// that a file cut short cannot pass for a clean result.
func readTruth(t *testing.T, dir, name string, samples int) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(dir, name))
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, samples+1, "%s: a line of headings and every sample", name)
	return rows[1:]
}

// utc reads an instant as the tables write it.
func utc(t *testing.T, s string) time.Time {
	t.Helper()
	for _, layout := range []string{"2006-01-02T15:04Z07:00", time.RFC3339} {
		if v, err := time.Parse(layout, s); err == nil {
			return v
		}
	}
	require.Fail(t, "not an instant", s)
	return time.Time{}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

func year(y int) time.Time { return time.Date(y, 1, 1, 0, 0, 0, 0, time.UTC) }

// spread gathers errors and tells how they lie.
type spread struct {
	n          int
	sum, worst float64
	at         string
}

// add notes the error got − want.
func (s *spread) add(got, want float64, at ...any) {
	e := math.Abs(got - want)
	s.n++
	s.sum += e
	if e >= s.worst {
		s.worst, s.at = e, fmt.Sprint(at...)
	}
}

// addMinutes notes the error got − want.
func (s *spread) addMinutes(got, want time.Time, at ...any) {
	s.add(got.Sub(want).Minutes(), 0, append(at, " ", want)...)
}

// hold fails the test if the errors pass the budget, or are not n.
func (s *spread) hold(t *testing.T, what, unit string, n int, mean, worst float64) {
	t.Helper()
	require.Equal(t, n, s.n, "%s: samples compared", what)
	got := s.sum / float64(s.n)
	t.Logf("%s: %d samples, %s: mean %.3f of %.3f, worst %.3f of %.3f at %s", what, s.n, unit, got, mean, s.worst, worst, s.at)
	require.LessOrEqual(t, got, mean, "%s: mean error, %s", what, unit)
	require.LessOrEqual(t, s.worst, worst, "%s: worst error, %s, at %s", what, unit, s.at)
}
