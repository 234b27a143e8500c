package main

import (
	"log/slog"
	"mime"
	"strings"
	"sync"
	"time"

	"github.com/gofiber/fiber/v2"

	"wrackbook/internal/core"
	"wrackbook/internal/fault"
	"wrackbook/internal/store"
)

// api is what the routes work with.
type api struct {
	core  *core.Core
	build string // which app this server carries
	house *household
	site  *site
	tries *tries
	now   func() time.Time
	log   *slog.Logger

	keepers   sync.Mutex // held while it is found out which keepers are left
	backingUp sync.Mutex // held until a backup has been fetched
}

// visit is who asks, once that is known, and the book that is theirs.
type visit struct {
	book   *store.Store
	device store.Device
}

// route is one way into the API. What is not in the table below does not exist, and the
// test of who may do what is made from it.
type route struct {
	method, path string
	least        store.Role // the least role that may; "" lets everyone in, a stranger too
	takes        string     // media type of the body: "application/json", "image/*"; "" for none
	answer       func(*api, *fiber.Ctx, visit) error
}

var routes = []route{
	{"GET", "/api/health", "", "", (*api).health},
	{"HEAD", "/api/health", "", "", (*api).health},
	{"POST", "/api/pair", "", mimeJSON, (*api).pair},

	{"GET", "/api/me", store.Guest, "", (*api).me},
	{"POST", "/api/core/:call", store.Guest, mimeJSON, (*api).callCore},
	{"POST", "/api/sync/pull", store.Guest, mimeJSON, (*api).pull},
	{"POST", "/api/sync/snapshot", store.Guest, mimeJSON, (*api).snapshot},
	{"POST", "/api/sync/history", store.Guest, mimeJSON, (*api).history},
	{"GET", "/api/photos/:sha", store.Guest, "", (*api).photo},
	{"HEAD", "/api/photos/:sha", store.Guest, "", (*api).photo},

	{"POST", "/api/sync/push", store.Child, mimeJSON, (*api).push},
	{"PUT", "/api/photos/:sha", store.Child, "image/*", (*api).putPhoto},

	{"GET", "/api/devices", store.Keeper, "", (*api).devices},
	{"POST", "/api/devices/:id/shut-out", store.Keeper, mimeJSON, (*api).shutOut},
	{"POST", "/api/invitations", store.Keeper, mimeJSON, (*api).invite},
	{"GET", "/api/backup", store.Keeper, "", (*api).backup},
}

const mimeJSON = "application/json"

// handler checks everything that is the same for all routes, in this order: the name of the
// server, the sender's site, the kind of body, who it is, and whether they may.
func (a *api) handler(r route) fiber.Handler {
	return func(ctx *fiber.Ctx) error {
		if r.path == "/api/health" { // asked by whatever name a supervisor knows
			return r.answer(a, ctx, visit{})
		}
		ctx.Set(fiber.HeaderCacheControl, "no-store")
		for _, check := range []func(*fiber.Ctx) error{a.site.checkHost, a.site.checkSender, r.checkBody} {
			if err := check(ctx); err != nil {
				return err
			}
		}
		if r.least == "" {
			return r.answer(a, ctx, visit{})
		}
		v, leave, err := a.identify(tokenOf(ctx))
		if err != nil {
			return err
		}
		defer leave()
		if !v.device.Role.AtLeast(r.least) {
			return fault.New(fault.NotAllowed, "", "This device belongs to a %s, who may not do that. Ask a keeper to do it, or to invite this device anew.", v.device.Role)
		}
		return r.answer(a, ctx, v)
	}
}

// identify finds the device that holds a token, and its book until leave is called.
func (a *api) identify(token string) (v visit, leave func(), err error) {
	book, leave, err := a.house.enter()
	if err != nil {
		return visit{}, nil, err
	}
	if book == nil {
		return visit{}, nil, fault.New(fault.NoDevice, "", "No device has joined this household yet. Open the link that Wrackbook printed when it started.")
	}
	device, err := book.Authenticate(token)
	if err != nil {
		leave()
		return visit{}, nil, err
	}
	return visit{book, device}, leave, nil
}

// checkBody refuses other media types than the route takes, which also keeps out what a
// form on another site can send, and compressed bodies, which can unfold to any size.
func (r *route) checkBody(ctx *fiber.Ctx) error {
	if r.takes == "" {
		return nil
	}
	given, _, err := mime.ParseMediaType(ctx.Get(fiber.HeaderContentType))
	family, any := strings.CutSuffix(r.takes, "*")
	if err != nil || given != r.takes && !(any && strings.HasPrefix(given, family)) {
		return fault.New(fault.WrongType, "", "The body must be of the type %s.", r.takes)
	}
	if ctx.Get(fiber.HeaderContentEncoding) != "" {
		return fault.New(fault.WrongType, "", "The body must not be compressed.")
	}
	return nil
}

const cookieName = "wb"

// tokenOf reads the device's token: from Authorization, or else from the cookie.
func tokenOf(ctx *fiber.Ctx) string {
	if token := bearer(ctx); token != "" {
		return token
	}
	return ctx.Cookies(cookieName)
}

func bearer(ctx *fiber.Ctx) string {
	scheme, token, _ := strings.Cut(ctx.Get(fiber.HeaderAuthorization), " ")
	if !strings.EqualFold(scheme, "Bearer") {
		return ""
	}
	return strings.TrimSpace(token)
}
