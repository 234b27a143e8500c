package invented

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"time"

	"wrackbook/internal/book"
)

// found is what later days remember of a find.
type found struct {
	id, taxon, group string
	by               *device
	photos           []string
	amount           map[string]any
}

// local are the kinds of the starting list that live in those waters; those that some law
// controls or that hurt are left alone.
var local = slices.DeleteFunc(slices.Clone(book.Taxa()), func(t book.Taxon) bool {
	return t.Controlled || t.Hurts || !slices.Contains(t.Regions, "NWA") && !slices.Contains(t.Invasive, "NWA")
})

// plants are the groups that are weighed; the others are counted.
var plants = map[string]bool{"greens": true, "reds": true, "browns": true, "calcareous": true}

const maxPhotos = 120

// find writes one find of one of the party.
func (m *maker) find(t *trip, outing string, at time.Time, party int) {
	d := m.devices[m.IntN(party)]
	kind := one(m, local)
	plant := plants[kind.Group]
	f := found{id: m.id(at), taxon: kind.Name, group: kind.Group, by: d}
	fields := map[string]any{
		"at": instant(at), "outing": outing, "shore": t.shore.id, "by": d.member.id, "taxon": kind.Name, "group": kind.Group,
		"fate": "seen", "height": one(m, []string{"high", "mid", "low", "low", "pool"}), "position": "noFix", "unfinished": false,
	}
	fields["state"] = "living"
	f.amount = map[string]any{"value": 1 + m.IntN(6), "unit": "count"}
	switch {
	case plant:
		fields["state"] = one(m, []string{"attached", "attached", "drift"})
		f.amount = map[string]any{"value": 5 + 5*m.IntN(30), "unit": "g"}
	case kind.Group == "snails" && m.chance(30):
		fields["state"], fields["group"], f.group = "empty", "shells", "shells"
	}
	fields["amount"] = f.amount
	if m.chance(75) {
		fields["position"] = map[string]any{"lat": round(t.shore.lat+0.002*m.NormFloat64(), 5), "lon": round(t.shore.lon+0.003*m.NormFloat64(), 5), "accuracyM": 4 + m.IntN(20)}
	}
	if m.chance(25) {
		fields["habitat"] = one(m, []string{"under a boulder", "in a crevice", "on the shaded side", "among the holdfasts", "on sand between rocks"})
	}
	if m.chance(15) {
		fields["note"] = one(m, []string{"Let go of at once.", "Dozens more of the same here.", "Smaller than those of last month.", "With eggs: left alone.", "Covered in something pale."})
	}
	if m.chance(20) {
		axis := "length"
		if plant {
			axis = "frond"
		} else if kind.Group == "snails" {
			axis = "shell"
		}
		fields["size"] = map[string]any{"mm": 5 + m.IntN(200), "axis": axis}
	}
	if m.chance(8) { // not known on the shore, and named at home
		fields["taxon"], fields["group"] = book.Unsure, book.Unsure
		fields["candidates"] = []string{kind.Name, one(m, local).Name}
	}
	taken := plant && m.chance(55) || f.group == "shells" || kind.Group == "snails" && m.chance(20)
	if taken {
		fields["fate"], fields["container"] = "taken", word(one(m, []string{"blue bucket", "lidded tub", "mesh bag"}))
		fields["use"], fields["gear"] = []string{"tank"}, []string{one(m, []string{"hand", "hand", "knife"})}
		if m.chance(70) {
			fields["substrate"] = []string{}
		}
		if fields["state"] == "attached" && m.chance(60) {
			part := 0.02 + 0.01*float64(m.IntN(10))
			fields["share"] = map[string]any{"part": round(part, 2), "low": round(part/2, 3), "high": round(part*1.5, 3), "how": "eye"}
		}
		if plant && m.chance(40) {
			fields["mass"] = map[string]any{"g": f.amount["value"], "weighed": one(m, []string{"wet", "drained"})}
		}
		if m.chance(8) {
			back := map[string]any{"at": instant(at.Add(3 * time.Minute)), "by": d.member.id}
			if all, _ := f.amount["value"].(int); all > 1 {
				back["amount"] = map[string]any{"value": all / 2, "unit": f.amount["unit"]}
			}
			fields["putBack"] = back
		}
	}
	if len(m.made.Photos) < maxPhotos && m.chance(16) {
		photo := m.picture(kind.Group)
		m.made.Photos = append(m.made.Photos, photo)
		sum := sha256.Sum256(photo)
		name := hex.EncodeToString(sum[:])
		fields["photos/"+name], fields["scale"] = true, "a thumbnail"
		f.photos = append(f.photos, name)
	}
	m.set(d, at, "find", f.id, fields)
	m.remember(f, taken, at, fields)
}

// remember does what sometimes follows a find.
func (m *maker) remember(f found, taken bool, at time.Time, fields map[string]any) {
	if fields["taxon"] == book.Unsure && m.chance(70) {
		by := m.adult()
		evening := at.Add(9 * time.Hour)
		m.set(by, evening, "find", f.id, map[string]any{"identified/" + m.id(evening): map[string]any{
			"at": instant(evening), "by": by.member.id, "taxon": f.taxon, "group": f.group, "how": "by the books at home"}})
	}
	switch {
	case m.chance(1): // logged by mistake
		m.set(f.by, at.Add(time.Minute), "find", f.id, map[string]any{"deleted": true})
	case !m.conflict && m.devices[0].out != nil && f.by.role == book.Collector: // both adults correct it, neither knowing of the other
		m.conflict = true
		m.set(m.devices[1], at.Add(20*time.Minute), "find", f.id, map[string]any{"note": "Under the overhang, facing north."})
		m.set(m.devices[0], at.Add(25*time.Minute), "find", f.id, map[string]any{"note": "Under the overhang; the light was poor."})
	}
	if taken && fields["taxon"] != book.Unsure && f.group != "shells" && fields["putBack"] == nil {
		m.bringHome(f, at)
	}
}
