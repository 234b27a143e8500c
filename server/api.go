package main

import (
	"bytes"

	"github.com/gofiber/fiber/v2"

	"wrackbook/internal/fault"
)

// callCore answers POST /api/core/:call. The body is the request of the call; an empty
// one counts as {}.
func (a *api) callCore(ctx *fiber.Ctx, _ visit) error {
	body := ctx.BodyRaw()
	if len(body) > maxJSON {
		return fault.New(fault.TooLarge, "", "The request is larger than 1 MB. Ask for less at once.")
	}
	if len(bytes.TrimSpace(body)) == 0 {
		body = []byte("{}")
	}
	answer, err := a.core.Call(ctx.Params("call"), body, a.now().UTC())
	if err != nil {
		return err
	}
	return sendJSON(ctx, answer)
}

// health answers GET /api/health: that the server runs, and which app it carries (empty
// if none).
func (a *api) health(ctx *fiber.Ctx, _ visit) error {
	ctx.Set(fiber.HeaderCacheControl, "no-store")
	return ctx.JSON(fiber.Map{"status": "ok", "build": a.build})
}
