package take

// facts is a set of facts that are wanted and not given.
type facts uint32

const (
	factTaxon facts = 1 << iota
	factGroup
	factState
	factAmount
	factMass
	factSize
	factShare
	factContainer
	factPosition
	factLevel
	factStationLevel
	factShore
	factOuting
	factTides
	factBy
	factDoes
	factAge
	factLicence
	factConsent
	factGear
	factUse
	factSubstrate
	factAnswer
	factPurpose
	factTakers
)

// factWords names the facts, in the order of their bits: the word for programs, then what
// a person is asked for.
var factWords = [...][2]string{
	{"taxon", "what kind it is"},
	{"group", "which group it belongs to"},
	{"state", "whether it is attached, drift, living or an empty shell"},
	{"amount", "how much it is, in the unit of the rule"},
	{"mass", "its mass, weighed as the rule says"},
	{"size", "its size along the axis of the rule"},
	{"share", "which share of the patch it is"},
	{"container", "which container it is in"},
	{"position", "where it was found, near enough to tell the side of the line"},
	{"level", "how high on the shore it was found"},
	{"stationLevel", "where the named tidal level stands at the station"},
	{"shore", "whether this shore lies in the place of the rules"},
	{"outing", "on which outing"},
	{"tides", "when the high waters before and after it were"},
	{"by", "who takes it"},
	{"does", "whether the person gathers or only comes along"},
	{"age", "the age of the person"},
	{"licence", "whether the person holds the licence"},
	{"consent", "whether consent was given"},
	{"gear", "with what it is taken"},
	{"use", "what it is for"},
	{"substrate", "what comes off with it"},
	{"answer", "the answer to a question"},
	{"purpose", "what the outing is for"},
	{"takers", "who took or what was taken in an earlier find"},
}

// names lists the words of the facts.
func (f facts) names() []string {
	out := []string{}
	for i, w := range factWords {
		if f&(1<<i) != 0 {
			out = append(out, w[0])
		}
	}
	return out
}

// phrase lists what a person is asked for: "what kind it is, and who takes it".
func (f facts) phrase() string {
	var each []string
	for i, w := range factWords {
		if f&(1<<i) != 0 {
			each = append(each, w[1])
		}
	}
	return join(each, "and")
}

// truth is yes, no, or else the facts for want of which it cannot be told.
type truth uint32

const (
	yes truth = 0
	no  truth = 1 << 31
)

func lacking(f facts) truth { return truth(f) }

func is(b bool) truth {
	if b {
		return yes
	}
	return no
}

// lacks gives the facts that are wanted; none where it is yes or no.
func (t truth) lacks() facts { return facts(t &^ no) }

func (t truth) and(u truth) truth {
	if t == no || u == no {
		return no
	}
	return t | u
}

func (t truth) or(u truth) truth {
	switch {
	case t == yes || u == yes:
		return yes
	case t == no:
		return u
	case u == no:
		return t
	}
	return t | u
}

func (t truth) not() truth {
	switch t {
	case yes:
		return no
	case no:
		return yes
	}
	return t
}
