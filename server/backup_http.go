package main

import (
	"io"
	"net"
	"os"
	"sync"
	"time"

	"github.com/gofiber/fiber/v2"

	"wrackbook/internal/fault"
)

// backupNew is a name that the store sweeps out of the book's folder when it opens (see the
// comment of its package): a server that was killed while it sent a backup leaves no copy
// of the household behind.
const backupNew = "book-*.new"

// backup answers GET /api/backup with the book and its photos as one zip file, as
// "wrackbook backup" writes it. It is written to the disk first, where a phone that fetches
// it slowly holds nothing up, and needs room there for as long as it is fetched: so there is
// one at a time, and 503 for whoever asks meanwhile.
func (a *api) backup(ctx *fiber.Ctx, v visit) error {
	if !a.backingUp.TryLock() {
		return fault.New(fault.Unavailable, "", "Another backup is being fetched from this server. Try again when it is done.")
	}
	done := sync.OnceFunc(a.backingUp.Unlock)
	file, err := os.CreateTemp(a.house.dir, backupNew) // mode 0600
	if err != nil {
		done()
		return fault.Wrap(fault.Unavailable, "", err, "The server cannot write into the book's folder, so there is no backup. Make room there, or give the user that runs Wrackbook the right to it.")
	}
	fetched := &download{file: file, conn: ctx.Context().Conn(), done: done}
	if _, err = v.book.Backup(file); err == nil {
		_, err = file.Seek(0, io.SeekStart)
	}
	info, statErr := file.Stat()
	if err == nil {
		err = statErr
	}
	if err != nil {
		fetched.Close()
		return err
	}
	ctx.Set(fiber.HeaderContentType, "application/zip")
	ctx.Set(fiber.HeaderContentDisposition, `attachment; filename="wrackbook-`+a.now().UTC().Format(time.DateOnly)+`.zip"`)
	return ctx.SendStream(fetched, int(info.Size()))
}

// download is a file on its way out: it may take as long as it likes as long as it gets on.
// Closing it removes it.
type download struct {
	file *os.File
	conn net.Conn
	done func()
}

// Read gives whoever fetches as long for the next piece as others have for a whole answer.
func (d *download) Read(p []byte) (int, error) {
	if err := d.conn.SetWriteDeadline(time.Now().Add(writeTimeout)); err != nil {
		return 0, err
	}
	return d.file.Read(p)
}

// Close is called by the HTTP server when the last byte is sent or the connection is lost.
func (d *download) Close() error {
	defer d.done()
	d.file.Close()
	return os.Remove(d.file.Name())
}
