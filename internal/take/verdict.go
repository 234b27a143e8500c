package take

import (
	"time"

	"wrackbook/internal/fault"
)

// Grade is what a rule, or all of them, say of a find. The greater is the stricter; 0 is
// nothing said.
type Grade byte

const (
	Within    Grade = iota + 1 // the rules on file
	AtLimit                    // within, and nothing is left of a limit
	Unchecked                  // not known; no permission
	Over                       // more than a limit on file
	Forbidden                  // by a rule on file
)

// String gives the word for programs.
func (g Grade) String() string {
	return [...]string{"", "within", "atLimit", "unchecked", "over", "forbidden"}[g]
}

// MarshalText implements encoding.TextMarshaler.
func (g Grade) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// Question is a find, real or imagined, and what stands around it.
type Question struct {
	Find    Find
	Shore   *Spot // where the shore is; nil where not known
	Zone    *time.Location
	Levels  map[string]float64 // the station's named levels, metres above its datum
	Visits  []time.Time        // to the shore, besides those that finds tell of
	TideAt  *[2]time.Time      // the high waters before and after the find
	Party   []Person
	Purpose string          // of the outing: home, teaching, trade
	Answers map[string]bool // by the id of the question
	// A check of a text, and one of a closure, counts for so many days: 180 and 1 where 0.
	TextDays, ClosureDays int
	Now                   time.Time
}

// Verdict is what the sets on file say of a find.
type Verdict struct {
	Verdict   Grade    `json:"verdict"` // of the law
	Text      string   `json:"text"`
	Household Grade    `json:"household"` // of the household's own rules; "" where none spoke
	Spoke     []Spoke  `json:"spoke"`     // of both; strictest first
	Missing   []Fact   `json:"missing"`
	Duties    []Told   `json:"duties"`  // what is to be done
	PutBack   string   `json:"putBack"` // demanded, allowed, forbidden or unknown
	Sets      []SetRef `json:"sets"`    // that cover the place, or may
}

// Spoke is one thing that one rule says.
type Spoke struct {
	Set      string   `json:"set"`  // its id; "" for what no set says
	Rule     string   `json:"rule"` // its name in the set
	What     string   `json:"what"` // which part: take, limit, size, season …
	Verdict  Grade    `json:"verdict"`
	Text     string   `json:"text"`
	Facts    []string `json:"facts,omitempty"` // that are missing
	Count    *Count   `json:"count,omitempty"`
	Question *Asked   `json:"question,omitempty"`
	House    bool     `json:"house,omitempty"` // it is the household's own rule
}

// Count is the arithmetic of a limit, in its unit. It is what was taken, and no allowance.
type Count struct {
	Limit     float64  `json:"limit"`
	Unit      string   `json:"unit"`
	Base      string   `json:"base"`
	Per       string   `json:"per"`
	Taken     float64  `json:"taken"`     // without this find
	This      float64  `json:"this"`      // at least
	Total     float64  `json:"total"`     // at least
	MayAlso   float64  `json:"mayAlso"`   // of what is not known to count
	Left      float64  `json:"left"`      // to the limit at most; to be held to, not to be filled
	Party     *float64 `json:"party"`     // what the party took of a limit a person
	PartyOf   *float64 `json:"partyOf"`   // of that: a limit for each who gathers
	Finds     []string `json:"finds"`     // that were counted, by time; the last 50
	FindsMore int      `json:"findsMore"` // how many there are besides
}

// Asked is a question that a rule asks; its answer comes back in Answers.
type Asked struct {
	ID  string `json:"id"`
	Ask string `json:"ask"`
}

// Fact is a fact that is missing.
type Fact struct {
	Fact string `json:"fact"`
	Text string `json:"text"`
}

// Told is a duty.
type Told struct {
	Set  string `json:"set"`
	Rule string `json:"rule"`
	Text string `json:"text"`
}

// SetRef says whose rules they are and how old the check is.
type SetRef struct {
	ID         string   `json:"id"`
	Name       string   `json:"name"`
	Layer      Layer    `json:"layer"`
	Authority  string   `json:"authority"`
	Ask        string   `json:"ask"`
	Source     string   `json:"source"`
	SourceDate string   `json:"sourceDate"`
	Checked    *Checked `json:"checked"`
	AgeDays    *int     `json:"ageDays"` // of the check, on the day of the find; null without one
	ForDays    int      `json:"forDays"` // that a check counts; 0 for the household's own
	Stale      bool     `json:"stale"`
	Covers     string   `json:"covers"` // yes, or unsure
}

// Evaluate says what the sets hold of the find in the question, with the ledger of what was
// taken besides. A find in both is counted once, as the question has it. The order of the
// sets, their rules and the ledger's finds does not matter. The error is a *fault.Error for
// a find without a time that can be reckoned with.
func Evaluate(sets []*Held, ledger *Ledger, q *Question) (Verdict, error) {
	if err := q.timely(); err != nil {
		return Verdict{}, err
	}
	ledger.settle()
	s := newSpeaker(ledger, q)
	for _, h := range byID(sets) {
		s.set(h)
	}
	return s.verdict(), nil
}

// timely refuses what has no time that can be reckoned with.
func (q *Question) timely() error {
	if y := q.Find.At.UTC().Year(); y < 1901 || y > 2099 {
		return fault.New(fault.BadInput, "find.at", "The find has no time between 1901 and 2099. Give the instant of the take.")
	}
	return nil
}

// byID puts sets in order.
func byID(sets []*Held) []*Held {
	out := make([]*Held, 0, len(sets))
	for _, h := range sets {
		i := len(out)
		out = append(out, h)
		for ; i > 0 && out[i-1].ID > h.ID; i-- {
			out[i] = out[i-1]
		}
		out[i] = h
	}
	return out
}
