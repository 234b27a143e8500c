// Package fault is the one error type of Wrackbook: a code from a closed list for
// programs, and a sentence for the person with wet hands that says what was wrong and
// what to do. The cause, if any, is wrapped for the log and never shown.
//
// Every room returns *Error for what a person or a caller can mend; any other error is a
// defect of ours and is shown as Internal.
package fault

import (
	"errors"
	"fmt"
)

// Code names a kind of failure. The list is closed: a new one is added here, and the
// table of HTTP statuses in server/ must then name it (a test checks that).
type Code string

const (
	// BadJSON: the request is not JSON of the expected form.
	BadJSON Code = "bad_json"
	// BadInput: a field is missing, of the wrong form, or outside its bounds.
	BadInput Code = "bad_input"
	// AskUnit: a figure that would be right in another unit. To be asked, not just refused.
	AskUnit Code = "ask_unit"
	// UnknownCall: the core has no call of that name.
	UnknownCall Code = "unknown_call"
	// UnknownStation: the catalogue has no station of that id.
	UnknownStation Code = "unknown_station"
	// UnknownConstituent: a harmonic constant whose name the tide room does not know.
	UnknownConstituent Code = "unknown_constituent"
	// UnknownZone: a time zone that the embedded tz database does not have.
	UnknownZone Code = "unknown_zone"
	// SpanTooLong: the span asked for is longer than the call answers.
	SpanTooLong Code = "span_too_long"
	// NoDistinctTide: the water has no high and low waters to work with.
	NoDistinctTide Code = "no_distinct_tide"
	// WatersCross: a secondary port's differences would put one water before its
	// predecessor, so that the prediction has no meaning there.
	WatersCross Code = "waters_cross"
	// NoDatum: the station cannot give heights above a chart datum.
	NoDatum Code = "no_datum"
	// NoCatalogue: the core was asked for a station before the catalogue was opened.
	NoCatalogue Code = "no_catalogue"
	// TooLarge: the body of a request is larger than is read.
	TooLarge Code = "too_large"
	// NotFound: no such route, file, photo or device.
	NotFound Code = "not_found"
	// WrongType: the body is of another media type than the route takes.
	WrongType Code = "wrong_type"
	// NoDevice: the caller is no device of the household, or one that was shut out.
	NoDevice Code = "no_device"
	// NotAllowed: the device's role may not do this.
	NotAllowed Code = "not_allowed"
	// CrossSite: a browser sent this on behalf of another site, or under another name of
	// this server than its own.
	CrossSite Code = "cross_site"
	// NoInvitation: the code is unknown, used, or has run out; it is not said which.
	NoInvitation Code = "no_invitation"
	// TooManyTries: codes that do not work came too fast.
	TooManyTries Code = "too_many_tries"
	// OtherEpoch: the server's book was restored; places in its journal mean nothing now.
	OtherEpoch Code = "other_epoch"
	// PleaseUpdate: phone and server speak different versions of the protocol.
	PleaseUpdate Code = "please_update"
	// DiskFull: there is no room to save anything.
	DiskFull Code = "disk_full"
	// Unavailable: the book cannot be reached for the moment.
	Unavailable Code = "unavailable"
	// Internal: a defect of ours.
	Internal Code = "internal"
)

// Codes lists every code, for tests that must cover all of them.
func Codes() []Code {
	return []Code{BadJSON, BadInput, AskUnit, UnknownCall, UnknownStation, UnknownConstituent, UnknownZone,
		SpanTooLong, NoDistinctTide, WatersCross, NoDatum, NoCatalogue, TooLarge, NotFound, WrongType,
		NoDevice, NotAllowed, CrossSite, NoInvitation, TooManyTries, OtherEpoch, PleaseUpdate, DiskFull, Unavailable, Internal}
}

// Error is what the rooms return.
type Error struct {
	Code    Code   // from the list above
	Field   string // the request field at fault, as the caller spells it; may be empty
	Message string // one or two plain sentences: what was wrong, what to do
	Err     error  // the cause, for the log only; may be nil
}

// Error gives the sentence for the person.
func (e *Error) Error() string { return e.Message }

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }

// New makes an Error with a formatted sentence.
func New(code Code, field, format string, args ...any) *Error {
	return &Error{Code: code, Field: field, Message: fmt.Sprintf(format, args...)}
}

// Wrap makes an Error with a cause for the log.
func Wrap(code Code, field string, cause error, format string, args ...any) *Error {
	return &Error{Code: code, Field: field, Message: fmt.Sprintf(format, args...), Err: cause}
}

// From returns err as an *Error; what is none becomes Internal with a sentence that
// gives nothing away.
func From(err error) *Error {
	if err == nil {
		return nil
	}
	var e *Error
	if errors.As(err, &e) {
		return e
	}
	return &Error{Code: Internal, Message: "Something went wrong inside Wrackbook. Try again; if it stays, restart it.", Err: err}
}
