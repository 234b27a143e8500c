package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"slices"
)

// bbolt trusts the pages it maps: after a flipped bit it may read outside the file, or run
// in a circle until the stack is used up, which no recover stops. So before bbolt is let
// near a file, walk reads it plainly and holds every page of it to the form.
//
// The form is bbolt's file version 2 (its internal/common: page.go, meta.go, bucket.go):
// a page begins with id u64, flags u16, count u16, overflow u32, in the machine's own byte
// order; the elements follow, 16 bytes each, with positions counted from the element.
const (
	pageHeader  = 16
	elementSize = 16
	headerSize  = 64 // of the meta that follows the page header

	branchFlag, leafFlag, metaFlag, freelistFlag = 0x01, 0x02, 0x04, 0x10

	bucketElement = 0x01 // leaf element flag: the value is a bucket

	fileMagic, fileVersion = 0xED0CDAED, 2

	minPage, maxPage = 1 << 10, 1 << 16

	maxDepth = 32 // of the tree; a million changes make 4
	maxKey   = 32768
)

var order = binary.NativeEndian

// header is what a transaction has committed: bbolt keeps two and writes them in turn.
type header struct {
	pageSize             int64
	root, freelist, high uint64 // high: first page number not in use
	txid                 uint64
}

// readHeaders reads both headers of a book of the given size. One that does not read is
// an error too: a header is 64 bytes inside one sector and is not torn by a power cut, and
// falling back on the other would undo, in silence, the last thing acknowledged.
func readHeaders(file io.ReaderAt, size int64) (newest header, err error) {
	first, err0 := readHeader(file, 0)
	second, err1 := header{}, error(nil)
	if err0 == nil {
		newest = first
		second, err1 = readHeader(file, first.pageSize)
	} else { // the second lies a page in, and which size of page only it can say
		err1 = err0
		for pageSize := int64(minPage); pageSize <= maxPage && err1 != nil; pageSize <<= 1 {
			second, err1 = readHeader(file, pageSize)
		}
		newest = second
	}
	switch {
	case err0 != nil && err1 != nil:
		return header{}, err0
	case err0 != nil || err1 != nil || first.pageSize != second.pageSize:
		err = errOneHeader
	case second.txid > first.txid:
		newest = second
	}
	if newest.high < 4 || newest.high > uint64(size/newest.pageSize) {
		return header{}, fmt.Errorf("the file ends after %d bytes; its header speaks of %d pages of %d", size, newest.high, newest.pageSize)
	}
	return newest, err
}

var errOneHeader = errors.New("one of the two headers does not read")

func readHeader(file io.ReaderAt, at int64) (header, error) {
	var b [pageHeader + headerSize]byte
	if _, err := file.ReadAt(b[:], at); err != nil {
		return header{}, fmt.Errorf("no header at %d: %w", at, err)
	}
	m := b[pageHeader:]
	sum := fnv.New64a()
	sum.Write(m[:56])
	h := header{
		pageSize: int64(order.Uint32(m[8:])), root: order.Uint64(m[16:]), freelist: order.Uint64(m[32:]),
		high: order.Uint64(m[40:]), txid: order.Uint64(m[48:]),
	}
	switch {
	case order.Uint16(b[8:]) != metaFlag, order.Uint32(m) != fileMagic:
		return header{}, fmt.Errorf("no header at %d", at)
	case order.Uint32(m[4:]) != fileVersion:
		return header{}, fmt.Errorf("file version %d, not %d", order.Uint32(m[4:]), fileVersion)
	case order.Uint64(m[56:]) != sum.Sum64():
		return header{}, fmt.Errorf("checksum of the header at %d", at)
	case h.pageSize < minPage || h.pageSize > maxPage || h.pageSize&(h.pageSize-1) != 0:
		return header{}, fmt.Errorf("page size %d", h.pageSize)
	case order.Uint64(b[:]) != uint64(at/h.pageSize):
		return header{}, fmt.Errorf("the header at %d says page %d", at, order.Uint64(b[:]))
	}
	return h, nil
}

// walk reads every page that h speaks of and fails at the first that breaks the form: out
// of bounds, reached twice, keys out of order, both in use and free, or neither. What the
// form cannot say, whether each value is the one that was written and none is missing, it
// leaves in the survey.
func walk(file io.ReaderAt, h header) (survey, error) {
	w := &walker{file: file, header: h, seen: make([]bool, h.high)}
	w.seen[0], w.seen[1] = true, true
	if err := w.free(); err != nil {
		return w.survey, err
	}
	if err := w.tree(h.root, "", nil, nil, 0); err != nil {
		return w.survey, err
	}
	if i := slices.Index(w.seen, false); i >= 0 {
		return w.survey, fmt.Errorf("page %d is neither in use nor free", i)
	}
	return w.survey, nil
}

// survey is what a walk found in the buckets.
type survey struct {
	names  []string
	broken []error // seals that do not fit, keys that are missing; the first few
}

func (s *survey) add(err error) {
	if len(s.broken) < maxProblems {
		s.broken = append(s.broken, err)
	}
}

// judge says whether a book of this program's schema is whole.
func (s *survey) judge() error {
	for _, name := range buckets {
		if !slices.Contains(s.names, string(name)) {
			s.add(fmt.Errorf("no bucket %s", name))
		}
	}
	return errors.Join(s.broken...)
}

type walker struct {
	header
	survey
	file  io.ReaderAt
	seen  []bool               // by page number: used or free
	keys  uint64               // in the bucket at hand
	spare [maxDepth + 1][]byte // one buffer a depth
}

// page reads page id with what overflows from it and takes it as seen.
func (w *walker) page(id uint64, depth int) ([]byte, error) {
	if id < 2 || id >= w.high {
		return nil, fmt.Errorf("page %d of %d", id, w.high)
	}
	if depth > maxDepth {
		return nil, fmt.Errorf("the tree is deeper than %d", maxDepth)
	}
	b := slices.Grow(w.spare[depth][:0], int(w.pageSize))[:w.pageSize]
	if _, err := w.file.ReadAt(b, int64(id)*w.pageSize); err != nil {
		return nil, fmt.Errorf("page %d: %w", id, err)
	}
	more := uint64(order.Uint32(b[12:]))
	if order.Uint64(b) != id || id+more >= w.high {
		return nil, fmt.Errorf("page %d says it is %d and overflows by %d", id, order.Uint64(b), more)
	}
	for i := id; i <= id+more; i++ {
		if w.seen[i] {
			return nil, fmt.Errorf("page %d is reached twice", i)
		}
		w.seen[i] = true
	}
	if more > 0 {
		b = slices.Grow(b, int(more)*int(w.pageSize))[:(1+more)*uint64(w.pageSize)]
		if _, err := w.file.ReadAt(b[w.pageSize:], int64(id+1)*w.pageSize); err != nil {
			return nil, fmt.Errorf("page %d: %w", id, err)
		}
	}
	w.spare[depth] = b
	return b, nil
}

// free takes the pages on the list of free ones as seen.
func (w *walker) free() error {
	b, err := w.page(w.freelist, 0)
	if err != nil {
		return fmt.Errorf("the list of free pages: %w", err)
	}
	count, ids := uint64(order.Uint16(b[10:])), b[pageHeader:]
	if count == 0xFFFF { // then the first entry is the count
		count, ids = order.Uint64(ids), ids[8:]
	}
	if order.Uint16(b[8:]) != freelistFlag || count > uint64(len(ids)/8) {
		return fmt.Errorf("page %d is no list of %d free pages", w.freelist, count)
	}
	for last := uint64(0); count > 0; count, ids = count-1, ids[8:] {
		id := order.Uint64(ids)
		if id <= last || id < 2 || id >= w.high || w.seen[id] {
			return fmt.Errorf("page %d is listed free out of turn", id)
		}
		w.seen[id], last = true, id
	}
	return nil
}

// tree walks the tree under page id, whose keys lie from low on and before high (nil: no
// bound). bucket is "" in the root, which holds the buckets and nothing else.
func (w *walker) tree(id uint64, bucket string, low, high []byte, depth int) error {
	b, err := w.page(id, depth)
	if err != nil {
		return err
	}
	return w.elements(b, bucket, low, high, depth)
}

func (w *walker) elements(b []byte, bucket string, low, high []byte, depth int) error {
	flags, count := order.Uint16(b[8:]), int(order.Uint16(b[10:]))
	id := order.Uint64(b)
	if flags != branchFlag && flags != leafFlag || pageHeader+count*elementSize > len(b) || flags == branchFlag && count == 0 {
		return fmt.Errorf("page %d: flags %x, %d elements", id, flags, count)
	}
	var last []byte
	for i := range count {
		at := pageHeader + i*elementSize
		key, value, child, err := element(b, at, flags)
		if err != nil {
			return fmt.Errorf("page %d, element %d: %w", id, i, err)
		}
		if i > 0 && bytes.Compare(last, key) >= 0 || i == 0 && bytes.Compare(key, low) < 0 || high != nil && bytes.Compare(key, high) >= 0 {
			return fmt.Errorf("page %d, element %d: the key is out of order", id, i)
		}
		last = key
		switch isBucket := order.Uint32(b[at:])&bucketElement != 0; {
		case flags == branchFlag:
			next := high
			if i+1 < count {
				if next, _, _, err = element(b, at+elementSize, flags); err != nil {
					return fmt.Errorf("page %d, element %d: %w", id, i+1, err)
				}
			}
			err = w.tree(child, bucket, key, next, depth+1)
		case (bucket == "") != isBucket:
			err = fmt.Errorf("page %d, element %d: a bucket and a value change places", id, i)
		case isBucket:
			err = w.bucket(string(key), value, depth)
		default:
			w.keys++
			if _, err := unseal(key, value); err != nil {
				w.add(fmt.Errorf("bucket %s: %w", bucket, cause(err)))
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// bucket walks what a bucket's value points to, or holds if it is small. The sequence
// beside the root counts the keys (put).
func (w *walker) bucket(name string, value []byte, depth int) (err error) {
	if len(value) < 16 {
		return fmt.Errorf("bucket %q has no root", name)
	}
	root, sequence, inline := order.Uint64(value), order.Uint64(value[8:]), value[16:]
	w.keys = 0
	switch {
	case root != 0:
		err = w.tree(root, name, nil, nil, depth+1)
	case len(inline) < pageHeader || order.Uint16(inline[8:]) != leafFlag:
		err = fmt.Errorf("bucket %q holds no page", name)
	default:
		err = w.elements(inline, name, nil, nil, depth)
	}
	w.names = append(w.names, name)
	if err == nil && w.keys != sequence {
		w.add(fmt.Errorf("bucket %s has %d keys and should have %d", name, w.keys, sequence))
	}
	return err
}

// element reads the element at an offset of a page: a leaf's key and value, or a branch's
// key and child.
func element(b []byte, at int, flags uint16) (key, value []byte, child uint64, err error) {
	e := b[at : at+elementSize]
	var pos, keySize, valueSize uint64
	if flags == branchFlag {
		pos, keySize, child = uint64(order.Uint32(e)), uint64(order.Uint32(e[4:])), order.Uint64(e[8:])
	} else {
		pos, keySize, valueSize = uint64(order.Uint32(e[4:])), uint64(order.Uint32(e[8:])), uint64(order.Uint32(e[12:]))
	}
	from := uint64(at) + pos
	if pos < elementSize || keySize == 0 || keySize > maxKey || from+keySize+valueSize > uint64(len(b)) {
		return nil, nil, 0, fmt.Errorf("it reaches outside its page")
	}
	return b[from : from+keySize], b[from+keySize : from+keySize+valueSize], child, nil
}
