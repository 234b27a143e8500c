package journal

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/fault"
)

const (
	deviceA = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"
	deviceB = "017f22e2-79b0-7cc3-98c4-dc0c0c073990"
)

// stampVectors is testdata/vectors/stamps.json, which pwa/test/stamp.test.js reads too.
type stampVectors struct {
	About   string
	Devices map[string]string
	Valid   []struct {
		Stamp   Stamp
		MS      int64
		Counter uint16
		Device  string
	}
	Malformed []struct {
		Why   string
		Stamp Stamp
	}
	Ascending []Stamp
	Clocks    []struct {
		Name, Device, Last string
		Steps              []struct {
			Now  *int64
			Want string
			Hear string
			AtMS int64
		}
	}
}

func readStampVectors(t *testing.T) (v stampVectors) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/vectors/stamps.json")
	require.NoError(t, err)
	decoder := json.NewDecoder(strings.NewReader(string(data)))
	decoder.DisallowUnknownFields()
	require.NoError(t, decoder.Decode(&v))
	require.GreaterOrEqual(t, len(v.Valid), 5)
	require.GreaterOrEqual(t, len(v.Malformed), 19)
	require.GreaterOrEqual(t, len(v.Ascending), 9)
	require.GreaterOrEqual(t, len(v.Clocks), 11)
	return v
}

// full writes out a vector's stamp, in which A and B stand for the devices.
func (v *stampVectors) full(short string) Stamp {
	return Stamp(strings.NewReplacer("A", v.Devices["a"], "B", v.Devices["b"]).Replace(short))
}

func TestStampVectors(t *testing.T) {
	v := readStampVectors(t)
	for _, row := range v.Valid {
		r, err := row.Stamp.Read()
		require.NoError(t, err, row.Stamp)
		assert.Equal(t, Reading{row.MS, row.Counter, row.Device}, r)
		assert.Equal(t, row.Stamp, r.Stamp())
	}
	for _, row := range v.Malformed {
		_, err := row.Stamp.Read()
		requireFault(t, err, fault.BadInput, "stamp", row.Why)
	}
	assert.True(t, slices.IsSorted(v.Ascending), "stamps sort as text")
	for i := 1; i < len(v.Ascending); i++ {
		a, b := Change{ID: deviceA, Stamp: v.Ascending[i-1]}, Change{ID: deviceA, Stamp: v.Ascending[i]}
		assert.Equal(t, -1, a.Order().Compare(b.Order()), "%s before %s", a.Stamp, b.Stamp)
	}
}

func TestClockVectors(t *testing.T) {
	v := readStampVectors(t)
	for _, row := range v.Clocks {
		t.Run(row.Name, func(t *testing.T) {
			c, err := NewClock(v.Devices[row.Device], v.full(row.Last))
			require.NoError(t, err)
			for i, step := range row.Steps {
				if step.Now == nil {
					require.NoError(t, c.Hear(v.full(step.Hear), step.AtMS), "step %d", i)
					continue
				}
				assert.Equal(t, v.full(step.Want), c.Next(*step.Now), "step %d", i)
				assert.Equal(t, v.full(step.Want), c.Last(), "step %d", i)
			}
		})
	}
}

func TestClockRefuses(t *testing.T) {
	good := Reading{MS: 10, Device: deviceB}.Stamp()
	_, err := NewClock("a", "")
	requireFault(t, err, fault.BadInput, "device", "a device that is no UUID")
	_, err = NewClock(deviceA, "x")
	requireFault(t, err, fault.BadInput, "stamp", "a last stamp that is none")
	_, err = NewClock(deviceA, Reading{MS: LatestMS + 1, Device: deviceA}.Stamp())
	requireFault(t, err, fault.BadInput, "stamp", "a last stamp past the year 9999")
	c, err := NewClock(deviceA, "")
	require.NoError(t, err)
	requireFault(t, c.Hear("x", 10), fault.BadInput, "stamp", "hearing what is no stamp")
	requireFault(t, c.Hear(good, -1), fault.BadInput, "receipt", "a receipt before 1970")
	requireFault(t, c.Hear(good, LatestMS+1), fault.BadInput, "receipt", "a receipt past the year 9999")
	assert.Equal(t, Reading{Device: deviceA}.Stamp(), c.Last(), "what was refused left no trace")
}

// Whatever a clock is told and whatever it hears, its stamps rise, are valid, come after
// all that it heard, and are no later than the latest of its own time and the receipts
// heard, plus a millisecond for every full counter.
func TestClockRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, err := NewClock(deviceA, "")
		require.NoError(t, err)
		last, bound := c.Last(), int64(0)
		anyMS := rapid.OneOf(rapid.Int64Range(-5, 20), rapid.Int64Range(0, greatestMS), rapid.Int64())
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			if rapid.Bool().Draw(t, "hears") {
				heard := Reading{anyMS.Draw(t, "ms"), rapid.SampledFrom([]uint16{0, 1, 0xfffe, 0xffff}).Draw(t, "counter"), deviceB}.Stamp()
				at := rapid.OneOf(rapid.Int64Range(0, 20), rapid.Int64Range(0, LatestMS)).Draw(t, "at")
				require.NoError(t, c.Hear(heard, at))
				bound = max(bound, at+1)
				x := Change{ID: deviceA, Stamp: heard, Receipt: &Receipt{Seq: 1, AtMS: at}}
				y := Change{ID: deviceA, Stamp: c.Next(0)}
				require.Equal(t, 1, y.Order().Compare(x.Order()), "%s after hearing %s at %d", y.Stamp, heard, at)
			} else {
				now := anyMS.Draw(t, "now")
				bound = max(bound, min(now, LatestMS))
				c.Next(now)
			}
			r, err := c.Last().Read()
			require.NoError(t, err)
			require.Greater(t, c.Last(), last)
			require.LessOrEqual(t, r.MS, bound+30)
			last = c.Last()
		}
	})
}

func TestReceiptsRise(t *testing.T) {
	first := NextReceipt(Receipt{}, 1000, "")
	assert.Equal(t, Receipt{Seq: 1, AtMS: 1000}, first)
	assert.Equal(t, Receipt{Seq: 2, AtMS: 1001, Refused: "no"}, NextReceipt(first, 1000, "no"), "in one millisecond")
	assert.Equal(t, Receipt{Seq: 2, AtMS: 1001}, NextReceipt(first, 10, ""), "the server's clock set back")
	assert.Equal(t, Receipt{Seq: 2, AtMS: 5000}, NextReceipt(first, 5000, ""))
	assert.Equal(t, Receipt{Seq: 1, AtMS: 1}, NextReceipt(Receipt{}, -7, ""))
}

func FuzzStamp(f *testing.F) {
	f.Add("017f22e279b0-0003-" + deviceA)
	f.Add("")
	f.Add("017F22E279B0-0003-" + deviceA)
	f.Fuzz(func(t *testing.T, text string) {
		r, err := Stamp(text).Read()
		if err != nil {
			requireFault(t, err, fault.BadInput, "stamp", text)
			return
		}
		require.Equal(t, Stamp(text), r.Stamp())
	})
}

func requireFault(t require.TestingT, err error, code fault.Code, field, what string) {
	var e *fault.Error
	require.ErrorAs(t, err, &e, "%s", what)
	require.Equal(t, code, e.Code, "%s: %s", what, e.Message)
	require.Equal(t, field, e.Field, "%s: %s", what, e.Message)
	require.NotEmpty(t, e.Message)
}
