package exports

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"tautline/testdata/peer"
)

// TestSharedPictureCoversNoCaptionsOfTheTeacher looks at the picture in a real
// browser: where the teacher's own captions stand, in the place that they take
// when they ask for none, ours have no pixel.
func TestSharedPictureCoversNoCaptionsOfTheTeacher(t *testing.T) {
	peer.Chromium(t)
	dir := t.TempDir()
	write := func(name string, content []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, content, 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	teacher := write("teacher.vtt", []byte("WEBVTT\n\n00:00.000 --> 00:40.000\nNow reach up and let the heels\ncome off the floor, slowly and all\nthe way, as if for the highest branch\n"))
	recording := filepath.Join("..", "testdata", "demo", "orchard-warm-up.mp4")
	for _, share := range []bool{true, false} {
		var b bytes.Buffer
		if err := writeCaptionsVTT(&b, demoReport(), Options{Share: share}); err != nil {
			t.Fatal(err)
		}
		var none []string
		peer.Read(t, &none, "share.mjs", recording, write("ours.vtt", b.Bytes()), teacher, "15", dir)
		empty := picture(t, filepath.Join(dir, "none.png"))
		ours := changedRows(t, empty, picture(t, filepath.Join(dir, "first.png")))
		theirs := changedRows(t, empty, picture(t, filepath.Join(dir, "second.png")))
		if apart := ours[1] < theirs[0] || theirs[1] < ours[0]; apart != share {
			t.Errorf("share %v: ours in rows %v, the teacher's in rows %v", share, ours, theirs)
		}
	}
}

func picture(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// changedRows gives the first and the last row in which two pictures differ.
func changedRows(t *testing.T, a, b image.Image) [2]int {
	t.Helper()
	rows := [2]int{-1, -1}
	for y := a.Bounds().Min.Y; y < a.Bounds().Max.Y; y++ {
		for x := a.Bounds().Min.X; x < a.Bounds().Max.X; x++ {
			if a.At(x, y) != b.At(x, y) {
				if rows[0] < 0 {
					rows[0] = y
				}
				rows[1] = y
				break
			}
		}
	}
	if rows[0] < 0 {
		t.Fatal("no caption is seen")
	}
	return rows
}
