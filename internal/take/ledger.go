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

	// What finds have in common; things are told apart by their places in these lists, which
	// only grow.
	kinds       []kind
	places      map[kind]int
	shoreNames  []string
	shorePlaces map[string]int
	people      []string
	peoplePlace map[string]int
	groups      []group
	groupPlaces map[group]int

	byTime   []*entry // by time, then id
	byOuting map[string][]*entry
	put      []*entry // not in these lists yet
	gone     []*entry // still in them
	few      int      // so many finds are counted one by one
}

type entry struct {
	Find
	group int // its place in groups
}

// NewLedger returns an empty ledger.
func NewLedger() *Ledger {
	return &Ledger{byID: map[string]*entry{}, shores: map[string]Spot{}, unread: map[string]bool{}, places: map[kind]int{},
		shorePlaces: map[string]int{}, peoplePlace: map[string]int{}, groupPlaces: map[group]int{}, byOuting: map[string][]*entry{}, few: few}
}

// Put adds a find, or replaces the one of that id. One that was only seen, that is deleted
// or that has no id is not kept; a find that turned into such a one is let go.
func (l *Ledger) Put(f Find) {
	if f.ID == "" {
		return
	}
	l.Remove(f.ID)
	if f.Fate == "seen" || f.Deleted {
		return
	}
	f.clean()
	g := group{placeOf(&l.kinds, l.places, kindOf(f.Taxon, f.Group, f.State)), placeOf(&l.shoreNames, l.shorePlaces, f.Shore), placeOf(&l.people, l.peoplePlace, f.By)}
	e := &entry{f, placeOf(&l.groups, l.groupPlaces, g)}
	l.byID[f.ID] = e
	l.put = append(l.put, e)
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
	if e, ok := l.byID[id]; ok {
		delete(l.byID, id)
		l.gone = append(l.gone, e)
	}
}

// placeOf gives the place of a thing in a list, at the end of which it puts a new one.
func placeOf[T comparable](list *[]T, places map[T]int, thing T) int {
	i, ok := places[thing]
	if !ok {
		i = len(*list)
		places[thing] = i
		*list = append(*list, thing)
	}
	return i
}

// PutShore says where a shore is, so that what was taken far from an area is not counted
// there.
func (l *Ledger) PutShore(id string, s Spot) { l.shores[id] = s }

// Len is the number of finds.
func (l *Ledger) Len() int { return len(l.byID) }

// settle brings the lists up to date: a few finds one by one, many all anew.
func (l *Ledger) settle() {
	if len(l.put)+len(l.gone) > len(l.byTime)/64+16 {
		l.settleAll()
	} else {
		for _, e := range l.put {
			insert(&l.byTime, e)
			l.onOuting(e, insert)
		}
		for _, e := range l.gone {
			remove(&l.byTime, e)
			l.onOuting(e, remove)
		}
	}
	l.put, l.gone = nil, nil
}

func (l *Ledger) settleAll() {
	byKey := make(map[string]*entry, len(l.byID))
	keys := make([]string, 0, len(l.byID))
	for id, e := range l.byID {
		key := e.At.UTC().Format("2006-01-02T15:04:05.000000000") + id
		byKey[key] = e
		keys = append(keys, key)
	}
	l.byTime = make([]*entry, 0, len(keys))
	clear(l.byOuting)
	for _, key := range sorted(keys) {
		e := byKey[key]
		l.byTime = append(l.byTime, e)
		l.onOuting(e, func(list *[]*entry, e *entry) { *list = append(*list, e) })
	}
}

// onOuting does something to the list of a find's outing.
func (l *Ledger) onOuting(e *entry, do func(*[]*entry, *entry)) {
	if e.Outing != "" {
		list := l.byOuting[e.Outing]
		do(&list, e)
		l.byOuting[e.Outing] = list
	}
}

// insert puts an entry where it belongs.
func insert(list *[]*entry, e *entry) {
	i := place(*list, e)
	*list = append(*list, nil)
	copy((*list)[i+1:], (*list)[i:])
	(*list)[i] = e
}

// remove takes an entry out.
func remove(list *[]*entry, e *entry) {
	for i := place(*list, e); i < len(*list); i++ {
		if (*list)[i] == e {
			*list = append((*list)[:i], (*list)[i+1:]...)
			return
		}
	}
}

// place is that of the first entry which does not come before e.
func place(list []*entry, e *entry) int {
	low, high := 0, len(list)
	for low < high {
		if mid := (low + high) / 2; list[mid].before(&e.Find) {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
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
