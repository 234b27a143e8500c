// Package tide predicts the tide at a station from its harmonic constants: heights, high
// and low waters, crossings of a level, secondary ports.
package tide
