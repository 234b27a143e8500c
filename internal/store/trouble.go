package store

import (
	"errors"
	"io/fs"
	"strings"
	"syscall"

	bolterrors "go.etcd.io/bbolt/errors"

	"wrackbook/internal/fault"
)

// Reason says to a program why the store did not do what it was asked; the fault that
// carries it says it to a person. Read it with ReasonOf.
type Reason string

const (
	Damaged      Reason = "damaged"        // bytes on the disk are not what was written
	Newer        Reason = "newer"          // the book was written by a later Wrackbook
	Locked       Reason = "locked"         // another process has the book open
	DiskFull     Reason = "disk_full"      // no room, or a quota or size limit is reached
	ReadOnly     Reason = "read_only"      // the folder or file may not be written
	Missing      Reason = "missing"        // no book, or no photo of that name
	Occupied     Reason = "occupied"       // there is a book where a new one was to go
	Closed       Reason = "closed"         // the store has been closed
	Stale        Reason = "stale"          // the cursor belongs to another epoch: begin again from zero
	NoInvitation Reason = "no_invitation"  // unknown, used, run out or voided: never said which
	TooManyTries Reason = "too_many_tries" // wrong invitation codes came too fast
	NoDevice     Reason = "no_device"      // no such device, or it is shut out
)

var codes = map[Reason]fault.Code{
	Damaged: fault.Internal, Newer: fault.Internal, Locked: fault.Internal, DiskFull: fault.Internal,
	ReadOnly: fault.Unavailable, Closed: fault.Internal, Missing: fault.NotFound, Occupied: fault.BadInput,
	Stale: fault.BadInput, NoInvitation: fault.NotFound, TooManyTries: fault.BadInput, NoDevice: fault.NotFound,
}

// Trouble is the cause inside a fault of this room.
type Trouble struct {
	Reason Reason
	Err    error // what lies beneath, for the log; may be nil
}

func (t *Trouble) Error() string {
	if t.Err == nil {
		return string(t.Reason)
	}
	return string(t.Reason) + ": " + t.Err.Error()
}

// Unwrap gives what lies beneath.
func (t *Trouble) Unwrap() error { return t.Err }

// ReasonOf gives the reason in err, or "" where it has none.
func ReasonOf(err error) Reason {
	var t *Trouble
	if errors.As(err, &t) {
		return t.Reason
	}
	return ""
}

func trouble(reason Reason, cause error, format string, args ...any) error {
	return fault.Wrap(codes[reason], "", &Trouble{reason, cause}, format, args...)
}

// explain gives an error of the disk or of bbolt its sentence; what already has one passes.
func explain(err error) error {
	var f *fault.Error
	switch {
	case err == nil || errors.As(err, &f):
		return err
	case errors.Is(err, bolterrors.ErrDatabaseNotOpen):
		return trouble(Closed, err, "Wrackbook is shutting down. Try again in a minute.")
	case full(err):
		return trouble(DiskFull, err, "The disk that holds the book is full. Nothing of this was saved there: make room, then try again.")
	case unwritable(err):
		return trouble(ReadOnly, err, "The folder of the book cannot be written. Give the user that runs Wrackbook the right to write it, then try again.")
	case notABook(err):
		return damaged(err)
	}
	return fault.Wrap(fault.Internal, "", err, "The book could not be read or written. Try again; if it stays, look at the log and at the disk.")
}

func damaged(cause error) error {
	return trouble(Damaged, cause, "The book on the disk is damaged. Stop Wrackbook, keep a copy of its folder, and restore the newest backup into an empty folder: the phones bring back what came after it.")
}

// full also goes by the text: bbolt keeps no more than that of what it met when growing a
// file or copying one.
func full(err error) bool {
	for _, errno := range []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		if errors.Is(err, errno) || strings.Contains(err.Error(), errno.Error()) {
			return true
		}
	}
	return false
}

func unwritable(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}

func notABook(err error) bool {
	return errors.Is(err, bolterrors.ErrInvalid) || errors.Is(err, bolterrors.ErrChecksum) || errors.Is(err, bolterrors.ErrVersionMismatch)
}
