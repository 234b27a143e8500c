package store

import (
	"archive/zip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"

	bolt "go.etcd.io/bbolt"
)

// Restore unfolds a backup of the given size into dir, which must be empty or not there
// yet, and verifies every byte on the way. Nothing is left behind when it fails.
//
// A new epoch begins, so that phones push all they have and pull from zero: what came
// after the backup returns from them. Open invitations are void. Devices may come in as
// they could when the backup was taken, so one shut out since must be shut out again.
func Restore(archive io.ReaderAt, size int64, dir string, options Options) (m Manifest, err error) {
	o := options.filled()
	z, m, err := readArchive(archive, size)
	if err != nil {
		return Manifest{}, badArchive(err)
	}
	had, err := os.ReadDir(dir)
	if len(had) > 0 {
		return Manifest{}, trouble(Occupied, nil, "%s is not empty. A backup is restored into an empty folder, never over a book.", dir)
	}
	existed := err == nil
	if err := makeFolder(dir); err != nil {
		return Manifest{}, explainOpen(dir, err)
	}
	defer func() {
		if err == nil {
			return
		}
		left, _ := os.ReadDir(dir) // it was empty: all of this is ours
		for _, e := range left {
			os.RemoveAll(filepath.Join(dir, e.Name()))
		}
		if !existed {
			os.Remove(dir)
		}
	}()
	if err := unfoldPhotos(z, m, dir); err != nil {
		return Manifest{}, badArchive(err)
	}
	if err := unfoldBook(z, m, dir, o); err != nil {
		return Manifest{}, badArchive(err)
	}
	o.Logger.Info("a backup was restored", "head", m.Head, "photos", len(m.Files)-1)
	return m, nil
}

// badArchive is explain for what is wrong with the archive itself.
func badArchive(err error) error {
	if full(err) || unwritable(err) || ReasonOf(err) != "" {
		return explain(err)
	}
	return trouble(Damaged, err, "This is no whole backup of a book: it was cut short or altered. Fetch it again, or take an older one.")
}

// readArchive reads the directory and the manifest and holds one against the other.
func readArchive(archive io.ReaderAt, size int64) (map[string]*zip.File, Manifest, error) {
	var m Manifest
	z, err := zip.NewReader(archive, size)
	if err != nil {
		return nil, m, err
	}
	files := map[string]*zip.File{}
	for _, f := range z.File {
		if f.Method != zip.Store || files[f.Name] != nil || f.UncompressedSize64 > uint64(size) {
			return nil, m, fmt.Errorf("%.80q is compressed, twice there, or larger than the archive", f.Name)
		}
		files[f.Name] = f
	}
	manifest := files[manifestName]
	if manifest == nil || manifest.UncompressedSize64 > maxManifest {
		return nil, m, errors.New("no manifest, or too long a one")
	}
	r, err := manifest.Open()
	if err != nil {
		return nil, m, err
	}
	defer r.Close()
	data, err := io.ReadAll(io.LimitReader(r, maxManifest))
	if err != nil {
		return nil, m, err
	}
	if err := json.Unmarshal(data, &m); err != nil {
		return nil, m, err
	}
	if m.Form > backupForm || m.Meta.Schema > Schema {
		return nil, m, trouble(Newer, nil, "This backup was written by a newer Wrackbook. Install the newer program, then restore it.")
	}
	if len(m.Files) != len(files)-1 || len(m.Files) == 0 || m.Files[0].Name != bookName {
		return nil, m, errors.New("the manifest lists other files than there are")
	}
	for i, entry := range m.Files {
		f := files[entry.Name]
		if f == nil || int64(f.UncompressedSize64) != entry.Size {
			return nil, m, fmt.Errorf("%.80q is not there in the size it should have", entry.Name)
		}
		name := path.Base(entry.Name)
		if i > 0 && (!isPhotoName(name) || entry.Name != photosName+"/"+name[:2]+"/"+name || entry.SHA256 != name || entry.Size > MaxPhotoBytes) {
			return nil, m, fmt.Errorf("%.80q is no photo", entry.Name)
		}
	}
	return files, m, nil
}

func unfoldPhotos(files map[string]*zip.File, m Manifest, dir string) error {
	photos := filepath.Join(dir, photosName)
	if err := os.Mkdir(photos, 0o700); err != nil {
		return err
	}
	folders := map[string]bool{}
	for _, entry := range m.Files[1:] {
		target := filepath.Join(dir, filepath.FromSlash(entry.Name)) // no path of the archive's making: see readArchive
		if folder := filepath.Dir(target); !folders[folder] {
			folders[folder] = true
			if err := os.Mkdir(folder, 0o700); err != nil && !errors.Is(err, os.ErrExist) {
				return err
			}
		}
		if err := unfold(files[entry.Name], entry, target, os.O_CREATE|os.O_EXCL); err != nil {
			return err
		}
	}
	for folder := range folders {
		if err := syncFolder(folder); err != nil {
			return err
		}
	}
	return syncFolder(photos)
}

func unfoldBook(files map[string]*zip.File, m Manifest, dir string, o Options) error {
	fresh, err := newBookFile(dir)
	if err != nil {
		return err
	}
	defer os.Remove(fresh)
	if err := unfold(files[bookName], m.Files[0], fresh, 0); err != nil {
		return err
	}
	if err := inspect(fresh, o); err != nil {
		return err
	}
	err = newEpoch(fresh, o, func(tx *bolt.Tx) error {
		_, err := dropInvites(tx, func(*invitation) bool { return true })
		return errors.Join(err, remove(tx.Bucket(metaBucket), triesKey))
	})
	if err != nil {
		return err
	}
	if err := inspect(fresh, o); err != nil {
		return err
	}
	return giveName(fresh, filepath.Join(dir, bookName))
}

// unfold writes one file of the archive to target, synced, and holds it to its hash.
func unfold(f *zip.File, entry File, target string, flags int) (err error) {
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	w, err := os.OpenFile(target, os.O_WRONLY|flags, 0o600)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, w.Close()) }()
	sum := sha256.New()
	if _, err := io.Copy(io.MultiWriter(w, sum), io.LimitReader(r, entry.Size+1)); err != nil {
		return err
	}
	if hex.EncodeToString(sum.Sum(nil)) != entry.SHA256 {
		return fmt.Errorf("%.80q has other bytes than it should", entry.Name)
	}
	return w.Sync()
}
