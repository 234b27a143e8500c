// Package window finds the low-tide windows of a shore: when it lies bare and lit, when
// the party can work it, and, before all else, when everybody must be off the rocks.
//
// # What is reckoned
//
// A dry spell lasts from the falling tide passing the workable height to the rising tide
// passing it again. Each lit part of a dry spell is a window, with one low water. From
// the usable start to the usable end the party works; at StartBack it begins to walk; at
// OffBy all are off. OffBy is the earliest that any rule gives in any of up to three
// reckonings of the sea: as predicted, raised by RaiseM for weather, and raised by low
// air pressure. On a shore that can be cut off, or whose way-off height nobody knows, the
// party starts back at low water.
//
// The raised sea shortens OffBy for everyone, and beside each window stands its twin: the
// same window with the water that much higher.
//
// # What it refuses to do
//
// No input makes a window longer than the prediction alone would: weather only shortens.
// Predictions are astronomical; the room knows nothing of swell, wind or rain. It reads no
// clock, zone or network of the host: the tide, the sky and the shore's zone come in as
// arguments.
//
// # Where to start
//
// shore.go and query.go say what is asked, answer.go what is answered; Reckon in reckon.go
// is the way through; weigh.go holds the rules of safety. Every sentence a person reads is
// in texts.go.
//
// Before anything is decided, instants are rounded to the second and heights to the
// millimetre, so that the server and the phone decide alike.
package window
