// Package seawater knows the water of pools, buckets and tanks: what a reading of salinity
// means, what the water weighs, how much oxygen it can hold, how much of its ammonia is
// poison, and what comes of mixing, topping up and changing it.
//
// Everything is at one atmosphere. Salinity is practical salinity (PSS-78), without unit;
// temperatures are degrees Celsius of ITS-90. Each function says its source, its range and
// its error, and refuses what lies outside the range with a fault.BadInput; none
// extrapolates. Where a figure is a hazard, the answer carries its worst case beside the
// likely one, and rounding goes to the side of the worst case.
//
// It does not know what an animal bears: that is the room settle.
//
// Start with Reading, which turns what an instrument showed into a salinity.
package seawater
