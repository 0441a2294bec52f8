package media

import (
	"math"
	"testing"
	"time"
)

func TestMP4SamplesArePresentedInOrderOfTheirOffsets(t *testing.T) {
	p := picture(run{4, 40})
	p.ctts = []run{{1, 40}, {1, 120}, {2, 0}} // decoded 0 3 1 2
	rec := mustRead(t, join(ftyp("isom"), mdat(), index(1000, 200, p.build())))
	wantFrames(t, rec, 40, 80, 120, 160)
	if rec.Duration != 200*time.Millisecond || rec.FramesEnd != 200*time.Millisecond {
		t.Errorf("lasts %v, frames to %v", rec.Duration, rec.FramesEnd)
	}
	if (rec.Rate != Rate{25, 1}) || rec.Variable || rec.Kind != Video || rec.Container != MP4 || rec.Codec != "avc1" {
		t.Errorf("%+v", rec)
	}
}

func TestMP4OffsetsBelowZeroCount(t *testing.T) {
	for version := range byte(2) {
		p := picture(run{4, 40})
		p.cttsV, p.ctts = version, []run{{1, 0}, {1, 80}, {2, -40}}
		wantFrames(t, mustRead(t, join(ftyp("isom"), mdat(), index(1000, 160, p.build()))), 0, 40, 80, 120)
	}
}

func TestMP4FramesThatDifferInLengthAreVariable(t *testing.T) {
	rec := mustRead(t, join(ftyp("isom"), mdat(), index(1000, 0, picture(run{2, 40}, run{1, 200}, run{2, 40}).build())))
	wantFrames(t, rec, 0, 40, 80, 280, 320)
	if !rec.Variable || rec.Rate.String() != "25" || rec.Duration != 360*time.Millisecond {
		t.Errorf("%+v", rec)
	}
}

func TestMP4ClockThatRoundsIsStillConstant(t *testing.T) {
	rec := mustRead(t, join(ftyp("isom"), mdat(), index(1000, 0, picture(
		run{2, 33}, run{1, 34}, run{2, 33}, run{1, 34}, run{2, 33}, run{1, 34}).build())))
	if rec.Variable || rec.Rate.String() != "30" {
		t.Errorf("%v, variable %v", rec.Rate, rec.Variable)
	}
}

func TestMP4EditListsMoveHideAndRepeatFrames(t *testing.T) {
	for name, c := range map[string]struct {
		edits []edit
		ms    []int
		ends  time.Duration
	}{
		"from the third frame":    {[]edit{{120, 80}}, []int{0, 40, 80}, 120},
		"between two frames":      {[]edit{{100, 90}}, []int{0, 40}, 80},
		"after an empty stretch":  {[]edit{{500, -1}, {200, 0}}, []int{500, 540, 580, 620, 660}, 700},
		"to the end":              {[]edit{{0, 80}}, []int{0, 40, 80}, 120},
		"cut at the end":          {[]edit{{90, 0}}, []int{0, 40, 80}, 90},
		"twice over":              {[]edit{{80, 0}, {80, 0}}, []int{0, 40, 80, 120}, 160},
		"the second half first":   {[]edit{{80, 120}, {80, 0}}, []int{0, 40, 80, 120}, 160},
		"with a pause in between": {[]edit{{80, 0}, {100, -1}, {80, 120}}, []int{0, 40, 180, 220}, 260},
	} {
		t.Run(name, func(t *testing.T) {
			p := picture(run{5, 40})
			p.edits = c.edits
			rec := mustRead(t, join(ftyp("isom"), mdat(), index(1000, 0, p.build())))
			wantFrames(t, rec, c.ms...)
			if rec.FramesEnd != c.ends*time.Millisecond {
				t.Errorf("the last frame goes at %v, want %v ms", rec.FramesEnd, int(c.ends))
			}
		})
	}
}

func TestMP4EditTimesAreExactOnClocksThatDoNotDivide(t *testing.T) {
	p := picture(run{4, 1001})
	p.scale, p.edits = 30000, []edit{{600, -1}, {0, 1001}}
	rec := mustRead(t, join(ftyp("isom"), mdat(), index(90000, 0, p.build())))
	for i, got := range rec.Frames {
		want := 600.0/90000 + float64(i)*1001/30000
		if math.Abs(got.Seconds()-want) > 1.5e-9 {
			t.Errorf("frame %d at %v, want %.9f", i, got, want)
		}
	}
	if len(rec.Frames) != 3 || rec.Rate != (Rate{30000, 1001}) {
		t.Errorf("%+v", rec)
	}
}

func TestMP4IndexIsFoundWhereverItStands(t *testing.T) {
	moov := index(1000, 200, picture(run{5, 40}).build())
	large := join(be32(1), []byte("mdat"), be64(16+300), make([]byte, 300))
	open := join(be32(0), []byte("mdat"), make([]byte, 300))
	for name, data := range map[string][]byte{
		"last":                       join(ftyp("isom"), mdat(), moov),
		"first":                      join(ftyp("isom"), moov, mdat()),
		"after a 64-bit box":         join(ftyp("isom"), large, moov),
		"before a box to the end":    join(ftyp("isom"), moov, open),
		"between boxes of no use":    join(ftyp("isom"), atom("free", make([]byte, 5)), moov, atom("uuid", make([]byte, 16)), mdat()),
		"before fewer than 8 bytes":  join(ftyp("isom"), mdat(), moov, []byte{0, 0, 0}),
		"before an older one":        join(ftyp("isom"), mdat(), moov, index(1000, 900, picture(run{9, 90}).build())),
		"in a file without its type": join(atom("wide"), mdat(), moov),
	} {
		t.Run(name, func(t *testing.T) {
			rec := mustRead(t, data)
			wantFrames(t, rec, 0, 40, 80, 120, 160)
			if rec.CutShort {
				t.Error("a whole file is called cut short")
			}
		})
	}
}

func TestMP4TrackChosenIsThePictureSwitchedOn(t *testing.T) {
	main, chapters, off := picture(run{5, 40}), picture(run{2, 100}), picture(run{3, 50})
	main.chapters = 7
	chapters.id, off.id, off.off = 7, 8, true
	rec := mustRead(t, join(ftyp("isom"), mdat(),
		index(1000, 200, chapters.build(), off.build(), sound(9).build(), main.build())))
	wantFrames(t, rec, 0, 40, 80, 120, 160)

	alone := mustRead(t, join(ftyp("isom"), mdat(), index(1000, 150, off.build(), sound(7).build())))
	wantFrames(t, alone, 0, 50, 100)
}

func TestMP4SoundHasALengthAndNoFrames(t *testing.T) {
	rec := mustRead(t, join(ftyp("M4A "), mdat(), index(600, 0, sound(94).build())))
	want := ticks(94*1024, 48000)
	if rec.Kind != Audio || rec.Container != M4A || rec.Duration != want || len(rec.Frames) != 0 || rec.Codec != "mp4a" {
		t.Errorf("%+v, want %v", rec, want)
	}
}

func TestMP4FragmentsAreRead(t *testing.T) {
	p := picture()
	mvex := atom("mvex", fullAtom("trex", 0, 0, be32(1), be32(1), be32(40), be32(0), be32(0)))
	tfdt := func(at uint64) []byte { return fullAtom("tfdt", 1, 0, be64(at)) }
	fragments := [][]byte{
		// defaults from the index alone
		atom("moof", atom("traf", fullAtom("tfhd", 0, 0, be32(1)), tfdt(0), fullAtom("trun", 0, 0, be32(2)))),
		// its own default, in front of which other fields stand
		atom("moof", atom("traf", fullAtom("tfhd", 0, tfhdBaseOffset|tfhdDescription|tfhdDuration, be32(1), be64(0), be32(1), be32(50)),
			tfdt(80), fullAtom("trun", 0, trunDataOffset|trunSize, be32(2), be32(0), be32(3), be32(3)))),
		// every sample its own, and no time: it goes on from the last
		atom("moof", atom("traf", fullAtom("tfhd", 0, 0, be32(1)),
			fullAtom("trun", 1, trunFirstFlags|trunDuration|trunOffset, be32(2), be32(0), be32(60), be32(100), be32(40), be32(0)))),
		// a track that is not followed
		atom("moof", atom("traf", fullAtom("tfhd", 0, 0, be32(9)), tfdt(5), fullAtom("trun", 0, 0, be32(7)))),
	}
	rec := mustRead(t, join(append([][]byte{ftyp("iso5"), index(1000, 0, p.build(), mvex)}, fragments...)...))
	wantFrames(t, rec, 0, 40, 80, 130, 240, 280)
	if rec.Duration != 340*time.Millisecond || !rec.Variable {
		t.Errorf("%+v", rec)
	}
}

func TestMP4CutFilesSaySo(t *testing.T) {
	moov := index(1000, 200, picture(run{5, 40}).build())
	whole := join(ftyp("isom"), moov, mdat())
	if rec := mustRead(t, whole[:len(whole)-100]); !rec.CutShort || rec.Duration != 200*time.Millisecond {
		t.Errorf("media cut: %+v", rec)
	}
	refused(t, whole[:len(ftyp("isom"))+len(moov)-10], ErrTruncated, "moov", "byte 20")
	last := join(ftyp("isom"), mdat(), moov)
	refused(t, last[:len(last)-len(moov)-1], ErrTruncated, "moov", "missing")
}

func TestMP4LiesAreRefused(t *testing.T) {
	with := func(change func(*trackSpec)) []byte {
		p := picture(run{5, 40})
		change(&p)
		return join(ftyp("isom"), mdat(), index(1000, 200, p.build()))
	}
	wrong := fullAtom("stts", 0, 0, be32(1<<30), be32(1), be32(1))
	for name, c := range map[string]struct {
		data   []byte
		reason error
		says   string
	}{
		"more frames than bytes": {with(func(p *trackSpec) { p.samples = math.MaxUint32 }), ErrDamaged, "4294967295 frames"},
		"no ticks in a second":   {with(func(p *trackSpec) { p.scale = 0 }), ErrDamaged, "mdhd"},
		"a table without room": {join(ftyp("isom"), mdat(), index(1000, 200, atom("trak", atom("mdia",
			fullAtom("mdhd", 0, 0, make([]byte, 8), be32(1000), be32(0), be32(0)),
			fullAtom("hdlr", 0, 0, be32(0), []byte("vide"), make([]byte, 13)),
			atom("minf", atom("stbl", wrong, fullAtom("stsz", 0, 0, be32(1), be32(5)))))))), ErrDamaged, "1073741824 entries"},
		"a box longer than its parent": {join(ftyp("isom"), mdat(), atom("moov", be32(900), []byte("trak"))), ErrDamaged, "trak"},
		"a box shorter than itself":    {join(ftyp("isom"), be32(4), []byte("moov"), mdat()), ErrDamaged, "smaller"},
		"a picture without frames":     {with(func(p *trackSpec) { p.stts = nil }), ErrDamaged, "no frame"},
		"words and nothing to see":     {with(func(p *trackSpec) { p.handler = "text" }), ErrNotRecording, "neither picture nor sound"},
		"no index":                     {join(ftyp("heic"), mdat()), ErrNotRecording, "no index"},
		"a life in one frame":          {with(func(p *trackSpec) { p.scale, p.stts = 1, []run{{2, math.MaxInt32}} }), ErrDamaged, "hours"},
	} {
		t.Run(name, func(t *testing.T) { refused(t, c.data, c.reason, c.says) })
	}
}
