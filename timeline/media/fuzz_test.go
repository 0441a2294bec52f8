package media

import (
	"bytes"
	"errors"
	"math"
	"testing"
	"time"
)

// holds checks what must hold of any recording or refusal, whatever the bytes.
func holds(t *testing.T, rec *Recording, err error) {
	t.Helper()
	if err != nil {
		var e *Error
		if !errors.As(err, &e) || e.Reason == nil || e.Error() == "" {
			t.Fatalf("an error without a reason: %#v", err)
		}
		if !errors.Is(err, ErrNotRecording) && !errors.Is(err, ErrTruncated) && !errors.Is(err, ErrDamaged) {
			t.Fatalf("reading memory failed for no reason of the file's: %v", err)
		}
		return
	}
	if rec.Duration <= 0 || rec.Duration > longest || rec.Frames == nil || rec.Width < 0 || rec.Height < 0 {
		t.Fatalf("%+v", rec)
	}
	if (rec.Kind == Video) != (len(rec.Frames) > 0) {
		t.Fatalf("%s with %d frames", rec.Kind, len(rec.Frames))
	}
	for n, at := range rec.Frames {
		if n > 0 && at <= rec.Frames[n-1] {
			t.Fatalf("frame %d at %v after %v", n, at, rec.Frames[n-1])
		}
		mid, ok := rec.SeekTime(n)
		if !ok || rec.FrameNear(at) != n || rec.FrameShown(mid) != n {
			t.Fatalf("frame %d at %v is not found again by %v", n, at, mid)
		}
	}
	if r := rec.Rate; r.Num < 0 || r.Den < 0 || math.IsNaN(r.PerSecond()) || rec.FramesEnd > longest+time.Hour {
		t.Fatalf("rate %+v, frames to %v", r, rec.FramesEnd)
	}
}

// fuzz runs one reader on bytes, and the whole reader as well.
func fuzz(f *testing.F, read reader) {
	f.Fuzz(func(t *testing.T, data []byte) {
		rec, err := read(newSource(bytes.NewReader(data), int64(len(data))))
		holds(t, rec, err)
		rec, err = readBytes(data)
		holds(t, rec, err)
	})
}

func FuzzMP4(f *testing.F) {
	p := picture(run{4, 40})
	p.ctts, p.edits = []run{{1, 40}, {1, 120}, {2, 0}}, []edit{{100, -1}, {0, 40}}
	mvex := atom("mvex", fullAtom("trex", 0, 0, be32(1), be32(1), be32(40), be32(0), be32(0)))
	f.Add(join(ftyp("isom"), index(1000, 160, p.build(), sound(9).build())))
	f.Add(join(ftyp("M4A "), index(600, 0, sound(94).build())))
	f.Add(join(ftyp("iso5"), index(1000, 0, picture().build(), mvex), atom("moof", atom("traf",
		fullAtom("tfhd", 0, tfhdDuration, be32(1), be32(50)), fullAtom("tfdt", 1, 0, be64(80)),
		fullAtom("trun", 1, trunDuration|trunOffset, be32(2), be32(60), be32(100), be32(40), be32(0))))))
	// Runs, repeats and nesting that would grow without bound.
	bomb := picture(run{math.MaxUint32, 1}, run{math.MaxUint32, -1})
	bomb.samples = 300
	for range 60 {
		bomb.edits = append(bomb.edits, edit{math.MaxUint32, 0})
	}
	f.Add(join(ftyp("isom"), index(1, 0, bomb.build())))
	nest := []byte{}
	for range 50 {
		nest = atom("stbl", nest)
	}
	f.Add(join(ftyp("isom"), index(1000, 0, atom("trak", atom("mdia", atom("minf", nest))))))
	fuzz(f, readISO)
}

// FuzzMP4Tables puts any bytes into the tables of a track whose boxes are
// sound, which a change of single bytes of a whole file seldom leaves so.
func FuzzMP4Tables(f *testing.F) {
	f.Add(uint32(1000), uint32(90000), uint32(4), join(be32(0), be32(1), be32(4), be32(3600)),
		join(be32(0), be32(1), be32(4), be32(3600)), join(be32(0), be32(1), be32(100), be32(3600), be32(1<<16)),
		join(be32(trunDuration|trunOffset), be32(1), be32(60), be32(100)))
	f.Add(uint32(math.MaxUint32), uint32(1), uint32(300), join(be32(0), be32(1), be32(math.MaxUint32), be32(math.MaxUint32)),
		join(be32(0), be32(1), be32(300), be32(1<<31)), join(be32(1<<24), be32(1), be64(math.MaxUint64), be64(1<<62), be32(0)),
		join(be32(0), be32(200)))
	f.Fuzz(func(t *testing.T, movieScale, scale, samples uint32, stts, ctts, elst, trun []byte) {
		track := atom("trak", fullAtom("tkhd", 0, 1, be32(0), be32(0), be32(1), make([]byte, 68)),
			atom("edts", atom("elst", elst)),
			atom("mdia", fullAtom("mdhd", 0, 0, be32(0), be32(0), be32(scale), be32(0), be32(0)),
				fullAtom("hdlr", 0, 0, be32(0), []byte("vide"), make([]byte, 13)),
				atom("minf", atom("stbl", atom("stts", stts), atom("ctts", ctts), fullAtom("stsz", 0, 0, be32(1), be32(samples))))))
		mvex := atom("mvex", fullAtom("trex", 0, 0, be32(1), be32(1), be32(samples), be32(0), be32(0)))
		moof := atom("moof", atom("traf", fullAtom("tfhd", 0, 0, be32(1)), atom("trun", trun)))
		rec, err := readBytes(join(ftyp("isom"), index(movieScale, 0, track, mvex), moof))
		holds(t, rec, err)
	})
}

func FuzzMatroska(f *testing.F) {
	f.Add(join(ebmlHead("webm"), elem(idSegment, tracksOf(40_000_000), cluster(0, simple(1, 0), simple(2, 5), group(1, 40, 55)))))
	f.Add(join(ebmlHead("matroska"), openElem(idSegment, openElem(idCluster, elemUint(idTimestamp, 1<<63), simple(1, 0)),
		elem(idTracks, mkvVideo(1, "V_VP8", 0)), elem(idInfo, elemUint(idScale, 1<<40), elemFloat(idDuration, 1e300)))))
	fuzz(f, readMatroska)
}

func FuzzMP3(f *testing.F) {
	// The shortest frames there are: 24 bytes.
	short := append([]byte{0xFF, 0xF3, 0x14, 0xC0}, make([]byte, 20)...)
	f.Add(join(id3v2(3), summaryFrame(1, 2*417, 576, 1105), mp3Frames(1)))
	f.Add(join(short, short, []byte{0xFF, 0xF3, 0x14, 0xC0, 1}, short, short, []byte("TAG")))
	fuzz(f, readMP3)
}

func FuzzWAV(f *testing.F) {
	f.Add(wavFile(wavFormat(), chunk("junk", []byte{1}), chunk("data", make([]byte, 99))))
	f.Add(join([]byte("RF64"), le32(math.MaxUint32), []byte("WAVE"), chunk("ds64", le64(0), le64(math.MaxUint64), le64(1<<62), le32(0)),
		wavFormat(), []byte("data"), le32(math.MaxUint32), make([]byte, 9)))
	fuzz(f, readWAV)
}
