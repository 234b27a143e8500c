package book

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"
)

// What fields say of each other. Every function sees only fields that are right alone.

func together(kind string, r record) []Flag {
	switch kind {
	case "shore":
		return shoreTogether(r)
	case "outing":
		return outingTogether(r)
	case "find":
		return findTogether(r)
	case "specimen":
		return specimenTogether(r)
	case "tank":
		return tankTogether(r)
	case "reading":
		return readingTogether(r)
	case "event":
		return eventTogether(r)
	}
	return nil
}

func shoreTogether(r record) []Flag {
	below, ok := r.part("basis", "below").(float64)
	wayOff, ok2 := r.part("basis", "wayOff").(float64)
	if ok && ok2 && wayOff < below && r["cutOff"] == true {
		return []Flag{{"basis.wayOff", Together, "The way back is cut below the height at which the shore lies bare. See whether the two heights are the right way round."}}
	}
	return nil
}

func outingTogether(r record) []Flag {
	var flags []Flag
	if from, to := at(r.part("planned", "from")), at(r.part("planned", "to")); !from.IsZero() && !to.After(from) {
		flags = append(flags, Flag{"planned.to", Together, "The planned window ends before it begins. Plan it again."})
	}
	started, ended := at(r.part("started", "at")), at(r.part("ended", "at"))
	if !ended.IsZero() && ended.Before(started) {
		flags = append(flags, Flag{"ended.at", Together, "The outing ends before it starts. Set the time of one of them."})
	}
	if due := at(r.part("ashore", "dueBack")); !due.IsZero() && due.Before(at(r.part("planned", "to"))) {
		flags = append(flags, Flag{"ashore.dueBack", Together, "The party is due back before the planned window ends. Tell those ashore a later time."})
	}
	party := r.elements("party")
	adults := 0
	for _, person := range party {
		if r.part("party/"+person, "as") == "adult" {
			adults++
		}
	}
	if len(party) > 0 && adults == 0 {
		flags = append(flags, Flag{"party", Together, "No adult is in the party. Children do not go alone."})
	}
	for _, count := range r.elements("heads") {
		if n, _ := r.part("heads/"+count, "count").(float64); len(party) > 0 && int(n) != len(party) {
			flags = append(flags, Flag{"heads/" + count + ".count", Together, fmt.Sprintf("%v were counted and %d are in the party.", n, len(party))})
		}
	}
	return flags
}

func findTogether(r record) []Flag {
	var flags []Flag
	if flag, ok := wholeCount("amount", r["amount"]); !ok {
		flags = append(flags, flag)
	}
	if back, _ := r["putBack"].(map[string]any); back != nil {
		if r.text("fate") != "taken" {
			flags = append(flags, Flag{"putBack", Together, "It was put back and is not noted as taken."})
		}
		if t := at(back["at"]); t.Before(at(r["at"])) {
			flags = append(flags, Flag{"putBack.at", Together, "It was put back before it was found. Set the time of one of them."})
		}
		all, _ := r["amount"].(map[string]any)
		part, _ := back["amount"].(map[string]any)
		if part != nil && all != nil && (part["unit"] != all["unit"] || number64(part["value"]) > number64(all["value"])) {
			flags = append(flags, Flag{"putBack.amount", Together, "More was put back than was found, or in another unit."})
		}
	}
	return append(flags, taxonAndGroup(r)...)
}

func specimenTogether(r record) []Flag {
	flags := taxonAndGroup(r)
	if flag, ok := wholeCount("amount", r["amount"]); !ok {
		flags = append(flags, flag)
	}
	if r["find"] == nil && r.text("source") == "" && r["lot"] == nil {
		flags = append(flags, Flag{"find", Missing, "Nothing says where it comes from: name the find, the lot or the source."})
	}
	return flags
}

// taxonAndGroup flags a kind on our list whose group is another. Any kind may be met as an
// empty shell or growing on a pebble.
func taxonAndGroup(r record) []Flag {
	t, ok := TaxonNamed(r.text("taxon"))
	switch group := r.text("group"); {
	case !ok, group == "", group == Unsure, group == t.Group, group == "shells", group == "rock":
		return nil
	default:
		return []Flag{{"group", Together, fmt.Sprintf("%s belongs to the group %s and the record says %s.", t.Name, t.Group, group)}}
	}
}

// tankTogether flags bounds that are the wrong way round.
func tankTogether(r record) []Flag {
	var flags []Flag
	flag := func(low, high any, piece string) {
		if a, ok := low.(float64); ok && a > number64(high) {
			flags = append(flags, Flag{piece, Together, "The lower bound lies above the upper one. Set one of them."})
		}
	}
	flag(r.part("keeps", "salinityLow"), r.part("keeps", "salinityHigh"), "keeps.salinityLow")
	flag(r.part("keeps", "lowC"), r.part("keeps", "highC"), "keeps.lowC")
	targets, _ := r["targets"].(map[string]any)
	for _, name := range slices.Sorted(maps.Keys(targets)) {
		if target, ok := targets[name].(map[string]any); ok {
			flag(target["low"], target["high"], "targets."+name+".low")
		}
	}
	return flags
}

func readingTogether(r record) []Flag {
	scale, _ := r.part("salinity", "scale").(string)
	value, ok := r.part("salinity", "value").(float64)
	if !ok {
		return nil
	}
	// Sea water and what is mixed with it: 0 to 42 on the practical scale, which is 0.99
	// to 1.04 as a specific gravity and 0 to about 100 mS/cm in warm water.
	least, most := 0.0, 42.0
	switch {
	case strings.HasPrefix(scale, "SG"):
		least, most = 0.99, 1.04
	case scale == "mS/cm":
		most = 100
	}
	if value < least || value > most {
		return []Flag{{"salinity.value", Together, fmt.Sprintf("%v on the scale %s is no salinity of sea water; it reads from %v to %v.", value, scale, least, most)}}
	}
	return nil
}

// eventTogether holds an event to one act.
func eventTogether(r record) []Flag {
	var found []string
	event, _ := kindNamed("event")
	for _, f := range event.Fields {
		if f.Type == Object && r[f.Name] != nil {
			found = append(found, f.Name)
		}
	}
	switch len(found) {
	case 1:
		return nil
	case 0:
		return []Flag{{"", Missing, "The event does not say what happened."}}
	}
	return []Flag{{found[1], Together, "One event says that several things happened: " + strings.Join(found, ", ") + ". Each is an event of its own."}}
}

func wholeCount(name string, x any) (Flag, bool) {
	m, _ := x.(map[string]any)
	n := number64(m["value"])
	if m["unit"] == "count" && n != math.Trunc(n) {
		return Flag{name + ".value", Together, "A count is a whole number."}, false
	}
	return Flag{}, true
}

func number64(x any) float64 {
	n, _ := x.(float64)
	return n
}

// at reads an instant that was found right; the zero time for none.
func at(x any) time.Time {
	s, _ := x.(string)
	t, _ := time.Parse(time.RFC3339, s)
	return t
}
