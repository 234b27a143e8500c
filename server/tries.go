package main

import (
	"sync"
	"time"

	"wrackbook/internal/fault"
)

// Bounds of wrong codes. The codes have bits enough to need none; the log, the disk and
// whoever shares a network with a guesser do.
const (
	triesEach   = 10 // from one address
	triesAll    = 50 // from all
	triesWindow = 10 * time.Minute
)

// tries counts codes that did not work, by address and in all, in windows of ten minutes.
type tries struct {
	now func() time.Time

	mu    sync.Mutex
	since time.Time
	all   int
	each  map[string]int
}

// take counts a try before it is known whether it is right, so that many at once are not
// let through; forgive takes a right one back. Where there were too many, wait says how long
// until the next is let through, and it is not counted.
func (t *tries) take(address string) (wait time.Duration, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	now := t.now()
	if passed := now.Sub(t.since); passed >= triesWindow || passed < 0 || t.each == nil {
		t.since, t.all, t.each = now, 0, map[string]int{}
	}
	if t.all >= triesAll || t.each[address] >= triesEach {
		return t.since.Add(triesWindow).Sub(now), fault.New(fault.TooManyTries, "code",
			"Too many codes that do not work were tried. Wait ten minutes, then try again.")
	}
	t.all++
	t.each[address]++
	return 0, nil
}

func (t *tries) forgive(address string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.each[address] > 0 { // else another window has begun
		t.all--
		t.each[address]--
	}
}
