package take

import (
	"time"
)

// Ledger is what was taken, ready to be counted. The order in which finds are put into it
// does not matter. It is not safe for concurrent use.
type Ledger struct {
	byID   map[string]*entry
	shores map[string]Spot
	unread map[string]bool
	kinds  []kind // told apart by their place here
	places map[kind]int

	shoreNames  []string // told apart by their place here
	shorePlaces map[string]int

	stale    bool     // the lists below are to be made again
	byTime   []*entry // by time, then id
	byOuting map[string][]*entry
}

type entry struct {
	Find
	kind  int // its place in kinds
	shore int // its place in shoreNames
}

// NewLedger returns an empty ledger.
func NewLedger() *Ledger {
	return &Ledger{byID: map[string]*entry{}, shores: map[string]Spot{}, places: map[kind]int{}, unread: map[string]bool{}, shorePlaces: map[string]int{}}
}

// Put adds a find, or replaces the one of that id. One that was only seen, that is deleted
// or that has no id is not kept; a find that turned into such a one is let go.
func (l *Ledger) Put(f Find) {
	if f.ID == "" {
		return
	}
	if f.Fate == "seen" || f.Deleted {
		l.Remove(f.ID)
		return
	}
	l.stale = true
	f.clean()
	delete(l.unread, f.ID)
	shore, ok := l.shorePlaces[f.Shore]
	if !ok {
		shore = len(l.shoreNames)
		l.shorePlaces[f.Shore] = shore
		l.shoreNames = append(l.shoreNames, f.Shore)
	}
	l.byID[f.ID] = &entry{f, l.kindAt(kindOf(f.Taxon, f.Group, f.State)), shore}
}

// PutUnread notes a find that cannot be read: it may count, so that nothing is permitted
// before it is mended.
func (l *Ledger) PutUnread(id string) {
	l.Remove(id)
	l.unread[id] = true
}

// Remove lets go of a find.
func (l *Ledger) Remove(id string) {
	delete(l.unread, id)
	if _, ok := l.byID[id]; ok {
		l.stale = true
		delete(l.byID, id)
	}
}

// PutShore says where a shore is, so that what was taken far from an area is not counted
// there.
func (l *Ledger) PutShore(id string, s Spot) { l.shores[id] = s }

// Len is the number of finds.
func (l *Ledger) Len() int { return len(l.byID) }

func (l *Ledger) kindAt(k kind) int {
	i, ok := l.places[k]
	if !ok {
		i = len(l.kinds)
		l.places[k] = i
		l.kinds = append(l.kinds, k)
	}
	return i
}

// settle makes the lists.
func (l *Ledger) settle() {
	if !l.stale {
		return
	}
	l.stale = false
	byKey := make(map[string]*entry, len(l.byID))
	keys := make([]string, 0, len(l.byID))
	for id, e := range l.byID {
		key := e.At.UTC().Format("2006-01-02T15:04:05.000000000") + id
		byKey[key] = e
		keys = append(keys, key)
	}
	l.byTime = make([]*entry, 0, len(keys))
	for _, key := range sorted(keys) {
		l.byTime = append(l.byTime, byKey[key])
	}
	l.byOuting = map[string][]*entry{}
	for _, e := range l.byTime {
		if e.Outing != "" {
			l.byOuting[e.Outing] = append(l.byOuting[e.Outing], e)
		}
	}
}

// between lists the finds of [from, to).
func (l *Ledger) between(from, to time.Time) []*entry {
	first, last := l.since(from), l.since(to)
	return l.byTime[min(first, last):last]
}

// since is the place of the first find at or after an instant.
func (l *Ledger) since(t time.Time) int {
	low, high := 0, len(l.byTime)
	for low < high {
		if mid := (low + high) / 2; l.byTime[mid].At.Before(t) {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
}
