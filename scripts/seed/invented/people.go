package invented

import (
	"time"

	"wrackbook/internal/book"
	"wrackbook/internal/journal"
)

type member struct {
	id, name, age string
	number        int // that a child wears
}

// people writes the household, its members and their phones. The numbers to call are of the
// range 555-0100 to 555-0199, which North America keeps free for stories.
func (m *maker) people() {
	begin := m.from.Add(19 * time.Hour)
	m.members = []member{
		{m.id(begin), "Maren", "adult", 0}, {m.id(begin), "Tobias", "adult", 0}, {m.id(begin), "Isla", "child", 1}, {m.id(begin), "Finn", "child", 2},
	}
	for i, role := range []book.Role{book.Keeper, book.Collector, book.Child, book.Child} {
		d := &device{id: m.id(begin), role: role, member: m.members[i]}
		clock, err := journal.NewClock(d.id, "")
		if err != nil {
			m.err = err
		}
		d.clock = clock
		m.devices = append(m.devices, d)
	}
	keeper := m.keeper()
	m.set(keeper, begin, "household", book.HouseholdID, map[string]any{
		"name": "The house on Quill Street", "country": "US", "graceMin": 30, "childrenAtNight": false,
		"emergency/" + m.id(begin): map[string]any{"what": "all emergencies", "number": "911"},
		"emergency/" + m.id(begin): map[string]any{"what": "the harbour office", "number": "207-555-0117", "note": "until eight in the evening"},
	})
	roles := []string{"keeps the tanks", "knows the tide", "counts snails", "carries the bucket"}
	contacts := []string{"207-555-0142", "207-555-0143", "through Maren", "through Maren"}
	for i, who := range m.members {
		m.set(keeper, begin, "member", who.id, map[string]any{"name": who.name, "age": who.age, "role": roles[i], "contact": contacts[i]})
	}
	for i, d := range m.devices {
		m.set(d, begin.Add(time.Minute), "device", d.id, map[string]any{"name": m.members[i].name + "’s phone"})
		m.set(keeper, begin.Add(time.Hour), "device", d.id, map[string]any{"member": m.members[i].id})
	}
	m.evening(begin.Add(2 * time.Hour))
}

func (m *maker) keeper() *device { return m.devices[0] }

// adult is one of the two adults' phones.
func (m *maker) adult() *device { return m.devices[m.IntN(2)] }
