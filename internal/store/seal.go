package store

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"

	bolt "go.etcd.io/bbolt"
)

// bbolt sums its two headers and nothing else, so that a flipped bit in a page would be
// read as truth. Every value of ours therefore begins with a CRC-32C over its key and the
// rest: a seal. CRC-32C finds every single flipped bit and every burst up to 32 bits.
const sealSize = 4

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func checksum(key, value []byte) uint32 {
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, value)
}

// put writes value under key, sealed. A seal says nothing of a key that is gone, so each
// bucket's sequence, which bbolt keeps elsewhere in the file, counts its keys.
func put(b *bolt.Bucket, key, value []byte) error {
	if b.Get(key) == nil {
		if err := b.SetSequence(b.Sequence() + 1); err != nil {
			return err
		}
	}
	sealed := make([]byte, sealSize, sealSize+len(value))
	binary.BigEndian.PutUint32(sealed, checksum(key, value))
	return b.Put(key, append(sealed, value...))
}

// remove takes out what put wrote, if it is there.
func remove(b *bolt.Bucket, key []byte) error {
	if b.Get(key) == nil {
		return nil
	}
	if err := b.SetSequence(b.Sequence() - 1); err != nil {
		return err
	}
	return b.Delete(key)
}

// unseal gives what put was given. The bytes belong to the transaction.
func unseal(key, sealed []byte) ([]byte, error) {
	if len(sealed) < sealSize || binary.BigEndian.Uint32(sealed) != checksum(key, sealed[sealSize:]) {
		return nil, damaged(fmt.Errorf("seal of the value under key %x", key))
	}
	return sealed[sealSize:], nil
}

// get reads what put wrote, nil if there is nothing. The bytes belong to the transaction.
func get(b *bolt.Bucket, key []byte) ([]byte, error) {
	sealed := b.Get(key)
	if sealed == nil {
		return nil, nil
	}
	return unseal(key, sealed)
}

var errAbsent = errors.New("nothing under that key")

// getJSON reads what putJSON wrote; errAbsent if there is nothing.
func getJSON(b *bolt.Bucket, key []byte, into any) error {
	value, err := get(b, key)
	switch {
	case err != nil:
		return err
	case value == nil:
		return errAbsent
	}
	if err := json.Unmarshal(value, into); err != nil {
		return damaged(err)
	}
	return nil
}

func putJSON(b *bolt.Bucket, key []byte, from any) error {
	value, err := json.Marshal(from)
	if err != nil {
		return err
	}
	return put(b, key, value)
}

func seqKey(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }

// seqOf reads seqKey's bytes; 0, which is no place in the journal, if they are none.
func seqOf(key []byte) uint64 {
	if len(key) != 8 {
		return 0
	}
	return binary.BigEndian.Uint64(key)
}
