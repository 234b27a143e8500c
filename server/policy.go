package main

import (
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
