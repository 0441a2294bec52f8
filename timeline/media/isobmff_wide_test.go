package media

import (
	"testing"
	"time"
)

// Version 1 of the headers has times of 64 bits, so that every field after
// them stands elsewhere.
func TestMP4HeadersOf64BitsAreRead(t *testing.T) {
	turned := join(be32(0), be32(1<<16), be32(0), be32(1<<32-1<<16), make([]byte, 20))
	moov := atom("moov",
		fullAtom("mvhd", 1, 0, be64(0), be64(0), be32(600), be64(1200), make([]byte, 80)),
		atom("trak",
			fullAtom("tkhd", 1, 1, be64(0), be64(0), be32(1), be32(0), be64(0), make([]byte, 16), turned, be32(64<<16), be32(48<<16)),
			atom("edts", fullAtom("elst", 1, 0, be32(2), be64(300), be64(1<<64-1), be32(1<<16), be64(48), be64(3600), be32(1<<16))),
			atom("mdia",
				fullAtom("mdhd", 1, 0, be64(0), be64(0), be32(90000), be64(1<<64-1), be32(0)),
				fullAtom("hdlr", 0, 0, be32(0), []byte("vide"), make([]byte, 13)),
				atom("minf", atom("stbl",
					fullAtom("stts", 0, 0, be32(1), be32(5), be32(3600)),
					fullAtom("stsz", 0, 0, be32(1), be32(5)))))))
	rec := mustRead(t, join(ftyp("qt  "), mdat(), moov))
	// Half a second of nothing, then 48/600 s of the track from its second
	// frame on: two frames of 40 ms.
	wantFrames(t, rec, 500, 540)
	if rec.Duration != 2*time.Second || rec.FramesEnd != 580*time.Millisecond || rec.Container != MOV {
		t.Errorf("lasts %v, frames to %v, %s", rec.Duration, rec.FramesEnd, rec.Container)
	}
	if rec.Rotation != 90 || rec.Width != 48 || rec.Height != 64 {
		t.Errorf("turned by %d: %dx%d", rec.Rotation, rec.Width, rec.Height)
	}
}

// Measured with Chromium 156 and ffprobe 5.1: in fragments an offset below
// zero delays the rest.
func TestMP4FragmentsNeverShowAFrameBeforeItIsDecoded(t *testing.T) {
	mvex := atom("mvex", fullAtom("trex", 0, 0, be32(1), be32(1), be32(40), be32(0), be32(0)))
	trun := fullAtom("trun", 1, trunOffset, be32(4), be32(0), be32(80), be32(1<<32-40), be32(1<<32-40))
	rec := mustRead(t, join(ftyp("iso5"), index(1000, 0, picture().build(), mvex),
		atom("moof", atom("traf", fullAtom("tfhd", 0, 0, be32(1)), trun))))
	wantFrames(t, rec, 40, 80, 120, 160)
	if rec.Duration != 160*time.Millisecond || rec.End() != 200*time.Millisecond {
		t.Errorf("lasts %v, ends at %v", rec.Duration, rec.End())
	}
}

func TestMP4FramesFollowTheIndexIntoFragments(t *testing.T) {
	mvex := atom("mvex", fullAtom("trex", 0, 0, be32(1), be32(1), be32(40), be32(0), be32(0)))
	trun := fullAtom("trun", 0, 0, be32(2))
	rec := mustRead(t, join(ftyp("iso5"), index(1000, 120, mvex, picture(run{3, 40}).build()),
		atom("moof", atom("traf", fullAtom("tfhd", 0, 0, be32(1)), trun))))
	wantFrames(t, rec, 0, 40, 80, 120, 160)
	if rec.Duration != 200*time.Millisecond {
		t.Errorf("lasts %v, though the index knows of only 120 ms", rec.Duration)
	}
}
