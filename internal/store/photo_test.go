package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash/crc32"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

func TestPhoto(t *testing.T) {
	s := open(t)
	data := photo(1)
	sum := sha256.Sum256(data)
	name, err := s.PutPhoto(data)
	require.NoError(t, err)
	assert.Equal(t, hex.EncodeToString(sum[:]), name)
	got, mime, err := s.Photo(name)
	require.NoError(t, err)
	assert.Equal(t, data, got)
	assert.Equal(t, "image/png", mime)
	again, err := s.PutPhoto(data)
	require.NoError(t, err)
	assert.Equal(t, name, again)
	path := filepath.Join(s.dir, "photos", name[:2], name)
	require.NoError(t, os.WriteFile(path, []byte("rotten"), 0o600))
	_, _, err = s.Photo(name)
	assert.Equal(t, Damaged, ReasonOf(err))
	report, err := s.Check()
	assert.Equal(t, Damaged, ReasonOf(err))
	assert.Len(t, report.Problems, 1)
	_, err = s.PutPhoto(data)
	require.NoError(t, err)
	got, _, err = s.Photo(name)
	require.NoError(t, err)
	assert.Equal(t, data, got, "putting it again mends it")
}

func TestPhotoNames(t *testing.T) {
	s := open(t)
	require.NoError(t, os.WriteFile(filepath.Join(s.dir, "outside"), []byte("x"), 0o600))
	for _, name := range []string{
		"", "..", "../outside", "../../outside", strings.Repeat("a", 63), strings.Repeat("a", 65), strings.Repeat("A", 64),
		strings.Repeat("g", 64), strings.Repeat("../", 21) + "x", strings.Repeat("a", 62) + "/x", strings.Repeat("a", 63) + "\x00", strings.Repeat("a", 64),
	} {
		_, _, err := s.Photo(name)
		assert.Equal(t, Missing, ReasonOf(err), "%q", name)
	}
}

func TestPhotosAtOnce(t *testing.T) {
	s := open(t)
	var all sync.WaitGroup
	for i := range 40 {
		all.Go(func() {
			name, err := s.PutPhoto(photo(i % 5))
			if assert.NoError(t, err) {
				_, _, err = s.Photo(name)
				assert.NoError(t, err)
			}
		})
	}
	all.Wait()
	report, err := s.Check()
	require.NoError(t, err)
	assert.Equal(t, 5, report.Photos)
}

// Headers made by hand from the formats' definitions: PNG (RFC 2083 section 4.1.1), WebP
// (RFC 9649 sections 2.3 to 2.7 and 3.4, RFC 6386 section 9.1); from memory of them.
func pngHead(w, h uint32) []byte {
	ihdr := binary.BigEndian.AppendUint32([]byte("IHDR"), w)
	ihdr = append(binary.BigEndian.AppendUint32(ihdr, h), 8, 2, 0, 0, 0)
	out := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	return binary.BigEndian.AppendUint32(append(out, ihdr...), crc32.ChecksumIEEE(ihdr))
}

func webp(chunk string, payload ...byte) []byte {
	payload = append(payload, make([]byte, max(0, 16-len(payload)))...)
	body := binary.LittleEndian.AppendUint32([]byte("WEBP"+chunk), uint32(len(payload)))
	body = append(body, payload...)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

func jpegOf(t *testing.T, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, w, h)), nil))
	return b.Bytes()
}

func TestPhotoTypes(t *testing.T) {
	big := jpegOf(t, 8, 8)
	at := bytes.Index(big, []byte{0xff, 0xc0}) // SOF0: length 2, precision 1, height 2, width 2 (ITU-T T.81 B.2.2)
	copy(big[at+5:], []byte{0xff, 0xff, 0xff, 0xff})
	for _, row := range []struct {
		name string
		data []byte
		want string // the type, or "" for a refusal
		code fault.Code
	}{
		{"JPEG", jpegOf(t, 40, 30), "image/jpeg", ""},
		{"JPEG of 65,535 squared", big, "", fault.BadInput},
		{"JPEG cut off in its header", big[:20], "", fault.BadInput},
		{"PNG", pngHead(5000, 10000), "image/png", ""},
		{"PNG of 50,000,001 pixels", pngHead(50_000_001, 1), "", fault.BadInput},
		{"PNG of 2^31-1 squared", pngHead(1<<31-1, 1<<31-1), "", fault.BadInput},
		{"PNG without width", pngHead(0, 1), "", fault.BadInput},
		{"WebP, lossy 320 by 240", webp("VP8 ", 0x10, 0, 0, 0x9d, 0x01, 0x2a, 0x40, 0x01, 0xf0, 0x00), "image/webp", ""},
		{"WebP, lossy, no key frame", webp("VP8 ", 0x11, 0, 0, 0x9d, 0x01, 0x2a, 0x40, 0x01, 0xf0, 0x00), "", fault.BadInput},
		{"WebP, lossy, 16,383 squared", webp("VP8 ", 0x10, 0, 0, 0x9d, 0x01, 0x2a, 0xff, 0x3f, 0xff, 0x3f), "", fault.BadInput},
		{"WebP, lossless 1 by 1", webp("VP8L", 0x2f, 0, 0, 0, 0), "image/webp", ""},
		{"WebP, lossless, 16,384 squared", webp("VP8L", 0x2f, 0xff, 0xff, 0xff, 0x0f), "", fault.BadInput},
		{"WebP, lossless, another signature", webp("VP8L", 0x2e, 0, 0, 0, 0), "", fault.BadInput},
		{"WebP, extended 1000 by 1000", webp("VP8X", 0, 0, 0, 0, 0xe7, 3, 0, 0xe7, 3, 0), "image/webp", ""},
		{"WebP, extended, 16,777,216 squared", webp("VP8X", 0, 0, 0, 0, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff), "", fault.BadInput},
		{"WebP, animated", webp("VP8X", 2, 0, 0, 0, 0xe7, 3, 0, 0xe7, 3, 0), "", fault.BadInput},
		{"WebP, another chunk first", webp("EXIF"), "", fault.BadInput},
		{"WebP, cut short", webp("VP8L", 0x2f)[:30], "", fault.BadInput},
		{"WebP, twelve bytes", []byte("RIFF\x04\x00\x00\x00WEBP"), "", fault.BadInput},
		{"GIF", []byte("GIF89a\x01\x00\x01\x00\x00\x00\x00"), "", fault.BadInput},
		{"SVG", []byte("<svg xmlns='http://www.w3.org/2000/svg'/>"), "", fault.BadInput},
		{"nothing", nil, "", fault.BadInput},
		{"12 MB and a byte", append(pngHead(1, 1), make([]byte, MaxPhotoBytes)...), "", fault.TooLarge},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := open(t)
			name, err := s.PutPhoto(row.data)
			if row.want == "" {
				require.Error(t, err)
				assert.Equal(t, row.code, fault.From(err).Code)
				return
			}
			require.NoError(t, err)
			_, mime, err := s.Photo(name)
			require.NoError(t, err)
			assert.Equal(t, row.want, mime)
		})
	}
}

func FuzzPhotoType(f *testing.F) {
	for _, seed := range [][]byte{pngHead(3, 4), webp("VP8L", 0x2f, 1), webp("VP8X"), webp("VP8 "), photo(1)} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		mime, err := photoType(data)
		if (err == nil) != (mime != "") {
			t.Fatal(fmt.Sprint(mime, err))
		}
	})
}
