// Package sky says when a shore is lit and where the moon stands: sunrise and sunset,
// civil twilight, moonrise and moonset, the moon's phases, distance and declination.
//
// It reckons for a sea horizon at the observer's feet with the standard refraction of 34′.
// Hills, cloud and unusual air are not its business, and it gives no azimuths.
//
// Start at light.go (what the windows need) and events.go (what a person reads). Both ask
// sight.go for the instants at which a body passes the horizon; sight.go follows the body
// along a path (path.go) of places that theory gives (sun.go, moon.go).
//
// Longitudes are positive east everywhere; nothing here calls the parts of meeus that
// count them positive west. Every instant that comes out is UTC, and all but the edges a
// caller asked for are rounded to the whole second. Each answer depends on the instant
// alone, never on the span it was asked in: two halves of a span join to the whole.
package sky
