package store

import (
	"encoding/base64"
	"encoding/json"
	"strconv"
	"strings"

	bolt "go.etcd.io/bbolt"
)

// A new phone need not pull the whole journal: it takes the folded records, a page at a
// time, and then pulls what came after. Nothing is held for it on the server while it does.
//
// Pages fetched over minutes are not of one instant: a record on a late page may hold
// changes that came after the first page was read. That does no harm. The first page fixes
// a fence, the head of the journal then; every record made up to the fence is on some page,
// in a state at or after it; and pulling from the fence brings all that came later, some of
// it for the second time, which folding does not mind. So whoever has folded all pages and
// then pulled after Through has what pulling from zero gives. Until then it has a mixture:
// show it only after.

// SnapshotPage is a stretch of the folded records.
type SnapshotPage struct {
	Epoch   string
	Through uint64            // the fence: after the last page, pull after this
	Changes []json.RawMessage // to be folded like those of a pull; what lost is left out
	Next    string            // cursor of the next page; "" after the last
}

// Snapshot gives the page at a cursor, "" for the first. A cursor of another epoch, or one
// that was never given out, is Stale: begin again.
func (s *Store) Snapshot(cursor string, limit int) (SnapshotPage, error) {
	if limit <= 0 || limit > MaxPage {
		limit = MaxPage
	}
	page := SnapshotPage{Epoch: s.meta.Epoch, Changes: []json.RawMessage{}}
	var from []byte
	if cursor != "" {
		var ok bool
		if page.Through, from, ok = s.parseCursor(cursor); !ok {
			return SnapshotPage{}, s.stale()
		}
	}
	err := s.view(func(tx *bolt.Tx) error {
		head := headIn(tx)
		if cursor == "" {
			page.Through = head
		} else if page.Through > head {
			return s.stale()
		}
		c := tx.Bucket(recordsBucket).Cursor()
		count, sum := 0, 0
		key, sealed := c.Seek(from)
		for ; key != nil && count < limit && sum < pageBytes; key, sealed = c.Next() {
			stored, err := unseal(key, sealed)
			if err != nil {
				return err
			}
			page.Changes = append(page.Changes, lines(stored)...)
			count, sum = count+1, sum+len(stored)
		}
		if key != nil {
			page.Next = s.meta.Epoch + "." + strconv.FormatUint(page.Through, 10) + "." + base64.RawURLEncoding.EncodeToString(key)
		}
		return nil
	})
	if err != nil {
		return SnapshotPage{}, err
	}
	return page, nil
}

func (s *Store) parseCursor(cursor string) (through uint64, from []byte, ok bool) {
	parts := strings.Split(cursor, ".")
	if len(cursor) > 300 || len(parts) != 3 || parts[0] != s.meta.Epoch {
		return 0, nil, false
	}
	through, err := strconv.ParseUint(parts[1], 10, 64)
	if err != nil {
		return 0, nil, false
	}
	from, err = base64.RawURLEncoding.DecodeString(parts[2])
	return through, from, err == nil && len(from) > 0
}
