package viewer

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"tautline/timeline/media"
)

// TestRecordingIsSentByRange: whole or in part, byte for byte, with a type told
// by its content.
func TestRecordingIsSentByRange(t *testing.T) {
	dir := t.TempDir()
	// The name lies about the content: it must not be believed.
	x := serveIn(t, dir, withSound(t, dir, "warm-up.html"))
	whole, err := os.ReadFile(filepath.Join(dir, "warm-up.html"))
	if err != nil {
		t.Fatal(err)
	}
	r := read[apiReport](t, x, "/api/report").Recording
	if r == nil || r.URL == "" || r.Problem != "" || r.Type != "audio/wav" {
		t.Fatalf("recording told as %+v", r)
	}
	if strings.Contains(r.URL, "warm") || strings.Contains(r.URL, ".") {
		t.Errorf("the address %s says something about the file", r.URL)
	}
	for _, c := range []struct {
		ask      string
		status   int
		from, to int
	}{
		{"", 200, 0, len(whole)},
		{"bytes=0-99", 206, 0, 100},
		{"bytes=1000-", 206, 1000, len(whole)},
		{"bytes=-44", 206, len(whole) - 44, len(whole)},
		{"bytes=99999999-", 416, 0, 0},
	} {
		status, body, h := x.do(t, "GET", r.URL, nil, "Range", c.ask)
		if status != c.status {
			t.Errorf("%q: %d", c.ask, status)
			continue
		}
		if status == 416 {
			continue
		}
		if !bytes.Equal([]byte(body), whole[c.from:c.to]) {
			t.Errorf("%q: %d bytes are not those of the file", c.ask, len(body))
		}
		if h.Get("Content-Type") != "audio/wav" || h.Get("Accept-Ranges") != "bytes" {
			t.Errorf("%q: type %q", c.ask, h.Get("Content-Type"))
		}
	}
	// Another file beside it cannot be had, whatever it is called.
	os.WriteFile(filepath.Join(dir, "secret.wav"), []byte("x"), 0o644)
	for _, path := range []string{"/media/secret.wav", "/media/warm-up.html", r.URL + "/../secret.wav", "/media/" + otherDigit(r.URL[7]) + r.URL[8:]} {
		if status, body, _ := x.do(t, "GET", path, nil); status == 200 {
			t.Errorf("%s gave %d bytes", path, len(body))
		}
	}
}

// TestRecordingMovedReplacedMissing: found by its content after a rename,
// another file in its place is told, none at all too; the page works on.
func TestRecordingMovedReplacedMissing(t *testing.T) {
	dir := t.TempDir()
	x := serveIn(t, dir, withSound(t, dir, "warm-up.wav"))
	here := filepath.Join(dir, "warm-up.wav")
	first := read[apiReport](t, x, "/api/report").Recording

	if err := os.MkdirAll(filepath.Join(dir, "autumn"), 0o755); err != nil {
		t.Fatal(err)
	}
	there := filepath.Join(dir, "autumn", "renamed.wav")
	if err := os.Rename(here, there); err != nil {
		t.Fatal(err)
	}
	moved := read[apiReport](t, x, "/api/report").Recording
	if moved.URL == "" || moved.Problem != "" {
		t.Fatalf("after a rename: %+v", moved)
	}
	if status, _ := x.get(t, moved.URL); status != 200 {
		t.Errorf("renamed recording: %d", status)
	}

	if err := os.Remove(there); err != nil {
		t.Fatal(err)
	}
	if gone := read[apiReport](t, x, "/api/report").Recording; gone.URL != "" || gone.Problem == "" {
		t.Errorf("without the file: %+v", gone)
	}
	if status, _ := x.get(t, first.URL); status != http.StatusNotFound {
		t.Errorf("the old address: %d", status)
	}

	wav(t, here, 7, 90)
	if other := read[apiReport](t, x, "/api/report").Recording; other.URL == "" || !strings.Contains(other.Problem, "not the one") {
		t.Errorf("another file in its place: %+v", other)
	}
	if err := os.WriteFile(here, []byte("no sound"), 0o644); err != nil {
		t.Fatal(err)
	}
	if bad := read[apiReport](t, x, "/api/report").Recording; bad.URL != "" || bad.Problem == "" {
		t.Errorf("not a recording: %+v", bad)
	}
}

// TestMediaTypesByContainer: every container has a type, and sound is not
// called video.
func TestMediaTypesByContainer(t *testing.T) {
	for _, c := range []struct {
		container media.Container
		kind      media.Kind
		want      string
	}{
		{media.MP4, media.Video, "video/mp4"}, {media.MP4, media.Audio, "audio/mp4"}, {media.MOV, media.Video, "video/quicktime"},
		{media.M4A, media.Audio, "audio/mp4"}, {media.WebM, media.Video, "video/webm"}, {media.WebM, media.Audio, "audio/webm"},
		{media.Matroska, media.Video, "video/x-matroska"}, {media.Matroska, media.Audio, "audio/x-matroska"},
		{media.MP3, media.Audio, "audio/mpeg"}, {media.WAV, media.Audio, "audio/wav"},
	} {
		if got := mediaType(&media.Recording{Container: c.container, Kind: c.kind}); got != c.want {
			t.Errorf("%s %s: %q, expected %q", c.container, c.kind, got, c.want)
		}
	}
}

// TestFramesAreTold: a constant rate in three figures, a variable one frame by
// frame.
func TestFramesAreTold(t *testing.T) {
	steady := frames(&media.Recording{Frames: tenths(0, 1, 2, 3), FramesEnd: tenths(4)[0]})
	if steady.Count != 4 || steady.PeriodUS != 100_000 || steady.FirstUS != 0 || steady.EndUS != 400_000 || len(steady.TimesUS) != 0 {
		t.Errorf("steady: %+v", steady)
	}
	uneven := frames(&media.Recording{Frames: tenths(0, 1, 5), FramesEnd: tenths(6)[0], Variable: true})
	if len(uneven.TimesUS) != 3 || uneven.TimesUS[2] != 500_000 {
		t.Errorf("uneven: %+v", uneven)
	}
	if none := frames(&media.Recording{}); none.Count != 0 || none.TimesUS == nil {
		t.Errorf("sound: %+v", none)
	}
}

// TestRecordingHasNoTimeLimit: a paused player may take an hour over its
// recording, while every other answer must be taken in soon; what one request
// sets on a connection does not end the next.
func TestRecordingHasNoTimeLimit(t *testing.T) {
	dir := t.TempDir()
	x := serveIn(t, dir, withSound(t, dir, "warm-up.wav"))
	url := read[apiReport](t, x, "/api/report").Recording.URL
	for path, limited := range map[string]bool{"/api/report": true, "/web/main.js": true, url: false} {
		r := httptest.NewRequest("GET", x.base+path, nil)
		r.Header.Set("Cookie", x.cookieHeader())
		w := &timed{ResponseRecorder: httptest.NewRecorder()}
		x.Handler().ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			t.Errorf("%s: %d", path, w.Code)
		}
		if w.limit.IsZero() == limited {
			t.Errorf("%s: must be taken in by %v", path, w.limit)
		}
	}
}

// timed notes the last time limit that was set for taking in the answer.
type timed struct {
	*httptest.ResponseRecorder
	limit time.Time
}

func (w *timed) SetWriteDeadline(at time.Time) error {
	w.limit = at
	return nil
}

func (w *timed) SetReadDeadline(time.Time) error { return nil }

// otherDigit is a hexadecimal digit that is not this one.
func otherDigit(d byte) string {
	if d == '0' {
		return "1"
	}
	return "0"
}
