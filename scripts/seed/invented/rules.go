package invented

import (
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"wrackbook/internal/book"
)

// The rules of the demonstration. The authority, its order and its shore are invented, and so
// is every number: they stand where rules stand, so that each verdict comes up.

// foreshoreOrder holds on every shore: limits that a good morning reaches, sizes, a closed season, a card.
const foreshoreOrder = `{"form": 1, "name": "Quill Bight, gathering by hand", "layer": "regional",
"authority": "the foreshore wardens of Quill Bight", "ask": "207-555-0117, or the board by the slip",
"source": "Foreshore order no. 4 of Quill Bight", "sourceDate": "%s-03-01",
"area": {"place": "the shores of Quill Bight, from the bar to Kelp Stair", "everywhere": true},
"note": "Invented for a demonstration: there is no such place and no such order.",
"rules": {
"seaweed": {"of": {"groups": ["algae"]}, "take": "allowed",
 "limits": [{"most": 300, "unit": "g", "base": "person", "per": "day"}, {"most": 3000, "unit": "g", "base": "household", "per": "days", "days": 30}],
 "use": {"never": ["sale"]}},
"carrageen and dulse": {"of": {"taxa": ["Chondrus crispus", "Palmaria palmata"], "states": ["attached"]}, "season": {"open": [{"from": "05-01", "to": "10-31"}]}},
"knotted weed": {"of": {"taxa": ["Ascophyllum nodosum"], "states": ["attached"]}, "cut": {"leaveMm": 300, "above": "holdfast", "notTorn": true}},
"kelp": {"of": {"taxa": ["Laminaria", "Saccharina"], "states": ["attached"]}, "take": "forbidden", "note": "The beds are to grow back."},
"winkles": {"of": {"taxa": ["Littorina littorea"], "states": ["living"]}, "take": "allowed",
 "limits": [{"most": 6, "unit": "count", "base": "person", "per": "day"}], "sizes": [{"axis": "shell", "leastMm": 15}], "return": "demanded"},
"shellfish": {"of": {"groups": ["molluscs"], "states": ["living"]}, "take": "allowed",
 "limits": [{"most": 12, "unit": "count", "base": "person", "per": "day"}, {"most": 40, "unit": "count", "base": "person", "per": "possession"}],
 "person": {"licence": "gathering card", "above": {"most": 4, "unit": "count", "base": "person", "per": "day"}}, "unless": {"ageUnder": 16}},
"empty shells": {"of": {"all": true, "states": ["empty"]}, "take": "allowed", "limits": [{"most": 6, "unit": "count", "base": "person", "per": "day"}],
 "duties": [{"do": "Look for who lives in it before it goes into a bag."}]},
"by day": {"of": {"all": true}, "hours": {"from": "sunrise", "to": "sunset"}}
}}`

// poolsReserve holds on one of the shores.
const poolsReserve = `{"form": 1, "name": "Old Mill Pools reserve", "layer": "park",
"authority": "the friends of Old Mill", "ask": "207-555-0119, or at the mill door on Saturdays",
"source": "The board at the mill door", "sourceDate": "%s-04-10",
"area": {"place": "the pools and the causeway of Old Mill", "everywhere": true}, "otherwise": "forbidden",
"note": "Invented for a demonstration.",
"rules": {
"drift": {"of": {"groups": ["algae", "shells"], "states": ["drift", "empty"]}, "take": "allowed"},
"birds": {"of": {"all": true}, "season": {"closed": [{"from": "04-15", "to": "07-15"}]}},
"stones": {"of": {"all": true}, "substrate": {"never": ["rock", "gravel"]}, "duties": [{"do": "Put every stone back the way it lay."}]}
}}`

// ourRules are the household's own.
const ourRules = `{"form": 1, "name": "What we keep to", "layer": "household",
"authority": "our household", "ask": "over supper", "source": "the sheet on the fridge", "sourceDate": "%s-01-01",
"area": {"place": "wherever we go", "everywhere": true},
"rules": {
"leave nine of ten": {"of": {"groups": ["algae"], "states": ["attached"]}, "limits": [{"most": 0.1, "unit": "share", "base": "party", "per": "outing"}]},
"holdfast": {"of": {"groups": ["algae"], "states": ["attached"]}, "cut": {"above": "holdfast"}},
"few in care": {"of": {"groups": ["hermits"]}, "limits": [{"most": 8, "unit": "count", "base": "household", "per": "possession"}]},
"rest": {"of": {"all": true}, "rest": 20}
}}`

// rules puts the sets on file, with who may do what.
func (m *maker) rules() {
	at := m.from.Add(23 * time.Hour)
	keeper := m.keeper()
	for i, set := range []struct {
		document string
		shores   []shore
	}{{foreshoreOrder, m.shores}, {poolsReserve, m.shores[2:]}, {ourRules, m.shores}} {
		fields := map[string]any{"document": json.RawMessage(fmt.Sprintf(set.document, m.from.Format("2006"))), "checked": checkedOn(at, keeper)}
		for _, s := range m.shores {
			fields["shores/"+s.id] = slices.Contains(set.shores, s)
		}
		id := m.add(keeper, at.Add(time.Duration(i)*time.Minute), "ruleset", fields)
		m.ruleSets = append(m.ruleSets, id)
	}
	m.set(keeper, at, "household", book.HouseholdID, map[string]any{"staleDays": map[string]any{"closure": 1, "text": 180}})
	for i, born := range []int{-41, -38, -9, -6} {
		fields := map[string]any{"born": m.until.Year() + born}
		if i == 0 {
			fields["licences/"+m.id(at)] = map[string]any{"what": "gathering card", "number": "QB-0142", "until": m.until.AddDate(0, 1, 0).Format(time.DateOnly)}
		}
		m.set(keeper, at, "member", m.members[i].id, fields)
	}
}

// checkRules compares the sets with their sources again.
func (m *maker) checkRules(at time.Time) {
	for _, id := range m.ruleSets {
		m.set(m.keeper(), at, "ruleset", id, map[string]any{"checked": checkedOn(at, m.keeper())})
	}
}

func checkedOn(at time.Time, by *device) map[string]any {
	return map[string]any{"on": at.Format(time.DateOnly), "by": by.member.name}
}
