package store

import (
	"bytes"
	"encoding/json"

	bolt "go.etcd.io/bbolt"

	"wrackbook/internal/journal"
)

// Bounds of one page, of changes or of records.
const (
	MaxPage   = 5000
	pageBytes = 4 << 20
)

// Page is a stretch of the journal.
type Page struct {
	Epoch   string
	Changes []json.RawMessage // as journal.DecodeChange reads them, in order
	Next    uint64            // pull after this; the Head of then when all has been pulled
	Head    uint64            // last sequence number when the page was read
}

// Pull gives the changes after a sequence number, at most limit (0 or more than MaxPage:
// MaxPage) and about 4 MB. A cursor of another epoch, or past the end of the journal, is
// Stale: the phone begins again from zero and pushes all that it has. An empty epoch goes
// with after 0.
func (s *Store) Pull(epoch string, after uint64, limit int) (Page, error) {
	if limit <= 0 || limit > MaxPage {
		limit = MaxPage
	}
	page := Page{Epoch: s.meta.Epoch, Next: after, Changes: []json.RawMessage{}}
	if epoch != s.meta.Epoch && (epoch != "" || after != 0) {
		return Page{}, s.stale()
	}
	err := s.view(func(tx *bolt.Tx) error {
		if page.Head = headIn(tx); after > page.Head {
			return s.stale()
		}
		cursor := tx.Bucket(journalBucket).Cursor()
		sum := 0
		for key, sealed := cursor.Seek(seqKey(after + 1)); key != nil && len(page.Changes) < limit && sum < pageBytes; key, sealed = cursor.Next() {
			stored, err := unseal(key, sealed)
			if err != nil {
				return err
			}
			page.Changes = append(page.Changes, bytes.Clone(stored)) // theirs dies with the transaction
			page.Next = seqOf(key)
			sum += len(stored)
		}
		return nil
	})
	if err != nil {
		return Page{}, err
	}
	return page, nil
}

func (s *Store) stale() error {
	return trouble(Stale, nil, "The server's book is another than it was, most likely restored from a backup. This phone sends everything again and fetches everything anew.")
}

// History gives every change about a record, refused ones too, in the order of arrival. It
// reads the whole journal, page by page.
func (s *Store) History(key journal.Key) ([]journal.Change, error) {
	var found []journal.Change
	needle := []byte(`"record":"` + key.ID + `"`)
	for after, more := uint64(0), true; more; {
		page, err := s.Pull(s.meta.Epoch, after, 0)
		if err != nil {
			return nil, err
		}
		for _, stored := range page.Changes {
			if !bytes.Contains(stored, needle) {
				continue
			}
			c, err := journal.DecodeChange(stored)
			if err != nil {
				return nil, damaged(err)
			}
			if c.Key() == key {
				found = append(found, c)
			}
		}
		after, more = page.Next, page.Next < page.Head
	}
	return found, nil
}
