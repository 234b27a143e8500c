// Command household measures the server of a household as it is delivered: how many pushes
// it acknowledges, how long a new phone takes, what memory is its own, how long it takes to
// start. Each stands as a ratio to something plain that is measured in the same run: bare
// bbolt with the same bytes, and reading the same file. scripts/bench builds ./wrackbook and
// runs it from the root of the repository.
package main

import (
	"fmt"
	"log"
	"os"
	"path/filepath"
	"time"

	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

func main() {
	log.SetFlags(0)
	dir, err := os.MkdirTemp("", "wrackbook-measure-")
	if err != nil {
		log.Fatal(err)
	}
	err = run(dir)
	os.RemoveAll(dir)
	if err != nil {
		log.Fatal("household: ", err)
	}
}

func run(dir string) error {
	fmt.Println("\nAcknowledged pushes of one find each, over HTTP, beside bare bbolt with the same bytes")
	for _, phones := range []int{1, 10, 50} {
		if err := pushes(filepath.Join(dir, fmt.Sprint("pushes-", phones)), phones); err != nil {
			return err
		}
	}
	large := filepath.Join(dir, "large")
	token, err := fill(large, 100_000)
	if err != nil {
		return err
	}
	if err := newPhone(large, token); err != nil {
		return err
	}
	if err := memory(large, token); err != nil {
		return err
	}
	fmt.Println("\nFrom the start of the program to its address, the whole book read and verified")
	if err := starts(large, 100_000); err != nil {
		return err
	}
	larger := filepath.Join(dir, "larger")
	if _, err := fill(larger, 1_000_000); err != nil {
		return err
	}
	return starts(larger, 1_000_000)
}

// fill makes a book of so many changes, each about a find of its own up to 100,000 finds,
// with one keeper's device.
func fill(dir string, changes int) (token string, err error) {
	s, err := store.Open(dir, store.Options{})
	if err != nil {
		return "", err
	}
	defer s.Close()
	code, err := s.KeeperCode()
	if err != nil {
		return "", err
	}
	if _, token, err = s.Redeem(code, "a phone"); err != nil {
		return "", err
	}
	w := newWriter(1)
	var records []string
	for done := 0; done < changes; {
		batch := make([]journal.Change, 0, store.MaxPush)
		for ; done < changes && len(batch) < store.MaxPush; done++ {
			if len(records) < 100_000 {
				records = append(records, w.id())
			}
			batch = append(batch, w.find(records[done%len(records)]))
		}
		if _, err := s.Push(batch, nil); err != nil {
			return "", err
		}
	}
	return token, nil
}

// pushes has phones push finds to a server, and goroutines write the same to bare bbolt.
func pushes(dir string, phones int) error {
	token, err := fill(dir, 1)
	if err != nil {
		return err
	}
	p, err := serve(dir)
	if err != nil {
		return err
	}
	n := map[int]int{1: 500, 10: 4000, 50: 12000}[phones]
	ours, err := p.push(token, phones, n)
	p.stop()
	if err != nil {
		return err
	}
	bare, err := bareBolt(filepath.Join(dir, "bare.db"), phones, n)
	if err != nil {
		return err
	}
	line := fmt.Sprintf("  %2d phones %28.0f /s   %8.3f ms each   %5.2f times bare bbolt's time", phones, float64(n)/ours.Seconds(),
		ours.Seconds()*1000/float64(n), ours.Seconds()/bare.Seconds())
	if phones == 50 {
		line += fmt.Sprintf("   budget 2: %s", within(ours.Seconds()/bare.Seconds(), 2))
	}
	fmt.Println(line)
	return nil
}

// newPhone fetches a book of 100,000 finds, each way, beside reading the file.
func newPhone(dir, token string) error {
	plain, size, err := readThrough(filepath.Join(dir, "book.db"))
	if err != nil {
		return err
	}
	p, err := serve(dir)
	if err != nil {
		return err
	}
	defer p.stop()
	fmt.Printf("\nA new phone of a household with 100,000 finds, compressed, beside reading the file (%.0f MB)\n", float64(size)/1e6)
	for _, path := range []string{"pull", "snapshot"} {
		begin := time.Now()
		changes, bytes, err := p.fetchAll(token, path)
		if err != nil {
			return err
		}
		if changes != 100_000 {
			return fmt.Errorf("%s gave %d changes", path, changes)
		}
		took := time.Since(begin)
		fmt.Printf("  %-28s %10.2f s   %6.1f MB over the wire   %5.1f times the reading\n", path, took.Seconds(), float64(bytes)/1e6, took.Seconds()/plain.Seconds())
	}
	return nil
}

// memory tells the anonymous memory of the server, apart from the mapped file.
func memory(dir, token string) error {
	p, err := serve(dir)
	if err != nil {
		return err
	}
	defer p.stop()
	fmt.Println("\nMemory of the server with 100,000 finds: anonymous, and the mapped file apart")
	if _, _, err := p.fetchPage(token, "pull", 0, ""); err != nil {
		return err
	}
	tell := func(what string, anon, file float64, budget float64) {
		line := fmt.Sprintf("  %-28s %10.1f MB   %6.1f MB mapped", what, anon, file)
		if budget > 0 {
			line += fmt.Sprintf("   budget %g MB: %s", budget, within(anon, budget))
		}
		fmt.Println(line)
	}
	anon, file, err := p.memory()
	if err != nil {
		return err
	}
	tell("after the start", anon, file, 150)
	stop, most := make(chan struct{}), make(chan [2]float64)
	go p.watch(stop, most)
	if _, err = p.push(token, 50, 10_000); err == nil {
		_, _, err = p.fetchAll(token, "snapshot")
	}
	close(stop)
	peak := <-most
	if err != nil {
		return err
	}
	tell("at most, 50 phones at work", peak[0], peak[1], 0)
	time.Sleep(20 * time.Second) // the runtime gives memory back as it finds time
	if anon, file, err = p.memory(); err != nil {
		return err
	}
	tell("idle 20 s later", anon, file, 150)
	return nil
}

// starts tells how long the program takes to be there, beside reading the file.
func starts(dir string, changes int) error {
	plain, size, err := readThrough(filepath.Join(dir, "book.db"))
	if err != nil {
		return err
	}
	least := time.Hour
	for range 3 {
		begin := time.Now()
		p, err := serve(dir)
		if err != nil {
			return err
		}
		least = min(least, time.Since(begin))
		p.stop()
	}
	fmt.Printf("  %9d changes, %4.0f MB %12.2f s   %5.1f times reading the file\n", changes, float64(size)/1e6, least.Seconds(), least.Seconds()/plain.Seconds())
	return nil
}

func within(measured, budget float64) string {
	if measured > budget {
		return fmt.Sprintf("OVER by %.0f %%", (measured/budget-1)*100)
	}
	return fmt.Sprintf("%.0f %% of it", measured/budget*100)
}
