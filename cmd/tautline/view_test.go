package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"net/http/cookiejar"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// TestViewServesThePageUntilItIsEnded: the address is printed and works at once,
// a mark made elsewhere meanwhile is kept, and Ctrl-C is no failure.
func TestViewServesThePageUntilItIsEnded(t *testing.T) {
	dir := t.TempDir()
	call(t, "demo", dir)
	study := filepath.Join(dir, "orchard-warm-up.study")
	serves(t, study, 0, "view", study, "--no-open")
}

// TestDemoOpensThePage: after its five lines.
func TestDemoOpensThePage(t *testing.T) {
	dir := t.TempDir()
	serves(t, filepath.Join(dir, "orchard-warm-up.study"), 5, "demo", dir, "--view", "--no-open")
}

// serves runs a command that serves a study, after so many other lines.
func serves(t *testing.T, study string, after int, args ...string) {
	t.Helper()
	ctx, stop := context.WithTimeout(t.Context(), time.Minute)
	defer stop()
	out, in := io.Pipe()
	var errs strings.Builder
	done := make(chan int, 1)
	go func() {
		code := run(ctx, args, strings.NewReader(""), in, &errs)
		in.Close()
		done <- code
	}()
	lines := bufio.NewScanner(out)
	for range after + 1 {
		lines.Scan()
	}
	url := lines.Text()
	if !regexp.MustCompile(`^http://127\.0\.0\.1:\d+/\S{16,}$`).MatchString(url) {
		t.Fatalf("the address is %q (%s)", url, errs.String())
	}
	lines.Scan()
	if lines.Text() != "Ctrl-C ends it." {
		t.Errorf("the second line is %q", lines.Text())
	}
	cookies, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	r, err := (&http.Client{Jar: cookies}).Get(url)
	if err != nil {
		t.Fatal(err)
	}
	page, err := io.ReadAll(r.Body)
	r.Body.Close()
	if err != nil || r.StatusCode != http.StatusOK || !strings.Contains(string(page), "<!doctype html>") || r.Header.Get("Content-Security-Policy") == "" {
		t.Errorf("%v, %s, %.100q", err, r.Status, page)
	}
	call(t, "mark", "add", study, "38", "Made meanwhile")
	stop()
	if code := <-done; code != 0 || strings.Contains(errs.String(), "tautline: ") {
		t.Errorf("ended with %d: %s", code, errs.String())
	}
	if list := string(call(t, "list", study)); !strings.Contains(list, "Made meanwhile") {
		t.Errorf("the mark made meanwhile is gone:\n%s", list)
	}
}
