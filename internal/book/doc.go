// Package book says what a household's records are: their kinds and fields, the form, unit
// and bounds of each value, and which role may write it. One table has it all (fields.json);
// Check, MayWrite and the list for people (FIELDS.md) come from it.
//
// Checking flags and never refuses: what was written on a wet rock is kept, and shown with
// what is doubtful about it. Kinds and fields from a later program are kept as well. Roles
// do refuse; the server asks MayWrite of every field of a change.
//
// Values that mean something only together are one field (an amount and its unit, a
// position and its accuracy). A set is one field an element ("photos/<hash>"), so that two
// phones can add to it. Membership of a water system, residence and moves are events with
// a day and are never fields: where an animal is, is derived. An event is one field, named
// by what happened, because who may write it depends on that: a child may check, and may
// not clear.
//
// Start with FIELDS.md, then table.go.
package book

//go:generate go run ./table
