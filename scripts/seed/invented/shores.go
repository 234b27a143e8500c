package invented

import (
	"encoding/json"
	"fmt"
	"slices"
	"time"
)

// shore is one of the household's, as it writes it and as the core is asked about it.
type shore struct {
	id, station   string
	lat, lon      float64
	below, wayOff float64
	cutOff        bool
	walkOut       int
	travel        int
}

// places are shores of no map, near real stations of the catalogue.
var places = []struct {
	name, station   string
	north, east     float64 // degrees from the station
	below, wayOff   float64
	cutOff          bool
	walkOut, travel int
	escape, wayIn   string
	marker          string
	markerM         float64
}{
	{"Gannet Ledge", "noaa/8413320", 0.021, -0.034, 0.2, 1.2, true, 15, 35,
		"Up the gully behind the split boulder; it stays dry at any tide.", "From the lay-by down the steps, then left along the wrack line.", "the split boulder", 1.0},
	{"Kelp Stair", "noaa/8411060", -0.012, -0.027, 0.4, 1.9, false, 10, 70,
		"Straight up the grass anywhere along the shore.", "Park by the old boat shed; the path is muddy after rain.", "", 0},
	{"Old Mill Pools", "noaa/8418150", 0.034, 0.019, 0.1, 0.9, true, 20, 25,
		"Over the causeway until it floods; after that the mill wall has a ladder at its north end.", "Across the causeway, which floods last on the way out.", "the third causeway post", 0.8},
}

// findShores writes the shores with what the catalogue says of their stations.
func (m *maker) findShores() error {
	at := m.from.Add(22 * time.Hour)
	for i, p := range places {
		var s struct {
			Name, Place, Country, Datum, Source, Release, Zone string
			Lat, Lon                                           float64
		}
		if err := m.ask("station", map[string]any{"station": p.station}, at, &s); err != nil {
			return err
		}
		sh := shore{m.id(at), p.station, s.Lat + p.north, s.Lon + p.east, p.below, p.wayOff, p.cutOff, p.walkOut, p.travel}
		fields := map[string]any{
			"name": p.name,
			"basis": map[string]any{"station": p.station, "stationName": s.Name, "place": s.Place, "source": s.Source, "datum": s.Datum, "release": s.Release,
				"differences": nil, "below": p.below, "wayOff": p.wayOff},
			"place":  map[string]any{"lat": round(sh.lat, 5), "lon": round(sh.lon, 5), "zone": s.Zone, "distanceKm": round(3+float64(i)/3, 1)},
			"cutOff": p.cutOff, "margin": 20, "walkOut": p.walkOut, "travel": p.travel,
			"escape": p.escape, "wayIn": p.wayIn, "wayOut": "The same way.", "swellLimit": 1.5, "night": []string{"allowed", "forbidden"}[i%2], "marker": nil,
		}
		if p.marker != "" {
			fields["marker"] = map[string]any{"what": p.marker, "heightM": p.markerM}
		}
		m.set(m.keeper(), at, "shore", sh.id, fields)
		m.shores = append(m.shores, sh)
	}
	// Both adults change the way of escape on the same day, neither knowing of the other.
	later := at.AddDate(0, 0, 20)
	m.evening(at.Add(time.Hour))
	m.set(m.devices[1], later, "shore", m.shores[0].id, map[string]any{"escape": "Up the gully behind the split boulder. It stays dry at any tide; the ledge before it does not."})
	m.set(m.devices[0], later.Add(2*time.Hour), "shore", m.shores[0].id, map[string]any{"escape": "Up the gully behind the split boulder, hands free, children first."})
	return nil
}

// trip is one outing with its window.
type trip struct {
	shore                    *shore
	from, to, startBack, off time.Time
	lowM                     float64
}

// planTrips chooses about two windows a month in turn over the shores, as the core reckons
// them: the best of each fortnight.
func (m *maker) planTrips() ([]trip, error) {
	var trips []trip
	for n := range 26 {
		from := m.from.AddDate(0, 0, 1+14*n)
		s := &m.shores[n%len(m.shores)]
		var answer struct {
			Windows []struct {
				Low struct {
					Height float64 `json:"height"`
				} `json:"low"`
				UsableFrom, UsableTo, StartBack, OffBy time.Time
				UsableMinutes                          int
			}
		}
		to := from.AddDate(0, 0, 14)
		if to.After(m.until) {
			to = m.until
		}
		if !to.After(from) {
			break
		}
		err := m.ask("windows", map[string]any{"from": instant(from), "to": instant(to), "light": "sun", "least": 40, "shore": map[string]any{
			"station": s.station, "below": s.below, "wayOff": s.wayOff, "cutOff": s.cutOff, "walkOut": s.walkOut, "travel": s.travel, "lat": s.lat, "lon": s.lon}}, from, &answer)
		if err != nil {
			return nil, err
		}
		if len(answer.Windows) == 0 {
			continue // a fortnight of neaps, or of low waters at night
		}
		w := answer.Windows[0]
		trips = append(trips, trip{s, w.UsableFrom, w.UsableTo, w.StartBack, w.OffBy, w.Low.Height})
	}
	if len(trips) == 0 {
		return nil, fmt.Errorf("no window in a whole year at any of %d shores", len(m.shores))
	}
	slices.SortFunc(trips, func(a, b trip) int { return a.from.Compare(b.from) })
	return trips, nil
}

// ask asks the core as the app does.
func (m *maker) ask(call string, request any, now time.Time, answer any) error {
	body, err := json.Marshal(request)
	if err != nil {
		return err
	}
	data, err := m.core.Call(call, body, now)
	if err != nil {
		return fmt.Errorf("%s: %w", call, err)
	}
	return json.Unmarshal(data, answer)
}
