package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"syscall"
	"time"

	"wrackbook/internal/core"
	"wrackbook/internal/station/embedded"
	"wrackbook/internal/store"
	"wrackbook/pwa"
)

// Timeouts of a connection. Signals from a shore are bad, hence half a minute.
const (
	readTimeout  = 30 * time.Second
	writeTimeout = 30 * time.Second
	idleTimeout  = 60 * time.Second
	// uploadTimeout is for a long body: 12 MB at 40 kB/s.
	uploadTimeout = 5 * time.Minute
	// stopTimeout is longer than writeTimeout, so that every answer begun is finished.
	stopTimeout = writeTimeout + 5*time.Second
)

// serve runs until SIGINT or SIGTERM.
func serve(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("wrackbook serve", flag.ContinueOnError)
	flags.SetOutput(stderr)
	addr := flags.String("addr", defaultAddr, "`address` to listen on; port 0 takes a free one")
	data := flags.String("data", defaultData, "`folder` of the household's book, made when the first device joins")
	public := flags.String("url", "", "`address` at which devices reach this server, such as https://ledge.example; http:// and -addr unless given")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return exitOK
	case err != nil:
		return exitUsage
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "wrackbook serve: %q is not understood; see wrackbook serve -h.\n", flags.Arg(0))
		return exitUsage
	}
	if err := checkLoopback(*addr); err != nil {
		fmt.Fprintln(stderr, "wrackbook serve:", err)
		return exitUsage
	}
	// From here on a signal is an orderly stop, also one that comes while starting.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := listenAndServe(ctx, *addr, *data, *public, stdout, slog.New(slog.NewTextHandler(stderr, nil))); err != nil {
		fmt.Fprintln(stderr, "wrackbook serve:", err)
		return exitFailure
	}
	return exitOK
}

// checkLoopback refuses an address that other machines reach: plain HTTP would show them
// everything, and a browser gives a page neither a service worker nor a position there.
func checkLoopback(addr string) error {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return fmt.Errorf("-addr %q is not an address and a port, such as 127.0.0.1:8710", addr)
	}
	if host == "localhost" {
		return nil
	}
	if ip := net.ParseIP(host); ip != nil && ip.IsLoopback() {
		return nil
	}
	return fmt.Errorf("-addr %q would be reached from other machines over plain HTTP, which anyone between can read and change. "+
		"Listen on 127.0.0.1, and put a proxy with TLS in front of it for other devices", addr)
}

// listenAndServe serves until ctx ends, then finishes what is under way.
func listenAndServe(ctx context.Context, addr, data, public string, stdout io.Writer, log *slog.Logger) (err error) {
	c := core.New()
	if err := c.OpenCatalogue(embedded.Catalogue()); err != nil {
		return fmt.Errorf("opening the station catalogue: %w", err)
	}
	files, err := loadAssets(pwa.Dist())
	if err != nil {
		return fmt.Errorf("reading the built app: %w", err)
	}
	listener, err := net.Listen("tcp", addr)
	if err != nil {
		return fmt.Errorf("%w. If Wrackbook runs already, stop it or choose another -addr", err)
	}
	defer listener.Close()
	site, err := newSite(public, listener.Addr())
	if err != nil {
		return err
	}
	house, err := openHousehold(data, store.Options{Now: time.Now, Logger: log})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, house.close()) }() // after the last handler
	code, err := house.keeperCode()
	if err != nil {
		return err
	}
	control := &control{house: house, site: site, log: log}
	house.whenOpened(control.listen)
	defer control.close()
	app := newApp(&api{core: c, build: files.build, house: house, site: site, tries: &tries{now: time.Now}, now: time.Now, log: log}, files)
	served := make(chan error, 1)
	go func() { served <- app.Listener(lingering{listener}) }()
	fmt.Fprintf(stdout, "Wrackbook is at http://%s\n", listener.Addr())
	if code != "" {
		printKeeperCode(stdout, site, code)
	}
	if files.page == nil {
		log.Warn("the app is not built into this binary; the API is served", "build", pwa.BuildCommand)
	}
	select {
	case err := <-served:
		return err
	case <-ctx.Done():
	}
	log.Info("stopping")
	if err := app.ShutdownWithTimeout(stopTimeout); err != nil {
		return fmt.Errorf("stopping: %w", err)
	}
	return <-served
}

// printKeeperCode shows how the first keeper's device joins. The code goes to the terminal
// and never to the log.
func printKeeperCode(w io.Writer, site *site, code string) {
	shown := readableCode(code)
	fmt.Fprintf(w, "No keeper's device has joined yet. Open this on the one that shall be the first; it works once, within 24 hours:\n\n"+
		"  %s\n\nor open %s/pair there and type\n\n  %s\n\n", site.pairLink(shown, ""), site.url, shown)
}
