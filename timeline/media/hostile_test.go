package media

import (
	"bytes"
	"errors"
	"math"
	"runtime"
	"testing"
	"time"
)

// Files made to cost as much as they can for their size. Each must be done
// with, one way or the other, in about the time and memory that reading an
// honest file of its size may take.
func TestHostileFilesCostNoMoreThanHonestOnes(t *testing.T) {
	const size = 8 << 20
	fill := func(unit []byte) []byte { return bytes.Repeat(unit, size/len(unit)) }
	nested := bytes.Repeat([]byte{0, 0, 0, 0, 's', 't', 'b', 'l'}, size/8) // size 0: to the end of its parent
	repeats := picture(run{200_000, 1})
	repeats.edits = make([]edit, 2000)
	idle := picture(make([]run, size/8)...)
	idle.samples = 5
	chapters := picture(run{5, 40})
	many := [][]byte{}
	for range 900 {
		chapters.chapters++
		many = append(many, chapters.build())
	}
	truns := fill(fullAtom("trun", 0, 0, be32(size)))
	mvex := atom("mvex", fullAtom("trex", 0, 0, be32(1), be32(1), be32(1), be32(0), be32(0)))
	for name, data := range map[string][]byte{
		"boxes without content":      join(ftyp("isom"), fill(atom("free"))),
		"tracks without content":     join(ftyp("isom"), index(1000, 0, fill(atom("trak")))),
		"boxes in boxes":             join(ftyp("isom"), index(1000, 0, atom("trak", atom("mdia", atom("minf", nested))))),
		"frames repeated by edits":   join(ftyp("isom"), make([]byte, 0), atom("mdat", make([]byte, 200_000)), index(1000, 0, repeats.build())),
		"runs of no samples":         join(ftyp("isom"), index(1000, 0, idle.build())),
		"tracks that are chapters":   join(ftyp("isom"), index(1000, 0, many...)),
		"fragments of default frame": join(ftyp("isom"), index(1000, 0, picture().build(), mvex), atom("moof", atom("traf", fullAtom("tfhd", 0, 0, be32(1)), truns))),
		"elements without content":   join(ebmlHead("webm"), openElem(idSegment, tracksOf(0), fill([]byte{0xEC, 0x80}))),
		"clusters in clusters":       join(ebmlHead("webm"), openElem(idSegment, tracksOf(0), fill(openElem(idCluster)))),
		"tracks and clocks to and fro": join(ebmlHead("webm"), openElem(idSegment, fill(join(cluster(0),
			elem(idInfo, elemUint(idScale, 7)), cluster(0), elem(idInfo, elemUint(idScale, 8)))))),
		"nothing but sync":             join(mp3Frames(3), fill([]byte{0xFF})),
		"headers that lead nowhere":    join(mp3Frames(3), fill([]byte{0xFF, 0xFB, 0x90, 0, 0})),
		"tags after tags":              join(fill(id3v2(0)), mp3Frames(2)),
		"chunks without content":       wavFile(fill(chunk("junk"))),
		"chunks larger than the world": wavFile(join([]byte("junk"), le32(math.MaxUint32)), make([]byte, size)),
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			rec, err := readBytes(data)
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			holds(t, rec, err)
			// Eight megabytes may be walked eight bytes at a time on a slow,
			// busy machine; the table of frames has its own bound.
			if took > 10*time.Second {
				t.Errorf("took %v", took)
			}
			if used := after.TotalAlloc - before.TotalAlloc; used > 8*8*maxFrames {
				t.Errorf("took %d MB", used>>20)
			}
			t.Logf("%v, %d kB, %v", took.Round(time.Millisecond), (after.TotalAlloc-before.TotalAlloc)>>10, err)
		})
	}
}

// A cut at any byte is refused by name or read as what is left, never worse.
func TestFilesCutAnywhereAreReadOrRefused(t *testing.T) {
	p := picture(run{4, 40})
	p.ctts, p.edits = []run{{1, 40}, {1, 120}, {2, 0}}, []edit{{100, -1}, {0, 40}}
	for name, data := range map[string][]byte{
		"mp4":  join(ftyp("isom"), index(1000, 160, p.build(), sound(9).build()), mdat()),
		"webm": join(ebmlHead("webm"), elem(idSegment, tracksOf(40_000_000), cluster(0, simple(1, 0), group(1, 40, 55)), cluster(80, simple(1, 0)))),
		"mp3":  join(id3v2(30), summaryFrame(5, 6*417, 0, 0), mp3Frames(5)),
		"wav":  wavFile(chunk("junk", []byte{1}), wavFormat(), chunk("data", make([]byte, 300))),
	} {
		whole := mustRead(t, data)
		read := 0
		for n := range data {
			rec, err := readBytes(data[:n])
			holds(t, rec, err)
			if err != nil {
				continue
			}
			read++
			if rec.Duration > whole.Duration || len(rec.Frames) > len(whole.Frames) {
				t.Errorf("%s cut at %d reads as more than the whole: %v, %d frames", name, n, rec.Duration, len(rec.Frames))
			}
			if !rec.CutShort && rec.Duration < whole.Duration && name != "mp3" {
				t.Errorf("%s cut at %d lasts %v and does not say that it is cut", name, n, rec.Duration)
			}
		}
		if read == 0 {
			t.Errorf("%s: no cut could be read", name)
		}
	}
}

func TestErrorsOfTheDiskAreNotCalledDamage(t *testing.T) {
	bad := errors.New("sector not readable")
	_, err := Read(failing{bad}, 1000)
	if !errors.Is(err, bad) || errors.Is(err, ErrDamaged) || errors.Is(err, ErrNotRecording) {
		t.Errorf("%v", err)
	}
}

type failing struct{ err error }

func (f failing) ReadAt([]byte, int64) (int, error) { return 0, f.err }
