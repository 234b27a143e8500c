package store

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"wrackbook/internal/fault"
)

// PutPhoto keeps a photo and gives its name: the SHA-256 of its bytes in hexadecimal. When
// it returns without an error, file and name are on the disk. Putting it again is no
// error and mends a file that has been damaged since.
func (s *Store) PutPhoto(data []byte) (name string, err error) {
	if _, err := photoType(data); err != nil {
		return "", err
	}
	sum := sha256.Sum256(data)
	name = hex.EncodeToString(sum[:])
	return name, explain(unnamed(s.keepPhoto(name, data)))
}

// unnamed takes out of an error of the disk which photo it was about: errors go into logs.
func unnamed(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return fmt.Errorf("%s, of a photo: %w", path.Op, path.Err)
	case errors.As(err, &link):
		return fmt.Errorf("%s, of a photo: %w", link.Op, link.Err)
	}
	return err
}

func (s *Store) keepPhoto(name string, data []byte) error {
	path := s.photoPath(name)
	folder := filepath.Dir(path)
	if !holds(path, name) {
		if err := os.MkdirAll(folder, 0o700); err != nil {
			return err
		}
		fresh, err := s.freshPhoto(data)
		if err != nil {
			return err
		}
		if err := os.Rename(fresh, path); err != nil {
			os.Remove(fresh)
			return err
		}
	}
	// For one that was there too: an end between rename and sync may have left the name
	// in memory only. The folder's own name is in photos.
	return errors.Join(syncFolder(folder), syncFolder(filepath.Dir(folder)))
}

// freshPhoto writes and syncs a file of a passing name.
func (s *Store) freshPhoto(data []byte) (path string, err error) {
	folder := filepath.Join(s.dir, photosName, photosNew)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", err
	}
	f, err := os.CreateTemp(folder, "*") // mode 0600
	if err != nil {
		return "", err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		os.Remove(f.Name())
		return "", err
	}
	return f.Name(), nil
}

// Photo gives a photo's bytes and its type. A name that is none, or names nothing, is
// Missing; a file whose bytes are not those of its name is Damaged.
func (s *Store) Photo(name string) (data []byte, mime string, err error) {
	if !isPhotoName(name) {
		return nil, "", noPhoto(nil)
	}
	data, err = readBounded(s.photoPath(name))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, "", noPhoto(unnamed(err))
	case err != nil:
		return nil, "", explain(unnamed(err))
	}
	if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != name {
		return nil, "", trouble(Damaged, nil, "This photo is damaged on the server's disk. Send it again from the phone that took it.")
	}
	mime, err = photoType(data)
	return data, mime, err
}

func noPhoto(cause error) error {
	return trouble(Missing, cause, "The server has no photo of that name, or not yet.")
}

func (s *Store) photoPath(name string) string { return photoPath(s.dir, name) }

func photoPath(dir, name string) string { return filepath.Join(dir, photosName, name[:2], name) }

// isPhotoName says whether name is a SHA-256 in small hexadecimal digits, and so no path.
func isPhotoName(name string) bool {
	if len(name) != 2*sha256.Size {
		return false
	}
	for i := range len(name) {
		if b := name[i]; !(b >= '0' && b <= '9' || b >= 'a' && b <= 'f') {
			return false
		}
	}
	return true
}

// holds says whether the file at path has the bytes that name stands for.
func holds(path, name string) bool {
	data, err := readBounded(path)
	sum := sha256.Sum256(data)
	return err == nil && hex.EncodeToString(sum[:]) == name
}

// readBounded reads a photo's file, which is never longer than a photo may be.
func readBounded(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if info.Size() > MaxPhotoBytes || !info.Mode().IsRegular() {
		return nil, fault.New(fault.Internal, "", "A photo's file on the server's disk is no photo. Look into the photos folder.")
	}
	return os.ReadFile(path)
}

// photoNames calls do with the name of every photo in dir, in order.
func photoNames(dir string, do func(name string) error) error {
	folders, err := os.ReadDir(filepath.Join(dir, photosName))
	if err != nil {
		return err
	}
	for _, folder := range folders {
		if len(folder.Name()) != 2 || !folder.IsDir() {
			continue
		}
		files, err := os.ReadDir(filepath.Join(dir, photosName, folder.Name()))
		if err != nil {
			return err
		}
		for _, file := range files {
			if !isPhotoName(file.Name()) || file.Name()[:2] != folder.Name() {
				continue
			}
			if err := do(file.Name()); err != nil {
				return err
			}
		}
	}
	return nil
}
