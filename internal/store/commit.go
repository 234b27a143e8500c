package store

import (
	"sync"

	bolt "go.etcd.io/bbolt"
)

// Many phones come home at once. Each waits for its own turn with the file; whoever gets
// it takes along all that has queued up meanwhile, in one transaction and one sync. A lone
// writer waits for nobody (bbolt's own Batch makes it wait 10 ms for company).
type committer struct {
	turn sync.Mutex // held by the one that writes

	mu      sync.Mutex
	waiting []*work
}

type work struct {
	do     func(*bolt.Tx) error
	weight int // bytes it will write, about
	done   bool
	err    error
}

// maxTurn bounds what one transaction holds in memory.
const maxTurn = 8 << 20

// commit runs do in a write transaction and returns nil once that is synced. Do may run
// more than once and must start afresh each time; an error from it undoes what it did and
// is returned, and nobody else's work suffers. It must not call the store.
//
// There is no short way out for work that turns out to be done already: an answer always
// follows a sync, so that what an earlier, failed sync left in the kernel's hands is never
// acknowledged on the strength of having been read back.
func (s *Store) commit(weight int, do func(*bolt.Tx) error) error {
	w := &work{do: do, weight: weight}
	c := &s.queue
	c.mu.Lock()
	c.waiting = append(c.waiting, w)
	c.mu.Unlock()
	c.turn.Lock()
	defer c.turn.Unlock()
	for !w.done {
		s.run(c.take())
	}
	return w.err
}

// take gives the first in the queue, as many as fit in a turn.
func (c *committer) take() []*work {
	c.mu.Lock()
	defer c.mu.Unlock()
	n, sum := 0, 0
	for n < len(c.waiting) && (n == 0 || sum+c.waiting[n].weight <= maxTurn) {
		sum += c.waiting[n].weight
		n++
	}
	batch := c.waiting[:n:n]
	c.waiting = c.waiting[n:]
	if len(c.waiting) == 0 {
		c.waiting = nil
	}
	return batch
}

// run commits a batch. Where one work fails, it is answered and the others run again.
func (s *Store) run(batch []*work) {
	for len(batch) > 0 {
		failed := -1
		err := s.update(func(tx *bolt.Tx) error {
			failed = -1
			for i, w := range batch {
				if err := w.do(tx); err != nil {
					failed = i
					return err
				}
			}
			return nil
		})
		if failed < 0 {
			for _, w := range batch {
				w.done, w.err = true, err
			}
			return
		}
		batch[failed].done, batch[failed].err = true, err
		batch = append(batch[:failed], batch[failed+1:]...)
	}
}
