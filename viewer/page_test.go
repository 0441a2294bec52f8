package viewer

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"tautline/testdata/peer"
	"tautline/timeline"
	"tautline/timeline/media"
)

// TestModulesByThemselves runs the tests of the page's pure modules in node.
func TestModulesByThemselves(t *testing.T) {
	files, err := filepath.Glob("webtest/*.test.js")
	if err != nil || len(files) == 0 {
		t.Fatal("no tests of modules", err)
	}
	out := string(peer.Run(t, "node", append([]string{"--test"}, files...)...))
	if !strings.Contains(out, "# fail 0") || strings.Contains(out, "# pass 0\n") {
		t.Errorf("node says\n%s", out)
	}
}

// TestTypesOfThePage: every module is what its JSDoc says, read strictly.
func TestTypesOfThePage(t *testing.T) {
	folder, err := filepath.Abs("web")
	if err != nil {
		t.Fatal(err)
	}
	var found told
	peer.Read(t, &found, "../../viewer/webtest/types.mjs", folder)
	for _, p := range found.Problems {
		t.Error(p)
	}
	if n, _ := found.Notes["files"].(float64); n < 20 {
		t.Errorf("only %v modules were read", n)
	}
}

// told is what a story in the browser found.
type told struct {
	Problems []string
	Notes    map[string]any
}

// inBrowser plays a story of webtest/stories.mjs on a site.
func inBrowser(t *testing.T, story string, x *site, folder string) told {
	t.Helper()
	peer.Chromium(t)
	var found told
	peer.Read(t, &found, "../../viewer/webtest/stories.mjs", story, x.URL(), folder)
	for _, p := range found.Problems {
		t.Errorf("%s: %s", story, p)
	}
	return found
}

// TestPageOpens in a real browser: no error, no request to anywhere else, the
// figure drawn, reasons behind sentences, and quickly.
func TestPageOpens(t *testing.T) {
	found := inBrowser(t, "open", serve(t, warmUp()), "")
	t.Logf("measured: %v", found.Notes)
	// 1 s is what is promised for the first paint; a test machine may be busy.
	if ms, ok := found.Notes["paint_ms"].(float64); ok && ms > 3000 {
		t.Errorf("the first paint took %.0f ms", ms)
	}
}

// TestMarksGoBothWays: set in the page they are in the store; set elsewhere
// they appear in every open page.
func TestMarksGoBothWays(t *testing.T) {
	x := serve(t, warmUp())
	ctx, stop := context.WithTimeout(t.Context(), 2*time.Minute)
	defer stop()
	done := make(chan bool)
	go func() {
		defer close(done)
		for ctx.Err() == nil {
			st, err := x.store.Load(ctx)
			if err == nil && slices.ContainsFunc(st.Marks, func(m timeline.Mark) bool {
				return m.Title == "From the page" && m.Words == "standing; knees flexed 40"
			}) {
				x.store.AddMark(ctx, timeline.Mark{At: 15_000, Title: "From outside"})
				return
			}
			time.Sleep(50 * time.Millisecond)
		}
	}()
	inBrowser(t, "marks", x, "")
	stop()
	<-done
	st, err := x.store.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"From the page", "From outside"} {
		if !slices.ContainsFunc(st.Marks, func(m timeline.Mark) bool { return m.Title == want }) {
			t.Errorf("no mark %q in the store", want)
		}
	}
}

// TestPageByKeyboard: whole stories without a pointer.
func TestPageByKeyboard(t *testing.T) { inBrowser(t, "keyboard", serve(t, warmUp()), "") }

// TestServerGoneAndBack: the page says so, keeps what is typed, and goes on by
// itself.
func TestServerGoneAndBack(t *testing.T) {
	peer.Chromium(t)
	x := serve(t, warmUp())
	folder := t.TempDir()
	await := func(name string) {
		for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
			if _, err := os.Stat(filepath.Join(folder, name)); err == nil {
				return
			}
		}
	}
	ended := make(chan error, 1)
	ctx, stop := context.WithCancel(context.Background())
	go func() {
		await("typed")
		x.stop()
		await("typed-more")
		again, err := New(Options{Store: x.store, ToolVersion: "test", SecretDir: x.opt.SecretDir})
		if err != nil {
			ended <- err
			return
		}
		// Started anew without a word about where: it comes back where it was.
		if err := again.Listen(""); err != nil || again.port != x.port {
			ended <- fmt.Errorf("started anew on port %s after %s: %w", again.port, x.port, err)
			return
		}
		ended <- again.Serve(ctx)
	}()
	inBrowser(t, "gone", x, folder)
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	st, err := x.store.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if st.Marks[0].Title != "Typed and not saved" {
		t.Errorf("saved as %q", st.Marks[0].Title)
	}
}

// TestEveryFrameIsReached in a film made for it, forward and back.
func TestEveryFrameIsReached(t *testing.T) {
	peer.Chromium(t)
	dir := t.TempDir()
	film := filepath.Join(dir, "warm-up.mp4")
	peer.Run(t, "ffmpeg", strings.Fields("-v error -y -f lavfi -i testsrc2=size=320x180:rate=25:duration=20 -c:v libx264 -preset ultrafast -bf 2 -g 50 -pix_fmt yuv420p "+film)...)
	fp, size, err := media.Fingerprint(film)
	if err != nil {
		t.Fatal(err)
	}
	st := warmUp()
	st.Recording = &timeline.Recording{Path: "warm-up.mp4", Fingerprint: fp, Size: size, Kind: "video", Duration: 20_000, FrameRate: 25, Frames: 500, Width: 320, Height: 180}
	inBrowser(t, "frames", serveIn(t, dir, st), "")
}

// TestPageForEveryone: axe finds nothing in any state, at desktop and phone
// width, light and dark, and nothing has to be scrolled sideways. With
// TAUTLINE_SHOTS naming a folder the pictures are kept there.
func TestPageForEveryone(t *testing.T) {
	found := inBrowser(t, "axe", serve(t, warmUp()), os.Getenv("TAUTLINE_SHOTS"))
	t.Logf("measured: %v", found.Notes)
	if n, _ := found.Notes["passes"].(float64); n < 100 {
		t.Errorf("only %v rules applied", n)
	}
}
