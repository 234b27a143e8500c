package settle

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/fault"
	"wrackbook/internal/seawater"
)

func exactly(s float64) seawater.Estimate {
	return seawater.Estimate{Salinity: seawater.PSU(s), Least: seawater.PSU(s), Most: seawater.PSU(s)}
}

func side(litres, salinity, c float64) Side {
	return Side{VolumeL: litres, Salinity: exactly(salinity), TempC: c}
}

func plan(t *testing.T, a Acclimation) *Plan {
	p, err := MakePlan(a)
	require.NoError(t, err)
	return p
}

// simulate drips by the plan's own rates in steps of a hundredth of a minute, with the salt
// and the water counted apart, and gives the salinity at each row and the fastest change, an
// hour.
func simulate(a *Acclimation, r *Run) (salinities []float64, fastest float64) {
	const dt = 0.01
	litres := a.Bag.VolumeL
	salt := litres * float64(a.Bag.Salinity.Salinity)
	for i, s := range r.Steps {
		now := salt / litres
		salinities = append(salinities, now)
		if i == len(r.Steps)-1 {
			break
		}
		steps := int(math.Round(float64(r.Steps[i+1].Minute-s.Minute) / dt))
		for range steps {
			was := salt / litres
			in := s.MLMin / 1000 * dt
			if r.Discard {
				salt -= in * salt / litres
				litres -= in
			}
			salt += in * float64(a.Tank.Salinity.Salinity)
			litres += in
			fastest = max(fastest, math.Abs(salt/litres-was)/dt*60)
		}
	}
	return salinities, fastest
}

// The table of a drip is what a fine simulation of it gives, within 0.003; the last row
// stands on a whole minute, up to a minute late: at the fastest, 2 an hour, that is 0.034.
func TestDripAgainstSimulation(t *testing.T) {
	rows := 0
	var sum, worst float64
	for _, row := range []struct {
		name, group string
		bag, tank   float64
		litres      float64
		container   float64
	}{
		{"a rainy pool to a tank, snails", "snails", 28, 35, 2, 0},
		{"the same, shrimps", "shrimps", 28, 35, 2, 8},
		{"down, hermits", "hermits", 38, 33, 1.5, 10},
		{"a small gap, anemones", "anemones", 33, 35, 1, 3},
		{"an estuary, crabs", "crabs", 12, 35, 3, 20},
		{"a large bag, fish", "fish", 30, 35, 10, 60},
	} {
		a := Acclimation{Group: row.group, Bag: side(row.litres, row.bag, 15), Tank: side(400, row.tank, 15), ContainerL: row.container}
		p := plan(t, a)
		require.Equal(t, Drip, p.Way, row.name)
		require.Len(t, p.Drips, 2)
		for _, r := range p.Drips {
			got, fastest := simulate(&a, &r)
			require.Len(t, got, len(r.Steps))
			for i, s := range r.Steps {
				off := math.Abs(s.Salinity - got[i])
				if i == len(r.Steps)-1 {
					assert.LessOrEqual(t, off, 0.034, "%s, the end", row.name)
					continue
				}
				assert.LessOrEqual(t, off, 0.003, "%s, minute %d", row.name, s.Minute)
				sum, worst, rows = sum+off, max(worst, off), rows+1
			}
			assert.LessOrEqual(t, fastest, p.PerHour.Is*1.01, "%s changes too fast", row.name)
			assert.GreaterOrEqual(t, fastest, p.PerHour.Is*0.99, "%s is slower than it need be", row.name)
		}
	}
	t.Logf("%d rows: mean %.5f, worst %.5f", rows, sum/float64(rows), worst)
	assert.Greater(t, rows, 60)
	assert.LessOrEqual(t, sum/float64(rows), 0.001)
}

// By hand: the fastest change is q·gap/V an hour. 2 L, 28 to 35: 6.3 an hour is 30 mL/min,
// which is ten drops a second of 20 to the mL.
func TestDripByHand(t *testing.T) {
	p := plan(t, Acclimation{Group: "snails", Bag: side(2, 28, 15), Tank: side(200, 35, 15), SalinityHour: 6.3})
	first := p.Drips[0].Steps[0]
	assert.InDelta(t, 30, first.MLMin, 1e-9)
	assert.InDelta(t, 600, first.DropsMin, 1e-9)
	assert.Equal(t, "household", p.PerHour.From)

	// One's own line: 80 drops in 5 mL are 16 to the mL.
	p = plan(t, Acclimation{Group: "snails", Bag: side(2, 28, 15), Tank: side(200, 35, 15), SalinityHour: 6.3, DropsIn5mL: 80})
	assert.InDelta(t, 480, p.Drips[0].Steps[0].DropsMin, 1e-9)

	// Filled to three times the volume, two thirds are closed: 28 becomes 32.667.
	p = plan(t, Acclimation{Group: "snails", Bag: side(2, 28, 15), Tank: side(200, 35, 15), ContainerL: 6})
	fill := p.Drips[1]
	require.False(t, fill.Discard)
	assert.InDelta(t, 2.0/3, fill.Closed, 0.00005)
	assert.InDelta(t, 7.0/3, fill.Left, 0.0005)
	assert.InDelta(t, 4, fill.WaterL, 1e-9)
	assert.InDelta(t, 6, fill.ContainerL, 1e-9)
	assert.Contains(t, p.Cautions, "container")
	assert.InDelta(t, 1, p.Drips[0].Left, 1e-9, "with discarding the level stays and the gap closes")
	assert.InDelta(t, 2, p.Drips[0].ContainerL, 1e-9)

	// Without a limit it takes seven times the volume to leave 1 of 7: 14 L, 12 of the tank's.
	p = plan(t, Acclimation{Group: "snails", Bag: side(2, 28, 15), Tank: side(200, 35, 15)})
	assert.InDelta(t, 14, p.Drips[1].ContainerL, 1e-9)
	assert.InDelta(t, 12, p.Drips[1].WaterL, 1e-9)

	// One step with discarding, an hour long: at 2 an hour and a gap of 7 the rate is
	// 2 L × 2/7 an hour, so that e^(-2/7) = 0.7515 of the gap is left: 35 − 5.2604 = 29.7396.
	p = plan(t, Acclimation{Group: "snails", Bag: side(2, 28, 15), Tank: side(200, 35, 15), StepMin: 60})
	assert.InDelta(t, 29.7396, p.Drips[0].Steps[1].Salinity, 0.0005)

	// The bounds of the readings count for the rate: a gap of 7 that may be 9 drips at 7/9.
	wide := Side{VolumeL: 2, Salinity: seawater.Estimate{Salinity: 28, Least: 27, Most: 29}, TempC: 15}
	p = plan(t, Acclimation{Group: "snails", Bag: wide, Tank: Side{VolumeL: 200, Salinity: seawater.Estimate{Salinity: 35, Least: 34, Most: 36}, TempC: 15}})
	assert.InDelta(t, 9, p.WorstGap, 1e-9)
	assert.InDelta(t, 2000*2.0/9/60, p.Drips[0].Steps[0].MLMin, 0.005)
}

// Temperature first: a bag 5 °C colder than the tank, at 1 °C an hour for shrimps, floats five
// hours; snails 75 minutes at 4; a bag within 1 °C does not float.
func TestFloat(t *testing.T) {
	for _, row := range []struct {
		group string
		bagC  float64
		want  int
	}{{"shrimps", 10, 300}, {"snails", 10, 75}, {"snails", 14, 0}, {"snails", 14.5, 0}, {"snails", 13.5, 23}, {"greens", 13.9, 17}} {
		p := plan(t, Acclimation{Group: row.group, Bag: side(2, 34, row.bagC), Tank: side(200, 35, 15)})
		assert.Equal(t, row.want, p.FloatMin, "%v", row)
		assert.Equal(t, Match, p.Way, "no drip is pressed on anyone for 1")
		assert.Empty(t, p.Drips)
	}
}

func TestSmallJars(t *testing.T) {
	p := plan(t, Acclimation{Group: "snails", Bag: side(0.5, 28, 12), Tank: side(1, 35, 16), Jars: 6})
	require.Equal(t, Batch, p.Way)
	assert.Equal(t, &Mixed{6, 27, 29, 11, 13}, p.Batch, "one batch for six jars, within 1 and 1 °C of the bag")
	assert.Empty(t, p.Drips)
	p = plan(t, Acclimation{Group: "snails", Bag: side(0.5, 34.5, 15), Tank: side(1, 35, 16), Jars: 6})
	assert.Equal(t, Match, p.Way)
	p = plan(t, Acclimation{Group: "snails", Bag: side(3, 28, 15), Tank: side(10, 35, 15)})
	assert.Equal(t, Batch, p.Way, "a drip would take more than half of the tank's water")
}

// The share of poison at salinity 34: 4.28 % at pH 8.0 and 25 °C, 12.40 % at 8.5, 1.44 % at 8.0 and
// 10 °C (Bower and Bidwell 1978); a milligram of nitrogen is 1.216 of ammonia.
func TestHurry(t *testing.T) {
	const mg = 17.031 / 14.007
	for _, row := range []struct {
		name          string
		ammonia       float64
		bagPH, tankPH float64
		bagC          float64
		table         float64 // per cent at the pH it climbs to
		hurry, atOnce bool
	}{
		{"a shut bag that is harmless yet", 1, 6.8, 8.0, 25, 4.28, true, false},
		{"much more of it", 2, 7.0, 8.5, 25, 12.40, true, true},
		{"hardly any", 0.2, 7.0, 8.0, 25, 4.28, false, false},
		{"cold", 1, 7.0, 8.0, 10, 1.44, false, false},
		{"high already", 1, 8.0, 7.5, 25, 4.28, true, false},
	} {
		bag, tank := side(2, 34, row.bagC), side(200, 35, row.bagC)
		bag.PH, bag.AmmoniaN, bag.PHScale = &row.bagPH, &row.ammonia, seawater.NBS
		tank.PH, tank.PHScale = &row.tankPH, seawater.NBS
		p := plan(t, Acclimation{Group: "fish", Bag: bag, Tank: tank})
		if !row.hurry {
			assert.Nil(t, p.Hurry, row.name)
			continue
		}
		require.NotNil(t, p.Hurry, row.name)
		assert.True(t, p.Hurry.Measured)
		assert.GreaterOrEqual(t, p.Hurry.Open, row.ammonia*row.table/100*mg*0.95, row.name)
		assert.LessOrEqual(t, p.Hurry.Open, seawater.RoundUp(row.ammonia*row.table/100*mg*1.4), "%s: no more than the worst of the scales", row.name)
		assert.Equal(t, row.atOnce, p.Hurry.AtOnce, row.name)
		require.NotNil(t, p.Batch, "clean water like the bag's")
		assert.InDelta(t, 33, p.Batch.SalinityLow, 1e-9)
	}
	hours := 3.0
	a := Acclimation{Group: "fish", Bag: side(2, 34, 15), Tank: side(200, 35, 15), HoursSealed: &hours}
	require.NotNil(t, plan(t, a).Hurry, "shut for three hours and nothing measured")
	assert.False(t, plan(t, a).Hurry.Measured)
	hours = 2
	assert.Nil(t, plan(t, a).Hurry)
	hours = 30
	a.Group = "greens"
	assert.Nil(t, plan(t, a).Hurry, "weed makes no ammonia")

	// Of much ammonia without a pH the worst is taken: the open sea's, at which the share is above
	// the 4.28 % of Bower and Bidwell at pH 8.0 and 25 °C.
	ammonia, little := 5.0, 0.1
	bag := side(2, 34, 25)
	bag.AmmoniaN = &ammonia
	p := plan(t, Acclimation{Group: "fish", Bag: bag, Tank: side(200, 35, 25)})
	require.NotNil(t, p.Hurry, "5 mg/L and no pH")
	assert.True(t, p.Hurry.AtOnce)
	assert.GreaterOrEqual(t, p.Hurry.Open, 5*4.28/100*mg)
	bag.AmmoniaN = &little
	assert.Nil(t, plan(t, Acclimation{Group: "fish", Bag: bag, Tank: side(200, 35, 25), HoursSealed: &hours}).Hurry, "measured, and hardly any at any pH of a tank")
}

func TestTransportWater(t *testing.T) {
	for drain, want := range map[string]string{"": "ask", "sewer": "sewer", "sea": "boil", "septic": "boil", "unknown": "boil", "somewhere": "ask"} {
		assert.Equal(t, want, plan(t, Acclimation{Bag: side(2, 34, 15), Tank: side(200, 35, 15), Drain: drain}).Water)
	}
}

func TestPlanRefuses(t *testing.T) {
	good := func() Acclimation { return Acclimation{Group: "snails", Bag: side(2, 30, 15), Tank: side(200, 35, 15)} }
	x := func(f float64) *float64 { return &f }
	for _, row := range []struct {
		name, field, says string
		spoil             func(a *Acclimation)
	}{
		{"salinity 90", "bag.salinity", "from 0 to 42", func(a *Acclimation) { a.Bag.Salinity = exactly(90) }},
		{"negative litres", "bag.volumeL", "above 0", func(a *Acclimation) { a.Bag.VolumeL = -2 }},
		{"no litres", "tank.volumeL", "above 0", func(a *Acclimation) { a.Tank.VolumeL = 0 }},
		{"no number", "tank.volumeL", "above 0", func(a *Acclimation) { a.Tank.VolumeL = math.NaN() }},
		{"a lake", "tank.volumeL", "100", func(a *Acclimation) { a.Tank.VolumeL = 1e9 }},
		{"pH 15", "bag.pH", "from 4 to 11", func(a *Acclimation) { a.Bag.PH = x(15) }},
		{"Fahrenheit", "tank.temperatureC", "give 15.0 °C", func(a *Acclimation) { a.Tank.TempC = 59 }},
		{"boiling", "tank.temperatureC", "from -2 to 40", func(a *Acclimation) { a.Tank.TempC = 120 }},
		{"ammonia", "bag.ammoniaMgNL", "from 0 to 100", func(a *Acclimation) { a.Bag.AmmoniaN = x(500) }},
		{"a container too small", "containerL", "larger", func(a *Acclimation) { a.ContainerL = 1 }},
		{"drops", "dropsIn5mL", "from 20 to 1000", func(a *Acclimation) { a.DropsIn5mL = 3 }},
		{"steps", "stepMin", "from 5 to 120", func(a *Acclimation) { a.StepMin = 1 }},
		{"hours", "hoursSealed", "from 0", func(a *Acclimation) { a.HoursSealed = x(-1) }},
		{"a rate that never ends", "salinityHour", "from 0.1", func(a *Acclimation) {
			a.SalinityHour = 1e-4
			a.Bag.VolumeL, a.Tank.VolumeL = 14_000, 100_000
		}},
		{"a float that never ends", "cHour", "from 0.1", func(a *Acclimation) { a.CHour = 1e-9 }},
		{"jars", "jars", "from 1", func(a *Acclimation) { a.Jars = -1 }},
	} {
		a := good()
		row.spoil(&a)
		_, err := MakePlan(a)
		var f *fault.Error
		require.True(t, errors.As(err, &f), "%s: %v", row.name, err)
		code := fault.BadInput
		if row.name == "Fahrenheit" {
			code = fault.AskUnit
		}
		assert.Equal(t, code, f.Code, row.name)
		assert.Equal(t, row.field, f.Field, row.name)
		assert.Contains(t, f.Message, row.says, row.name)
	}
}

// Whatever is asked, a plan ends, never passes the tank, never changes faster than is borne,
// and discarding takes no more of a container.
func TestPlanProperties(t *testing.T) {
	groups := []string{"", "unsure"}
	for id := range numbers().Groups {
		groups = append(groups, id)
	}
	often(t, "2000")
	drips := 0
	rapid.Check(t, func(t *rapid.T) {
		f := func(least, most float64, name string) float64 { return rapid.Float64Range(least, most).Draw(t, name) }
		estimate := func(name string) seawater.Estimate {
			s, w := f(0, 42, name), f(0, 3, name)
			return seawater.Estimate{Salinity: seawater.PSU(s), Least: seawater.PSU(s - w), Most: seawater.PSU(s + w)}
		}
		a := Acclimation{Group: rapid.SampledFrom(groups).Draw(t, "group"),
			Bag:  Side{VolumeL: f(0.01, 50, "bag"), Salinity: estimate("bag"), TempC: f(-2, 40, "bag")},
			Tank: Side{VolumeL: f(0.01, 5000, "tank"), Salinity: estimate("tank"), TempC: f(-2, 40, "tank")}}
		if rapid.Bool().Draw(t, "container") {
			a.ContainerL = a.Bag.VolumeL * f(1, 20, "times")
		}
		p, err := MakePlan(a)
		require.NoError(t, err)
		require.Equal(t, p.Way == Drip, len(p.Drips) == 2)
		require.Equal(t, p.Way == Batch, p.Batch != nil)
		for _, r := range p.Drips {
			drips++
			require.LessOrEqual(t, len(r.Steps), 200)
			require.InDelta(t, p.Gap*(1-r.Closed), r.Left, 0.003)
			require.GreaterOrEqual(t, r.Left*p.Gap, 0.0, "it passed the tank")
			last := r.Steps[len(r.Steps)-1]
			require.Zero(t, last.MLMin, "the last row does not drip")
			for i, s := range r.Steps[:len(r.Steps)-1] {
				next := r.Steps[i+1]
				require.GreaterOrEqual(t, (next.Salinity-s.Salinity)*p.Gap, 0.0)
				// Figures are rounded: the litres of a small bag to one part in ten.
				require.LessOrEqual(t, s.MLMin*60/1000/s.VolumeL*math.Abs(float64(a.Tank.Salinity.Salinity)-s.Salinity), p.PerHour.Is*1.1)
			}
			if r.Discard {
				require.InDelta(t, 1, math.Abs(r.Left), 0.001)
				require.InDelta(t, a.Bag.VolumeL, r.ContainerL, 0.0006)
			} else if a.ContainerL > 0 {
				require.LessOrEqual(t, r.ContainerL, a.ContainerL+0.0006)
			}
		}
	})
	assert.Greater(t, drips, 100)
}
