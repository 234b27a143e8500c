package settle

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"

	"wrackbook/internal/book"
	"wrackbook/internal/fault"
	"wrackbook/internal/zone"
)

// Read reads the records. What is deleted is left out; what cannot be read is noted in
// Unread and keeps anybody from being cleared. The error is a *fault.Error.
func Read(in *Records) (*Book, error) {
	b := &Book{Days: map[string]int{}, Adults: map[string]bool{}, Specimens: map[string]*Specimen{}, Tanks: map[string]*Tank{},
		Systems: map[string]*System{}, names: map[string][]Named{}, events: map[string]int{}, readings: map[string]int{}}
	if err := b.Put(in); err != nil {
		return nil, err
	}
	if b.Zone == nil {
		return nil, fault.New(fault.BadInput, "zone", "Without the time zone of the home its days are not known. Give it, such as \"Europe/Oslo\".")
	}
	if b.namesTooMany() {
		return nil, fault.New(fault.TooLarge, "events", "The events name more than %d tanks, systems or specimens. Leave out those of other years.", maxRecords)
	}
	return b, nil
}

// namesTooMany tells whether the events name more tanks, systems or specimens than are read:
// each that is named is reckoned, on file or not.
func (b *Book) namesTooMany() bool {
	if len(b.Events) <= maxRecords/2 { // of which none names more than two of a kind
		return false
	}
	tanks, systems, specimens := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for i := range b.Events {
		e := &b.Events[i]
		if of := map[string]map[string]bool{"tank": tanks, "system": systems, "specimen": specimens}[e.Of.Kind]; of != nil {
			of[e.Of.ID] = true
		}
		tanks[e.Tank], systems[e.System], specimens[e.Into] = true, true, true
	}
	const none = 1 // "" is among them
	return max(len(tanks), len(systems), len(specimens)) > maxRecords+none
}

// Put takes in records that are new, changed or deleted, each whole, and forgets those named
// in Removed. On an error, which is a *fault.Error, nothing was changed.
func (b *Book) Put(in *Records) error {
	for _, list := range [][]json.RawMessage{in.Members, in.Specimens, in.Finds, in.Tanks, in.Systems} {
		if len(list) > maxRecords {
			return fault.New(fault.TooLarge, "specimens", "There are more than %d records of one kind. Leave out those that are long gone.", maxRecords)
		}
	}
	if len(in.Events)+len(b.Events) > maxEvents || len(in.Readings)+len(b.Readings) > maxEvents {
		return fault.New(fault.TooLarge, "events", "There are more than %d events or readings. Leave out those of other years.", maxEvents)
	}
	if err := b.home(in); err != nil {
		return err
	}
	for _, id := range in.Removed {
		b.drop(id)
	}
	b.each(in.Members, func(id string, data []byte) bool {
		var m struct {
			Age string `json:"age"`
		}
		err := json.Unmarshal(data, &m)
		b.Adults[id] = m.Age == "adult"
		return err == nil
	})
	b.each(in.Specimens, func(id string, data []byte) bool {
		s := new(Specimen)
		b.Specimens[id] = s
		return json.Unmarshal(data, s) == nil
	})
	b.each(in.Finds, b.readFind)
	b.each(in.Tanks, func(id string, data []byte) bool {
		t := new(Tank)
		b.Tanks[id] = t
		return json.Unmarshal(data, t) == nil
	})
	b.each(in.Systems, func(id string, data []byte) bool {
		s := new(System)
		b.Systems[id] = s
		return json.Unmarshal(data, s) == nil
	})
	b.each(in.Readings, func(id string, data []byte) bool {
		var r Reading
		err := json.Unmarshal(data, &r)
		i, had := b.readings[id]
		if !had {
			i = len(b.Readings)
			b.readings[id], b.Readings = i, append(b.Readings, r)
		}
		r.ID, r.as = id, Event{At: r.Sample.At, Of: r.Sample.Of}
		b.Readings[i] = r
		return err == nil
	})
	for _, data := range in.Events {
		e, deleted, ok := readEvent(data)
		b.readable(e.ID)
		switch i, had := b.events[e.ID]; {
		case deleted:
			b.drop(e.ID)
		case !ok:
			b.drop(e.ID)
			b.Unread = append(b.Unread, e.ID)
		case had:
			b.Events[i] = e
		default:
			b.events[e.ID], b.Events = len(b.Events), append(b.Events, e)
		}
	}
	if len(in.Events)+len(in.Removed) > 0 {
		b.sort()
	}
	return nil
}

// sort brings the events into their order, unless they are.
func (b *Book) sort() {
	for i := 1; i < len(b.Events); i++ {
		if before(&b.Events[i-1], &b.Events[i]) > 0 {
			slices.SortFunc(b.Events, func(x, y Event) int { return before(&x, &y) })
			for i := range b.Events {
				b.events[b.Events[i].ID] = i
			}
			return
		}
	}
}

// readFind takes in the later identifications of a find.
func (b *Book) readFind(id string, data []byte) bool {
	delete(b.names, id)
	var fields map[string]json.RawMessage
	err := json.Unmarshal(data, &fields)
	for field, value := range fields {
		var n Named
		if strings.HasPrefix(field, "identified/") && string(value) != "null" {
			if json.Unmarshal(value, &n) != nil {
				return false
			}
			b.names[id] = append(b.names[id], n)
		}
	}
	return err == nil
}

// drop forgets a record.
func (b *Book) drop(id string) {
	b.readable(id)
	delete(b.Adults, id)
	delete(b.Specimens, id)
	delete(b.names, id)
	delete(b.Tanks, id)
	delete(b.Systems, id)
	if i, ok := b.events[id]; ok {
		last := len(b.Events) - 1
		b.Events[i] = b.Events[last]
		b.events[b.Events[i].ID] = i
		b.Events = b.Events[:last]
		delete(b.events, id)
	}
	if i, ok := b.readings[id]; ok {
		last := len(b.Readings) - 1
		b.Readings[i] = b.Readings[last]
		b.readings[b.Readings[i].ID] = i
		b.Readings = b.Readings[:last]
		delete(b.readings, id)
	}
}

// readable says that a record that could not be read comes anew.
func (b *Book) readable(id string) {
	b.Unread = slices.DeleteFunc(b.Unread, func(unread string) bool { return unread == id })
}

// home reads the zone, the region and the household's own record: what is given beside it
// stands before what it says.
func (b *Book) home(in *Records) error {
	zoneName, region, days, unread := in.Zone, in.Region, b.Days, false
	if len(in.Household) > 0 {
		var fields map[string]json.RawMessage
		unread = json.Unmarshal(in.Household, &fields) != nil
		var home struct{ Zone, Region string }
		if json.Unmarshal(fields["home"], &home) == nil {
			zoneName, region = cmp.Or(zoneName, home.Zone), cmp.Or(region, home.Region)
		}
		days = map[string]int{}
		for name, value := range fields {
			var own struct{ Days int }
			if group, ok := strings.CutPrefix(name, "handling/"); ok && json.Unmarshal(value, &own) == nil && own.Days > 0 {
				days[group] = own.Days
			}
		}
	}
	if zoneName != "" {
		z, err := zone.Load(zoneName)
		if err != nil {
			return err
		}
		b.Zone = z
	}
	b.Region, b.Days = cmp.Or(region, b.Region), days
	if len(in.Household) > 0 {
		b.readable(book.HouseholdID)
		if unread {
			b.Unread = append(b.Unread, book.HouseholdID)
		}
	}
	return nil
}

// each hands on the records that are not deleted, with their ids, to use, which says whether
// it could be read.
func (b *Book) each(list []json.RawMessage, use func(id string, data []byte) bool) {
	for _, data := range list {
		var head struct {
			ID      string `json:"id"`
			Deleted bool   `json:"deleted"`
		}
		ok := json.Unmarshal(data, &head) == nil && head.ID != ""
		b.readable(head.ID)
		if ok && head.Deleted {
			b.drop(head.ID)
		} else if !ok || !use(head.ID, data) {
			b.Unread = append(b.Unread, head.ID)
		}
	}
}
