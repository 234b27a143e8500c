package main

import (
	"bytes"
	"time"

	"github.com/gofiber/fiber/v2"

	"wrackbook/internal/core"
	"wrackbook/internal/fault"
)

// callCore answers POST /api/core/:call. The body is the request of the call; an empty
// one counts as {}.
func callCore(c *core.Core, now func() time.Time) fiber.Handler {
	return func(ctx *fiber.Ctx) error {
		body := ctx.Body()
		if len(body) > maxJSON {
			return fault.New(fault.TooLarge, "", "The request is larger than 1 MB. Ask for less at once.")
		}
		if len(bytes.TrimSpace(body)) == 0 {
			body = []byte("{}")
		}
		answer, err := c.Call(ctx.Params("call"), body, now().UTC())
		if err != nil {
			return err
		}
		ctx.Set(fiber.HeaderCacheControl, "no-store")
		ctx.Set(fiber.HeaderContentType, fiber.MIMEApplicationJSONCharsetUTF8)
		return ctx.Send(answer)
	}
}

// health answers GET /api/health: that the server runs, and which app it carries (empty
// if none).
func health(build string) fiber.Handler {
	return func(ctx *fiber.Ctx) error {
		ctx.Set(fiber.HeaderCacheControl, "no-store")
		return ctx.JSON(fiber.Map{"status": "ok", "build": build})
	}
}
