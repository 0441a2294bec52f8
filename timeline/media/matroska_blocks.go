package media

import (
	"errors"
	"math"
	"time"
)

// segment is what a WebM or Matroska file says. Elements are met in one flat
// walk: a segment and a cluster are entered, everything else is read or stepped
// over. So sizes that are not known, which live recorders write, need no care.
type segment struct {
	s        *source
	start    int64 // where the segment's content begins
	scale    int64 // nanoseconds in one tick of block times
	duration float64
	tracks   []*mkvTrack
	byNumber map[int64]*mkvTrack
	picture  *mkvTrack

	base     int64 // the time of the current cluster, in ticks
	clusters int
	times    []time.Duration
	end      time.Duration // when the last block stops
	lastEnd  time.Duration // when the last frame goes
	last     time.Duration // the latest frame's time
	cutShort bool
}

// maxElements bounds the elements of one file, ten times a day of recording.
const maxElements = 64_000_000

// readMatroska reads a WebM or Matroska file.
func readMatroska(s *source) (*Recording, error) {
	g := &segment{s: s, scale: 1_000_000, start: -1}
	head, err := s.elementAt(0, s.size)
	if err != nil {
		return nil, err
	}
	if head.cut || head.open {
		return nil, truncated("EBML", 0, "the file ends inside its first element")
	}
	docType := ""
	err = s.eachElement(head, func(e element) (err error) {
		if e.id == idDocType {
			docType, err = s.text(e)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	rec := &Recording{Container: Matroska, Kind: Audio}
	switch docType {
	case "webm":
		rec.Container = WebM
	case "matroska":
	default:
		return nil, notRecording("its document type is %q, not webm or matroska", docType)
	}
	again, err := g.walk(head.end)
	// The clock or the tracks came after blocks that were met without them:
	// once more, at most once for each.
	for tries := 2; again && tries > 0; tries-- {
		g.reset()
		again, err = g.walk(g.start)
	}
	if err != nil {
		return nil, err
	}
	if again {
		return nil, damaged("Info", -1, "it says different things of its clock")
	}
	if g.tracks == nil {
		if g.cutShort || g.start < 0 {
			return nil, truncated("Tracks", -1, "the file ends before it says what tracks it has")
		}
		return nil, notRecording("it names no tracks")
	}
	return g.recording(rec)
}

func (g *segment) reset() {
	*g = segment{s: g.s, start: g.start, scale: g.scale, duration: g.duration,
		tracks: g.tracks, byNumber: g.byNumber, picture: g.picture}
}

// walk goes from element to element. It stops early, to be run again, when it
// finds the tracks after the first cluster. Damage after a first block ends the
// walk and is reported as a recording cut short: what was read is good.
func (g *segment) walk(off int64) (again bool, err error) {
	for count := 0; off < g.s.size; count++ {
		if count > maxElements {
			return false, damaged("element", off, "more than %d elements", maxElements)
		}
		e, err := g.s.elementAt(off, g.s.size)
		late := false
		if err == nil {
			late, err = g.take(e)
		}
		switch {
		case err != nil && g.clusters > 0 && (errors.Is(err, ErrDamaged) || errors.Is(err, ErrTruncated)):
			g.cutShort = true
			return false, nil
		case err != nil:
			return false, err
		case late:
			return true, nil
		}
		g.cutShort = g.cutShort || e.cut
		off = e.end
		if e.id == idSegment || e.id == idCluster {
			off = e.body
		}
	}
	return false, nil
}

// take reads one element of the flat walk.
func (g *segment) take(e element) (late bool, err error) {
	switch e.id {
	case idSegment:
		if g.start >= 0 {
			return false, damaged("Segment", e.off, "a second segment follows, which is not read")
		}
		g.start = e.body
		return false, nil
	case idInfo, idTracks, idCluster:
		if g.start < 0 {
			return false, damaged("element", e.off, "there is no segment around it")
		}
	}
	if e.id == idCluster {
		g.clusters++
		g.base = 0
		return false, nil
	}
	if e.open {
		return false, damaged("element", e.off, "an element of unknown size that is not a cluster")
	}
	if e.cut {
		return false, nil // its content is not all there; walk notes it
	}
	switch e.id {
	case idInfo:
		before := g.scale
		err = g.info(e)
		return g.clusters > 0 && g.scale != before, err
	case idTracks:
		if g.tracks != nil {
			return false, nil
		}
		return g.clusters > 0, g.readTracks(e)
	case idTimestamp:
		g.base, err = g.s.unsigned(e)
	case idSimpleBlock:
		err = g.block(e, -1)
	case idBlockGroup:
		err = g.blockGroup(e)
	}
	return false, err
}

func (g *segment) info(e element) error {
	return g.s.eachElement(e, func(e element) (err error) {
		switch e.id {
		case idScale:
			if g.scale, err = g.s.unsigned(e); err == nil && (g.scale <= 0 || g.scale > int64(time.Hour)) {
				return damaged("TimestampScale", e.off, "a tick of %d nanoseconds", g.scale)
			}
		case idDuration:
			g.duration, err = g.s.float(e)
		}
		return err
	})
}

func (g *segment) readTracks(e element) error {
	g.tracks, g.byNumber = []*mkvTrack{}, map[int64]*mkvTrack{}
	err := g.s.eachElement(e, func(e element) error {
		if e.id != idTrackEntry {
			return nil
		}
		if len(g.tracks) == maxTracks {
			return damaged("Tracks", e.off, "more than %d tracks", maxTracks)
		}
		t, err := g.s.mkvTrackEntry(e)
		g.tracks = append(g.tracks, t)
		g.byNumber[t.number] = t
		return err
	})
	for _, t := range g.tracks {
		if t.kind == mkvPicture && (g.picture == nil || t.enabled && !g.picture.enabled) {
			g.picture = t
		}
	}
	return err
}

func (g *segment) blockGroup(e element) error {
	var block element
	duration := int64(-1)
	err := g.s.eachElement(e, func(e element) (err error) {
		switch e.id {
		case idBlock:
			block = e
		case idBlockDuration:
			duration, err = g.s.unsigned(e)
		}
		return err
	})
	if err != nil || block.end == 0 {
		return err
	}
	return g.block(block, duration)
}

// block takes in the time of one block. A duration of -1, in ticks, is one not
// said. The frame data itself is not read, but for one byte where that byte
// says that the frame is not for showing.
func (g *segment) block(e element, duration int64) error {
	h, err := g.s.peek(e.body, int(min(13, e.end-e.body)))
	if err != nil {
		return err
	}
	number, n := vint(h)
	if n == 0 || len(h) < n+3 {
		return damaged("Block", e.off, "the block is too short")
	}
	t := g.byNumber[int64(number)]
	if t == nil {
		return nil
	}
	at := g.time(add(g.base, int64(int16(uint16(h[n])<<8|uint16(h[n+1]))))) - time.Duration(min(t.delay, int64(longest)))
	flags, payload := h[n+2], h[n+3:]
	frames := int64(1)
	if flags&0x06 != 0 && len(payload) > 0 { // laced: several frames share the block
		frames += int64(payload[0])
	}
	length := time.Duration(mulDiv(frames, min(t.spacing, int64(longest)), 1))
	if duration >= 0 {
		length = g.time(duration)
	}
	g.end = max(g.end, at+length)
	if t != g.picture || flags&0x08 != 0 || t.codec == "V_VP8" && hiddenVP8(payload) {
		return nil
	}
	if len(g.times) == maxFrames {
		return damaged("Cluster", e.off, "more than %d frames", maxFrames)
	}
	g.times = append(g.times, at)
	if at >= g.last {
		g.last, g.lastEnd = at, at+length
	}
	return nil
}

// hiddenVP8 says that a VP8 frame only helps to decode others (RFC 6386 9.1:
// the fifth bit of a frame is its show_frame flag).
func hiddenVP8(frame []byte) bool { return len(frame) > 0 && frame[0]&0x10 == 0 }

// time is a number of ticks as a time, held well inside what can be added to.
func (g *segment) time(v int64) time.Duration {
	return max(-2*longest, min(2*longest, time.Duration(mulDiv(v, g.scale, 1))))
}

func (g *segment) recording(rec *Recording) (*Recording, error) {
	rec.CutShort = g.cutShort
	rec.Duration = g.end
	if d := g.duration * float64(g.scale); d > 0 && !math.IsInf(d, 0) {
		rec.Duration = time.Duration(min(d, float64(2*longest)))
	}
	if g.picture != nil {
		rec.Kind, rec.Codec = Video, g.picture.codec
		rec.Width, rec.Height = g.picture.size()
		rec.Frames, rec.FramesEnd = g.times, g.lastEnd
		return rec.settle(time.Duration(g.scale), g.picture.rate())
	}
	for _, t := range g.tracks {
		if t.kind == mkvSound {
			rec.Codec = t.codec
			return rec.settle(0, Rate{})
		}
	}
	return nil, notRecording("it holds neither picture nor sound")
}
