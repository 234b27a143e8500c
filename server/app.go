package main

import (
	"errors"
	"fmt"
	"log/slog"
	"runtime/debug"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/valyala/fasthttp"

	"wrackbook/internal/core"
	"wrackbook/internal/fault"
	"wrackbook/internal/store"
)

// Bounds of a body. What is longer is answered before it is read (see linger.go). Only
// devices of the household may send long ones.
const (
	bodyLimit    = 16 << 20 // of a device
	strangeLimit = 64 << 10 // of anyone else
	maxJSON      = core.MaxRequestBytes
)

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

// newApp puts the routes together.
func newApp(a *api, files *assets) *fiber.App {
	app := fiber.New(fiber.Config{
		AppName:                      "Wrackbook",
		DisableStartupMessage:        true,
		Immutable:                    true, // Fiber reuses what it hands out otherwise
		DisablePreParseMultipartForm: true, // no route takes one
		ReadTimeout:                  readTimeout,
		WriteTimeout:                 writeTimeout,
		IdleTimeout:                  idleTimeout,
		BodyLimit:                    bodyLimit,
		Concurrency:                  4096,
		ErrorHandler:                 func(ctx *fiber.Ctx, err error) error { return answerError(ctx, err, syncMark{}, a.log) },
	})
	app.Server().HeaderReceived = a.bounds
	app.Use(func(ctx *fiber.Ctx) error {
		for _, h := range securityHeaders {
			ctx.Set(h[0], h[1])
		}
		if a.site.strict {
			ctx.Set(fiber.HeaderStrictTransportSecurity, strictTransport)
		}
		return ctx.Next()
	})
	app.Use(recoverPanics(a.log))
	for _, r := range routes {
		app.Add(r.method, r.path, a.handler(r))
	}
	app.Use("/api", func(*fiber.Ctx) error {
		return fault.New(fault.NotFound, "", "There is no such route.")
	})
	app.Get("/*", files.serve)
	return app
}

// bounds says how much of a body is read and how long it may take, once the head of the
// request is there: a photo crawls home over a bad signal, and a stranger's memory is not
// ours to spend.
func (a *api) bounds(head *fasthttp.RequestHeader) fasthttp.RequestConfig {
	if n := head.ContentLength(); n >= 0 && n <= strangeLimit {
		return fasthttp.RequestConfig{} // as set for the app; -1 is a body of no stated length
	}
	token := string(head.Cookie(cookieName))
	if scheme, given, _ := strings.Cut(string(head.Peek(fiber.HeaderAuthorization)), " "); strings.EqualFold(scheme, "Bearer") {
		token = strings.TrimSpace(given)
	}
	_, leave, err := a.identify(token)
	if err != nil {
		return fasthttp.RequestConfig{MaxRequestBodySize: strangeLimit}
	}
	leave()
	return fasthttp.RequestConfig{ReadTimeout: uploadTimeout}
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

// answerError writes any error as {"error":{code,message,field}} with its status, and mark,
// which may be empty, beside it. The log gets route, code and cause of what is wrong with us or
// with the disk; never a path, a body or a field's value.
func answerError(ctx *fiber.Ctx, err error, mark syncMark, log *slog.Logger) error {
	f, status := faultOf(err)
	if status >= 500 {
		log.Error("not answered", "route", ctx.Route().Path, "code", f.Code, "cause", f.Err)
	}
	if status == fiber.StatusServiceUnavailable || status == fiber.StatusInsufficientStorage {
		retryAfter(ctx, time.Minute)
	}
	if status == fiber.StatusUnauthorized {
		ctx.Set(fiber.HeaderWWWAuthenticate, "Bearer") // RFC 9110, 11.6.1; no browser asks for anything then
	}
	ctx.Set(fiber.HeaderCacheControl, "no-store")
	return ctx.Status(status).JSON(errorBody{errorDetail{f.Code, f.Message, f.Field}, mark.Protocol, mark.Epoch, mark.Now})
}

type errorBody struct {
	Error    errorDetail `json:"error"`
	Protocol int         `json:"protocol,omitempty"` // these three of errors of the sync
	Epoch    string      `json:"epoch,omitempty"`
	Now      int64       `json:"now,omitempty"`
}

type errorDetail struct {
	Code    fault.Code `json:"code"`
	Message string     `json:"message"`
	Field   string     `json:"field"`
}

func detailOf(err error) *errorDetail {
	f, _ := faultOf(err)
	return &errorDetail{f.Code, f.Message, f.Field}
}

// codeOf gives the store's reasons the codes of the API.
var codeOf = map[store.Reason]fault.Code{
	store.Stale:        fault.OtherEpoch,
	store.NoInvitation: fault.NoInvitation,
	store.TooManyTries: fault.TooManyTries,
	store.NoDevice:     fault.NoDevice,
	store.DiskFull:     fault.DiskFull,
	store.Closed:       fault.Unavailable,
	store.Locked:       fault.Unavailable,
	store.Missing:      fault.NotFound,
}

// faultOf gives the fault and HTTP status of any error that reaches the edge, Fiber's own
// included.
func faultOf(err error) (*fault.Error, int) {
	var own *fiber.Error
	if !errors.As(err, &own) {
		f := fault.From(err)
		if code, ok := codeOf[store.ReasonOf(err)]; ok && code != f.Code {
			f = fault.Wrap(code, f.Field, f.Err, "%s", f.Message)
		}
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
	fault.AskUnit:            fiber.StatusUnprocessableEntity,
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
	fault.WrongType:          fiber.StatusUnsupportedMediaType,
	fault.NoDevice:           fiber.StatusUnauthorized,
	fault.NotAllowed:         fiber.StatusForbidden,
	fault.CrossSite:          fiber.StatusForbidden,
	fault.NoInvitation:       fiber.StatusNotFound,
	fault.TooManyTries:       fiber.StatusTooManyRequests,
	fault.OtherEpoch:         fiber.StatusConflict,
	fault.PleaseUpdate:       fiber.StatusUpgradeRequired,
	fault.DiskFull:           fiber.StatusInsufficientStorage,
	fault.Unavailable:        fiber.StatusServiceUnavailable,
	fault.Internal:           fiber.StatusInternalServerError,
}
