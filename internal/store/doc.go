// Package store keeps a household on disk: the journal of changes, the records folded from
// it, devices, invitations and photos. What it has acknowledged is on the disk.
//
// A folder holds
//
//	book.db              the book: one bbolt file, every value sealed with a checksum
//	photos/ab/ab12…      photos, named by the SHA-256 of their bytes
//	photos/new/          photos on their way in; emptied at each start
//	book-*.new           a book on its way in or out; removed at each start
//	book.db.schema-N     the book as it was before its form was brought up from N
//
// It refuses to guess: a damaged, newer or locked file is an error that says what to do,
// and no byte of the book is answered whose seal does not fit. It judges neither who may
// write what (its caller hands in that judgement) nor what a record means.
//
// Every write, of whatever kind, goes through commit.go: writers that wait share one
// transaction, and each is answered after that transaction has been synced. No transaction
// is open while a caller's code runs or a slow reader is served.
//
// Start reading at store.go, then commit.go and push.go.
package store
