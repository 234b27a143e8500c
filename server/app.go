package main

import (
	"errors"
	"fmt"
	"log/slog"
	"runtime/debug"
	"time"

	"github.com/gofiber/fiber/v2"

	"wrackbook/internal/core"
	"wrackbook/internal/fault"
)

// bodyLimit is what is read of a request at all. It is far above maxJSON because past it
// the connection is cut, which a phone cannot tell from a lost signal; between the two it
// gets an answer that says so.
const bodyLimit = 16 << 20

// maxJSON bounds a body of JSON.
const maxJSON = core.MaxRequestBytes

// securityHeaders go with every answer. The app needs its own files, WebAssembly, a
// worker and nothing from anywhere else.
var securityHeaders = [][2]string{
	{"Content-Security-Policy", "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; " +
		"connect-src 'self'; img-src 'self' data: blob:; style-src 'self'; manifest-src 'self'; " +
		"frame-ancestors 'none'; base-uri 'none'; form-action 'self'"},
	{"X-Content-Type-Options", "nosniff"},
	{"Referrer-Policy", "no-referrer"},
	{"Permissions-Policy", "geolocation=(self), camera=(self), microphone=(), payment=(), usb=()"},
	{"Cross-Origin-Opener-Policy", "same-origin"},
	{"Cross-Origin-Resource-Policy", "same-origin"},
}

// newApp puts the routes together. now is the clock of the calls.
func newApp(c *core.Core, files *assets, now func() time.Time, log *slog.Logger) *fiber.App {
	app := fiber.New(fiber.Config{
		AppName:               "Wrackbook",
		DisableStartupMessage: true,
		Immutable:             true, // Fiber reuses what it hands out otherwise
		ReadTimeout:           readTimeout,
		WriteTimeout:          writeTimeout,
		IdleTimeout:           idleTimeout,
		BodyLimit:             bodyLimit,
		Concurrency:           4096,
		ErrorHandler:          func(ctx *fiber.Ctx, err error) error { return answerError(ctx, err, log) },
	})
	app.Use(func(ctx *fiber.Ctx) error {
		for _, h := range securityHeaders {
			ctx.Set(h[0], h[1])
		}
		return ctx.Next()
	})
	app.Use(recoverPanics(log))
	app.Get("/api/health", health(files.build))
	app.Post("/api/core/:call", callCore(c, now))
	app.Use("/api", func(*fiber.Ctx) error {
		return fault.New(fault.NotFound, "", "There is no such route.")
	})
	app.Get("/*", files.serve)
	return app
}

// recoverPanics turns a panic, which is a defect of ours, into an answer and a line in
// the log with where it happened.
func recoverPanics(log *slog.Logger) fiber.Handler {
	return func(ctx *fiber.Ctx) (err error) {
		defer func() {
			if r := recover(); r != nil {
				log.Error("panic", "route", ctx.Route().Path, "stack", string(debug.Stack()))
				err = fault.From(fmt.Errorf("panic: %v", r))
			}
		}()
		return ctx.Next()
	}
}

// answerError writes any error as {"error":{code,message,field}} with its status. The log
// gets route, code and cause of our own defects; never a path, a body or a field's value.
func answerError(ctx *fiber.Ctx, err error, log *slog.Logger) error {
	f, status := faultOf(err)
	if f.Code == fault.Internal {
		log.Error("internal error", "route", ctx.Route().Path, "cause", f.Err)
	}
	ctx.Set(fiber.HeaderCacheControl, "no-store")
	return ctx.Status(status).JSON(errorBody{errorDetail{f.Code, f.Message, f.Field}})
}

type errorBody struct {
	Error errorDetail `json:"error"`
}

type errorDetail struct {
	Code    fault.Code `json:"code"`
	Message string     `json:"message"`
	Field   string     `json:"field"`
}

// faultOf gives the fault and HTTP status of any error that reaches the edge, Fiber's own
// included.
func faultOf(err error) (*fault.Error, int) {
	var own *fiber.Error
	if !errors.As(err, &own) {
		f := fault.From(err)
		return f, statusOf[f.Code]
	}
	switch {
	case own.Code == fiber.StatusRequestEntityTooLarge:
		return fault.New(fault.TooLarge, "", "The request is too large to be read."), own.Code
	case own.Code == fiber.StatusMethodNotAllowed:
		return fault.New(fault.NotFound, "", "This route does not answer that method."), own.Code
	case own.Code == fiber.StatusNotFound:
		return fault.New(fault.NotFound, "", "There is no such route."), own.Code
	case own.Code < 500:
		return fault.New(fault.BadInput, "", "The request is not one that can be read."), own.Code
	}
	return fault.From(err), fiber.StatusInternalServerError
}

// statusOf is the one table of HTTP statuses. A test holds it to fault.Codes().
var statusOf = map[fault.Code]int{
	fault.BadJSON:            fiber.StatusBadRequest,
	fault.BadInput:           fiber.StatusUnprocessableEntity,
	fault.UnknownCall:        fiber.StatusNotFound,
	fault.UnknownStation:     fiber.StatusNotFound,
	fault.UnknownConstituent: fiber.StatusUnprocessableEntity,
	fault.UnknownZone:        fiber.StatusUnprocessableEntity,
	fault.SpanTooLong:        fiber.StatusUnprocessableEntity,
	fault.NoDistinctTide:     fiber.StatusUnprocessableEntity,
	fault.WatersCross:        fiber.StatusUnprocessableEntity,
	fault.NoDatum:            fiber.StatusUnprocessableEntity,
	fault.NoCatalogue:        fiber.StatusServiceUnavailable,
	fault.TooLarge:           fiber.StatusRequestEntityTooLarge,
	fault.NotFound:           fiber.StatusNotFound,
	fault.Internal:           fiber.StatusInternalServerError,
}
