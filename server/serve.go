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
	"wrackbook/pwa"
)

// Timeouts of a connection. Uploads from a shore are slow, hence half a minute.
const (
	readTimeout  = 30 * time.Second
	writeTimeout = 30 * time.Second
	idleTimeout  = 60 * time.Second
	// stopTimeout is longer than writeTimeout, so that every answer begun is finished.
	stopTimeout = writeTimeout + 5*time.Second
)

// serve runs until SIGINT or SIGTERM.
func serve(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("wrackbook serve", flag.ContinueOnError)
	flags.SetOutput(stderr)
	addr := flags.String("addr", "127.0.0.1:8710", "`address` to listen on; port 0 takes a free one")
	flags.String("data", "./wrackbook-data", "`folder` of the household's records, made when the first is stored")
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
	if err := listenAndServe(ctx, *addr, stdout, slog.New(slog.NewTextHandler(stderr, nil))); err != nil {
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
func listenAndServe(ctx context.Context, addr string, stdout io.Writer, log *slog.Logger) error {
	c := core.New()
	if err := c.OpenCatalogue(embedded.Catalogue()); err != nil {
		return fmt.Errorf("opening the station catalogue: %w", err)
	}
	files, err := loadAssets(pwa.Dist())
	if err != nil {
		return fmt.Errorf("reading the built app: %w", err)
	}
	app := newApp(c, files, time.Now, log)
	listener, err := net.Listen("tcp", addr)
	if err != nil {
		return fmt.Errorf("%w. If Wrackbook runs already, stop it or choose another -addr", err)
	}
	served := make(chan error, 1)
	go func() { served <- app.Listener(listener) }()
	fmt.Fprintf(stdout, "Wrackbook is at http://%s\n", listener.Addr())
	if files.page == nil {
		log.Warn("the app is not built into this binary; the calls of the core are served", "build", pwa.BuildCommand)
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
