package store

import (
	"archive/zip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"time"

	bolt "go.etcd.io/bbolt"
)

// A backup is one zip file:
//
//	book.db           the book, compacted
//	photos/ab/ab12…   every photo there was when the book had been copied
//	manifest.json     what is in it, with sizes and hashes; last
//
// A zip, because any computer in the house can look into one, and because its directory
// stands at the end: a download that broke off is seen at once. Nothing in it is
// compressed: photos do not get smaller, and an archive that cannot unfold to more than
// its own size needs no guard against one that would fill the disk.

// Manifest says what is in a backup.
type Manifest struct {
	Form    int    `json:"form"`
	TakenMS int64  `json:"takenMs"` // Unix milliseconds
	Meta    Meta   `json:"meta"`
	Head    uint64 `json:"head"`  // last sequence number in the book
	Files   []File `json:"files"` // the book first, then photos by name
	// Damaged lists photos that were left out because their bytes were not theirs any more.
	Damaged []string `json:"damaged,omitempty"`
}

// File is one file of a backup.
type File struct {
	Name   string `json:"name"`
	Size   int64  `json:"size"`
	SHA256 string `json:"sha256"`
}

const (
	backupForm   = 1
	manifestName = "manifest.json"
	maxManifest  = 256 << 20 // bytes: over a million photos
)

// Backup writes a backup to w while the store serves. The book is copied and verified on
// the disk first (which needs room for it twice), so a slow w holds nothing up.
func (s *Store) Backup(w io.Writer) (Manifest, error) {
	fresh, err := s.compactCopy()
	if fresh != "" {
		defer os.Remove(fresh)
	}
	if err != nil {
		return Manifest{}, explain(err)
	}
	m := Manifest{Form: backupForm, TakenMS: s.opts.Now().UnixMilli()}
	if m.Meta, m.Head, err = readBook(fresh, s.opts); err != nil {
		return Manifest{}, explain(err)
	}
	z := zip.NewWriter(w)
	book, err := os.Open(fresh)
	if err != nil {
		return Manifest{}, explain(err)
	}
	defer book.Close()
	if err := m.add(z, bookName, book); err != nil {
		return Manifest{}, explain(err)
	}
	if err := s.addPhotos(z, &m); err != nil {
		return Manifest{}, explain(err)
	}
	f, err := create(z, manifestName, m.TakenMS)
	if err == nil {
		err = json.NewEncoder(f).Encode(m)
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		return Manifest{}, explain(err)
	}
	s.opts.Logger.Info("a backup was written", "head", m.Head, "photos", len(m.Files)-1, "damaged", len(m.Damaged))
	return m, nil
}

// compactCopy makes a verified, compact copy of the book under a passing name.
func (s *Store) compactCopy() (path string, err error) {
	whole, err := newBookFile(s.dir)
	if err != nil {
		return "", err
	}
	defer os.Remove(whole)
	if err := s.copyTo(whole); err != nil {
		return "", err
	}
	if path, err = newBookFile(s.dir); err != nil {
		return "", err
	}
	src, _, err := openFile(whole, s.opts, true)
	if err != nil {
		return path, err
	}
	defer src.Close()
	return path, compactInto(path, src, s.opts)
}

func readBook(path string, o Options) (m Meta, head uint64, err error) {
	defer guard(o, &err)()
	db, _, err := openFile(path, o, true)
	if err != nil {
		return m, 0, err
	}
	defer db.Close()
	err = db.View(func(tx *bolt.Tx) (err error) {
		m, err = readMeta(tx)
		head = headIn(tx)
		return err
	})
	return m, head, err
}

// addPhotos adds every photo. They are listed after the book was copied and none is ever
// removed, so those that the copy speaks of and that had arrived are all there.
func (s *Store) addPhotos(z *zip.Writer, m *Manifest) error {
	return photoNames(s.dir, func(name string) error {
		path := s.photoPath(name)
		if !holds(path, name) {
			m.Damaged = append(m.Damaged, name)
			return nil
		}
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		return m.add(z, photosName+"/"+name[:2]+"/"+name, f)
	})
}

// add copies one file into the archive and onto the list.
func (m *Manifest) add(z *zip.Writer, name string, from io.Reader) error {
	w, err := create(z, filepath.ToSlash(name), m.TakenMS)
	if err != nil {
		return err
	}
	sum := sha256.New()
	size, err := io.Copy(io.MultiWriter(w, sum), from)
	m.Files = append(m.Files, File{Name: name, Size: size, SHA256: hex.EncodeToString(sum.Sum(nil))})
	return err
}

func create(z *zip.Writer, name string, takenMS int64) (io.Writer, error) {
	return z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store, Modified: time.UnixMilli(takenMS).UTC()})
}
