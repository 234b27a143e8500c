package settle

import "time"

// Day is a civil day of the home, counted from 1970-01-01.
type Day int

const secondsADay = 24 * 60 * 60

func dayOf(t time.Time, zone *time.Location) Day {
	y, m, d := t.In(zone).Date()
	return Day(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / secondsADay)
}

// String writes the day as 2026-03-29.
func (d Day) String() string {
	return time.Unix(int64(d)*secondsADay, 0).UTC().Format(time.DateOnly)
}

// MarshalText implements encoding.TextMarshaler.
func (d Day) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (d *Day) UnmarshalText(text []byte) error {
	t, err := time.Parse(time.DateOnly, string(text))
	*d = Day(t.Unix() / secondsADay)
	return err
}
