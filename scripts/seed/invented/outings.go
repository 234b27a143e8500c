package invented

import (
	"strings"
	"time"
)

// goOut writes one outing and its finds.
func (m *maker) goOut(t *trip, finds int) {
	m.trips++
	planner := m.adult()
	eve := t.from.Add(-14 * time.Hour)
	party := m.members
	switch m.IntN(6) {
	case 0:
		party = m.members[:2]
	case 1:
		party = m.members[:3]
	}
	fields := map[string]any{
		"shore": t.shore.id, "purpose": "home",
		"planned":    map[string]any{"from": instant(t.from), "to": instant(t.to), "startBack": instant(t.startBack), "offBy": instant(t.off)},
		"ashore":     map[string]any{"who": "Aunt Odile", "dueBack": instant(later(t.to, t.off).Add(45 * time.Minute))},
		"ashoreCall": "207-555-0168", "note": one(m, outingNotes),
	}
	for i, who := range party {
		one := map[string]any{"as": who.age, "name": who.name, "does": []string{"watches", "gathers", "gathers", "comes along"}[i]}
		if who.age == "child" {
			one["number"], one["with"] = who.number, m.members[i-2].id
		}
		fields["party/"+who.id] = one
	}
	for _, what := range []string{"first aid kit", "whistles", "spare socks", "throw line", "thermometer"} {
		fields["gear/"+word(what)] = map[string]any{"what": what, "packed": true}
	}
	for _, box := range []struct {
		what   string
		litres any
	}{{"blue bucket", 10}, {"lidded tub", 4}, {"mesh bag", nil}} {
		fields["containers/"+word(box.what)] = map[string]any{"what": box.what, "litres": box.litres, "packed": true}
	}
	outing := m.add(planner, eve, "outing", fields)
	m.evening(eve.Add(time.Hour))

	checked := t.from.Add(-2 * time.Hour)
	swell := 0.2 + 0.1*float64(m.IntN(8))
	m.set(planner, checked, "outing", outing, map[string]any{
		"checks/swell": map[string]any{"at": instant(checked), "fine": true, "value": round(swell, 1)},
		"checks/wind":  map[string]any{"at": instant(checked), "fine": true, "words": one(m, []string{"light, offshore", "none to speak of", "fresh, and dropping"})},
		"checks/rain":  map[string]any{"at": instant(checked), "fine": true}, "checks/storms": map[string]any{"at": instant(checked), "fine": true},
		"checks/temperature": map[string]any{"at": instant(checked), "fine": true}, "checks/animals": map[string]any{"at": instant(checked), "fine": true, "words": "seals on the far rocks: keep away"},
		"alarms": map[string]any{"at": instant(checked), "by": planner.member.id},
	})
	start := t.from.Add(time.Duration(m.IntN(8)) * time.Minute)
	end := earlier(t.startBack, t.to)
	if !end.After(start.Add(10 * time.Minute)) {
		end = start.Add(20 * time.Minute)
	}
	middle := start.Add(end.Sub(start) / 2)
	m.set(planner, start, "outing", outing, map[string]any{
		"started":               map[string]any{"at": instant(start), "by": planner.member.id},
		"heads/" + m.id(middle): map[string]any{"at": instant(middle), "count": len(party), "by": planner.member.id},
	})
	if m.chance(15) {
		seen := t.lowM + 0.1 + 0.05*float64(m.IntN(4))
		m.set(planner, middle, "outing", outing, map[string]any{"higher/" + m.id(middle): map[string]any{
			"at": instant(middle), "by": planner.member.id, "seenM": round(seen, 2), "predictedM": round(t.lowM, 2), "lateMin": nil}})
	}
	if m.chance(6) {
		m.set(m.devices[2], middle, "outing", outing, map[string]any{"thunder/" + m.id(middle): map[string]any{"at": instant(middle), "by": m.members[2].id}})
	}
	m.add(planner, middle, "reading", map[string]any{
		"sample":       map[string]any{"at": instant(middle), "of": "outing/" + outing, "by": planner.member.id},
		"temperatureC": round(seaC(middle)+0.5-m.Float64(), 1),
		"salinity":     map[string]any{"value": round(31+1.5*m.Float64(), 1), "instrument": "refractometer", "scale": "ppt", "sampleC": round(seaC(middle), 1)},
	})
	for n := range finds {
		at := start.Add(time.Duration(float64(end.Sub(start)) * (float64(n) + m.Float64()) / float64(finds)))
		m.find(t, outing, at, len(party))
	}
	back := end.Add(time.Duration(5+m.IntN(10)) * time.Minute)
	m.set(planner, back, "outing", outing, map[string]any{"ended": map[string]any{"at": instant(back), "by": planner.member.id}})
	m.evening(back.Add(2 * time.Hour))
	m.afterwards(back.Add(3 * time.Hour))
}

var outingNotes = []string{
	"Low fog until the sun came over the trees.", "Colder than it looked; the small gloves came out.", "The weed lay thick after the blow of last week.",
	"A quiet morning, hardly any swell.", "We had the whole shore to ourselves.", "Finn fell in to the knees and laughed.", "",
}

// word names an element of a list by what it is.
func word(what string) string { return strings.ReplaceAll(what, " ", "-") }

// seaC is a plausible temperature of the sea there: coldest in March, warmest in September.
func seaC(at time.Time) float64 {
	month := float64(at.YearDay()) / 30.4
	away := month - 8.3
	if away < -6 {
		away += 12
	}
	if away < 0 {
		away = -away
	}
	return 15 - 1.8*away
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
