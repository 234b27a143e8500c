package main

import (
	"context"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"golang.org/x/crypto/acme"

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
	var r reach
	r.register(flags)
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return exitOK
	case err != nil:
		return exitUsage
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "wrackbook serve: %q is not understood; see wrackbook serve -h.\n", flags.Arg(0))
		return exitUsage
	}
	machine, _ := os.Hostname() // without one, -url must be given where it matters
	if err := r.settle(machine); err != nil {
		fmt.Fprintln(stderr, "wrackbook serve:", err)
		return exitUsage
	}
	// From here on a signal is an orderly stop, also one that comes while starting.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := listenAndServe(ctx, &r, stdout, slog.New(slog.NewTextHandler(stderr, nil))); err != nil {
		fmt.Fprintln(stderr, "wrackbook serve:", err)
		return exitFailure
	}
	return exitOK
}

// listenAndServe serves until ctx ends, then finishes what is under way.
func listenAndServe(ctx context.Context, r *reach, stdout io.Writer, log *slog.Logger) (err error) {
	c := core.New()
	if err := c.OpenCatalogue(embedded.Catalogue()); err != nil {
		return fmt.Errorf("opening the station catalogue: %w", err)
	}
	files, err := loadAssets(pwa.Dist())
	if err != nil {
		return fmt.Errorf("reading the built app: %w", err)
	}
	listener, err := net.Listen("tcp", r.addr)
	switch {
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%w. Ports below 1024 are for those who have the right (on Linux CAP_NET_BIND_SERVICE); give it to wrackbook, or choose another -addr and have the router lead the port there", err)
	case err != nil:
		return fmt.Errorf("%w. If Wrackbook runs already, stop it or choose another -addr", err)
	}
	defer listener.Close()
	site, err := r.site(listener.Addr())
	if err != nil {
		return err
	}
	// The last to go is whoever tends the certificate.
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	connections, err := r.connections(ctx, lingering{listener}, site, log)
	if err != nil {
		return err
	}
	if site.authority != nil {
		files.byPath[authorityPath] = site.authority.asset()
	}
	house, err := openHousehold(r.data, store.Options{Now: time.Now, Logger: log})
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
	go func() { served <- app.Listener(connections) }()
	r.announce(stdout, site, listener.Addr(), log)
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

// connections makes of a listener's connections what the flags ask for: TLS, the certificate
// of which is tended until ctx ends, or nothing more.
func (r *reach) connections(ctx context.Context, listener net.Listener, s *site, log *slog.Logger) (net.Listener, error) {
	if !r.speaksTLS() {
		return listener, nil
	}
	host := r.public.Hostname()
	config := &tls.Config{MinVersion: tls.VersionTLS12}
	var shown *certificate
	var err error
	switch {
	case r.tls == "own":
		if s.authority, err = openAuthority(r.data, host, time.Now()); err != nil {
			return nil, err
		}
		shown, err = s.authority.certificate(time.Now, log)
	case r.acme != "":
		f := newFetched(r, time.Now, log)
		shown, config.GetCertificate = f.certificate, f.show
		config.NextProtos = []string{"http/1.1", acme.ALPNProto}
		if r.acmeHTTP != "" {
			f.listenHTTP(ctx, r.acmeHTTP, s.url)
		}
	default:
		shown, err = openFiles(r.cert, r.key, host, time.Now, log)
	}
	if err != nil {
		return nil, err
	}
	if config.GetCertificate == nil {
		config.GetCertificate = shown.show
	}
	asked := make(chan os.Signal, 1)
	if r.tls != "own" { // there SIGHUP is a terminal that was closed, as ever
		signal.Notify(asked, syscall.SIGHUP)
	}
	go func() {
		defer signal.Stop(asked)
		shown.check(false) // warns; of ACME it fetches the first one, for which connections must be answered
		shown.tend(ctx, asked)
	}()
	return &tlsListener{listener, config, wrongScheme(s), handshakeTimeout}, nil
}

// announce says where the server is, and what whoever started it should know of that.
func (r *reach) announce(w io.Writer, s *site, listens net.Addr, log *slog.Logger) {
	if r.public == nil || s.secure && !r.speaksTLS() {
		fmt.Fprintf(w, "Wrackbook is at http://%s\n", listens)
	} else {
		fmt.Fprintf(w, "Wrackbook is at %s\n", s.url)
	}
	switch {
	case s.authority != nil:
		fmt.Fprintf(w, "Each device must be told once to trust this household's authority. It is at http://%s%s\n(http, this once) and in %s; its SHA-256 fingerprint is\n\n  %s\n\n",
			net.JoinHostPort(r.public.Hostname(), portOf(r.public)), authorityPath, filepath.Join(r.data, authorityCopy), s.authority.fingerprint())
	case s.secure && !r.speaksTLS():
		fmt.Fprintf(w, "A proxy is expected to lead %s there.\n", s.url)
		if len(r.proxies) == 0 {
			log.Info("no -proxy is named: wrong pairing codes of everyone behind the proxy are counted together")
		}
	}
	if r.plain {
		log.Warn("plain HTTP: everyone between the devices and this server, or between it and its proxy, can read and change what is sent, and take a device's place. Without https the app has no service worker, so nothing on the shore, and no position")
	}
}

// printKeeperCode shows how the first keeper's device joins. The code goes to the terminal
// and never to the log.
func printKeeperCode(w io.Writer, site *site, code string) {
	shown := readableCode(code)
	fmt.Fprintf(w, "No keeper's device has joined yet. Open this on the one that shall be the first; it works once, within 24 hours:\n\n"+
		"  %s\n\nor open %s/pair there and type\n\n  %s\n\n", site.pairLink(shown, ""), site.url, shown)
}
