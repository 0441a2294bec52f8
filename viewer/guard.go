package viewer

import (
	"crypto/subtle"
	"net/http"
	"strings"
	"time"
)

// policy lets the page load its own files and talk to its own server, and
// nothing else: no inline script or style, no frame, no form, no other host.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; " +
	"media-src 'self' blob:; connect-src 'self'; font-src 'self'; manifest-src 'self'; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// Handler answers requests, guarded. In order:
//
//  1. The Host must be exactly ours. A page of another site that has its name
//     resolve to this machine fails here (421), whatever else it sends.
//  2. Every answer carries the headers that keep other pages from using it.
//  3. The secret, from the printed address or the cookie made from it; without
//     it nothing is answered (403).
//  4. Writes from another origin are refused (403).
//  5. The route, with a bound on what it reads and how long the answer takes.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	for _, r := range s.routes {
		mux.Handle(r.method+" "+r.pattern, s.bounded(r))
	}
	own := http.NewCrossOriginProtection()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !s.hosts[r.Host] {
			http.Error(w, "this is not the name of this page's server", http.StatusMisdirectedRequest)
			return
		}
		headers(w.Header())
		// A deadline outlives its request on a connection that is kept: every
		// request sets its own.
		http.NewResponseController(w).SetWriteDeadline(time.Now().Add(answerWait))
		if given, ok := r.URL.Query()["token"]; ok {
			s.admit(w, r, given)
			return
		}
		if !s.known(r) {
			http.Error(w, "this page opens with the whole address that the program printed", http.StatusForbidden)
			return
		}
		if err := own.Check(r); err != nil {
			http.Error(w, "changes are taken from this server's own page only", http.StatusForbidden)
			return
		}
		mux.ServeHTTP(w, r)
	})
}

func headers(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
	h.Set("Cache-Control", "no-cache")
}

// admit turns the secret in the address into a cookie and leads to the clean
// address, so that the secret stays out of history and screen shares.
func (s *Server) admit(w http.ResponseWriter, r *http.Request, given []string) {
	if r.Method != http.MethodGet || r.URL.Path != "/" || len(given) != 1 || !s.same(given[0]) {
		http.Error(w, "the secret in this address is not, or no longer, the one of this study", http.StatusForbidden)
		return
	}
	http.SetCookie(w, &http.Cookie{
		Name: s.cookie(), Value: s.token, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode,
	})
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

// known reports whether the request carries the cookie.
func (s *Server) known(r *http.Request) bool {
	for _, c := range r.CookiesNamed(s.cookie()) {
		if s.same(c.Value) {
			return true
		}
	}
	return false
}

// cookie is named with the port: cookies are shared between the ports of a host.
func (s *Server) cookie() string { return cookiePrefix + s.port }

func (s *Server) same(secret string) bool {
	return subtle.ConstantTimeCompare([]byte(secret), []byte(s.token)) == 1
}

// ownOrigin reports whether a websocket is opened by this server's own page: a
// browser always says where from.
func (s *Server) ownOrigin(r *http.Request) bool {
	origin, ok := strings.CutPrefix(r.Header.Get("Origin"), "http://")
	return ok && origin == r.Host && s.hosts[origin]
}

// bounded limits what a request may send and how long it may take to read the
// answer; sockets and the recording have limits of their own.
func (s *Server) bounded(rt route) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Body = http.MaxBytesReader(w, r.Body, maxBody)
		if c := http.NewResponseController(w); rt.stream {
			c.SetWriteDeadline(time.Time{})
		} else {
			c.SetReadDeadline(time.Now().Add(answerWait))
		}
		rt.serve(w, r)
	})
}
