package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"strconv"
	"sync"

	"github.com/gofiber/fiber/v2"

	"wrackbook/internal/fault"
	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

// How phones and the server exchange what was written.
//
// Every exchange is a POST of JSON. Every request has "protocol"; every answer has
// "protocol", "epoch" and "now", the server's clock in Unix milliseconds, errors of the
// sync too:
//
//	{"error":{"code":"other_epoch","message":"…","field":""},"protocol":1,"epoch":"…","now":…}
//
// A connection may die at any byte. Nothing counts as saved until its result has been read;
// whatever has none is sent again, and a change that comes again gets the result that it
// had. A pull that broke off is asked for again from the same place.
//
//	POST /api/sync/push      {"protocol":1,"epoch":"…","now":…,"changes":[…]}
//	                       → {…,"results":[{"id":"…","seq":17,"atMs":…},…]}
//
// A result for each change, in their order. It has seq and atMs, which are the change's
// receipt, and refused, a sentence, where the change is kept but does not count; or else
// error, {code, message, field}, where the change is not of the form and is not kept: it
// holds up no other. altered says that another change of that id is here; that one stays.
// At most 500 changes and 8 MB go into one push. now is the phone's clock.
//
//	POST /api/sync/pull      {"protocol":1,"epoch":"…","after":0,"limit":1000}
//	                       → {…,"changes":[…],"next":4711,"more":false}
//
// Changes with their receipts, in the order of arrival, values byte for byte as they were
// written. Go on after next; more says whether there is more at once. limit may be absent.
// Children and guests get no field that they may not see (book.MaySee), and no change that
// is left without any.
//
//	POST /api/sync/snapshot  {"protocol":1,"cursor":"","limit":1000}
//	                       → {…,"changes":[…],"next":"…","through":4711}
//
// For a new phone: what the journal folds to, without what lost. Go on with the cursor next
// until it is ""; then pull after through, and only then show anything.
//
//	POST /api/sync/history   {"protocol":1,"kind":"find","id":"…"}  →  {…,"changes":[…]}
//
// Every change about one record, refused ones and those that lost too, for a phone that
// joined after them. At most 4 MB; more says whether there were more.
//
// Errors that are part of the protocol:
//
//	409 other_epoch    the server was restored: places mean nothing now. Forget all but one's
//	                   own changes, begin from zero with the epoch of the answer, and send
//	                   one's own changes again.
//	426 please_update  phone and server speak different protocols.
//	401 no_device      the device was shut out, or never joined. Keep what is unsent.
//	403 not_allowed    the role may not write at all.
//	413, 415, 422      the request can never work; do not repeat it.
//	429, 503, 507      later, by the same request; Retry-After may say when.
//	500                a defect of ours or a damaged book: later too, as after no answer.

// Versions of the protocol that this server speaks. A later one still answers phones that
// slept through the update.
const (
	protocol      = 1
	leastProtocol = 1
)

// Bounds of one exchange.
const (
	maxPush      = 500
	maxPushBytes = store.MaxPushBytes + 1<<20 // with receipts and spaces
	maxPull      = 5000
)

// syncRequest holds the members of every request of the sync.
type syncRequest struct {
	Protocol int               `json:"protocol"`
	Epoch    string            `json:"epoch"`
	Now      int64             `json:"now"`
	Changes  []json.RawMessage `json:"changes"`
	After    uint64            `json:"after"`
	Limit    int               `json:"limit"`
	Cursor   string            `json:"cursor"`
	Kind     string            `json:"kind"`
	ID       string            `json:"id"`
}

// readSync reads a request, its protocol before all else: the rest of another protocol may
// have another form. Members that are not known are passed over.
func readSync(ctx *fiber.Ctx, most int) (r syncRequest, err error) {
	body := ctx.BodyRaw()
	if len(body) > most {
		return r, fault.New(fault.TooLarge, "", "The request is larger than %d bytes. Send fewer changes in each.", most)
	}
	var version struct {
		Protocol *int `json:"protocol"`
	}
	if err := json.Unmarshal(body, &version); err != nil || version.Protocol == nil {
		return r, fault.Wrap(fault.BadJSON, "protocol", err, "The request is not a JSON object with the member protocol.")
	}
	if p := *version.Protocol; p < leastProtocol || p > protocol {
		ctx.Set(fiber.HeaderUpgrade, "wrackbook-sync/"+strconv.Itoa(protocol)) // RFC 9110, 15.5.22
		if p > protocol {
			return r, fault.New(fault.PleaseUpdate, "protocol", "This phone's Wrackbook is newer than the server's. Please update the server; what is not yet sent stays on the phone.")
		}
		return r, fault.New(fault.PleaseUpdate, "protocol", "This phone's Wrackbook is too old for the server. Please update: close the app and open it again; what is not yet sent stays on the phone.")
	}
	if err := json.Unmarshal(body, &r); err != nil {
		return r, fault.Wrap(fault.BadJSON, "", err, "The request is not of the expected form.")
	}
	if r.Limit < 0 || r.Limit > maxPull {
		return r, fault.New(fault.BadInput, "limit", "The limit is %d; it is 1 to %d, or absent.", r.Limit, maxPull)
	}
	if r.Now < 0 || r.Now > journal.LatestMS {
		return r, fault.New(fault.BadInput, "now", "The phone's clock is given as %d; it must be Unix milliseconds.", r.Now)
	}
	return r, nil
}

// pushResult is the answer to one change.
type pushResult struct {
	ID      string       `json:"id"`
	Seq     uint64       `json:"seq,omitempty"`
	AtMS    int64        `json:"atMs,omitempty"`
	Refused string       `json:"refused,omitempty"`
	Altered bool         `json:"altered,omitempty"`
	Error   *errorDetail `json:"error,omitempty"`
}

func (a *api) push(ctx *fiber.Ctx, v visit) error {
	r, err := readSync(ctx, maxPushBytes)
	if err == nil {
		err = a.sameEpoch(v, r.Epoch)
	}
	if err == nil && len(r.Changes) > maxPush {
		err = fault.New(fault.TooLarge, "changes", "The push has %d changes; %d are taken at once. Send the rest in another.", len(r.Changes), maxPush)
	}
	if err != nil {
		return a.syncError(ctx, v, err)
	}
	results, err := pushRaw(v.book, r.Changes, func(c *journal.Change) string { return judgeIn(v.book, v.device.Role, c) })
	if err != nil {
		return a.syncError(ctx, v, err)
	}
	body, err := json.Marshal(results)
	if err != nil {
		return err
	}
	return a.answerSync(ctx, v, append([]byte(`,"results":`), body...))
}

// pushRaw pushes changes as they came. Those that are not of the form are answered and hold
// up no other.
func pushRaw(book *store.Store, raw []json.RawMessage, refuse func(*journal.Change) string) ([]pushResult, error) {
	results := make([]pushResult, len(raw))
	changes := make([]journal.Change, 0, len(raw))
	places := make([]int, 0, len(raw)) // of changes in results
	for i, data := range raw {
		c, err := journal.DecodeChange(data)
		if err != nil {
			results[i] = pushResult{ID: idIn(data), Error: detailOf(err)}
			continue
		}
		changes, places = append(changes, c), append(places, i)
	}
	answers, err := book.Push(changes, refuse)
	if err != nil {
		return nil, err
	}
	for i, answer := range answers {
		r := &results[places[i]]
		*r = pushResult{ID: answer.ID, Seq: answer.Seq, AtMS: answer.AtMS, Refused: answer.Refused, Altered: answer.Altered}
		if answer.Err != nil {
			r.Error = detailOf(answer.Err)
		}
	}
	return results, nil
}

// idIn gives the id of a change that is not of the form, as far as one can be read.
func idIn(data []byte) string {
	var named struct {
		ID string `json:"id"`
	}
	if json.Unmarshal(data, &named) != nil || len(named.ID) > 36 {
		return ""
	}
	return named.ID
}

func (a *api) pull(ctx *fiber.Ctx, v visit) error {
	r, err := readSync(ctx, maxSmall)
	if err != nil {
		return a.syncError(ctx, v, err)
	}
	page, err := v.book.Pull(r.Epoch, r.After, r.Limit)
	if err == nil {
		page.Changes, err = shown(v.device.Role, page.Changes)
	}
	if err != nil {
		return a.syncError(ctx, v, err)
	}
	rest := appendChanges(nil, page.Changes)
	rest = strconv.AppendUint(append(rest, `,"next":`...), page.Next, 10)
	rest = strconv.AppendBool(append(rest, `,"more":`...), page.Next < page.Head)
	return a.answerSync(ctx, v, rest)
}

func (a *api) snapshot(ctx *fiber.Ctx, v visit) error {
	r, err := readSync(ctx, maxSmall)
	if err == nil && r.Epoch != "" {
		err = a.sameEpoch(v, r.Epoch)
	}
	if err != nil {
		return a.syncError(ctx, v, err)
	}
	page, err := v.book.Snapshot(r.Cursor, r.Limit)
	if err == nil {
		page.Changes, err = shown(v.device.Role, page.Changes)
	}
	if err != nil {
		return a.syncError(ctx, v, err)
	}
	rest := appendChanges(nil, page.Changes)
	rest = append(strconv.AppendQuote(append(rest, `,"next":`...), page.Next), `,"through":`...) // a cursor is plain ASCII
	return a.answerSync(ctx, v, strconv.AppendUint(rest, page.Through, 10))
}

// maxHistory bounds an answer to history, bytes of changes.
const maxHistory = 4 << 20

func (a *api) history(ctx *fiber.Ctx, v visit) error {
	r, err := readSync(ctx, maxSmall)
	var changes []journal.Change
	if err == nil {
		changes, err = v.book.History(journal.Key{Kind: r.Kind, ID: r.ID})
	}
	raw, sum, more := []json.RawMessage{}, 0, false
	for i := range changes {
		text := changes[i].Append(nil)
		if sum += len(text); sum > maxHistory {
			more = true
			break
		}
		raw = append(raw, text)
	}
	if err == nil {
		raw, err = shown(v.device.Role, raw)
	}
	if err != nil {
		return a.syncError(ctx, v, err)
	}
	rest := strconv.AppendBool(append(appendChanges(nil, raw), `,"more":`...), more)
	return a.answerSync(ctx, v, rest)
}

// sameEpoch refuses a phone that still lives in another epoch. One that knows none yet is
// let in.
func (a *api) sameEpoch(v visit, epoch string) error {
	if epoch == "" || epoch == v.book.Meta().Epoch {
		return nil
	}
	return fault.New(fault.OtherEpoch, "epoch", "The server's book is another than it was, most likely restored from a backup. This phone sends everything again and fetches everything anew.")
}

// appendChanges writes the list by hand: an encoder would rewrite values that must come
// back byte for byte.
func appendChanges(dst []byte, changes []json.RawMessage) []byte {
	dst = append(dst, `,"changes":[`...)
	for i, c := range changes {
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = append(dst, c...)
	}
	return append(dst, ']')
}

// answerSync puts what every answer has before rest.
func (a *api) answerSync(ctx *fiber.Ctx, v visit, rest []byte) error {
	head, err := json.Marshal(a.mark(v))
	if err != nil {
		return err
	}
	return sendJSON(ctx, append(append(head[:len(head)-1:len(head)-1], rest...), '}'))
}

// syncMark is what every answer of the sync has.
type syncMark struct {
	Protocol int    `json:"protocol"`
	Epoch    string `json:"epoch"`
	Now      int64  `json:"now"`
}

func (a *api) mark(v visit) syncMark {
	return syncMark{protocol, v.book.Meta().Epoch, a.now().UnixMilli()}
}

// syncError answers an error with what every answer of the sync has.
func (a *api) syncError(ctx *fiber.Ctx, v visit, err error) error {
	return answerError(ctx, err, a.mark(v), a.log)
}

// leastZipped: shorter answers gain nothing by compression.
const leastZipped = 1 << 10

var zippers = sync.Pool{New: func() any {
	w, _ := gzip.NewWriterLevel(nil, gzip.BestSpeed) // a level that exists
	return w
}}

// sendJSON sends body, compressed where that is welcome: a first pull over a bad signal is
// several times quicker.
func sendJSON(ctx *fiber.Ctx, body []byte) error {
	ctx.Set(fiber.HeaderContentType, fiber.MIMEApplicationJSONCharsetUTF8)
	ctx.Set(fiber.HeaderVary, fiber.HeaderAcceptEncoding)
	if len(body) < leastZipped || !acceptsEncoding(ctx.Get(fiber.HeaderAcceptEncoding), "gzip") {
		return ctx.Send(body)
	}
	var zipped bytes.Buffer
	w := zippers.Get().(*gzip.Writer)
	defer zippers.Put(w)
	w.Reset(&zipped)
	if _, err := w.Write(body); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	ctx.Set(fiber.HeaderContentEncoding, "gzip")
	return ctx.Send(zipped.Bytes())
}
