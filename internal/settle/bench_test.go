package settle

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// year is twenty quarantine jars with two specimens each, checked every day of a year.
func year() (*Records, time.Time) {
	r := &Records{Zone: "Europe/London", Members: []json.RawMessage{[]byte(`{"id":"mum","age":"adult"}`)}}
	start := time.Date(2026, 1, 1, 9, 0, 0, 0, time.UTC)
	add := func(list *[]json.RawMessage, format string, args ...any) {
		*list = append(*list, fmt.Appendf(nil, format, args...))
	}
	for jar := range 20 {
		add(&r.Tanks, `{"id":"jar%d","use":"quarantine"}`, jar)
		for lot := range 2 {
			add(&r.Specimens, `{"id":"lot%d-%d","taxon":"Ulva lactuca","group":"greens"}`, jar, lot)
			add(&r.Events, `{"id":"a%d-%d","arrived":{"at":"2026-01-01T08:00:00Z","of":"specimen/lot%[1]d-%[2]d","by":"mum","tank":"jar%[1]d"}}`, jar, lot)
		}
		for day := range 365 {
			add(&r.Events, `{"id":"c%d-%d","checked":{"at":%q,"of":"tank/jar%[1]d","by":"mum","signs":[]}}`,
				jar, day, start.AddDate(0, 0, day).Format(time.RFC3339))
		}
	}
	return r, start.AddDate(0, 0, 365)
}

func BenchmarkReadYear(b *testing.B) {
	r, _ := year()
	for b.Loop() {
		_, err := Read(r)
		require.NoError(b, err)
	}
}

func BenchmarkDeriveYear(b *testing.B) {
	r, now := year()
	book, err := Read(r)
	require.NoError(b, err)
	require.Len(b, book.Events, 7340)
	for b.Loop() {
		p := Derive(book, now)
		require.Equal(b, 364, int(p.Day-*p.Specimens[0].Arrived)-1)
	}
}
