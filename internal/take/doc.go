// Package take says what the rule sets on file hold of one find, before anything is cut or
// picked up: forbidden, over, unchecked, at the limit, or within, with every rule that
// spoke, its arithmetic, its source, and who last checked it and when.
//
// It refuses to turn silence into permission. A kind that no set in force allows by name
// is unchecked; so is one that depends on a fact that nobody gave, which is then named; a
// set that was not checked for too long goes on forbidding and permits nothing. It knows no
// law of its own, and no sentence of it says that something is lawful: "within" is within
// the rules on file, above which stand the authority's word and the signs on the shore.
//
// Whether a rule is about a find is yes, no, or not to be told for want of a fact
// (truth.go). A restriction that would forbid if a missing fact were so gives unchecked; a
// permission that hangs on one does not permit. Everything else follows from that.
//
// Start with FORM.md, which says how a set is written, then set.go (the model), verdict.go
// (what is asked and answered) and speak.go (how). ledger.go keeps what was taken.
package take
