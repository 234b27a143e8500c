package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/journal"
)

// phone is the reference client of the sync: what sync.go says at its top, and nothing else.
// It never counts on an answer: letters go out, and receive takes whatever answers come, in
// any order, late, or never.
type phone struct {
	*writer
	token string

	// What it keeps. Everything here is written in one transaction on a real one.
	own    []journal.Change // all that it ever wrote, without receipts, in that order
	outbox []journal.Change // those without a result, in that order
	fold   *journal.Fold    // of its own and of all that it has fetched
	epoch  string           // "" until the first answer
	after  uint64           // place in the server's journal up to which it has everything
	taking bool             // a snapshot is under way; only when it is done is anything shown
	cursor string           // of that snapshot
}

// newPhone is a phone that has joined. One that starts from a snapshot says so.
func newPhone(seed uint64, token string, fromSnapshot bool) *phone {
	return &phone{writer: newWriter(seed), token: token, fold: &journal.Fold{}, taking: fromSnapshot}
}

// write saves a change: in the outbox and in what the phone shows.
func (p *phone) write(kind, record string, now time.Time, fields ...string) journal.Change {
	c := p.change(kind, record, now, fields...)
	p.own, p.outbox = append(p.own, c), append(p.outbox, c)
	p.fold.Apply(&c)
	return c
}

// letter is one request, with what the phone must remember of it to understand the answer.
type letter struct {
	path, body string
	epoch      string
	after      uint64
	cursor     string
}

// push offers the oldest of what is unsent, at most a number of changes.
func (p *phone) push(most int, now time.Time) letter {
	list := []json.RawMessage{}
	for _, c := range p.outbox[:min(most, len(p.outbox))] {
		list = append(list, c.Append(nil))
	}
	body := fmt.Sprintf(`{"protocol":1,"epoch":%q,"now":%d`, p.epoch, now.UnixMilli()) + string(appendChanges(nil, list)) + "}"
	return letter{path: "/api/sync/push", body: body, epoch: p.epoch}
}

// fetch asks for what follows: the next page of the snapshot, or of the journal.
func (p *phone) fetch(limit int) letter {
	if p.taking {
		body := fmt.Sprintf(`{"protocol":1,"epoch":%q,"cursor":%q,"limit":%d}`, p.epoch, p.cursor, limit)
		return letter{path: "/api/sync/snapshot", body: body, epoch: p.epoch, cursor: p.cursor}
	}
	body := fmt.Sprintf(`{"protocol":1,"epoch":%q,"after":%d,"limit":%d}`, p.epoch, p.after, limit)
	return letter{path: "/api/sync/pull", body: body, epoch: p.epoch, after: p.after}
}

// syncAnswer has the members of every answer of the sync.
type syncAnswer struct {
	syncMark
	Results []pushResult      `json:"results"`
	Changes []json.RawMessage `json:"changes"`
	Next    json.RawMessage   `json:"next"`
	More    bool              `json:"more"`
	Through uint64            `json:"through"`
	Error   *errorDetail      `json:"error"`
}

// errLater: what was asked for was not done; the phone keeps what it has and asks again.
var errLater = errors.New("not now")

// receive takes the answer to a letter, which may be an old one. more says whether there is
// more to fetch at once.
func (p *phone) receive(l letter, status int, body []byte) (more bool, err error) {
	var a syncAnswer
	if err := json.Unmarshal(body, &a); err != nil {
		return false, fmt.Errorf("an answer that is none (%d): %w", status, err)
	}
	if status == 409 && a.Error != nil && a.Error.Code == fault.OtherEpoch {
		if l.epoch == p.epoch && a.Epoch != p.epoch { // else it has begun again already
			p.beginAgain(a.Epoch)
		}
		return true, nil
	}
	if status != 200 {
		return false, fmt.Errorf("%w: %d %s", errLater, status, body)
	}
	if p.epoch == "" {
		p.epoch = a.Epoch
	}
	if a.Epoch != p.epoch {
		return true, nil // of a book that is no more, or not yet known of
	}
	switch l.path {
	case "/api/sync/push":
		return len(p.outbox) > 0, p.sent(a.Results)
	case "/api/sync/snapshot":
		return true, p.tookPage(l, a)
	default:
		return a.More, p.pulled(l, a)
	}
}

// beginAgain forgets all but what the phone wrote itself, and sends that again.
func (p *phone) beginAgain(epoch string) {
	p.epoch, p.after, p.taking, p.cursor = epoch, 0, false, ""
	p.outbox = slices.Clone(p.own)
	p.fold = &journal.Fold{}
	for i := range p.own {
		p.fold.Apply(&p.own[i])
	}
}

// sent takes results of changes, which may have come before.
func (p *phone) sent(results []pushResult) error {
	for _, r := range results {
		is := func(c journal.Change) bool { return c.ID == r.ID }
		i := slices.IndexFunc(p.outbox, is)
		if i < 0 {
			continue
		}
		c := p.outbox[i]
		p.outbox = slices.Delete(p.outbox, i, i+1)
		if r.Error != nil { // it will never work
			p.own = slices.DeleteFunc(p.own, is)
			continue
		}
		if r.Altered || r.Seq == 0 {
			return fmt.Errorf("change %s is syncAnswer with %+v", r.ID, r)
		}
		c.Receipt = &journal.Receipt{Seq: r.Seq, AtMS: r.AtMS, Refused: r.Refused}
		if err := p.take(&c); err != nil {
			return err
		}
	}
	return nil
}

func (p *phone) tookPage(l letter, a syncAnswer) error {
	if !p.taking || l.cursor != p.cursor {
		return nil
	}
	if err := p.takeAll(a.Changes); err != nil {
		return err
	}
	if err := json.Unmarshal(a.Next, &p.cursor); err != nil {
		return err
	}
	if p.cursor == "" {
		p.taking, p.after = false, a.Through
	}
	return nil
}

func (p *phone) pulled(l letter, a syncAnswer) error {
	if p.taking || l.after > p.after {
		return nil
	}
	if err := p.takeAll(a.Changes); err != nil {
		return err
	}
	var next uint64
	if err := json.Unmarshal(a.Next, &next); err != nil {
		return err
	}
	p.after = max(p.after, next)
	return nil
}

func (p *phone) takeAll(changes []json.RawMessage) error {
	for _, raw := range changes {
		c, err := journal.DecodeChange(raw)
		if err == nil && c.Receipt == nil {
			err = fmt.Errorf("change %s comes without a receipt", c.ID)
		}
		if err == nil {
			err = p.take(&c)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// take folds a change that the server has, and has the clock hear of it.
func (p *phone) take(c *journal.Change) error {
	p.fold.Apply(c)
	return p.clock.Hear(c.Stamp, c.Receipt.AtMS)
}

// asker sends a letter and gives the answer.
type asker func(token string, l letter) (status int, body []byte, err error)

// drain pushes until nothing is unsent.
func (p *phone) drain(ask asker, now time.Time) error {
	for len(p.outbox) > 0 {
		l := p.push(maxPush, now)
		status, body, err := ask(p.token, l)
		if err != nil {
			return err
		}
		if _, err := p.receive(l, status, body); err != nil {
			return err
		}
	}
	return nil
}

// catchUp pushes and pulls until there is nothing more of either. A phone's server may have
// been restored meanwhile; it does not happen for ever.
func (p *phone) catchUp(ask asker, now time.Time, mayWrite bool) error {
	for range 10_000 {
		l := p.fetch(1000)
		pushing := mayWrite && len(p.outbox) > 0
		if pushing {
			l = p.push(maxPush, now)
		}
		status, body, err := ask(p.token, l)
		if err != nil {
			return err
		}
		more, err := p.receive(l, status, body)
		if err != nil {
			return err
		}
		if !more && !pushing && !(mayWrite && len(p.outbox) > 0) && !p.taking {
			return nil
		}
	}
	return errors.New("it never ends")
}

// standing gives what stands in a fold: the bytes of each value by kind, record and field,
// with the change that set it.
func standing(fold *journal.Fold) map[string]string {
	all := map[string]string{}
	for r := range fold.All() {
		for field, v := range r.All() {
			all[r.Key().Kind+"/"+r.Key().ID+"."+field] = string(v.JSON) + " by " + v.Change
		}
	}
	return all
}
