package viewer

import (
	"net"
	"net/http"
	"strings"
	"testing"
)

// TestOnlyOwnPageIsAnswered is the matrix of who is refused: by the name asked
// for, by the secret, by where a write comes from.
func TestOnlyOwnPageIsAnswered(t *testing.T) {
	x := serve(t, warmUp())
	stranger := &site{Server: x.Server, client: &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}, base: x.base}
	other := serve(t, warmUp())
	localhost := "localhost:" + x.port
	for _, c := range []struct {
		what           string
		from           *site
		method, path   string
		headers        []string
		status         int
		changesNothing bool
	}{
		{"own page", x, "GET", "/", nil, 200, true},
		{"own page by another of its names", x, "GET", "/", []string{"Host", localhost, "Cookie", x.cookieHeader()}, 200, true},
		{"foreign name", x, "GET", "/", []string{"Host", "evil.example"}, 421, true},
		{"foreign name with our port", x, "GET", "/", []string{"Host", "evil.example:" + x.port}, 421, true},
		{"our name without the port", x, "GET", "/", []string{"Host", "127.0.0.1"}, 421, true},
		{"our name with another port", x, "GET", "/", []string{"Host", "127.0.0.1:1"}, 421, true},
		{"a name that begins like ours", x, "GET", "/", []string{"Host", "127.0.0.1:" + x.port + ".evil.example"}, 421, true},
		{"foreign name with the secret", stranger, "GET", "/?token=" + x.token, []string{"Host", "evil.example"}, 421, true},
		{"foreign name, write", x, "POST", "/api/undo", []string{"Host", "evil.example"}, 421, true},
		{"no secret", stranger, "GET", "/", nil, 403, true},
		{"no secret, report", stranger, "GET", "/api/report", nil, 403, true},
		{"no secret, script", stranger, "GET", "/web/main.js", nil, 403, true},
		{"no secret, unknown path", stranger, "GET", "/nowhere", nil, 403, true},
		{"no secret, write", stranger, "POST", "/api/undo", nil, 403, true},
		{"wrong secret", stranger, "GET", "/?token=" + strings.Repeat("0", 32), nil, 403, true},
		{"empty secret", stranger, "GET", "/?token=", nil, 403, true},
		{"part of the secret", stranger, "GET", "/?token=" + x.token[:31], nil, 403, true},
		{"secret of another server", stranger, "GET", "/?token=" + other.token, nil, 403, true},
		{"secret twice", stranger, "GET", "/?token=" + x.token + "&token=" + x.token, nil, 403, true},
		{"secret in an address that is not the page's", stranger, "GET", "/api/report?token=" + x.token, nil, 403, true},
		{"secret with a write", stranger, "POST", "/?token=" + x.token, nil, 403, true},
		{"cookie of another start", stranger, "GET", "/", []string{"Cookie", x.cookie() + "=" + other.token}, 403, true},
		{"cookie under another name", stranger, "GET", "/", []string{"Cookie", "tautline=" + x.token}, 403, true},
		{"right secret", stranger, "GET", "/?token=" + x.token, nil, 303, true},
		{"write from another site", x, "POST", "/api/undo", []string{"Origin", "http://evil.example"}, 403, true},
		{"write from another port", x, "POST", "/api/undo", []string{"Origin", other.base}, 403, true},
		{"write that a browser calls cross-site", x, "POST", "/api/undo", []string{"Sec-Fetch-Site", "cross-site"}, 403, true},
		{"write from a page without an origin", x, "POST", "/api/undo", []string{"Origin", "null"}, 403, true},
		{"removal from another site", x, "DELETE", "/api/marks/1", []string{"Origin", "http://evil.example"}, 403, true},
		{"remark from another site", x, "POST", "/api/remarks", []string{"Origin", "http://evil.example"}, 403, true},
		{"search of folders from another site", x, "POST", "/api/recording", []string{"Sec-Fetch-Site", "cross-site"}, 403, true},
		{"no secret, export", stranger, "GET", "/api/exports/json", nil, 403, true},
		{"no secret, search of folders", stranger, "POST", "/api/recording", nil, 403, true},
		{"way out of the exports", x, "GET", "/api/exports/..%2f..%2fserver.go", nil, 404, true},
		{"write by its own page", x, "POST", "/api/undo", []string{"Origin", x.base, "Sec-Fetch-Site", "same-origin"}, 409, true},
		{"way out of the folder", x, "GET", "/web/..%2f..%2fetc%2fpasswd", nil, 404, true},
		{"way out by dots", x, "GET", "/web/%2e%2e/server.go", nil, 404, true},
		{"absolute path as file", x, "GET", "/web//etc/passwd", nil, 404, true},
		{"unknown recording", x, "GET", "/media/0000000000000000", nil, 404, true},
		{"way out of the recording", x, "GET", "/media/..%2f..%2fetc%2fpasswd", nil, 404, true},
	} {
		before := x.revision(t)
		status, body, h := c.from.do(t, c.method, c.path, nil, c.headers...)
		if status != c.status {
			t.Errorf("%s: answered %d, expected %d (%.80s)", c.what, status, c.status, body)
		}
		if x.revision(t) != before {
			t.Errorf("%s: the study was changed", c.what)
		}
		if h.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s: other origins are allowed in", c.what)
		}
	}
}

// TestSecretBecomesACookieAndLeavesTheAddress.
func TestSecretBecomesACookieAndLeavesTheAddress(t *testing.T) {
	x := serve(t, warmUp())
	if len(x.token) != 32 {
		t.Errorf("the secret has %d hex digits, expected 128 bits", len(x.token))
	}
	c := &site{Server: x.Server, client: &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}, base: x.base}
	_, _, h := c.do(t, "GET", x.URL(), nil)
	if h.Get("Location") != "/" {
		t.Errorf("leads to %q", h.Get("Location"))
	}
	cookie := h.Get("Set-Cookie")
	for _, want := range []string{"tautline_" + x.port + "=", "HttpOnly", "SameSite=Strict", "Path=/"} {
		if !strings.Contains(cookie, want) {
			t.Errorf("cookie %q lacks %s", cookie, want)
		}
	}
	if serve(t, warmUp()).token == x.token {
		t.Error("two starts share a secret")
	}
}

// TestHeadersOnEveryAnswer: page, data, refusals and unknown paths alike.
func TestHeadersOnEveryAnswer(t *testing.T) {
	x := serve(t, warmUp())
	stranger := &site{Server: x.Server, client: &http.Client{}, base: x.base}
	for _, c := range []struct {
		from *site
		path string
	}{{x, "/"}, {x, "/api/report"}, {x, "/nowhere"}, {x, "/web/main.js"}, {stranger, "/"}} {
		_, _, h := c.from.do(t, "GET", c.path, nil)
		for key, want := range map[string]string{
			"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
			"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin",
		} {
			if h.Get(key) != want {
				t.Errorf("%s: %s is %q", c.path, key, h.Get(key))
			}
		}
		csp := h.Get("Content-Security-Policy")
		for _, want := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "connect-src 'self'", "base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'"} {
			if !strings.Contains(csp, want) {
				t.Errorf("%s: the policy lacks %s", c.path, want)
			}
		}
		if strings.Contains(csp, "unsafe") {
			t.Errorf("%s: the policy allows something unsafe: %s", c.path, csp)
		}
	}
}

// TestListensOnLoopbackOnly.
func TestListensOnLoopbackOnly(t *testing.T) {
	x := serve(t, warmUp())
	if ip := x.listener.Addr().(*net.TCPAddr).IP; !ip.IsLoopback() {
		t.Errorf("listens on %s", ip)
	}
	for _, addr := range []string{":0", "0.0.0.0:0", "[::]:0", "192.0.2.1:80", "orchard.example:80", "127.0.0.1"} {
		srv, err := New(Options{Store: x.store})
		if err != nil {
			t.Fatal(err)
		}
		if err := srv.Listen(addr); err == nil {
			srv.listener.Close()
			t.Errorf("listens on %q", addr)
		}
	}
}
