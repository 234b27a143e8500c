package core

import (
	"bytes"
	"encoding/json"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/take"
	"wrackbook/internal/tide"
)

// takes is what a verdict counts against: held open in the worker (OpenLedger), or made
// from a request.
type takes struct {
	ledger *take.Ledger
	sets   map[string]*take.Held
}

func newTakes() *takes { return &takes{take.NewLedger(), map[string]*take.Held{}} }

// takesIn is what is put into it, as records are kept: fields that no rule reads are passed
// over, and what cannot be read of a find is not known.
type takesIn struct {
	Sets    []heldSet         `json:"sets"`
	Finds   []json.RawMessage `json:"finds"` // fields of the book's finds with the id
	Shores  []shoreSpot       `json:"shores"`
	Removed []string          `json:"removed"` // ids of sets and finds that are deleted
}

// heldSet is a record of the kind ruleset, with what the household says of it.
type heldSet struct {
	ID       string          `json:"id"`
	Document json.RawMessage `json:"document"`
	Checked  *take.Checked   `json:"checked"`
	Shores   []string        `json:"shores"` // those that lie in the place of a set that holds everywhere in it; null: not said
	// Elsewhere are those that do not; null: all others do not.
	Elsewhere []string `json:"elsewhere"`
}

type shoreSpot struct {
	ID  string  `json:"id"`
	Lat float64 `json:"lat"`
	Lon float64 `json:"lon"`
}

const (
	maxLedgerBytes = 64 << 20
	maxFinds       = 200_000
	maxSets        = 200
	maxParty       = 100
)

func (t *takes) put(in *takesIn) error {
	if len(in.Finds)+t.ledger.Len() > maxFinds {
		return fault.New(fault.TooLarge, "finds", "There are more than %d finds. Leave out those of other years.", maxFinds)
	}
	if len(in.Sets)+len(t.sets) > maxSets {
		return fault.New(fault.TooLarge, "sets", "There are more than %d rule sets. Leave out those of other shores.", maxSets)
	}
	for _, id := range in.Removed {
		t.ledger.Remove(id)
		delete(t.sets, id)
	}
	for _, s := range in.Shores {
		t.ledger.PutShore(s.ID, take.Spot{LatDeg: s.Lat, LonEastDeg: s.Lon})
	}
	for _, data := range in.Finds {
		if f, ok := take.ReadFind(data); ok {
			t.ledger.Put(f)
		} else {
			t.ledger.PutUnread(f.ID)
		}
	}
	for _, s := range in.Sets {
		h := &take.Held{ID: s.ID, Checked: s.Checked, Shores: s.Shores, Elsewhere: s.Elsewhere}
		set, err := take.Decode(s.Document)
		if err != nil {
			h.Fault = err.Error()
		}
		h.Set = set
		t.sets[s.ID] = h
	}
	return nil
}

// OpenLedger gives the core the household's rule sets, the finds that were taken and where
// its shores are, as JSON {sets, finds, shores}; what was held before is let go. The verdict
// call with "held" counts against it. It is for the worker: the server's core holds none,
// there a request carries what it needs. The error is a *fault.Error.
func (c *Core) OpenLedger(data []byte) error { return c.fill(data, newTakes()) }

// AddToLedger puts records that are new or changed into what OpenLedger opened, and takes
// out those named in "removed".
func (c *Core) AddToLedger(data []byte) error {
	c.mu.Lock()
	t := c.takes
	c.mu.Unlock()
	if t == nil {
		return errNoLedger()
	}
	return c.fill(data, t)
}

func errNoLedger() error {
	return fault.New(fault.BadInput, "held", "No finds and rules are open in this core. Send them with the request.")
}

func (c *Core) fill(data []byte, t *takes) error {
	if len(data) > maxLedgerBytes {
		return fault.New(fault.TooLarge, "", "The finds and rules are larger than %d MB. Open them in parts.", maxLedgerBytes>>20)
	}
	var in takesIn
	if err := json.Unmarshal(data, &in); err != nil {
		return fault.Wrap(fault.BadJSON, "", err, "The finds and rules are not JSON of the expected form.")
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if err := t.put(&in); err != nil {
		return err
	}
	c.takes = t
	return nil
}

// takeRequest is what every call on rules is given.
type takeRequest struct {
	Held bool `json:"held"` // count against what OpenLedger opened; then no sets, finds, shores, removed
	takesIn
	Shore   *takeShore    `json:"shore"`
	Party   []take.Person `json:"party"`
	Purpose string        `json:"purpose"`
	// A check of a text, and one of a closure, counts for so many days; 180 and 1 unless given.
	TextDays    int `json:"textDays"`
	ClosureDays int `json:"closureDays"`
}

type verdictRequest struct {
	takeRequest
	Find    take.Find       `json:"find"`
	Answers map[string]bool `json:"answers"`
}

type onFileRequest struct {
	takeRequest
	At     time.Time `json:"at"`
	Outing string    `json:"outing"`
}

type closedRequest struct {
	takeRequest
	Windows []take.Window `json:"windows"`
}

// takeShore is a shore as the rules see it. Zone is needed, for the local days.
type takeShore struct {
	ID          string             `json:"id"`
	Lat         *float64           `json:"lat"`
	Lon         *float64           `json:"lon"`
	WithinM     *float64           `json:"withinM"` // a find without a fix is within that of it; 1000 unless given
	Zone        string             `json:"zone"`
	Station     string             `json:"station"` // for limits per tide
	Differences *differences       `json:"differences"`
	Levels      map[string]float64 `json:"levels"` // the station's named levels, metres above its datum
	Visits      []time.Time        `json:"visits"` // to this shore, for rest
}

// shoreM is how far from its shore's mark a find without a fix may be: ours.
const shoreM = 1000

// verdict says what the rule sets on file hold of a find.
func (c *Core) verdict(in verdictRequest, now time.Time) (take.Verdict, error) {
	q := take.Question{Find: in.Find, Answers: in.Answers}
	sets, ledger, done, err := c.weigh(&in.takeRequest, &q, now)
	if err != nil {
		return take.Verdict{}, err
	}
	defer done()
	return take.Evaluate(sets, ledger, &q)
}

// onFile says which rules hold at a shore on a day, and what was counted of their limits.
func (c *Core) onFile(in onFileRequest, now time.Time) (take.OnFile, error) {
	q := take.Question{Find: take.Find{At: in.At, Outing: in.Outing}}
	sets, ledger, done, err := c.weigh(&in.takeRequest, &q, now)
	if err != nil {
		return take.OnFile{}, err
	}
	defer done()
	return take.Has(sets, ledger, &q)
}

// closed says what speaks against windows on a shore.
func (c *Core) closed(in closedRequest, now time.Time) (take.Shutting, error) {
	var q take.Question
	sets, ledger, done, err := c.weigh(&in.takeRequest, &q, now)
	if err != nil {
		return take.Shutting{}, err
	}
	defer done()
	return take.ShutIn(sets, ledger, &q, in.Windows)
}

// share estimates which share of a patch a find is.
func (c *Core) share(in take.ShareAsk, _ time.Time) (take.ShareOf, error) {
	return take.EstimateShare(&in)
}

// weigh makes a question ready, and gives the sets and the ledger to ask it of; done is to
// be called after that.
func (c *Core) weigh(in *takeRequest, q *take.Question, now time.Time) (sets []*take.Held, l *take.Ledger, done func(), err error) {
	q.Party, q.Purpose, q.TextDays, q.ClosureDays, q.Now = in.Party, in.Purpose, in.TextDays, in.ClosureDays, now
	if err := c.stand(q, in.Shore); err != nil {
		return nil, nil, nil, err
	}
	if len(in.Party) > maxParty {
		return nil, nil, nil, fault.New(fault.TooLarge, "party", "The party has more than %d. Give like ones as a group, with their number.", maxParty)
	}
	if in.TextDays < 0 || in.ClosureDays < 0 {
		return nil, nil, nil, fault.New(fault.BadInput, "textDays", "A check counts for a day or more.")
	}
	c.mu.Lock()
	t := c.takes
	c.mu.Unlock()
	if !in.Held {
		t = newTakes()
		if err := t.put(&in.takesIn); err != nil {
			return nil, nil, nil, err
		}
	} else if t == nil {
		return nil, nil, nil, errNoLedger()
	}
	c.mu.Lock()
	perTide := false
	for _, h := range t.sets {
		sets = append(sets, h)
		perTide = perTide || h.Set != nil && h.Set.PerTide()
	}
	c.mu.Unlock()
	if perTide && !q.Find.At.IsZero() {
		c.tideAround(q, in.Shore)
	}
	c.mu.Lock() // the ledger and the sets make themselves ready when first asked
	return sets, t.ledger, c.mu.Unlock, nil
}

// stand fills in the question what the shore says.
func (c *Core) stand(q *take.Question, s *takeShore) error {
	if s == nil || s.Zone == "" {
		return fault.New(fault.BadInput, "shore.zone", "Without the shore's time zone its days are not known. Give it, such as \"Europe/Oslo\".")
	}
	var err error
	if q.Zone, err = zoneOr(s.Zone, ""); err != nil {
		return err
	}
	if (s.Lat == nil) != (s.Lon == nil) {
		return fault.New(fault.BadInput, "shore.lat", "Give both latitude and longitude of the shore, or neither.")
	}
	if s.Lat != nil {
		if !(*s.Lat >= -90 && *s.Lat <= 90 && *s.Lon >= -360 && *s.Lon <= 360) || s.WithinM != nil && *s.WithinM < 0 {
			return fault.New(fault.BadInput, "shore.lat", "The shore lies nowhere on Earth. Give degrees, and metres from 0.")
		}
		spot := take.Spot{LatDeg: *s.Lat, LonEastDeg: *s.Lon, WithinM: shoreM}
		if s.WithinM != nil {
			spot.WithinM = *s.WithinM
		}
		q.Shore = &spot
	}
	if len(s.Visits) > 10000 {
		return fault.New(fault.BadInput, "shore.visits", "There are more than 10000 visits. Give those of the last years.")
	}
	q.Levels, q.Visits = s.Levels, s.Visits
	if q.Find.Shore == "" {
		q.Find.Shore = s.ID
	}
	return nil
}

// tideAround finds the high waters before and after the find. Where the station has none,
// or is not known, they stay unknown.
func (c *Core) tideAround(q *take.Question, s *takeShore) {
	p, err := c.place(s.Station)
	if err != nil || p.needTide() != nil {
		return
	}
	t, err := s.Differences.apply(p.tide)
	if err != nil {
		return
	}
	at := q.Find.At.UTC()
	curve, err := t.Curve(at.Add(-36*time.Hour), at.Add(36*time.Hour))
	if err != nil {
		return
	}
	var before time.Time
	for _, w := range curve.Table() {
		switch {
		case w.Kind != tide.High:
		case !w.Time.After(at):
			before = w.Time
		case !before.IsZero():
			q.TideAt = &[2]time.Time{before, w.Time}
			return
		}
	}
}

type rulesetRequest struct {
	File     string          `json:"file"`     // as it is shared
	Document json.RawMessage `json:"document"` // or as it is kept
}

type rulesetAnswer struct {
	// Document is the set as the book keeps it; as JSON it is the file that is shared.
	Document *take.Set `json:"document"`
	// Rules are in words.
	Rules []take.RuleHas `json:"rules"`
}

// ruleset reads a rule set strictly, from a file or a record.
func (c *Core) ruleset(in rulesetRequest, _ time.Time) (rulesetAnswer, error) {
	data := []byte(in.File)
	if len(bytes.TrimSpace(data)) == 0 {
		data = in.Document
	}
	set, err := take.Decode(data)
	if err != nil {
		return rulesetAnswer{}, err
	}
	return rulesetAnswer{set, set.InWords()}, nil
}
