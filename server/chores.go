package main

import (
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"time"

	"wrackbook/internal/book"
	"wrackbook/internal/fault"
	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

// chore is work on a book that the person at the server asks for on the command line. It is
// done by the subcommand itself, or by the server that has the book open.
type chore func(*store.Store, task) error

// task is what a chore works with.
type task struct {
	site *site
	as   string // of unsent: the role whose rights count
	in   io.Reader
	out  io.Writer
}

var chores = map[string]chore{"pair": pairChore, "backup": backupChore, "check": checkChore, "unsent": unsentChore}

const keeperAge = 24 * time.Hour // of an invitation by the person at the server

// pairChore invites a keeper, whoever is keeper already.
func pairChore(book *store.Store, t task) error {
	code, err := book.Invite(store.Keeper, keeperAge)
	if err != nil {
		return err
	}
	shown := readableCode(code)
	_, err = fmt.Fprintf(t.out, "Open this on the device that shall be a keeper's; it works once, within 24 hours:\n\n  %s\n\nor open %s/pair there and type\n\n  %s\n", t.site.pairLink(shown, ""), t.site.url, shown)
	return err
}

func backupChore(book *store.Store, t task) error {
	_, err := book.Backup(t.out)
	return err
}

func checkChore(book *store.Store, t task) error {
	report, err := book.Check()
	if len(report.Problems) > 0 {
		for _, p := range report.Problems {
			fmt.Fprintln(t.out, p)
		}
	}
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(t.out, "All is well: %d changes, %d records, %d devices, %d photos.\n", report.Head, report.Records, report.Devices, report.Photos)
	return err
}

// An unsent file is what a phone that cannot reach the server hands out: the same changes
// and photos that it would have sent.
//
//	{"wrackbook":"unsent","protocol":1,"changes":[…],"photos":{"<sha256>":"<base64>"}}
type unsentFile struct {
	Wrackbook string            `json:"wrackbook"`
	Protocol  int               `json:"protocol"`
	Changes   []json.RawMessage `json:"changes"`
	Photos    map[string]string `json:"photos"`
}

const (
	unsentMark     = "unsent"
	maxUnsentBytes = 512 << 20
)

// unsentChore takes an unsent file in, with the rights of a role: who wrote it cannot be
// proved, so the person at the server answers for that. What is here already is not taken
// twice.
func unsentChore(book *store.Store, t task) error {
	role := store.Role(t.as)
	if err := checkWriter(role); err != nil {
		return err
	}
	file, err := readUnsent(t.in)
	if err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(file.Photos)) {
		if err := takePhoto(book, name, file.Photos[name]); err != nil {
			return err
		}
	}
	taken, refused, bad := 0, map[string]int{}, map[string]int{}
	for list := range chunks(file.Changes) {
		results, err := pushRaw(book, list, func(c *journal.Change) string { return judge(role, c) })
		if err != nil {
			return err
		}
		for _, r := range results {
			switch {
			case r.Error != nil:
				bad[r.Error.Message]++
			case r.Refused != "":
				refused[r.Refused]++
			default:
				taken++
			}
		}
	}
	fmt.Fprintf(t.out, "%d changes and %d photos are in the book.\n", taken, len(file.Photos))
	for _, reason := range slices.Sorted(maps.Keys(refused)) {
		fmt.Fprintf(t.out, "%d are kept and do not count: %s\n", refused[reason], reason)
	}
	for _, reason := range slices.Sorted(maps.Keys(bad)) {
		fmt.Fprintf(t.out, "%d were not kept: %s\n", bad[reason], reason)
	}
	return nil
}

// checkWriter says whether a role is one that writes.
func checkWriter(role store.Role) error {
	if role == store.Guest || !slices.Contains(book.Roles(), role) {
		return fault.New(fault.BadInput, "as", "The role is %.20q; it is one of child, collector and keeper.", role)
	}
	return nil
}

func readUnsent(in io.Reader) (file unsentFile, err error) {
	data, err := io.ReadAll(io.LimitReader(in, maxUnsentBytes+1))
	if err != nil {
		return file, err
	}
	if len(data) > maxUnsentBytes {
		return file, fault.New(fault.TooLarge, "", "The file is larger than %d MB.", maxUnsentBytes>>20)
	}
	if err := json.Unmarshal(data, &file); err != nil || file.Wrackbook != unsentMark {
		return file, fault.Wrap(fault.BadJSON, "", err, "This is no file of what a phone has not sent, or it was cut short. Save it again on the phone.")
	}
	if file.Protocol < leastProtocol || file.Protocol > protocol {
		return file, fault.New(fault.PleaseUpdate, "protocol", "The file is of another version of Wrackbook (%d; this one reads %d to %d). Update the older of the two.", file.Protocol, leastProtocol, protocol)
	}
	return file, nil
}

func takePhoto(book *store.Store, name, encoded string) error {
	data, err := base64.StdEncoding.DecodeString(encoded)
	if err == nil && photoName(data) != name {
		err = errors.New("other bytes than its name says")
	}
	if err != nil {
		return fault.Wrap(fault.BadInput, "photos", err, "The photo %.64q in the file is damaged. Save the file again on the phone.", name)
	}
	_, err = book.PutPhoto(data)
	return err
}

// chunks parts changes into lists that can be pushed.
func chunks(all []json.RawMessage) func(yield func([]json.RawMessage) bool) {
	return func(yield func([]json.RawMessage) bool) {
		for len(all) > 0 {
			n, sum := 0, 0
			for n < len(all) && n < maxPush && (n == 0 || sum+len(all[n]) <= store.MaxPushBytes/2) {
				sum += len(all[n])
				n++
			}
			if !yield(all[:n]) {
				return
			}
			all = all[n:]
		}
	}
}
