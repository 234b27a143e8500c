// Package tide predicts the tide at a station from its harmonic constants: heights, high
// and low waters, crossings of a level, rate of change, secondary ports.
package tide

//go:generate go run ./table
