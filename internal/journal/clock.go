package journal

import "wrackbook/internal/fault"

// LatestMS is the latest instant that a clock is believed to show: the last millisecond of
// the year 9999. The stamp has room for 888 years more, into which a counter can carry.
const LatestMS = 253402300799999

// Clock mints the stamps of one device: a hybrid logical clock. It never goes back, not
// even when the device's clock does, and a stamp minted after another was heard of is
// later than what that other counts as (see Order). It keeps no time of its own: keep
// Last beside each change, in the same transaction, and start from it again.
type Clock struct {
	device string
	last   Reading
}

// NewClock continues a device's clock from the last stamp that it minted or heard, or
// begins one where last is empty.
func NewClock(device string, last Stamp) (*Clock, error) {
	if err := checkID("device", "The device's id", device); err != nil {
		return nil, err
	}
	c := &Clock{device: device, last: Reading{Device: device}}
	if last == "" {
		return c, nil
	}
	heard, err := last.Read()
	if err != nil {
		return nil, err
	}
	if heard.MS > LatestMS {
		return nil, fault.New(fault.BadInput, "stamp", "The last stamp of this device is past the year 9999. Start its clock anew.")
	}
	c.last.MS, c.last.Counter = heard.MS, heard.Counter
	return c, nil
}

// Last is the clock as it stands, for keeping.
func (c *Clock) Last() Stamp { return c.last.Stamp() }

// Next mints a stamp, later than every one before. nowMS is the device's clock, Unix
// milliseconds; what lies outside 0..LatestMS counts as the nearer bound.
func (c *Clock) Next(nowMS int64) Stamp {
	nowMS = min(max(nowMS, 0), LatestMS)
	switch {
	case nowMS > c.last.MS:
		c.last.MS, c.last.Counter = nowMS, 0
	case c.last.Counter < 0xffff:
		c.last.Counter++
	default: // 65,536 changes in one millisecond, or a clock set back: lend from the next
		c.last.MS, c.last.Counter = c.last.MS+1, 0
	}
	return c.last.Stamp()
}

// Hear takes note of a change that the server has: its stamp, and when the server received
// it (Receipt.AtMS). What it merges is the earlier of the two, so a fast clock elsewhere
// never makes this one fast.
func (c *Clock) Hear(stamp Stamp, atMS int64) error {
	heard, err := stamp.Read()
	if err != nil {
		return err
	}
	if err := checkAtMS(atMS); err != nil {
		return err
	}
	ms := min(heard.MS, atMS)
	if ms > c.last.MS {
		c.last.MS, c.last.Counter = ms, heard.Counter
	} else if ms == c.last.MS {
		c.last.Counter = max(c.last.Counter, heard.Counter)
	}
	return nil
}
