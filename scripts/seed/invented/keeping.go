package invented

import (
	"fmt"
	"time"

	"wrackbook/internal/book"
	"wrackbook/internal/settle"
)

// specimen is what came home from a shore and lives in a tank.
type specimen struct {
	id, group string
	stone     bool // a weed on its stone, which is searched by night
	jar       int
	arrived   time.Time // in quarantine
	quiet     int       // days that count
	searched  int
	looked    bool // yesterday
	settled   time.Time
	sign      string // that is open
	cleared   bool   // into the display
	gone      bool
	seen      bool // whether a sign was raised
	fate      fate
}

// fate is what becomes of a specimen; they take turns.
type fate int

const (
	thrives   fate = iota // cleared when its wait is done
	marked                // a sign is raised, and settled
	dies                  // in quarantine, unexplained
	given                 // to somebody else, when its wait is done
	overruled             // cleared by the keeper, with a sign open
	overheats             // dies in the display
	fates
)

const (
	maxKept  = 24
	jars     = 20
	firstJar = 12 // what comes home from a shore lives in those from here on; see shelf.go
)

// furnish writes the tanks, the waters that they share, and how often what is done.
func (m *maker) furnish() {
	at := m.from.Add(23 * time.Hour)
	keeper := m.keeper()
	m.set(keeper, at, "household", book.HouseholdID, map[string]any{
		"home": map[string]any{"zone": homeZone, "climate": "temperate", "region": "NWA"}, "sinkDrain": "sewer", "handling/greens": map[string]any{"days": 30}})
	m.tanks, m.systems = map[string]string{}, map[string]string{}
	for i, name := range []string{"display water", "back room water"} {
		fields := map[string]any{"name": name, "protocol": nil, "order": 30 + i, "every": map[string]any{"waterChangeDays": 14, "readDays": 5, "topUpDays": 4}}
		m.systems[name] = m.add(keeper, at, "system", fields)
	}
	put := func(name, use, system string, litres float64, more map[string]any) {
		fields := map[string]any{"name": name, "use": use, "volumeL": litres, "order": len(m.tanks) + 1,
			"keeps": map[string]any{"salinityLow": 29, "salinityHigh": 34, "lowC": 10, "highC": 16}}
		for field, value := range more {
			fields[field] = value
		}
		m.tanks[name] = m.add(keeper, at, "tank", fields)
		if system != "" {
			m.event(keeper, at.Add(time.Minute), "joined", "tank/"+m.tanks[name], map[string]any{"system": m.systems[system]})
		}
	}
	for n := range jars {
		put(jarName(n), "quarantine", "", 3, map[string]any{"fillLine": map[string]any{"litresPerCm": 0.11, "note": "the blue line"}, "every": map[string]any{"topUpDays": 3, "waterChangeDays": 14}})
	}
	targets := map[string]any{"pH": band(7.9, 8.3), "nitrateMgNL": band(0, 5), "phosphateMgL": band(0, 0.1), "alkalinity": map[string]any{"low": 7, "high": 10, "unit": "dKH"}}
	put("the long tank", "display", "display water", 180, map[string]any{"targets": targets})
	put("the kelp corner", "display", "", 60, map[string]any{"targets": targets, "every": map[string]any{"waterChangeDays": 14, "trimDays": 10, "readDays": 7}})
	for n := range 3 {
		put(fmt.Sprint("back room ", n+1), "quarantine", "back room water", 25, nil)
	}
	put("bucket in the hall", "holding", "", 12, nil)
	m.evening(at.Add(time.Hour))
}

// homeZone is where the house stands.
const homeZone = "America/New_York"

func jarName(n int) string { return fmt.Sprint("Jar ", n+1) }

func band(low, high float64) map[string]any { return map[string]any{"low": low, "high": high} }

// event writes one act.
func (m *maker) event(d *device, at time.Time, act, of string, more map[string]any) string {
	value := map[string]any{"at": instant(at), "of": of, "by": d.member.id}
	for name, v := range more {
		value[name] = v
	}
	return m.add(d, at, "event", map[string]any{act: value})
}

// bringHome makes a specimen of a find, while a jar is free.
func (m *maker) bringHome(f found, at time.Time) {
	t, _ := book.TaxonNamed(f.taxon)
	if len(m.kept) >= maxKept || len(m.kept) > 2*m.trips || len(t.Invasive) > 0 || !m.chance(30) {
		return
	}
	used := map[int]bool{}
	for _, s := range m.kept {
		used[s.jar] = used[s.jar] || !s.gone && !s.cleared
	}
	jar := firstJar
	for ; used[jar]; jar++ {
		if jar == jars-1 {
			return
		}
	}
	d, evening := m.adult(), at.Add(8*time.Hour)
	fields := map[string]any{"name": "", "find": f.id, "taxon": f.taxon, "group": f.group, "amount": f.amount, "origin": "wild"}
	for _, photo := range f.photos {
		fields["photos/"+photo] = true
	}
	s := &specimen{group: f.group, jar: jar, arrived: evening, fate: fate(len(m.kept)) % fates}
	if plants[f.group] {
		s.stone = len(m.kept)%2 == 1
		fields["base"] = map[bool]string{true: "stone", false: "cut"}[s.stone]
	}
	s.id = m.add(d, evening, "specimen", fields)
	m.event(d, evening, "arrived", "specimen/"+s.id, map[string]any{"tank": m.tanks[jarName(jar)]})
	m.kept = append(m.kept, s)
}

// afterwards is the evening at home: what does not belong into any one find.
func (m *maker) afterwards(at time.Time) {
	if len(m.kept) == 0 {
		return
	}
	s := m.kept[len(m.kept)-1]
	if !s.gone && !s.cleared && !at.Before(s.arrived) && plants[s.group] && s.group != "calcareous" {
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
		of := "specimen/" + s.id
		if s.cleared {
			switch age := int(day.Sub(s.settled) / (24 * time.Hour)); {
			case s.fate == overheats && age == 60:
				m.event(m.adult(), day, "died", of, map[string]any{"explained": "A hot week in the long tank."})
				s.gone = true
			case plants[s.group] && age%40 == 39:
				m.event(m.adult(), day, "trimmed", of, nil)
			}
			continue
		}
		m.quarantineDay(s, of, day)
	}
	m.shelfDay(day)
	m.tend(day)
}

// quarantineDay is one day of a jar. Anyone looks; an adult confirms that it was quiet.
func (m *maker) quarantineDay(s *specimen, of string, day time.Time) {
	age := int(day.Sub(s.arrived) / (24 * time.Hour))
	if s.fate == dies && age == 5 {
		m.event(m.adult(), day, "died", of, map[string]any{"explained": nil, "suspected": "It may have been hurt on the way."})
		s.gone = true
		return
	}
	if m.chance(6) && s.looked && age > 0 {
		s.looked = false // nobody looked
		return
	}
	if (s.fate == marked || s.fate == overruled) && age >= 6 && !s.seen {
		s.seen, s.looked = true, false
		s.sign = m.event(m.devices[m.IntN(len(m.devices))], day, "sign", of, map[string]any{"what": "a pale patch at the edge", "kind": "bleaching", "grade": "watch"})
		if s.fate == marked {
			m.settle(s, of, day.Add(20*time.Minute))
		}
		return
	}
	d, more := m.devices[m.IntN(len(m.devices))], map[string]any{"signs": []string{}}
	if s.stone && s.searched < 2 && age >= 8*(s.searched+1) {
		s.searched++
		d, more["night"] = m.adult(), true
	}
	m.event(d, day.Add(time.Minute), "checked", of, more)
	m.event(m.adult(), day.Add(30*time.Minute), "confirmed", of, map[string]any{"day": day.Format(time.DateOnly)})
	s.looked = true
	wait := waitDays(s.group)
	done := s.quiet > wait+1 && (!s.stone || s.searched == 2)
	s.quiet++
	switch {
	case s.fate == given && done:
		m.event(m.adult(), day.Add(time.Hour), "gone", of, map[string]any{"how": "given away", "to": "the school on the hill"})
		s.gone = true
	case s.fate == overruled && s.quiet > wait/2:
		m.event(m.keeper(), day.Add(time.Hour), "overruled", of, map[string]any{"what": "clearance", "reason": "The mark was a scrape from the bucket."})
		m.clear(s, of, day)
		m.settle(s, of, day.Add(2*time.Hour))
	case s.fate != overruled && done:
		m.clear(s, of, day)
	}
}

// waitDays is how long a group waits here.
func waitDays(group string) int {
	days := 56.0
	if g := settle.Defaults().Groups[group]; g != nil {
		days = g.Days.Is
	}
	if group == "greens" {
		days = 30 // the household's own
	}
	return int(days)
}

func (m *maker) settle(s *specimen, of string, at time.Time) {
	m.event(m.keeper(), at, "settled", of, map[string]any{"sign": s.sign, "how": "Looked at under the lens: a scrape."})
}

func (m *maker) clear(s *specimen, of string, day time.Time) {
	m.event(m.keeper(), day.Add(61*time.Minute), "cleared", of, map[string]any{"tank": m.tanks["the long tank"]})
	s.cleared, s.settled = true, day
}

// tend looks after the tanks: a reading every few days, fresh water every second week.
func (m *maker) tend(day time.Time) {
	d := m.devices[m.IntN(len(m.devices))]
	display, water, backRoom := m.tanks["the long tank"], "system/"+m.systems["display water"], "system/"+m.systems["back room water"]
	read := func(of string, salinity, tempC, nitrate float64) {
		m.add(d, day, "reading", map[string]any{
			"sample":   map[string]any{"at": instant(day), "of": of, "by": d.member.id},
			"salinity": map[string]any{"value": round(salinity, 1), "instrument": "conductivity", "scale": "PSS-78", "sampleC": round(tempC, 1)},
			"pH":       map[string]any{"value": round(8.05+m.NormFloat64()*0.05, 2), "scale": "NBS"}, "temperatureC": round(tempC, 1),
			"ammoniaMgNL": round(0.02*m.Float64(), 3), "nitriteMgNL": round(0.01*m.Float64(), 3), "nitrateMgNL": round(nitrate, 1),
			"phosphateMgL": round(0.03+0.04*m.Float64(), 2), "alkalinity": map[string]any{"value": round(8.2+m.NormFloat64()*0.3, 1), "unit": "dKH"},
		})
	}
	if m.days%4 == 0 {
		// A warm summer, and salt that rises until it is topped up.
		summer := max(0, 1-abs(day.YearDay()-215)/60)
		read("tank/"+display, 31.5+m.NormFloat64()*0.3, 12+2.5*summer+m.NormFloat64()*0.4, 4+2*m.Float64())
		m.event(d, day.Add(2*time.Minute), "fed", "tank/"+display, map[string]any{"what": "a pinch of ground weed"})
	}
	if m.days%5 == 0 {
		read("tank/"+m.tanks["the kelp corner"], 30.5+float64(m.days%15)/5+m.NormFloat64()*0.2, 11.5+m.NormFloat64()*0.4, 1+float64(m.days%60)/12)
	}
	if m.days%14 == 0 {
		m.event(m.adult(), day, "waterChanged", water, map[string]any{"litres": 20, "from": "stored"})
		m.event(m.adult(), day, "waterChanged", "tank/"+m.tanks["the kelp corner"], map[string]any{"litres": 8, "from": "clean"})
		m.event(m.keeper(), day, "waterChanged", backRoom, map[string]any{"litres": 10, "from": "clean"})
	}
	// A little late each time, so that something is due at the end.
	ago := int(m.until.Sub(day) / (24 * time.Hour))
	if ago%12 == 11 {
		m.event(m.keeper(), day, "trimmed", "tank/"+m.tanks["the kelp corner"], nil)
	}
	if ago%8 == 7 {
		m.event(m.keeper(), day, "toppedUp", backRoom, map[string]any{"litres": 0.5})
		m.add(m.keeper(), day, "reading", map[string]any{
			"sample":   map[string]any{"at": instant(day), "of": "tank/" + m.tanks["back room 1"], "by": m.keeper().member.id},
			"salinity": map[string]any{"value": 31 + float64(ago%3)/2, "instrument": "conductivity", "scale": "PSS-78", "sampleC": nil}, "temperatureC": 12 + float64(ago%4)/4})
	}
	if m.days%4 == 1 {
		m.event(d, day, "toppedUp", water, map[string]any{"litres": round(1.5+m.Float64(), 1)})
	}
	if m.days%90 == 45 {
		m.event(m.adult(), day, "treated", "tank/"+m.tanks["bucket in the hall"], map[string]any{"how": "wiped and rinsed between two lots", "planned": true})
	}
}

func abs(n int) float64 { return float64(max(n, -n)) }

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
