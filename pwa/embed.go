// Package pwa holds the phone app: app/ is its source, core/ the core compiled for the
// browser, lib/ the pinned libraries, build/ the program that makes dist/ of them.
//
// A clean clone has an empty dist/ and still compiles; the server then says how the app
// is built.
package pwa

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var dist embed.FS

// BuildCommand is what makes dist/, as a person at the repository's root types it.
const BuildCommand = "./scripts/build"

// Dist returns the built app, its files at the root.
func Dist() fs.FS {
	sub, err := fs.Sub(dist, "dist")
	if err != nil {
		panic(err) // only for an invalid path, which "dist" is not
	}
	return sub
}
