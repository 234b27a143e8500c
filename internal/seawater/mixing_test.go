package seawater

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Sums done by hand, each as grams of salt and kilograms of water.
func TestMixingByHand(t *testing.T) {
	// 10 kg × 33 g + 5 kg × 36 g = 510 g in 15 kg.
	w, err := Mix(Water{10, 33}, Water{5, 36})
	require.NoError(t, err)
	assert.Equal(t, Kilograms(15), w.Mass)
	assert.InDelta(t, 34, float64(w.Salinity), 1e-12)

	// 20 kg × 35 g = 700 g in 17.5 kg.
	w, err = Evaporated(Water{20, 35}, 2.5)
	require.NoError(t, err)
	assert.Equal(t, Kilograms(17.5), w.Mass)
	assert.InDelta(t, 40, float64(w.Salinity), 1e-12)

	// 50 kg × 35 g = 1750 g; at 28 g that is 62.5 kg; or 1400 g must stay, a fifth goes.
	m, err := FreshToAdd(Water{50, 35}, 28)
	require.NoError(t, err)
	assert.InDelta(t, 12.5, float64(m), 1e-12)
	f, err := FreshToSwap(35, 28)
	require.NoError(t, err)
	assert.InDelta(t, 0.2, f, 1e-12)

	// 96.5 kg × 0 g and 3500 g of salt make 100 kg at 35; a mix of which 1.1 g carry 1 g
	// takes 3850 g.
	g, err := SaltToAdd(Water{96.5, 0}, 35, 1)
	require.NoError(t, err)
	assert.InDelta(t, 3500, float64(g), 1e-9)
	g, err = SaltToAdd(Water{96.5, 0}, 35, 1.1)
	require.NoError(t, err)
	assert.InDelta(t, 3850, float64(g), 1e-9)

	// 10 L at 35 and 25 °C weigh 10.2334306 kg (UNESCO 44, of IPTS-68), 358.170 g of it salt.
	g, m, err = SaltWater(10, 35, its90(25), 1)
	require.NoError(t, err)
	assert.InDelta(t, 10.2334306*35, float64(g), 1e-5)
	assert.InDelta(t, 10.2334306*0.965, float64(m), 1e-6)

	// Of a mix of which 1.25 g carry 1 g it takes a quarter more, and that much less water.
	g, m, err = SaltWater(10, 35, its90(25), 1.25)
	require.NoError(t, err)
	assert.InDelta(t, 10.2334306*35*1.25, float64(g), 1e-5)
	assert.InDelta(t, 10.2334306*(1-0.035*1.25), float64(m), 1e-6)

	// 0.8 × 33 + 0.2 × 38 = 34; 0.75 × 36 + 0.25 × 32 = 35; 0.9 × 30 + 0.1 × 40 = 31.
	for _, row := range []struct{ s, target, share, want float64 }{{33, 34, 0.2, 38}, {36, 35, 0.25, 32}, {30, 31, 0.1, 40}} {
		n, err := WaterForChange(PSU(row.s), PSU(row.target), row.share)
		require.NoError(t, err)
		assert.InDelta(t, row.want, float64(n), 1e-9)
	}

	// (1 − f)ⁿ: 0.9⁴, 0.8⁴, 0.75³, 0.5².
	for _, row := range []struct {
		share float64
		n     int
		want  float64
	}{{0.1, 4, 0.6561}, {0.2, 4, 0.4096}, {0.25, 3, 0.421875}, {0.5, 2, 0.25}, {0.3, 0, 1}, {1, 1, 0}} {
		left, err := AfterChanges(1, 0, row.share, row.n)
		require.NoError(t, err)
		assert.InDelta(t, row.want, left, 1e-12)
	}
	// (40+5)·0.8 = 36, (36+5)·0.8 = 32.8, 30.24, 28.192; it settles at 5·0.8/0.2 = 20.
	left, err := AfterChanges(40, 5, 0.2, 4)
	require.NoError(t, err)
	assert.InDelta(t, 28.192, left, 1e-12)
	steady, err := SteadyAfterChanges(5, 0.2)
	require.NoError(t, err)
	assert.InDelta(t, 20, steady, 1e-12)
}

func TestMixingRefuses(t *testing.T) {
	water := Water{20, 35}
	for _, row := range []struct {
		name, field string
		sum         func() error
	}{
		{"negative water", "mass", func() error { _, err := Mix(Water{-1, 35}, water); return err }},
		{"water of no number", "mass", func() error { _, err := Mix(water, Water{Kilograms(nan), 35}); return err }},
		{"no water at all", "mass", func() error { _, err := Mix(Water{0, 35}, Water{0, 3}); return err }},
		{"two lakes", "mass", func() error { _, err := Mix(Water{1e6, 35}, Water{1e6, 3}); return err }},
		{"salinity 90", "salinity", func() error { _, err := Mix(water, Water{1, 90}); return err }},
		{"more lost than there was", "lost", func() error { _, err := Evaporated(water, 21); return err }},
		{"all lost", "lost", func() error { _, err := Evaporated(water, 20); return err }},
		{"no water lost of none", "mass", func() error { _, err := Evaporated(Water{}, 0); return err }},
		{"lost to brine", "lost", func() error { _, err := Evaporated(water, 4); return err }},
		{"negative loss", "lost", func() error { _, err := Evaporated(water, -1); return err }},
		{"fresh water to go up", "target", func() error { _, err := FreshToAdd(water, 36); return err }},
		{"fresh water without end", "target", func() error { _, err := FreshToAdd(water, 0); return err }},
		{"an ocean of fresh water", "target", func() error { _, err := FreshToAdd(water, 1e-5); return err }},
		{"swap to go up", "target", func() error { _, err := FreshToSwap(35, 36); return err }},
		{"target no number", "target", func() error { _, err := FreshToSwap(35, PSU(nan)); return err }},
		{"salt to go down", "target", func() error { _, err := SaltToAdd(water, 34, 1); return err }},
		{"salt to brine", "target", func() error { _, err := SaltToAdd(water, 41, 1); return err }},
		{"yield in per cent", "yield", func() error { _, err := SaltToAdd(water, 36, 110); return err }},
		{"mix of negative litres", "volume", func() error { _, _, err := SaltWater(-1, 35, 20, 1); return err }},
		{"mix in Fahrenheit", "temperature", func() error { _, _, err := SaltWater(10, 35, 77, 1); return err }},
		{"litres of no number", "volume", func() error { _, err := MassOf(Litres(nan), 35, 20); return err }},
		{"more litres than the book takes", "volume", func() error { _, err := MassOf(1_000_001, 35, 20); return err }},
		{"mass of no number", "mass", func() error { _, err := VolumeOf(Kilograms(nan), 35, 20); return err }},
		{"mass too warm", "temperature", func() error { _, err := VolumeOf(1, 35, 41); return err }},
		{"share in per cent", "share", func() error { _, err := Changed(35, 30, 20); return err }},
		{"new water of brine", "newSalinity", func() error { _, err := Changed(35, 50, 0.2); return err }},
		{"share of nothing", "share", func() error { _, err := WaterForChange(35, 34, 0); return err }},
		{"concentration negative", "start", func() error { _, err := AfterChanges(-1, 0, 0.2, 1); return err }},
		{"changes without end", "changes", func() error { _, err := AfterChanges(1, 0, 0.2, math.MaxInt); return err }},
		{"changes undone", "changes", func() error { _, err := AfterChanges(1, 0, 0.2, -1); return err }},
		{"input of no number", "added", func() error { _, err := SteadyAfterChanges(nan, 0.2); return err }},
	} {
		t.Run(row.name, func(t *testing.T) { refused(t, row.sum(), row.field) })
	}
}

func TestWaterForChangeSaysHowMuch(t *testing.T) {
	_, err := WaterForChange(30, 35, 0.2) // would need 55
	refused(t, err, "share")
	require.EqualError(t, err, "Changing 0.2 of the water cannot bring 30 to 35 in one step. Change at least 0.5 of it, or do it in several.")
	n, err := WaterForChange(30, 35, 0.5)
	require.NoError(t, err)
	assert.InDelta(t, 40, float64(n), 1e-9)
	_, err = WaterForChange(33, 36, 0.1) // 3/7 with water of 40: 0.42857, so 0.429
	require.EqualError(t, err, "Changing 0.1 of the water cannot bring 33 to 36 in one step. Change at least 0.429 of it, or do it in several.")
	_, err = WaterForChange(33, 36, 0.429)
	require.NoError(t, err)
	_, err = WaterForChange(42, 20, 0.1) // would need -178
	refused(t, err, "share")
}

func TestMostWaterOfTheBook(t *testing.T) {
	m, err := MassOf(1_000_000, 42, 0)
	require.NoError(t, err)
	_, err = VolumeOf(m, 42, 0)
	require.NoError(t, err)
}

func drawWater(t *rapid.T, name string) Water {
	return Water{Kilograms(rapid.Float64Range(0.001, 100_000).Draw(t, name)), drawSalinity(t, name+" salinity")}
}

func salt(w Water) float64 { return float64(w.Mass) * float64(w.Salinity) }

func TestMixingLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawWater(t, "a"), drawWater(t, "b")
		ab, err := Mix(a, b)
		require.NoError(t, err)
		require.InEpsilon(t, float64(a.Mass+b.Mass), float64(ab.Mass), 1e-12)
		require.InDelta(t, salt(a)+salt(b), salt(ab), 1e-9*(1+salt(ab)))
		require.GreaterOrEqual(t, ab.Salinity, min(a.Salinity, b.Salinity))
		require.LessOrEqual(t, ab.Salinity, max(a.Salinity, b.Salinity))
		ba, err := Mix(b, a)
		require.NoError(t, err)
		require.InDelta(t, float64(ab.Salinity), float64(ba.Salinity), 1e-9)
	})
}

func TestToppingUpUndoesEvaporation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Water{Kilograms(rapid.Float64Range(0.001, 100_000).Draw(t, "mass")), PSU(rapid.Float64Range(0.1, 38).Draw(t, "salinity"))}
		lost := w.Mass * Kilograms(rapid.Float64Range(0, 0.09).Draw(t, "part lost"))
		left, err := Evaporated(w, lost)
		require.NoError(t, err)
		require.InDelta(t, salt(w), salt(left), 1e-9*salt(w))
		top, err := FreshToAdd(left, min(w.Salinity, left.Salinity))
		require.NoError(t, err)
		require.InDelta(t, float64(lost), float64(top), 1e-9*float64(w.Mass))
	})
}

func TestEachSumReachesItsTarget(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWater(t, "water")
		target := PSU(rapid.Float64Range(0.1, 40).Draw(t, "target"))
		share := rapid.Float64Range(0.001, 1).Draw(t, "share")
		if n, err := WaterForChange(w.Salinity, target, share); err == nil {
			got, err := Changed(w.Salinity, n, share)
			require.NoError(t, err)
			require.InDelta(t, float64(target), float64(got), 1e-9, "change")
			require.True(t, n >= 0 && n <= MostMixed)
		} else {
			n := float64(w.Salinity) + float64(target-w.Salinity)/share
			require.True(t, n < 0 || n > float64(MostMixed), "a change that could be made was refused: %v", err)
		}
		if target > w.Salinity {
			g, err := SaltToAdd(w, target, 1)
			require.NoError(t, err)
			kg := float64(g) / 1000
			require.InDelta(t, float64(target), (salt(w)+float64(g))/(float64(w.Mass)+kg), 1e-9, "salt")
			return
		}
		m, err := FreshToAdd(w, target)
		if err == nil {
			mixed, err := Mix(w, Water{m, 0})
			require.NoError(t, err)
			require.InDelta(t, float64(target), float64(mixed.Salinity), 1e-9, "fresh")
		}
		swap, err := FreshToSwap(w.Salinity, target)
		require.NoError(t, err)
		require.InDelta(t, float64(target), float64(w.Salinity)*(1-swap), 1e-9, "swap")
	})
}

func TestChangesSettle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0.05, 1).Draw(t, "share")
		start := rapid.Float64Range(0, 100).Draw(t, "start")
		added := rapid.Float64Range(0, 10).Draw(t, "added")
		end, err := AfterChanges(start, added, share, mostChanges)
		require.NoError(t, err)
		steady, err := SteadyAfterChanges(added, share)
		require.NoError(t, err)
		require.InDelta(t, steady, end, 1e-9*(1+steady))
	})
}
