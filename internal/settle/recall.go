package settle

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"wrackbook/internal/fault"
)

// Recalled is one specimen that has to do with a lot that is called back.
type Recalled struct {
	ID     string     `json:"id"`
	As     string     `json:"as"` // lot, fragment (parted from it or with it from one lot), mate (shared its water)
	Since  time.Time  `json:"since"`
	Tank   string     `json:"tank"` // where it is or was last
	Gone   string     `json:"gone,omitempty"`
	To     string     `json:"to,omitempty"` // who has it now
	GoneAt *time.Time `json:"goneAt"`
}

// Recall is everything to look after when a lot turns out to be what it should not.
type Recall struct {
	Specimens []*Recalled `json:"specimens"` // the lot, its fragments, then its mates
	Systems   []Ref       `json:"systems"`   // that held any of the lot, or received water from one that did
}

// RecallOf gathers, from everything in the book, every fragment of a lot, whoever has one,
// and whatever shared water with it, with where each is now. The order of the events does
// not matter. The error is a *fault.Error for a specimen that is not on file.
func RecallOf(b *Book, now time.Time, specimen string) (*Recall, error) {
	if b.Specimens[specimen] == nil {
		return nil, fault.New(fault.BadInput, "specimen", "That specimen is not on file. Choose the lot that is to be called back.")
	}
	family := familyOf(b, now, specimen)
	mates := map[string]time.Time{}
	waters := map[Ref]bool{}
	w := newWalk(b, now)
	w.after = func(at time.Time) {
		held := map[*water]bool{}
		for id := range family {
			if l := w.lot(id); l.alive {
				held[l.in.in] = true
			}
		}
		for x := range held {
			waters[x.key] = true
			for _, l := range w.residents(x) {
				if _, has := mates[l.ID]; !has {
					mates[l.ID] = at
				}
			}
		}
	}
	w.run()
	for i := range b.Events {
		e := &b.Events[i]
		if e.What == "waterChanged" && e.From == "system" && waters[w.source(e.System).key] && !e.At.After(now) {
			if x := w.waterOf(e.Of); x != nil {
				waters[x.key] = true
			}
		}
	}
	r := &Recall{Specimens: []*Recalled{}, Systems: []Ref{}}
	for _, l := range w.allLots {
		since, mate := mates[l.ID]
		one := &Recalled{ID: l.ID, Since: since, Tank: l.tank}
		switch {
		case l.ID == specimen:
			one.As = "lot"
		case family[l.ID]:
			one.As = "fragment"
		case mate:
			one.As = "mate"
		default:
			continue
		}
		if l.gone != nil {
			one.Gone, one.To, one.GoneAt = l.how(), cmp.Or(l.gone.To, l.gone.Into), &l.gone.At
		}
		r.Specimens = append(r.Specimens, one)
	}
	nearest := []string{"lot", "fragment", "mate"}
	slices.SortFunc(r.Specimens, func(a, b *Recalled) int {
		if c := slices.Index(nearest, a.As) - slices.Index(nearest, b.As); c != 0 {
			return c
		}
		return strings.Compare(a.ID, b.ID)
	})
	var held []*water
	for key := range waters {
		held = append(held, w.water(key))
	}
	for _, x := range byKey(held) {
		r.Systems = append(r.Systems, x.key)
	}
	return r, nil
}

// familyOf is a lot with all that was ever parted from it or put together with it, and from
// what it was parted.
func familyOf(b *Book, now time.Time, specimen string) map[string]bool {
	kin := map[string][]string{}
	tie := func(a, b string) {
		if a != "" && b != "" {
			kin[a], kin[b] = append(kin[a], b), append(kin[b], a)
		}
	}
	for id, s := range b.Specimens {
		tie(id, s.Lot)
	}
	for i := range b.Events {
		if e := &b.Events[i]; (e.What == "parted" || e.What == "merged") && !e.At.After(now) && e.Of.Kind == "specimen" {
			tie(e.Of.ID, e.Into)
		}
	}
	family := map[string]bool{specimen: true}
	for open := []string{specimen}; len(open) > 0; open = open[1:] {
		for _, id := range kin[open[0]] {
			if !family[id] {
				family[id] = true
				open = append(open, id)
			}
		}
	}
	return family
}
