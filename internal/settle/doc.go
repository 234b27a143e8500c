// Package settle brings what was taken from the shore into the household's tanks: the plan
// of acclimation from bag to tank, and the quarantine clock.
//
// The clock is derived from what is on file and never stored, so that every phone that
// holds the same events says the same, whatever order they came in. It belongs to a water
// system (tanks that share water at the time), not to an animal. testdata/settle holds the
// rules it follows, the table of what each event does, and histories worked by hand.
//
// It refuses to call anything clean or free of disease: it says that no signs were seen,
// that the wait is done, and what is missing. Where the design or the record leaves
// something open, it waits longer. It knows no sentence for a person: causes and what is
// missing are words of a closed list, and the app has the sentences.
//
// Start with book.go (what it reads), Derive in walk.go, then clock.go, events.go, moves.go and
// signs.go; plan.go for acclimation. The numbers stand in groups.json, each with its source.
package settle
