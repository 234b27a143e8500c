package main

import (
	"encoding/json"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"rsc.io/qr"

	"wrackbook/internal/fault"
	"wrackbook/internal/store"
)

// cookieAge is the longest that browsers keep a cookie; GET /api/me renews it.
const cookieAge = 400 * 24 * time.Hour

// maxSmall bounds a body that is not of the sync.
const maxSmall = 4 << 10

// How long an invitation works where the keeper does not say.
const inviteAge = 3 * 24 * time.Hour

// deviceAnswer is a device as the API tells of it.
type deviceAnswer struct {
	ID        string     `json:"id"`
	Name      string     `json:"name"`
	Role      store.Role `json:"role"`
	CreatedMS int64      `json:"createdMs"`
	SeenMS    int64      `json:"seenMs"`              // exact to ten minutes
	ShutOutMS int64      `json:"shutOutMs,omitempty"` // absent while it may come in
}

func answerDevice(d store.Device) deviceAnswer {
	return deviceAnswer{d.ID, d.Name, d.Role, d.CreatedMS, d.SeenMS, d.ShutOutMS}
}

// pair answers POST /api/pair, by which a device joins:
//
//	{"code":"ABCDE-…","name":"Jo's phone"}  →  201 {"device":{…}} and the cookie "wb"
//
// With "bearer":true the answer is {"device":{…},"token":"…"} without a cookie, for clients
// that share none; the token then goes into Authorization: Bearer of every request. The
// link URL/pair#CODE shows the app and redeems nothing: the page does, when a person says
// so.
func (a *api) pair(ctx *fiber.Ctx, _ visit) error {
	var request struct {
		Code   string `json:"code"`
		Name   string `json:"name"`
		Bearer bool   `json:"bearer"`
	}
	if err := readSmall(ctx, &request); err != nil {
		return err
	}
	address := a.site.callerAddress(ctx)
	wait, err := a.tries.take(address)
	if err != nil {
		retryAfter(ctx, wait)
		return err
	}
	code, ok := storeCode(request.Code)
	if !ok {
		return fault.New(fault.NoInvitation, "code", "There is a slip in this code. Compare it letter by letter; there is no letter I, L, O or U in it.")
	}
	device, token, err := a.house.redeem(code, request.Name)
	if reason := store.ReasonOf(err); reason == store.TooManyTries {
		retryAfter(ctx, triesWindow)
	}
	if f := fault.From(err); f != nil {
		if f.Code == fault.BadInput && f.Field == "name" {
			a.tries.forgive(address) // the code was not looked at
		}
		return err
	}
	a.tries.forgive(address)
	answer := struct {
		Device deviceAnswer `json:"device"`
		Token  string       `json:"token,omitempty"`
	}{Device: answerDevice(device)}
	if request.Bearer {
		answer.Token = token
	} else {
		a.setCookie(ctx, token)
	}
	return ctx.Status(fiber.StatusCreated).JSON(answer)
}

func (a *api) setCookie(ctx *fiber.Ctx, token string) {
	ctx.Cookie(&fiber.Cookie{
		Name: cookieName, Value: token, Path: "/api", MaxAge: int(cookieAge.Seconds()),
		HTTPOnly: true, Secure: a.site.secure, SameSite: fiber.CookieSameSiteStrictMode,
	})
}

// retryAfter says when to try again, in whole seconds, rounded up (RFC 9110, 10.2.3).
func retryAfter(ctx *fiber.Ctx, wait time.Duration) {
	ctx.Set(fiber.HeaderRetryAfter, strconv.FormatInt(int64((wait+time.Second-1)/time.Second), 10))
}

// me answers GET /api/me: who the device is, and in which household. A cookie is renewed.
//
//	{"device":{…},"household":"…","epoch":"…","protocol":1,"now":…}
func (a *api) me(ctx *fiber.Ctx, v visit) error {
	if bearer(ctx) == "" {
		a.setCookie(ctx, ctx.Cookies(cookieName))
	}
	meta := v.book.Meta()
	return ctx.JSON(struct {
		Device    deviceAnswer `json:"device"`
		Household string       `json:"household"`
		Epoch     string       `json:"epoch"`
		Protocol  int          `json:"protocol"`
		Now       int64        `json:"now"`
	}{answerDevice(v.device), meta.Household, meta.Epoch, protocol, a.now().UnixMilli()})
}

// devices answers GET /api/devices: {"devices":[…]}, those shut out too.
func (a *api) devices(ctx *fiber.Ctx, v visit) error {
	list, err := v.book.Devices()
	if err != nil {
		return err
	}
	answer := []deviceAnswer{}
	for _, d := range list {
		answer = append(answer, answerDevice(d))
	}
	return ctx.JSON(fiber.Map{"devices": answer})
}

// shutOut answers POST /api/devices/:id/shut-out, body {}: the device is let in no more,
// what it wrote stays. {"devices":[…]} as after it.
func (a *api) shutOut(ctx *fiber.Ctx, v visit) error {
	var request struct{}
	if err := readSmall(ctx, &request); err != nil {
		return err
	}
	a.keepers.Lock() // so that two keepers cannot shut out each other at once
	defer a.keepers.Unlock()
	list, err := v.book.Devices()
	if err != nil {
		return err
	}
	id, others := ctx.Params("id"), 0
	known := false
	for _, d := range list {
		known = known || d.ID == id
		if d.Role == store.Keeper && d.ShutOutMS == 0 && d.ID != id {
			others++
		}
	}
	switch {
	case !known:
		return fault.New(fault.NotFound, "id", "The household has no such device.")
	case others == 0:
		return fault.New(fault.BadInput, "id", "This is the only keeper's device left. Invite another keeper first.")
	}
	if err := v.book.ShutOut(id); err != nil {
		return err
	}
	return a.devices(ctx, v)
}

// invite answers POST /api/invitations with a code that works once:
//
//	{"role":"child","name":"Ada","minutes":60}
//	→ 201 {"code":"ABCDE-…","link":"https://…/pair#ABCDE-…&name=Ada","role":"child",
//	       "expiresMs":…,"qr":["111…","100…",…]}
//
// name, which may be absent, is what the form on the new device begins with; minutes is 1 to
// 43200, three days if absent. qr is the link as a QR code, a row a text, 1 for dark;
// whoever draws it leaves four modules of light around.
func (a *api) invite(ctx *fiber.Ctx, v visit) error {
	var request struct {
		Role    store.Role `json:"role"`
		Name    string     `json:"name"`
		Minutes *int       `json:"minutes"`
	}
	if err := readSmall(ctx, &request); err != nil {
		return err
	}
	validFor := inviteAge
	if request.Minutes != nil {
		if *request.Minutes < 1 || *request.Minutes > 30*24*60 {
			return fault.New(fault.BadInput, "minutes", "An invitation is valid for 1 to 43200 minutes.")
		}
		validFor = time.Duration(*request.Minutes) * time.Minute
	}
	if len(request.Name) > 60 {
		return fault.New(fault.BadInput, "name", "The name is longer than 60 bytes. Give the device a shorter one.")
	}
	expires := a.now().Add(validFor)
	code, err := v.book.Invite(request.Role, validFor)
	if err != nil {
		return err
	}
	shown := readableCode(code)
	link := a.site.pairLink(shown, request.Name)
	picture, err := qr.Encode(link, qr.M)
	if err != nil {
		return fault.Wrap(fault.BadInput, "name", err, "The link is too long for a QR code. Give a shorter name.")
	}
	return ctx.Status(fiber.StatusCreated).JSON(struct {
		Code      string     `json:"code"`
		Link      string     `json:"link"`
		Role      store.Role `json:"role"`
		ExpiresMS int64      `json:"expiresMs"`
		QR        []string   `json:"qr"`
	}{shown, link, request.Role, expires.UnixMilli(), modules(picture)})
}

// pairLink is the page that redeems a code. What stands after # is sent to no server.
func (s *site) pairLink(code, name string) string {
	link := s.url + "/pair#" + code
	if name != "" {
		link += "&name=" + strings.ReplaceAll(url.QueryEscape(name), "+", "%20")
	}
	return link
}

func modules(picture *qr.Code) []string {
	rows := make([]string, picture.Size)
	for y := range rows {
		row := make([]byte, picture.Size)
		for x := range row {
			row[x] = '0'
			if picture.Black(x, y) {
				row[x] = '1'
			}
		}
		rows[y] = string(row)
	}
	return rows
}

// readSmall reads a body of JSON strictly: a member that is not known is most likely a
// misspelt one.
func readSmall(ctx *fiber.Ctx, into any) error {
	body := ctx.BodyRaw()
	if len(body) > maxSmall {
		return fault.New(fault.TooLarge, "", "The request is larger than %d bytes.", maxSmall)
	}
	d := json.NewDecoder(strings.NewReader(string(body)))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil || d.More() {
		return fault.Wrap(fault.BadJSON, "", err, "The request is not a JSON object of the expected form.")
	}
	return nil
}
