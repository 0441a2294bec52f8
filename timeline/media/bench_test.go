package media

import (
	"bytes"
	"io"
	"testing"
	"time"
)

// An hour at 25 frames a second, with the tables a real file of that length
// has: B-frames, so that no two neighbouring offsets are alike.
const hourOfFrames = 90_000

func hourMP4() []byte {
	p := picture(run{hourOfFrames, 512})
	p.scale = 12800
	for range hourOfFrames / 4 {
		p.ctts = append(p.ctts, run{1, 1024}, run{1, 2048}, run{1, 512}, run{1, 512})
	}
	p.edits = []edit{{3_600_000, 1024}}
	media := atom("mdat", make([]byte, hourOfFrames+1))
	return join(ftyp("isom"), media, index(1000, 3_600_000, p.build(), sound(168_750).build()))
}

// hourMatroska has the two kinds of blocks an hour's recording has, with as
// many bytes between headers as a small picture takes.
func hourMatroska() []byte {
	var out bytes.Buffer
	out.Write(ebmlHead("webm"))
	out.Write(openElem(idSegment, tracksOf(40_000_000)))
	payload := make([]byte, 1500)
	for at := 0; at < hourOfFrames*40; at += 4000 {
		var blocks [][]byte
		for f := range 100 {
			blocks = append(blocks, elem(idSimpleBlock, blockBytes(1, int16(f*40), 0, payload...)),
				elem(idSimpleBlock, blockBytes(2, int16(f*40), 0, payload[:200]...)))
		}
		out.Write(cluster(uint64(at), blocks...))
	}
	return out.Bytes()
}

func benchmarkRead(b *testing.B, data []byte, frames int) {
	b.Helper()
	counted := &counter{r: bytes.NewReader(data)}
	for b.Loop() {
		rec, err := Read(counted, int64(len(data)))
		if err != nil || len(rec.Frames) != frames || rec.Duration.Round(time.Minute) != time.Hour {
			b.Fatalf("not an hour of %d frames (%v)", frames, err)
		}
	}
	b.ReportMetric(float64(counted.bytes)/float64(b.N)/1e6, "MB-read/op")
	b.ReportMetric(float64(counted.calls)/float64(b.N), "reads/op")
}

// counter counts what is asked of a file.
type counter struct {
	r            io.ReaderAt
	calls, bytes int
}

func (c *counter) ReadAt(p []byte, off int64) (int, error) {
	c.calls++
	c.bytes += len(p)
	return c.r.ReadAt(p, off)
}

func BenchmarkHourOfMP4(b *testing.B)      { benchmarkRead(b, hourMP4(), hourOfFrames) }
func BenchmarkHourOfMatroska(b *testing.B) { benchmarkRead(b, hourMatroska(), hourOfFrames) }

// An hour of MP3 without a summary: every frame has to be counted.
func BenchmarkHourOfMP3(b *testing.B) { benchmarkRead(b, mp3Frames(137_812), 0) }

func BenchmarkFingerprintOfAGigabyte(b *testing.B) {
	r := &counter{r: nothing{}}
	for b.Loop() {
		if _, err := FingerprintOf(r, 1<<30); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(r.bytes)/float64(b.N)/1e6, "MB-read/op")
}

// nothing is a file of zeros.
type nothing struct{}

func (nothing) ReadAt(p []byte, _ int64) (int, error) {
	clear(p)
	return len(p), nil
}
