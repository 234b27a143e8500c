package window

import (
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/sky"
)

const (
	greatestSpan = 5 * 366 * 24 * time.Hour
	greatestWait = 24 * time.Hour // for Query.Least
	defaultLeast = time.Minute
)

// Query is what is asked of a shore.
type Query struct {
	// From and To bound the days asked for, [From, To), at most five years. A window that
	// reaches over an edge is given whole and marked.
	From, To time.Time
	// Light says what counts as lit. Required.
	Light sky.Light
	// Least is the shortest usable time worth a trip; 0 is one minute. 0..24 h.
	Least time.Duration
	// Days are the weekdays wanted, by the shore's local day of the low water; none is all.
	Days []time.Weekday
	// Sky replaces the real sun and moon over the shore; nil is the real one.
	Sky Sky
}

// check returns a *fault.Error for the first field outside its bounds.
func (q *Query) check() error {
	if err := checkSpan(q.From, q.To); err != nil {
		return err
	}
	if err := q.Light.Validate(); err != nil {
		return err
	}
	if q.Least < 0 || q.Least > greatestWait {
		return fault.New(fault.BadInput, "least", "The least usable time is %v minutes; give 0 to %v.",
			q.Least.Minutes(), greatestWait.Minutes())
	}
	for _, day := range q.Days {
		if day < time.Sunday || day > time.Saturday {
			return fault.New(fault.BadInput, "days", "There is no weekday %d; count from 0 for Sunday to 6 for Saturday.", int(day))
		}
	}
	return nil
}

// wants says whether the weekday is asked for.
func (q *Query) wants(day time.Weekday) bool {
	for _, d := range q.Days {
		if d == day {
			return true
		}
	}
	return len(q.Days) == 0
}

func checkSpan(from, to time.Time) error {
	if !from.Before(to) {
		return fault.New(fault.BadInput, "to", "The span ends before it begins. Put the end after the beginning.")
	}
	if to.Sub(from) > greatestSpan {
		return fault.New(fault.SpanTooLong, "to", "The span is longer than five years. Ask for less at a time.")
	}
	return nil
}
