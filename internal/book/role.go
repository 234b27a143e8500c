package book

// Role is what a device may do in a book. It belongs to the device's place at the server's
// door (internal/store), is set by a keeper there, and is no field of any record: what is
// synced can be written by whoever syncs. The field role of a member is a word for people.
type Role string

const (
	Keeper    Role = "keeper"    // everything
	Collector Role = "collector" // shores, outings, finds, animals and tanks
	Child     Role = "child"     // logs finds and checks; never clears, overrules, exports or sees addresses
	Guest     Role = "guest"     // reads
)

// Roles lists every role, the one that may most first.
func Roles() []Role { return []Role{Keeper, Collector, Child, Guest} }

// AtLeast says whether r may all that least may. A role that this program does not know
// may nothing.
func (r Role) AtLeast(least Role) bool {
	return r.rank() > 0 && r.rank() >= least.rank()
}

func (r Role) rank() int {
	switch r {
	case Keeper:
		return 4
	case Collector:
		return 3
	case Child:
		return 2
	case Guest:
		return 1
	}
	return 0
}

// MayWrite says whether a device of that role may set that field. Kinds that this program
// does not know may be written by keepers and collectors; fields of a known kind that it
// does not know, by whom the table says in the row "*".
func MayWrite(role Role, kind, field string) bool {
	k, ok := kindNamed(kind)
	if !ok {
		return role.AtLeast(Collector)
	}
	f, ok := k.field(field)
	if !ok {
		return role.AtLeast(k.Others)
	}
	return role.AtLeast(f.Write)
}

// MaySee says whether a device of that role may read that field: children and guests see
// no address. What this program does not know of is shown to keepers and collectors.
func MaySee(role Role, kind, field string) bool {
	if role.AtLeast(Collector) {
		return true
	}
	k, ok := kindNamed(kind)
	if !ok {
		return false
	}
	f, ok := k.field(field)
	return ok && !f.Private && role.AtLeast(Guest)
}
