package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"wrackbook/internal/book"
	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

// What a role may write and see is the table of internal/book; here it is applied to
// changes on their way in and out.

// judge says why a change written on a device of that role stays out of the fold; "" where
// it counts. A change counts whole or not at all.
func judge(role store.Role, c *journal.Change) string {
	for _, field := range slices.Sorted(maps.Keys(c.Fields)) {
		if !book.MayWrite(role, c.Kind, field) {
			return fmt.Sprintf("A %s may not set %q in a record of the kind %q. What was written is kept and does not count; ask a keeper.", role, field, c.Kind)
		}
	}
	return ""
}

// judgeIn is judge with what is on file: a child's device notes nothing in an adult's name,
// which would make a quiet day of its look, and alters no look, sign or death that is there.
func judgeIn(b *store.Store, role store.Role, c *journal.Change) string {
	if says := judge(role, c); says != "" || role != store.Child || c.Kind != "event" {
		return says
	}
	for _, field := range []string{"checked", "sign", "died"} {
		value, has := c.Fields[field]
		if !has {
			continue
		}
		var said struct {
			By string `json:"by"`
		}
		if json.Unmarshal(value, &said) == nil && said.By != "" {
			member, err := b.Record(journal.Key{Kind: "member", ID: said.By})
			if err != nil || isAdult(member) {
				return "A child's phone notes nothing in an adult's name. What was written is kept and does not count."
			}
		}
		event, err := b.Record(c.Key())
		if err != nil {
			return "What is on file could not be read, so a child's change of it does not count."
		}
		if event == nil {
			continue
		}
		if had, on := event.Get(field); on && !bytes.Equal(had.JSON, value) {
			return "A look, sign or death that is on file is for an adult to alter. What was written is kept and does not count."
		}
	}
	return ""
}

func isAdult(member *journal.Record) bool {
	if member == nil {
		return false
	}
	age, _ := member.Get("age")
	return string(age.JSON) == `"adult"`
}

// seesAll says whether nothing is hidden from a role.
func seesAll(role store.Role) bool { return role == store.Keeper || role == store.Collector }

// shown takes out of changes what a role does not see. Changes of which nothing is left are
// left out.
func shown(role store.Role, changes []json.RawMessage) ([]json.RawMessage, error) {
	if seesAll(role) {
		return changes, nil
	}
	list := make([]json.RawMessage, 0, len(changes))
	for _, stored := range changes {
		c, err := journal.DecodeChange(stored)
		if err != nil {
			return nil, err
		}
		all := len(c.Fields)
		maps.DeleteFunc(c.Fields, func(field string, _ json.RawMessage) bool {
			return !book.MaySee(role, c.Kind, field)
		})
		switch len(c.Fields) {
		case 0:
		case all:
			list = append(list, stored)
		default:
			list = append(list, c.Append(nil))
		}
	}
	return list, nil
}
