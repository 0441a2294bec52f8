package media

import (
	"bytes"
	"math"
	"testing"
	"time"

	"github.com/at-wat/ebml-go"
)

// tracksOf is the part in front of the clusters: one picture, one sound.
func tracksOf(spacing uint64) []byte {
	return join(elem(idInfo, elemUint(idScale, 1_000_000)), elem(idTracks, mkvVideo(1, "V_VP9", spacing), mkvAudio(2)))
}

func TestMatroskaBlocksGiveFrameTimes(t *testing.T) {
	data := join(ebmlHead("webm"), elem(idSegment,
		elem(idInfo, elemUint(idScale, 1_000_000), elemFloat(idDuration, 400)),
		elem(idTracks, mkvAudio(2), mkvVideo(1, "V_VP9", 40_000_000)),
		cluster(0, simple(1, 0), simple(2, 0), simple(1, 80), simple(1, 40)), // B-frames come out of order
		cluster(200, simple(1, -80), group(1, 0, 55), simple(2, 10), simple(1, -40))))
	rec := mustRead(t, data)
	wantFrames(t, rec, 0, 40, 80, 120, 160, 200)
	if rec.Duration != 400*time.Millisecond || rec.FramesEnd != 255*time.Millisecond {
		t.Errorf("lasts %v, frames to %v", rec.Duration, rec.FramesEnd)
	}
	if rec.Container != WebM || rec.Codec != "V_VP9" || rec.Width != 64 || rec.Height != 48 || rec.Variable || rec.Rate.String() != "25" {
		t.Errorf("%+v", rec)
	}
}

// The bytes that these tests build are read alike by a parser that is not ours.
func TestMatroskaBlocksMatchAnIndependentParser(t *testing.T) {
	data := join(ebmlHead("webm"), elem(idSegment,
		elem(idInfo, elemUint(idScale, 500_000)),
		elem(idTracks, mkvVideo(1, "V_VP9", 0)),
		cluster(100, simple(1, 0), simple(1, 70), simple(1, 33)),
		cluster(3000, simple(1, -1000), group(1, 250, 80))))
	var other struct {
		Segment struct {
			Info struct {
				TimecodeScale uint64 `ebml:"TimestampScale"`
			}
			Cluster []struct {
				Timecode    uint64
				SimpleBlock []ebml.Block
				BlockGroup  []struct {
					Block         ebml.Block
					BlockDuration uint64
				}
			}
		}
	}
	if err := ebml.Unmarshal(bytes.NewReader(data), &other, ebml.WithIgnoreUnknown(true)); err != nil {
		t.Fatal(err)
	}
	want := map[time.Duration]bool{}
	for _, c := range other.Segment.Cluster {
		at := func(b ebml.Block) {
			want[time.Duration(int64(c.Timecode)+int64(b.Timecode))*500*time.Microsecond] = true
		}
		for _, b := range c.SimpleBlock {
			at(b)
		}
		for _, g := range c.BlockGroup {
			at(g.Block)
		}
	}
	rec := mustRead(t, data)
	if len(want) != 5 || len(rec.Frames) != len(want) {
		t.Fatalf("%v against %v", rec.Frames, want)
	}
	for _, f := range rec.Frames {
		if !want[f] {
			t.Errorf("a frame at %v, against %v", f, want)
		}
	}
}

func TestMatroskaUnknownSizesAreWalkedThrough(t *testing.T) {
	open := join(ebmlHead("matroska"), openElem(idSegment, tracksOf(0),
		openElem(idCluster, elemUint(idTimestamp, 0), simple(1, 0), simple(1, 40)),
		openElem(idCluster, elemUint(idTimestamp, 80), simple(1, 0), simple(1, 40)),
		elem(0x1C53BB6B, make([]byte, 30)))) // Cues
	rec := mustRead(t, open)
	wantFrames(t, rec, 0, 40, 80, 120)
	if rec.Container != Matroska || rec.CutShort || rec.Rate.String() != "25" || rec.FramesEnd != 160*time.Millisecond {
		t.Errorf("%+v", rec)
	}
}

func TestMatroskaWithoutDurationLastsAsLongAsItsBlocks(t *testing.T) {
	for name, c := range map[string]struct {
		spacing uint64
		last    []byte
		want    time.Duration
	}{
		"by the track's spacing":    {40_000_000, simple(1, 80), 120 * time.Millisecond},
		"by the block's own length": {40_000_000, group(1, 80, 15), 95 * time.Millisecond},
		"by the time of the last":   {0, simple(1, 80), 80 * time.Millisecond},
		"by a sound that goes on":   {40_000_000, join(simple(1, 80), group(2, 400, 20)), 420 * time.Millisecond},
	} {
		t.Run(name, func(t *testing.T) {
			rec := mustRead(t, join(ebmlHead("webm"), elem(idSegment, tracksOf(c.spacing), cluster(0, simple(1, 0), simple(1, 40), c.last))))
			if rec.Duration != c.want {
				t.Errorf("lasts %v, want %v", rec.Duration, c.want)
			}
		})
	}
}

func TestMatroskaLacedSoundCountsEveryFrame(t *testing.T) {
	track := elem(idTrackEntry, elemUint(idTrackNumber, 1), elemUint(idTrackType, mkvSound),
		elem(idCodecID, []byte("A_MPEG/L3")), elemUint(idDefaultDuration, 24_000_000))
	laced := elem(idSimpleBlock, blockBytes(1, 0, 0x04, 7, 0, 0, 0)) // eight frames of one length
	rec := mustRead(t, join(ebmlHead("matroska"), elem(idSegment, elem(idTracks, track), cluster(0, laced))))
	if rec.Duration != 8*24*time.Millisecond || rec.Kind != Audio {
		t.Errorf("%+v", rec)
	}
}

func TestMatroskaHiddenFramesAreLeftOut(t *testing.T) {
	vp8 := join(elem(idInfo, elemUint(idScale, 1_000_000)), elem(idTracks, mkvVideo(1, "V_VP8", 0)))
	data := join(ebmlHead("webm"), elem(idSegment, vp8, cluster(0,
		elem(idSimpleBlock, blockBytes(1, 0, 0x80, 0x10)),
		elem(idSimpleBlock, blockBytes(1, 20, 0, 0x01)), // show_frame is 0
		elem(idSimpleBlock, blockBytes(1, 30, 0x08, 0x11)),
		elem(idSimpleBlock, blockBytes(1, 40, 0, 0x11)))))
	wantFrames(t, mustRead(t, data), 0, 40)
}

func TestMatroskaTracksAfterBlocksAreStillUsed(t *testing.T) {
	info := elem(idInfo, elemUint(idScale, 2_000_000))
	tracks := elem(idTracks, mkvVideo(1, "V_VP9", 0))
	blocks := cluster(0, simple(1, 0), simple(1, 20), simple(1, 40))
	for name, parts := range map[string][][]byte{
		"tracks last":         {info, blocks, tracks},
		"both last":           {blocks, info, tracks},
		"clock last":          {tracks, blocks, info},
		"in between clusters": {blocks, tracks, info, cluster(60, simple(1, 0))},
	} {
		t.Run(name, func(t *testing.T) {
			rec := mustRead(t, join(ebmlHead("webm"), elem(idSegment, parts...)))
			want := []int{0, 40, 80}
			if name == "in between clusters" {
				want = append(want, 120)
			}
			wantFrames(t, rec, want...)
		})
	}
}

func TestMatroskaCutFilesKeepWhatIsThere(t *testing.T) {
	whole := join(ebmlHead("webm"), elem(idSegment, elem(idInfo, elemFloat(idDuration, 500)),
		elem(idTracks, mkvVideo(1, "V_VP9", 0)), cluster(0, simple(1, 0), simple(1, 40), simple(1, 80))))
	rec := mustRead(t, whole[:len(whole)-3])
	wantFrames(t, rec, 0, 40)
	if !rec.CutShort || rec.Duration != 500*time.Millisecond {
		t.Errorf("%+v", rec)
	}
	rotten := mustRead(t, join(whole, []byte{0, 0, 0, 0, 0, 0}))
	wantFrames(t, rotten, 0, 40, 80)
	if !rotten.CutShort {
		t.Error("rubbish after the last block is not noticed")
	}
	refused(t, whole[:len(ebmlHead("webm"))+20], ErrTruncated, "Tracks")
	refused(t, whole[:3], ErrNotRecording)
	refused(t, whole[:6], ErrTruncated)
}

func TestMatroskaLiesAreRefused(t *testing.T) {
	segment := func(parts ...[]byte) []byte { return join(ebmlHead("webm"), elem(idSegment, parts...)) }
	frames := cluster(0, simple(1, 0), simple(1, 40))
	for name, c := range map[string]struct {
		data   []byte
		reason error
		says   string
	}{
		"another document": {join(ebmlHead("letters"), elem(idSegment)), ErrNotRecording, "letters"},
		"two clocks": {segment(elem(idTracks, mkvVideo(1, "V_VP9", 0)), elem(idInfo, elemUint(idScale, 7)), frames, elem(idInfo, elemUint(idScale, 8))),
			ErrDamaged, "clock"},
		"no tracks":               {segment(), ErrNotRecording, "no tracks"},
		"subtitles only":          {segment(elem(idTracks, elem(idTrackEntry, elemUint(idTrackType, 17))), frames), ErrNotRecording, "neither"},
		"a clock without ticks":   {segment(elem(idInfo, elemUint(idScale, 0))), ErrDamaged, "TimestampScale"},
		"a number of nine bytes":  {segment(elem(idInfo, elem(idScale, make([]byte, 9)))), ErrDamaged, "9 bytes"},
		"no segment":              {join(ebmlHead("webm"), tracksOf(0), frames), ErrDamaged, "no segment"},
		"tracks of unknown size":  {segment(openElem(idTracks, mkvVideo(1, "V_VP9", 0))), ErrDamaged, "unknown size"},
		"a track beyond its list": {segment(elem(idTracks, []byte{0xAE, 0xFE})), ErrDamaged, "runs past"},
		"a year in a day": {segment(elem(idInfo, elemFloat(idDuration, 1e14)), elem(idTracks, mkvVideo(1, "V_VP9", 0)), frames),
			ErrDamaged, "hours"},
	} {
		t.Run(name, func(t *testing.T) { refused(t, c.data, c.reason, c.says) })
	}
	// Durations that are not numbers are as good as none.
	for _, d := range []float64{math.NaN(), math.Inf(1), -5} {
		rec := mustRead(t, segment(elem(idInfo, elemFloat(idDuration, d)), elem(idTracks, mkvVideo(1, "V_VP9", 40_000_000)), frames))
		if rec.Duration != 80*time.Millisecond {
			t.Errorf("a duration of %v read as %v", d, rec.Duration)
		}
	}
}
