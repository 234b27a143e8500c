package invented

import "time"

// specimen is what came home and lives in a tank.
type specimen struct {
	id      string
	arrived time.Time // in quarantine
	cleared bool      // into the display
	gone    bool
	seen    bool // whether a sign was raised
	fate    fate
}

// fate is what becomes of a specimen; they take turns.
type fate int

const (
	thrives   fate = iota // cleared when its days are over
	marked                // a sign is raised, and settled
	dies                  // in quarantine, unexplained
	given                 // to somebody else
	overruled             // cleared by the keeper after a sign
	overheats             // dies in the display
	fates
)

const (
	maxKept   = 24
	quietDays = 14
)

// furnish writes the tanks and the waters that they share.
func (m *maker) furnish() {
	at := m.from.Add(23 * time.Hour)
	keeper := m.keeper()
	m.tanks, m.systems = map[string]string{}, map[string]string{}
	for _, s := range []struct {
		name string
		days int
	}{{"windowsill water", quietDays}, {"cold shelf water", 21}, {"display water", 0}} {
		fields := map[string]any{"name": s.name, "protocol": nil}
		if s.days > 0 {
			fields["protocol"] = map[string]any{"quietDays": s.days, "dips": 1}
		}
		m.systems[s.name] = m.add(keeper, at, "system", fields)
	}
	for _, t := range []struct {
		name, use, system string
		litres            float64
	}{{"windowsill jar", "quarantine", "windowsill water", 6}, {"second jar", "quarantine", "windowsill water", 6}, {"cold shelf", "quarantine", "cold shelf water", 40},
		{"the long tank", "display", "display water", 180}, {"bucket in the hall", "holding", "", 12}} {
		fields := map[string]any{"name": t.name, "use": t.use, "volumeL": t.litres,
			"keeps": map[string]any{"salinityLow": 29, "salinityHigh": 34, "lowC": 6, "highC": 16}}
		id := m.add(keeper, at, "tank", fields)
		m.tanks[t.name] = id
		if t.system != "" {
			m.event(keeper, at.Add(time.Minute), "joined", "tank/"+id, map[string]any{"system": m.systems[t.system]})
		}
	}
	m.evening(at.Add(time.Hour))
}

// event writes one act.
func (m *maker) event(d *device, at time.Time, act, of string, more map[string]any) string {
	value := map[string]any{"at": instant(at), "of": of, "by": d.member.id}
	for name, v := range more {
		value[name] = v
	}
	return m.add(d, at, "event", map[string]any{act: value})
}

// bringHome makes a specimen of a find, while there is room.
func (m *maker) bringHome(f found, at time.Time) {
	if len(m.kept) >= maxKept || len(m.kept) > 2*m.trips || !m.chance(30) {
		return
	}
	d, evening := m.adult(), at.Add(8*time.Hour)
	fields := map[string]any{"name": "", "find": f.id, "taxon": f.taxon, "group": f.group, "amount": f.amount}
	for _, photo := range f.photos {
		fields["photos/"+photo] = true
	}
	s := &specimen{arrived: evening, fate: fate(len(m.kept)) % fates}
	s.id = m.add(d, evening, "specimen", fields)
	m.event(d, evening, "arrived", "specimen/"+s.id, map[string]any{"tank": m.tanks[one(m, []string{"windowsill jar", "second jar", "cold shelf"})]})
	m.kept = append(m.kept, s)
}

// afterwards is the evening at home: what does not belong into any one find.
func (m *maker) afterwards(at time.Time) {
	if len(m.kept) == 0 {
		return
	}
	s := m.kept[len(m.kept)-1]
	if !s.gone && !s.cleared && m.days%3 == 0 {
		m.event(m.adult(), at, "dipped", "specimen/"+s.id, map[string]any{"how": "fresh water, one minute", "planned": true})
	}
	m.evening(at.Add(30 * time.Minute))
}

// liveUntil lives through the days at home up to an instant.
func (m *maker) liveUntil(until time.Time) {
	for {
		day := m.from.AddDate(0, 0, m.days).Add(23 * time.Hour) // seven in the evening there
		if day.After(until) {
			return
		}
		m.days++
		m.homeDay(day)
		if left := int(m.until.Sub(day) / (24 * time.Hour)); m.days%150 == 0 || left == 12 {
			m.checkRules(day)
		}
		m.evening(day.Add(time.Hour))
	}
}

func (m *maker) homeDay(day time.Time) {
	for _, s := range m.kept {
		if s.gone || day.Before(s.arrived) {
			continue
		}
		age := int(day.Sub(s.arrived) / (24 * time.Hour))
		of := "specimen/" + s.id
		switch {
		case s.cleared:
			if s.fate == overheats && age == quietDays+60 {
				m.event(m.adult(), day, "died", of, map[string]any{"explained": "A hot week in the long tank."})
				s.gone = true
			} else if age%40 == 0 {
				m.event(m.adult(), day, "trimmed", of, nil)
			}
		case s.fate == dies && age == 5:
			m.event(m.adult(), day, "died", of, map[string]any{"explained": nil})
			s.gone = true
		case s.fate == given && age == 9:
			m.event(m.adult(), day, "gone", of, map[string]any{"how": "given away", "to": "the school on the hill"})
			s.gone = true
		case age > quietDays+3 && s.fate != overruled && s.fate != marked:
			m.event(m.keeper(), day, "cleared", of, map[string]any{"tank": m.tanks["the long tank"]})
			s.cleared = true
		case age > quietDays+9 && s.fate == marked:
			m.event(m.keeper(), day, "cleared", of, map[string]any{"tank": m.tanks["the long tank"]})
			s.cleared = true
		case age > quietDays+9:
			m.event(m.keeper(), day, "overruled", of, map[string]any{"what": "cleared after a sign", "reason": "The mark was a scrape from the bucket."})
			m.event(m.keeper(), day.Add(time.Minute), "cleared", of, map[string]any{"tank": m.tanks["the long tank"]})
			s.cleared = true
		default:
			m.checkOn(s, of, age, day)
		}
	}
	m.tend(day)
}

// checkOn is one day of quarantine. Anyone looks; an adult confirms that it was quiet.
func (m *maker) checkOn(s *specimen, of string, age int, day time.Time) {
	if m.chance(6) {
		return // nobody looked
	}
	d := m.devices[m.IntN(len(m.devices))]
	signs := []string{}
	if (s.fate == marked || s.fate == overruled) && age >= 6 && !s.seen {
		s.seen = true
		signs = []string{"a pale patch at the edge"}
		sign := m.event(d, day, "sign", of, map[string]any{"what": signs[0], "grade": "watch"})
		if s.fate == marked {
			m.event(m.keeper(), day.Add(20*time.Minute), "settled", of, map[string]any{"sign": sign, "how": "Looked at under the lens: a scrape."})
		}
	}
	m.event(d, day.Add(time.Minute), "checked", of, map[string]any{"signs": signs})
	if len(signs) == 0 {
		m.event(m.adult(), day.Add(30*time.Minute), "confirmed", of, map[string]any{"day": day.Format(time.DateOnly)})
	}
}

// tend looks after the tanks: a reading every few days, fresh water every second week.
func (m *maker) tend(day time.Time) {
	d := m.devices[m.IntN(len(m.devices))]
	display, water := m.tanks["the long tank"], "system/"+m.systems["display water"]
	if m.days%4 == 0 {
		m.add(d, day, "reading", map[string]any{
			"sample":   map[string]any{"at": instant(day), "of": "tank/" + display, "by": d.member.id},
			"salinity": map[string]any{"value": round(31.5+m.NormFloat64()*0.4, 1), "instrument": "conductivity", "scale": "PSS-78", "sampleC": round(12+m.NormFloat64(), 1)},
			"pH":       map[string]any{"value": round(8.05+m.NormFloat64()*0.05, 2), "scale": "NBS"}, "temperatureC": round(12+m.NormFloat64(), 1),
			"ammoniaMgNL": round(0.02*m.Float64(), 3), "nitriteMgNL": round(0.01*m.Float64(), 3), "nitrateMgNL": round(4+2*m.Float64(), 1),
		})
		m.event(d, day.Add(2*time.Minute), "fed", "tank/"+display, map[string]any{"what": "a pinch of ground weed"})
	}
	if m.days%14 == 0 {
		m.event(m.adult(), day, "waterChanged", water, map[string]any{"litres": 20, "from": "stored"})
	}
	if m.days%90 == 45 {
		m.event(m.adult(), day, "treated", "tank/"+m.tanks["cold shelf"], map[string]any{"how": "wiped and rinsed between two lots", "planned": true})
	}
}

// farewell ends the year: Isla clears her snail herself, which a child may not.
func (m *maker) farewell() {
	at := m.until.Add(-time.Hour)
	for _, s := range m.kept {
		if !s.gone {
			m.event(m.devices[2], at, "cleared", "specimen/"+s.id, map[string]any{"tank": m.tanks["the long tank"]})
			break
		}
	}
	m.evening(at.Add(time.Minute))
}
