package viewer

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"tautline/timeline"
	"tautline/timeline/media"
	"tautline/timeline/store"
)

// site is a served study and a browser-like client that has been let in.
type site struct {
	*Server
	store  *store.Store
	dir    string
	client *http.Client
	base   string // http://127.0.0.1:PORT
	stop   context.CancelFunc
}

// warmUp is the study of these tests: a hold, movements, words that cannot be
// understood, and a posture past its range.
func warmUp() timeline.Study {
	return timeline.Study{
		Title:  "Warm-up for orchard pickers",
		Person: timeline.Person{StatureM: 1.75, MassKg: 73, Sex: "male"},
		Marks: []timeline.Mark{
			{At: 0, Title: "Quiet stand", Words: "standing"},
			{At: 4_000, Title: "Overhead reach", Words: "standing on toes; shoulders flexed 170; elbows straight"},
			{At: 9_000, Title: "Holding it"},
			{At: 13_000, Title: "Side reach <b>&", Words: "standing; right shoulder abducted 160; kness soft"},
		},
	}
}

// serve makes a study, serves it and lets a client in.
func serve(t testing.TB, st timeline.Study) *site {
	t.Helper()
	return serveIn(t, t.TempDir(), st)
}

func serveIn(t testing.TB, dir string, st timeline.Study) *site {
	t.Helper()
	s, err := store.Create(t.Context(), filepath.Join(dir, "warm-up.study"), st)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return serveStore(t, dir, s)
}

func serveStore(t testing.TB, dir string, s *store.Store) *site {
	t.Helper()
	srv, err := New(Options{Store: s, ToolVersion: "test", SecretDir: filepath.Join(t.TempDir(), "pages")})
	if err != nil {
		t.Fatal(err)
	}
	if err := srv.Listen(""); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- srv.Serve(ctx) }()
	t.Cleanup(func() {
		stop()
		select {
		case err := <-done:
			if err != nil {
				t.Errorf("Serve: %v", err)
			}
		case <-time.After(goodbyeWait + 5*time.Second):
			t.Error("Serve did not end")
		}
	})
	jar, _ := cookiejar.New(nil)
	x := &site{Server: srv, store: s, dir: dir, client: &http.Client{Jar: jar}, base: "http://" + srv.listener.Addr().String(), stop: stop}
	if status, _ := x.get(t, srv.URL()); status != http.StatusOK {
		t.Fatalf("the printed address answers %d", status)
	}
	return x
}

// do makes a request as the page does and returns the status and the body.
func (x *site) do(t testing.TB, method, path string, body any, headers ...string) (int, string, http.Header) {
	t.Helper()
	var in io.Reader
	switch b := body.(type) {
	case nil:
	case string:
		in = strings.NewReader(b)
	default:
		text, err := json.Marshal(b)
		if err != nil {
			t.Fatal(err)
		}
		in = bytes.NewReader(text)
	}
	if strings.HasPrefix(path, "/") {
		path = x.base + path
	}
	r, err := http.NewRequest(method, path, in)
	if err != nil {
		t.Fatal(err)
	}
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i+1 < len(headers); i += 2 {
		if headers[i] == "Host" {
			r.Host = headers[i+1]
			continue
		}
		r.Header.Set(headers[i], headers[i+1])
	}
	resp, err := x.client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	text, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode, string(text), resp.Header
}

func (x *site) get(t testing.TB, path string) (int, string) {
	t.Helper()
	status, body, _ := x.do(t, "GET", path, nil)
	return status, body
}

// read gets JSON.
func read[T any](t testing.TB, x *site, path string) T {
	t.Helper()
	status, body := x.get(t, path)
	var value T
	if status != http.StatusOK {
		t.Fatalf("GET %s: %d %s", path, status, body)
	}
	if err := json.Unmarshal([]byte(body), &value); err != nil {
		t.Fatalf("GET %s: %v", path, err)
	}
	return value
}

// post sends JSON and gets JSON.
func post[T any](t testing.TB, x *site, path string, body any) T {
	t.Helper()
	status, text, _ := x.do(t, "POST", path, body)
	var value T
	if status != http.StatusOK {
		t.Fatalf("POST %s: %d %s", path, status, text)
	}
	if err := json.Unmarshal([]byte(text), &value); err != nil {
		t.Fatalf("POST %s: %v", path, err)
	}
	return value
}

// revision asks the store, not the server.
func (x *site) revision(t testing.TB) int64 {
	t.Helper()
	r, err := x.store.Revision(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// cookie is the client's cookie for the server.
func (x *site) cookieHeader() string {
	u, _ := url.Parse(x.base)
	var parts []string
	for _, c := range x.client.Jar.Cookies(u) {
		parts = append(parts, c.Name+"="+c.Value)
	}
	return strings.Join(parts, "; ")
}

// wav writes a short recording of sound, and says what the study keeps of it.
func wav(t testing.TB, path string, seconds int, tone byte) *timeline.Recording {
	t.Helper()
	const rate = 8000
	data := make([]byte, rate*seconds)
	for i := range data {
		data[i] = 128 + tone*byte(i/20%2)
	}
	var b bytes.Buffer
	b.WriteString("RIFF")
	binary.Write(&b, binary.LittleEndian, uint32(36+len(data)))
	b.WriteString("WAVEfmt ")
	for _, v := range []any{uint32(16), uint16(1), uint16(1), uint32(rate), uint32(rate), uint16(1), uint16(8)} {
		binary.Write(&b, binary.LittleEndian, v)
	}
	b.WriteString("data")
	binary.Write(&b, binary.LittleEndian, uint32(len(data)))
	b.Write(data)
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	fp, size, err := media.Fingerprint(path)
	if err != nil {
		t.Fatal(err)
	}
	return &timeline.Recording{Path: filepath.Base(path), Fingerprint: fp, Size: size, Kind: "audio", Duration: timeline.Instant(seconds * 1000)}
}

// withSound is the warm-up with a recording in dir.
func withSound(t testing.TB, dir, name string) timeline.Study {
	t.Helper()
	st := warmUp()
	st.Recording = wav(t, filepath.Join(dir, name), 20, 40)
	return st
}

func markPath(id int64) string { return fmt.Sprintf("/api/marks/%d", id) }

// tenths gives moments in tenths of a second.
func tenths(ns ...int) []time.Duration {
	out := make([]time.Duration, len(ns))
	for i, n := range ns {
		out[i] = time.Duration(n) * 100 * time.Millisecond
	}
	return out
}
