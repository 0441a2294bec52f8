// Package viewer serves a study as one local page: the recording, the phases
// under one playhead, the body figure and the findings. It shows what reports
// say and changes the study through its store; it computes nothing about the
// body.
//
// It answers only its own page on this machine: it listens on loopback, knows
// its own names exactly, asks every request for the secret that the printed
// address carries, and lets no page but its own write. See guard.go.
package viewer

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"net"
	"net/http"
	"os"
	"strconv"
	"sync"
	"time"

	"tautline/timeline"
	"tautline/timeline/store"
)

// Options says what to serve.
type Options struct {
	Store *store.Store // open; stays the caller's to close
	// Find gives the absolute path of a study's recording as it is now. Nil:
	// where the study says, beside the study file, or found by fingerprint in
	// the study's folder.
	Find        func(r *timeline.Recording, studyPath string) (string, error)
	ToolVersion string
	// WebDir serves the page's files from a folder instead of those built in,
	// for work on the page itself.
	WebDir string
	// SecretDir is a folder of the user's own in which the secret and the port of
	// each study are kept, so that an open page outlives a restart. Empty: every
	// start has a secret of its own, and its pages end with it.
	SecretDir string
}

// Limits of one server.
const (
	headerWait    = 5 * time.Second  // to send a request's head
	answerWait    = 30 * time.Second // to take in an answer that is not the recording
	idleWait      = 2 * time.Minute
	goodbyeWait   = 3 * time.Second // for requests under way when the server ends
	maxHeader     = 32 << 10
	maxBody       = 256 << 10 // more than the longest mark that the store keeps
	maxSockets    = 32
	tokenBytes    = 16
	cookiePrefix  = "tautline_"
	defaultListen = "127.0.0.1:0"
)

// Server is one study on one address.
type Server struct {
	opt    Options
	token  string
	kept   kept
	web    *assets
	hub    *hub
	routes []route

	listener net.Listener
	port     string
	hosts    map[string]bool // exact Host headers that are ours

	memo   memo
	film   film
	drawer drawer
	bench  bench
	wg     sync.WaitGroup
}

// New prepares a server. Nothing is listened to yet.
func New(o Options) (*Server, error) {
	if o.Store == nil {
		panic("viewer: Options.Store is nil")
	}
	var files fs.FS = builtIn()
	if o.WebDir != "" {
		root, err := os.OpenRoot(o.WebDir) // no link in it leads out of it
		if err != nil {
			return nil, fmt.Errorf("the page's folder: %w", err)
		}
		files = root.FS()
	}
	web, err := loadAssets(files, o.WebDir != "")
	if err != nil {
		return nil, err
	}
	k := recall(o.SecretDir, o.Store.Path(), time.Now())
	s := &Server{opt: o, token: k.Secret, kept: k, web: web, hub: newHub(maxSockets)}
	s.routes = s.table()
	return s, nil
}

// Listen takes the address and keeps it. An empty addr means the port of
// 127.0.0.1 that the study had before, where it is free, else any; an address
// that is not loopback is refused.
func (s *Server) Listen(addr string) error {
	chosen := addr != ""
	if !chosen {
		if l, err := net.Listen("tcp", portOf(s.kept)); err == nil {
			s.take(l)
			s.remember(true)
			return nil
		}
		addr = defaultListen
	}
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return fmt.Errorf("the address %q: %w", addr, err)
	}
	if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fmt.Errorf("the address %q is not this machine's own: the page is served on loopback only", addr)
	}
	l, err := net.Listen("tcp", addr)
	if err != nil {
		return err
	}
	s.take(l)
	s.remember(chosen)
	return nil
}

// remember keeps the secret, and the port unless another was there before: that
// one is taken for now, perhaps by a second window on the same study, whose
// pages shall find it again.
func (s *Server) remember(port bool) {
	if port || s.kept.Port == 0 {
		s.kept.Port = s.listener.Addr().(*net.TCPAddr).Port
	}
	_ = keep(s.opt.SecretDir, s.opt.Store.Path(), s.kept) // without it a restart needs the printed address
}

// take makes a listener this server's own.
func (s *Server) take(l net.Listener) {
	s.listener = l
	s.port = strconv.Itoa(l.Addr().(*net.TCPAddr).Port)
	s.hosts = map[string]bool{}
	for _, h := range []string{"127.0.0.1", "localhost", "[::1]"} {
		s.hosts[h+":"+s.port] = true
	}
}

// URL is the address to open, with the secret in it. It works for as long as
// the secret is kept; the page itself drops it from the address bar.
func (s *Server) URL() string {
	return "http://" + s.listener.Addr().String() + "/?token=" + s.token
}

// Serve answers until ctx ends, then lets requests under way finish, within
// reason, and returns nil. Listen comes first.
func (s *Server) Serve(ctx context.Context) error {
	if s.listener == nil {
		panic("viewer: Serve before Listen")
	}
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	h := &http.Server{
		Handler:           s.Handler(),
		ReadHeaderTimeout: headerWait,
		IdleTimeout:       idleWait,
		MaxHeaderBytes:    maxHeader,
	}
	s.wg.Go(func() { s.tellRevisions(ctx) })
	done := make(chan error, 1)
	go func() { done <- h.Serve(s.listener) }()
	var err error
	select {
	case err = <-done:
	case <-ctx.Done():
		s.hub.close()
		late, stop := context.WithTimeout(context.WithoutCancel(ctx), goodbyeWait)
		if h.Shutdown(late) != nil {
			h.Close() // a recording still being sent
		}
		stop()
		err = <-done
	}
	cancel()
	s.hub.close()
	s.wg.Wait()
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// tellRevisions tells every open page of every change, whoever made it.
func (s *Server) tellRevisions(ctx context.Context) {
	for revision := range s.opt.Store.Watch(ctx) {
		s.hub.tell(message{Kind: "revision", Revision: revision}, nil)
	}
	if ctx.Err() == nil {
		s.hub.tell(message{Kind: "trouble"}, nil) // asking for the report says what
	}
}
