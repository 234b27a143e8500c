package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wrackbook/pwa"
)

// assets is the built app: an exact map from URL path to file. What is not in it does not
// exist, except that a navigation gets the page.
type assets struct {
	build  string // which app; empty if none is built in
	byPath map[string]*asset
	page   *asset // nil if none is built in
}

// asset is one file in the encodings it was built with.
type asset struct {
	contentType  string
	cacheControl string
	etag         string // of the plain bytes, without quotes
	plain        []byte
	brotli, gzip []byte // nil where compressing did not help
}

// contentTypes by extension. The host's own table is not asked: it differs by machine.
var contentTypes = map[string]string{
	".html":        "text/html; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".css":         "text/css; charset=utf-8",
	".wasm":        "application/wasm",
	".bin":         "application/octet-stream",
	".png":         "image/png",
	".webmanifest": "application/manifest+json; charset=utf-8",
}

// loadAssets reads a built app. Without an index.html there is none, which is no error: a
// clean clone compiles without it.
func loadAssets(dist fs.FS) (*assets, error) {
	files := &assets{byPath: map[string]*asset{}}
	err := fs.WalkDir(dist, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(dist, name)
		if err != nil {
			return err
		}
		switch ext := path.Ext(name); {
		case name == ".keep":
			return nil
		case name == "build.json":
			var mark struct{ Build string }
			err := json.Unmarshal(data, &mark)
			files.build = mark.Build
			return err
		case ext == ".br":
			files.at(strings.TrimSuffix(name, ext)).brotli = data
		case ext == ".gz":
			files.at(strings.TrimSuffix(name, ext)).gzip = data
		default:
			a := files.at(name)
			a.plain = data
			sum := sha256.Sum256(data)
			a.etag = hex.EncodeToString(sum[:12])
			if a.contentType = contentTypes[ext]; a.contentType == "" {
				return fmt.Errorf("%s: no content type is known for %q", name, ext)
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	for name, a := range files.byPath {
		if a.plain == nil {
			return nil, fmt.Errorf("%s: only its compressed form is there", name)
		}
	}
	if page, ok := files.byPath["/index.html"]; ok {
		files.page = page
		files.byPath["/"] = page
	}
	return files, nil
}

func (f *assets) at(name string) *asset {
	url := "/" + name
	a, ok := f.byPath[url]
	if !ok {
		a = &asset{cacheControl: "no-cache"}
		if hashNamed(name) {
			a.cacheControl = "public, max-age=31536000, immutable"
		}
		f.byPath[url] = a
	}
	return a
}

// hashNamed says whether a name holds a hash of the file, as in worker.0123456789ab.js, or as
// esbuild names what it bundles, in app.2ABCDEF7.js. Such a file never changes.
func hashNamed(name string) bool {
	parts := strings.Split(path.Base(name), ".")
	if len(parts) < 3 {
		return false
	}
	hash := parts[len(parts)-2]
	_, err := hex.DecodeString(hash)
	return err == nil && len(hash) == 12 || len(hash) == 8 && strings.Trim(hash, "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567") == ""
}

// serve answers GET and HEAD of everything outside /api.
func (f *assets) serve(ctx *fiber.Ctx) error {
	a, ok := f.byPath[ctx.Path()]
	if !ok {
		// Only a navigation gets the page. A script that is not there any more must not:
		// the browser would keep the page in its place for a year.
		if path.Ext(ctx.Path()) != "" || !strings.Contains(ctx.Get(fiber.HeaderAccept), "text/html") {
			return answerText(ctx, fiber.StatusNotFound, "There is no such file.")
		}
		if f.page == nil {
			return answerUnbuilt(ctx)
		}
		a = f.page
	}
	return a.send(ctx)
}

func (a *asset) send(ctx *fiber.Ctx) error {
	body, encoding := a.plain, ""
	accepted := ctx.Get(fiber.HeaderAcceptEncoding)
	if a.brotli != nil && acceptsEncoding(accepted, "br") {
		body, encoding = a.brotli, "br"
	} else if a.gzip != nil && acceptsEncoding(accepted, "gzip") {
		body, encoding = a.gzip, "gzip"
	}
	etag := `"` + a.etag + `"`
	if encoding != "" {
		etag = `"` + a.etag + "-" + encoding + `"`
	}
	ctx.Set(fiber.HeaderETag, etag)
	ctx.Set(fiber.HeaderCacheControl, a.cacheControl)
	if a.brotli != nil || a.gzip != nil {
		ctx.Set(fiber.HeaderVary, fiber.HeaderAcceptEncoding)
	}
	if matchesETag(ctx.Get(fiber.HeaderIfNoneMatch), etag) {
		return ctx.SendStatus(fiber.StatusNotModified)
	}
	ctx.Set(fiber.HeaderContentType, a.contentType)
	if encoding != "" {
		ctx.Set(fiber.HeaderContentEncoding, encoding)
	}
	return ctx.Send(body)
}

// acceptsEncoding reads an Accept-Encoding header (RFC 9110, section 12.5.3): coding is
// accepted if it is named, or "*" is and it is not, with a weight above zero.
func acceptsEncoding(header, coding string) bool {
	any := false
	for item := range strings.SplitSeq(header, ",") {
		name, params, _ := strings.Cut(item, ";")
		name = strings.TrimSpace(name)
		wanted := true
		if q, ok := strings.CutPrefix(strings.ReplaceAll(params, " ", ""), "q="); ok {
			weight, err := strconv.ParseFloat(q, 64)
			wanted = err == nil && weight > 0
		}
		if strings.EqualFold(name, coding) {
			return wanted
		}
		if name == "*" {
			any = wanted
		}
	}
	return any
}

// matchesETag reads an If-None-Match header; comparison is weak (RFC 9110, 13.1.2).
func matchesETag(header, etag string) bool {
	for item := range strings.SplitSeq(header, ",") {
		item = strings.TrimPrefix(strings.TrimSpace(item), "W/")
		if item == etag || item == "*" {
			return true
		}
	}
	return false
}

func answerText(ctx *fiber.Ctx, status int, sentence string) error {
	ctx.Set(fiber.HeaderCacheControl, "no-store")
	ctx.Set(fiber.HeaderContentType, fiber.MIMETextPlainCharsetUTF8)
	return ctx.Status(status).SendString(sentence + "\n")
}

func answerUnbuilt(ctx *fiber.Ctx) error {
	ctx.Set(fiber.HeaderCacheControl, "no-store")
	ctx.Set(fiber.HeaderContentType, fiber.MIMETextHTMLCharsetUTF8)
	return ctx.Status(fiber.StatusServiceUnavailable).SendString(`<!doctype html><html lang="en"><title>Wrackbook</title>
<h1>The app is not built yet</h1>
<p>This wrackbook was compiled without the phone app. In the repository, run <code>` + pwa.BuildCommand + `</code>, which builds the app and a wrackbook that carries it, or <code>./scripts/run</code>, which starts that one as well.</p>
</html>
`)
}
