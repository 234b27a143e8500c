package main

import (
	"crypto/sha256"
	"encoding/hex"

	"github.com/gofiber/fiber/v2"

	"wrackbook/internal/fault"
	"wrackbook/internal/store"
)

// putPhoto answers PUT /api/photos/:sha. The body is the photo itself, named by the SHA-256
// of its bytes in small hexadecimal digits; what it is, its own header says. Sent twice is
// as good as once. 201 {"sha":"…"}
func (a *api) putPhoto(ctx *fiber.Ctx, v visit) error {
	photo := ctx.BodyRaw()
	if len(photo) > store.MaxPhotoBytes {
		return fault.New(fault.TooLarge, "photo", "The photo has %d bytes; at most %d are kept. Take it again at a smaller size.", len(photo), store.MaxPhotoBytes)
	}
	if photoName(photo) != ctx.Params("sha") {
		return fault.New(fault.BadInput, "sha", "The bytes that arrived are not those of that name. Send the photo again.")
	}
	name, err := v.book.PutPhoto(photo)
	if err != nil {
		return err
	}
	return ctx.Status(fiber.StatusCreated).JSON(fiber.Map{"sha": name})
}

// photo answers GET and HEAD of /api/photos/:sha.
func (a *api) photo(ctx *fiber.Ctx, v visit) error {
	name := ctx.Params("sha")
	data, mime, err := v.book.Photo(name)
	if err != nil {
		return err
	}
	etag := `"` + name + `"`
	ctx.Set(fiber.HeaderETag, etag)
	ctx.Set(fiber.HeaderCacheControl, "private, max-age=31536000, immutable")
	if matchesETag(ctx.Get(fiber.HeaderIfNoneMatch), etag) {
		return ctx.SendStatus(fiber.StatusNotModified)
	}
	ctx.Set(fiber.HeaderContentType, mime)
	return ctx.Send(data)
}

// photoName is the SHA-256 of a photo's bytes in hexadecimal.
func photoName(photo []byte) string {
	sum := sha256.Sum256(photo)
	return hex.EncodeToString(sum[:])
}
