package invented

import "time"

// placed is one lot of the last weeks, so that the shelf shows every state of a quarantine on
// the day on which the household is looked at.
type placed struct {
	tank, name, taxon, group, base string
	grams                          float64
	count                          int
	ago                            int                              // days since it arrived
	misses                         func(ago int) bool               // days on which nobody looked
	by                             int                              // the device that looks; 0 is the keeper's
	acts                           map[int]func(*placement, *maker) // by how many days ago
}

// placement is a placed lot with its record on one evening.
type placement struct {
	*placed
	id, of, tankOf string
	day            time.Time
}

// act writes an act about the lot in the course of the evening.
func (p *placement) act(m *maker, after time.Duration, what string, more map[string]any) string {
	return m.event(m.keeper(), p.day.Add(after), what, p.of, more)
}

func night(p *placement, m *maker) {
	p.act(m, 2*time.Hour, "checked", map[string]any{"signs": []string{}, "night": true})
}

// shelf is what stands on the shelf and in the back room.
var shelf = []*placed{
	{tank: "Jar 1", name: "sea lettuce, new", taxon: "Ulva lactuca", group: "greens", base: "cut", grams: 15, ago: 1},
	{tank: "Jar 2", name: "dulse on a pebble", taxon: "Palmaria palmata", group: "reds", base: "stone", grams: 22, ago: 9, acts: map[int]func(*placement, *maker){1: night}},
	{tank: "Jar 3", name: "Irish moss", taxon: "Chondrus crispus", group: "reds", base: "holdfast", grams: 40, ago: 13, acts: map[int]func(*placement, *maker){
		5: night, 7: func(p *placement, m *maker) {
			p.act(m, time.Hour, "died", map[string]any{"explained": "One frond dried out on the rim.", "percent": 20})
		}}},
	{tank: "Jar 4", name: "Irish moss, cut", taxon: "Chondrus crispus", group: "reds", base: "cut", grams: 30, ago: 32},
	{tank: "Jar 5", name: "laver", taxon: "Porphyra umbilicalis", group: "reds", base: "stone", grams: 12, ago: 31, acts: map[int]func(*placement, *maker){9: night}},
	{tank: "Jar 6", name: "coral weed", taxon: "Corallina officinalis", group: "calcareous", base: "stone", grams: 18, ago: 16, acts: map[int]func(*placement, *maker){2: func(p *placement, m *maker) {
		p.act(m, time.Hour, "sign", map[string]any{"what": "bleaching at the tips", "kind": "bleaching", "grade": "watch"})
	}}},
	{tank: "Jar 7", name: "bladder wrack", taxon: "Fucus vesiculosus", group: "browns", base: "cut", grams: 60, ago: 15, misses: func(ago int) bool { return ago < 4 }},
	{tank: "Jar 8", name: "sea lettuce from the pool", taxon: "Ulva lactuca", group: "greens", base: "stone", grams: 25, ago: 18, acts: map[int]func(*placement, *maker){6: func(p *placement, m *maker) {
		sign := p.act(m, time.Hour, "sign", map[string]any{"what": "a glass anemone", "kind": "glassAnemone", "grade": "pest"})
		m.event(m.keeper(), p.day.Add(26*time.Hour), "settled", p.of, map[string]any{"sign": sign, "how": "Scraped off with its pebble, which was boiled."})
	}}},
	{tank: "Jar 9", name: "periwinkles", taxon: "Littorina littorea", group: "snails", count: 5, ago: 20, acts: map[int]func(*placement, *maker){3: func(p *placement, m *maker) {
		p.act(m, time.Hour, "died", map[string]any{"explained": nil, "suspected": "It had hung loose for two days.", "amount": map[string]any{"value": 1, "unit": "count"}})
	}}},
	{tank: "Jar 10", name: "Finn’s periwinkle", taxon: "Littorina saxatilis", group: "snails", count: 1, ago: 12, by: 3},
	{tank: "Jar 11", name: "moss of the ledge", taxon: "Chondrus crispus", group: "reds", base: "cut", grams: 80, ago: 60, acts: map[int]func(*placement, *maker){
		20: func(p *placement, m *maker) { m.event(m.keeper(), p.day.Add(time.Hour), "graduated", p.tankOf, nil) },
		6: func(p *placement, m *maker) {
			piece := m.add(m.keeper(), p.day.Add(time.Hour), "specimen", map[string]any{"name": "moss for the class", "taxon": p.taxon, "group": p.group, "base": "cut", "lot": p.id, "origin": "homeGrown", "amount": amountOf(10, 0)})
			p.act(m, time.Hour, "parted", map[string]any{"into": piece})
			m.event(m.keeper(), p.day.Add(90*time.Minute), "gone", "specimen/"+piece, map[string]any{"how": "given away", "to": "Ms Okonjo’s class, the school on the hill"})
		}}},
	{tank: "Jar 12", name: "drift from the cove", taxon: "unsure", group: "reds", base: "cut", grams: 8, ago: 5, acts: map[int]func(*placement, *maker){1: func(p *placement, m *maker) {
		p.act(m, time.Hour, "sign", map[string]any{"what": "it may be a listed red weed", "kind": "listed", "grade": "notify"})
	}}},
	{tank: "back room 1", name: "sand shrimps", taxon: "Crangon septemspinosa", group: "shrimps", count: 4, ago: 22},
	{tank: "back room 2", name: "hermits", taxon: "Pagurus longicarpus", group: "hermits", count: 3, ago: 9},
	{tank: "back room 3", name: "dog whelks", taxon: "Nucella lapillus", group: "snails", count: 2, ago: 9},
}

func amountOf(grams float64, count int) map[string]any {
	if count > 0 {
		return map[string]any{"value": count, "unit": "count"}
	}
	return map[string]any{"value": grams, "unit": "g"}
}

// shelfDay is one evening of the last weeks at the shelf.
func (m *maker) shelfDay(day time.Time) {
	ago := int(m.until.Sub(day.Truncate(24*time.Hour)) / (24 * time.Hour))
	for i, p := range shelf {
		if ago > p.ago {
			continue
		}
		at := placement{placed: p, day: day.Add(time.Duration(i) * time.Minute), tankOf: "tank/" + m.tanks[p.tank]}
		if ago == p.ago {
			fields := map[string]any{"name": p.name, "taxon": p.taxon, "group": p.group, "source": "the cove below the house, a swap with the neighbours", "amount": amountOf(p.grams, p.count), "origin": "wild"}
			if p.base != "" {
				fields["base"] = p.base
			}
			id := m.add(m.keeper(), at.day, "specimen", fields)
			m.placed[i] = id
			m.event(m.keeper(), at.day, "arrived", "specimen/"+id, map[string]any{"tank": m.tanks[p.tank]})
			continue
		}
		at.id, at.of = m.placed[i], "specimen/"+m.placed[i]
		if p.misses == nil || !p.misses(ago) {
			m.event(m.devices[p.by], at.day.Add(5*time.Minute), "checked", at.tankOf, map[string]any{"signs": []string{}})
		}
		if act := p.acts[ago]; act != nil {
			act(&at, m)
		}
		if p.by > 0 && ago > 3 {
			m.event(m.keeper(), at.day.Add(30*time.Minute), "confirmed", at.tankOf, map[string]any{"day": day.Format(time.DateOnly)})
		}
	}
	for n := range jars {
		of := "tank/" + m.tanks[jarName(n)]
		if ago <= 60 && (ago+n)%14 == 1 && (n%5 != 0 || ago > 16) {
			m.event(m.adult(), day.Add(40*time.Minute), "waterChanged", of, map[string]any{"litres": 1, "from": "clean"})
		}
		if ago <= 60 && ago%3 == 1 && (n != 2 || ago > 6) {
			m.event(m.devices[2], day.Add(45*time.Minute), "toppedUp", of, map[string]any{"litres": nil})
		}
		if ago <= 60 && ago%7 == 2 {
			m.add(m.keeper(), day.Add(50*time.Minute), "reading", map[string]any{
				"sample":       map[string]any{"at": instant(day.Add(50 * time.Minute)), "of": of, "by": m.keeper().member.id},
				"salinity":     map[string]any{"value": round(1.0235+float64((ago+n)%4)*0.0005, 4), "instrument": "refractometer", "scale": "SG 20/20", "sampleC": nil},
				"temperatureC": round(11+float64((ago+n)%5)*0.4, 1)})
		}
	}
}
