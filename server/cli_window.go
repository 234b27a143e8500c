package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"time"

	"wrackbook/internal/zone"
)

// windowsCommand prints the low-tide windows of a shore, best first.
func windowsCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	q := newQuestion("windows", "-station ID -from T -to T -below METRES -light sun|civil|any [more flags] [-json]",
		"Low-tide windows of a shore, best first: when it is bare and lit, when to start back and when to be off the rocks. "+
			"Predictions are astronomical; weather moves the water too. "+aboutTimes, stdout, stderr)
	f := q.flags
	station := f.String("station", "", "id of a station; see wrackbook stations")
	w := q.when()
	below := q.number("below", "workable height: the shore lies bare below it, metres above chart datum")
	wayOff := q.number("way-off", "height at which the way back is cut, metres; if unknown the party starts back at low water")
	cutOff := f.Bool("cut-off", false, "the shore can be cut off: the party starts back at low water")
	margin := f.Duration("margin", 20*time.Minute, "kept between being off and the way back being cut")
	walkOut := f.Duration("walk-out", 15*time.Minute, "what the slowest child needs to walk out")
	travel := f.Duration("travel", 0, "from home to the workable shore, the walk in included")
	raise := q.number("raise", "how far above prediction the second reckoning has the sea, metres (0.2 unless given)")
	pressure := q.number("pressure", "air pressure at sea level, hPa; below 1013 it shortens a window")
	light := f.String("light", "sun", "sun (sunrise to sunset), civil (civil twilight) or any")
	least := f.Duration("least", 0, "the shortest usable time worth a trip")
	days := f.String("days", "", "weekdays wanted, such as sat,sun (all unless given)")
	lat := q.number("lat", "latitude of the shore, degrees north (the station's unless given)")
	lon := q.number("lon", "longitude of the shore, degrees east (the station's unless given)")
	if code, ok := q.parse(args); !ok {
		return code
	}
	from, to, err := w.span()
	if err != nil {
		return q.fail(err)
	}
	shore := map[string]any{
		"station": *station, "cutOff": *cutOff, "zone": *w.zone,
		"margin": margin.Minutes(), "walkOut": walkOut.Minutes(), "travel": travel.Minutes(),
	}
	below.put(shore, "below")
	wayOff.put(shore, "wayOff")
	raise.put(shore, "raise")
	lat.put(shore, "lat")
	lon.put(shore, "lon")
	request := map[string]any{"shore": shore, "from": from, "to": to, "light": *light, "least": least.Minutes()}
	pressure.put(request, "pressure")
	if *days != "" {
		request["days"] = strings.Split(*days, ",")
	}
	var answer struct {
		Zone    string            `json:"zone"`
		Windows []json.RawMessage `json:"windows"`
		None    *struct {
			Text string     `json:"text"`
			Next *windowRow `json:"next"`
		} `json:"none"`
		Cautions []struct {
			Text string `json:"text"`
		} `json:"cautions"`
	}
	if code, ok := q.ask("windows", request, &answer); !ok {
		return code
	}
	if answer.None != nil {
		fmt.Fprintln(stderr, answer.None.Text)
	}
	if *q.json {
		return q.print(answer.Windows)
	}
	for _, c := range answer.Cautions {
		fmt.Fprintln(stderr, c.Text)
	}
	at, err := zone.Load(answer.Zone)
	if err != nil {
		return q.fail(err)
	}
	rows := [][]string{{"day of the low", "usable (" + answer.Zone + ")", "minutes", "start back", "off by", "low water", "sea raised"}}
	for _, raw := range answer.Windows {
		var r windowRow
		if err := json.Unmarshal(raw, &r); err != nil {
			return q.fail(err)
		}
		rows = append(rows, r.columns(at))
	}
	if len(rows) == 1 {
		return exitOK
	}
	return q.table(rows)
}

// windowRow is what the table shows of a window.
type windowRow struct {
	Day           string    `json:"day"`
	Low           waterLine `json:"low"`
	UsableFrom    time.Time `json:"usableFrom"`
	UsableTo      time.Time `json:"usableTo"`
	UsableMinutes int       `json:"usableMinutes"`
	StartBack     time.Time `json:"startBack"`
	OffBy         time.Time `json:"offBy"`
	Raised        *struct {
		UsableMinutes int `json:"usableMinutes"`
	} `json:"raised"`
}

func (r *windowRow) columns(at *time.Location) []string {
	const clock = "15:04"
	day := r.Day
	if d, err := time.Parse(time.DateOnly, r.Day); err == nil {
		day = d.Format("Mon 2 Jan 2006")
	}
	raised := "no window"
	if r.Raised != nil {
		raised = fmt.Sprintf("%d min", r.Raised.UsableMinutes)
	}
	return []string{day, local(r.UsableFrom, at, clock) + "–" + local(r.UsableTo, at, clock), fmt.Sprint(r.UsableMinutes),
		local(r.StartBack, at, clock), local(r.OffBy, at, clock), metres(r.Low.Height) + " at " + local(r.Low.Time, at, clock), raised}
}
