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

// who is the least role that may write a field; each role may what those after it may.
type who int

const (
	keepers    who = iota // a keeper alone
	collectors            // and collectors
	children              // and children
)

func (r Role) may(w who) bool {
	switch r {
	case Keeper:
		return true
	case Collector:
		return w >= collectors
	case Child:
		return w >= children
	}
	return false // guests, and roles that this program does not know
}

// MayWrite says whether a device of that role may set that field. Kinds that this program
// does not know may be written by keepers and collectors; fields of a known kind that it
// does not know, by whom the table says in the row "*".
func MayWrite(role Role, kind, field string) bool {
	k, ok := kinds[kind]
	if !ok {
		return role.may(collectors)
	}
	f, ok := k.field(field)
	if !ok {
		return role.may(k.others)
	}
	return role.may(f.Write)
}

// MaySee says whether a device of that role may read that field: children and guests see
// no address. What this program does not know of is shown to keepers and collectors.
func MaySee(role Role, kind, field string) bool {
	if role.may(collectors) {
		return true
	}
	if role != Child && role != Guest {
		return false
	}
	k, ok := kinds[kind]
	if !ok {
		return false
	}
	f, ok := k.field(field)
	return ok && !f.Private
}
