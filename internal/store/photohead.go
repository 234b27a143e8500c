package store

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
	"image/png"

	"wrackbook/internal/fault"
)

// Bounds of a photo. Pixels are bounded because a few kilobytes can unfold to gigabytes on
// the phone that shows them; the header says how many, and nothing is unfolded here.
const (
	MaxPhotoBytes  = 12 << 20
	MaxPhotoPixels = 50_000_000
)

// photoType says what a photo is, by its header: image/jpeg, image/png or image/webp.
func photoType(data []byte) (mime string, err error) {
	if len(data) > MaxPhotoBytes {
		return "", fault.New(fault.TooLarge, "photo", "The photo has %d bytes; at most %d are kept. Take it again at a smaller size.", len(data), MaxPhotoBytes)
	}
	var size image.Config
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xd8\xff")):
		mime = "image/jpeg"
		size, err = jpeg.DecodeConfig(bytes.NewReader(data))
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		mime = "image/png"
		size, err = png.DecodeConfig(bytes.NewReader(data))
	case len(data) >= 12 && string(data[:4]) == "RIFF" && string(data[8:12]) == "WEBP":
		mime = "image/webp"
		size, err = webpSize(data)
	default:
		return "", fault.New(fault.BadInput, "photo", "This is no JPEG, PNG or WebP photo.")
	}
	if err != nil {
		return "", fault.Wrap(fault.BadInput, "photo", err, "The photo's header is damaged. Take or send it again.")
	}
	if w, h := int64(size.Width), int64(size.Height); w < 1 || h < 1 || w > MaxPhotoPixels || h > MaxPhotoPixels || w*h > MaxPhotoPixels {
		return "", fault.New(fault.BadInput, "photo", "The photo is %d × %d pixels; it must have some, and %d at most. Make it smaller.", w, h, MaxPhotoPixels)
	}
	return mime, nil
}

// webpSize reads the size from the first chunk: RFC 9649 sections 2.4 to 2.7 (VP8X),
// RFC 6386 section 9.1 (VP8) and the lossless header of RFC 9649 section 3.4 (VP8L).
func webpSize(data []byte) (image.Config, error) {
	bad := image.Config{}
	if len(data) < 30 || uint64(binary.LittleEndian.Uint32(data[4:]))+8 > uint64(len(data)) {
		return bad, fault.New(fault.BadInput, "photo", "The WebP file is cut short.")
	}
	b := data[20:] // after RIFF, its size, WEBP, the chunk's name and size
	switch string(data[12:16]) {
	case "VP8 ":
		if b[0]&1 == 0 && string(b[3:6]) == "\x9d\x01\x2a" { // a key frame and its start code
			return image.Config{Width: int(binary.LittleEndian.Uint16(b[6:]) & 0x3fff), Height: int(binary.LittleEndian.Uint16(b[8:]) & 0x3fff)}, nil
		}
	case "VP8L":
		if bits := binary.LittleEndian.Uint32(b[1:]); b[0] == 0x2f && bits>>29 == 0 { // signature, version
			return image.Config{Width: int(bits&0x3fff) + 1, Height: int(bits>>14&0x3fff) + 1}, nil
		}
	case "VP8X":
		if b[0]&0x02 == 0 { // no animation
			return image.Config{Width: uint24(b[4:]) + 1, Height: uint24(b[7:]) + 1}, nil
		}
	}
	return bad, fault.New(fault.BadInput, "photo", "The WebP file begins with no picture.")
}

func uint24(b []byte) int { return int(b[0]) | int(b[1])<<8 | int(b[2])<<16 }
