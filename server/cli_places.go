package main

import (
	"encoding/json"
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"
	"time"

	"wrackbook/internal/fault"
)

// stationsCommand searches the catalogue.
func stationsCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	q := newQuestion("stations", "-find TEXT | -near LAT,LON [-limit n] [-json]",
		"Tide stations by name, or nearest to a place, with distance and bearing.", stdout, stderr)
	find := q.flags.String("find", "", "beginning of a name, or words of it")
	near := q.flags.String("near", "", "latitude and longitude in degrees, such as 37.8,-122.5")
	limit := q.flags.Int("limit", 20, "how many at most")
	if code, ok := q.parse(args); !ok {
		return code
	}
	request := map[string]any{"limit": *limit}
	if *find != "" {
		request["find"] = *find
	}
	if *near != "" {
		lat, lon, err := latLon(*near)
		if err != nil {
			return q.fail(err)
		}
		request["near"] = map[string]float64{"lat": lat, "lon": lon}
	}
	var answer struct {
		Stations []json.RawMessage `json:"stations"`
	}
	if code, ok := q.ask("stations", request, &answer); !ok {
		return code
	}
	if *q.json {
		return q.print(answer.Stations)
	}
	var rows [][]string
	for _, raw := range answer.Stations {
		var s struct {
			ID, Name, Place, Datum, Kind string
			DistanceKm, BearingDeg       *float64
		}
		if err := json.Unmarshal(raw, &s); err != nil {
			return q.fail(err)
		}
		away := ""
		if s.DistanceKm != nil && s.BearingDeg != nil {
			away = fmt.Sprintf("%.1f km, bearing %03.0f°", *s.DistanceKm, *s.BearingDeg)
		}
		rows = append(rows, []string{s.ID, s.Name, s.Place, s.Datum, s.Kind, away})
	}
	if len(rows) == 0 {
		fmt.Fprintln(stderr, "No station has that name. Try fewer letters, or -near with a position.")
	}
	return q.table(rows)
}

func latLon(text string) (lat, lon float64, err error) {
	a, b, ok := strings.Cut(text, ",")
	if ok {
		lat, err = strconv.ParseFloat(strings.TrimSpace(a), 64)
		if err == nil {
			lon, err = strconv.ParseFloat(strings.TrimSpace(b), 64)
		}
	}
	if !ok || err != nil || lat != lat || lon != lon || lat < -90 || lat > 90 || lon < -180 || lon > 180 {
		return 0, 0, fault.New(fault.BadInput, "near",
			"%.40q is not a place. Give latitude (-90 to 90) and longitude (-180 to 180) in degrees, such as 37.8,-122.5.", text)
	}
	return lat, lon, nil
}

// skyCommand prints what sun and moon do over a place.
func skyCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	q := newQuestion("sky", "-lat DEG -lon DEG -from T -to T [-zone Z] [-json]",
		"Sun, twilight and moon over a place. "+aboutTimes, stdout, stderr)
	lat := q.number("lat", "latitude, degrees north")
	lon := q.number("lon", "longitude, degrees east")
	w := q.when()
	if code, ok := q.parse(args); !ok {
		return code
	}
	from, to, err := w.span()
	if err != nil {
		return q.fail(err)
	}
	request := map[string]any{"from": from, "to": to}
	lat.put(request, "lat")
	lon.put(request, "lon")
	var raw json.RawMessage
	if code, ok := q.ask("sky", request, &raw); !ok {
		return code
	}
	if *q.json {
		return q.print(raw)
	}
	at, err := w.location()
	if err != nil {
		return q.fail(err)
	}
	type event struct {
		Time       time.Time
		Kind       string
		DistanceKm float64
	}
	var answer struct {
		Events, Phases, Apsides []event
		Lit                     []struct{ FromEdge, ToEdge bool }
		Moon                    struct{ Illuminated, Declination float64 }
	}
	if err := json.Unmarshal(raw, &answer); err != nil {
		return q.fail(err)
	}
	all := answer.Events
	for _, p := range answer.Phases {
		p.Kind = map[string]string{"new": "new moon", "full": "full moon"}[p.Kind] + map[string]string{"first_quarter": "first quarter", "last_quarter": "last quarter"}[p.Kind]
		all = append(all, p)
	}
	for _, a := range answer.Apsides {
		a.Kind = fmt.Sprintf("%s, %.0f km", a.Kind, a.DistanceKm)
		all = append(all, a)
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].Time.Before(all[j].Time) })
	rows := make([][]string, len(all))
	for i, e := range all {
		rows[i] = []string{local(e.Time, at, "2006-01-02 Mon 15:04 MST"), strings.ReplaceAll(e.Kind, "_", " ")}
	}
	switch {
	case len(answer.Lit) == 0:
		rows = append(rows, []string{"throughout", "the sun stays below the horizon"})
	case len(answer.Lit) == 1 && answer.Lit[0].FromEdge && answer.Lit[0].ToEdge:
		rows = append(rows, []string{"throughout", "the sun stays above the horizon"})
	}
	rows = append(rows, []string{"at the beginning", fmt.Sprintf("moon %.0f%% lit, declination %+.1f°",
		answer.Moon.Illuminated*100, answer.Moon.Declination)})
	return q.table(rows)
}
