package media

import (
	"encoding/binary"
	"errors"
	"time"
)

// This file walks the boxes of MP4, MOV and M4A (ISO/IEC 14496-12 and its
// QuickTime ancestor) and makes a recording of what the tracks say.

// box is one box: its type, where it starts, and its content [body, end).
type box struct {
	kind           [4]byte
	off, body, end int64
}

func (b box) String() string { return string(b.kind[:]) }

// maxBoxes bounds the boxes of one level. A long live recording writes two for
// each fragment.
const maxBoxes = 4_000_000

// errCut reports that a box runs past its parent; the box is given with its
// end drawn in.
var errCut = errors.New("box cut off")

// boxAt reads the header of the box at off in a parent that ends at end.
func (s *source) boxAt(off, end int64) (box, error) {
	h, err := s.peek(off, 8)
	if err != nil {
		return box{}, err
	}
	b := box{off: off, body: off + 8, kind: [4]byte(h[4:8])}
	size := uint64(binary.BigEndian.Uint32(h))
	switch size {
	case 0: // to the end of what holds it
		b.end = end
		return b, nil
	case 1:
		if h, err = s.peek(off+8, 8); err != nil {
			return b, err
		}
		size, b.body = binary.BigEndian.Uint64(h), off+16
	}
	if size < uint64(b.body-off) {
		return b, damaged(b.String(), off, "a box of %d bytes is smaller than its own header", size)
	}
	if size > uint64(end-off) {
		b.end = max(end, b.body)
		return b, errCut
	}
	b.end = off + int64(size)
	return b, nil
}

// eachBox visits the boxes in [off, end). A box that runs past end is damage.
// Fewer than eight bytes left over are let pass: QuickTime ends some lists with
// a zero word.
func (s *source) eachBox(off, end int64, visit func(box) error) error {
	for count := 0; end-off >= 8; count++ {
		if count > maxBoxes {
			return damaged("", off, "more than %d boxes", maxBoxes)
		}
		b, err := s.boxAt(off, end)
		if errors.Is(err, errCut) {
			return damaged(b.String(), off, "the box runs past the end of the one that holds it")
		}
		if err != nil {
			return err
		}
		if err := visit(b); err != nil {
			return err
		}
		off = b.end
	}
	return nil
}

// movie is what the whole file says.
type movie struct {
	s          *source
	brand      string
	timescale  int64 // ticks a second of duration and of edit lengths
	duration   int64
	tracks     []*track
	chapters   map[uint32]bool // tracks that others name as their chapters
	picture    *track          // the one whose frames are wanted, if any
	sound      *track
	indexed    bool              // a moov box was seen
	fragmented bool              // samples may follow in moof boxes
	trex       map[uint32]uint32 // sample duration where a fragment says none, by track
	cutShort   bool
}

// readISO reads an MP4, MOV or M4A file.
func readISO(s *source) (*Recording, error) {
	m := &movie{s: s, brand: "qt  ", chapters: map[uint32]bool{}} // files older than the type box are QuickTime's
	if err := m.walk(); err != nil {
		return nil, err
	}
	if !m.indexed {
		if m.cutShort {
			return nil, truncated("moov", -1, "the index, which is written last, is missing")
		}
		return nil, notRecording("it is wrapped like MP4 but holds no index (moov)")
	}
	if m.picture == nil && m.sound == nil {
		return nil, notRecording("it holds neither picture nor sound")
	}
	return m.recording()
}

// walk visits the top level: the index wherever it stands, then fragments,
// which always follow it.
func (m *movie) walk() error {
	count := 0
	for off := int64(0); m.s.size-off >= 8; count++ {
		if count > maxBoxes {
			return damaged("", off, "more than %d boxes", maxBoxes)
		}
		b, err := m.s.boxAt(off, m.s.size)
		cut := errors.Is(err, errCut)
		if err != nil && !cut {
			if m.indexed { // trailing rubbish after a whole index
				m.cutShort = true
				return nil
			}
			return err
		}
		m.cutShort = m.cutShort || cut
		switch b.String() {
		case "ftyp":
			if h, err := m.s.peek(b.body, 4); err == nil {
				m.brand = string(h)
			}
		case "moov":
			if cut {
				return truncated("moov", b.off, "the index ends before it is complete")
			}
			if m.indexed {
				break // a second index is an old one left behind
			}
			m.indexed = true
			if err := m.readIndex(b); err != nil {
				return err
			}
		case "moof":
			if cut || !m.indexed || !m.fragmented {
				break
			}
			if err := m.readFragment(b); err != nil {
				return err
			}
		}
		off = b.end
	}
	return nil
}

// readIndex reads moov and chooses the picture and sound to follow.
func (m *movie) readIndex(moov box) error {
	err := m.s.eachBox(moov.body, moov.end, func(b box) error {
		switch b.String() {
		case "mvhd":
			var err error
			m.timescale, m.duration, err = m.s.timeHeader(b)
			return err
		case "trak":
			return m.readTrack(b)
		case "mvex":
			m.fragmented = true
			return m.readFragmentDefaults(b)
		case "cmov":
			return notRecording("its index is compressed, an old QuickTime habit that is not read here")
		}
		return nil
	})
	if err != nil {
		return err
	}
	if m.timescale == 0 {
		return damaged("moov", moov.off, "there is no movie header (mvhd)")
	}
	m.choose()
	for _, t := range m.tracks {
		if err := m.readSamples(t); err != nil {
			return err
		}
	}
	return nil
}

// choose picks the first picture track that is switched on and is not a row of
// chapter pictures, or failing that the first of any; and the first sound.
func (m *movie) choose() {
	var second *track
	for _, t := range m.tracks {
		switch {
		case t.handler == "soun" && m.sound == nil:
			m.sound = t
		case t.handler != "vide" || m.chapters[t.id]:
		case t.enabled && m.picture == nil:
			m.picture = t
		case second == nil:
			second = t
		}
	}
	if m.picture == nil {
		m.picture = second
	}
}

func (m *movie) recording() (*Recording, error) {
	rec := &Recording{Container: MP4, Kind: Audio, CutShort: m.cutShort}
	switch m.brand {
	case "qt  ":
		rec.Container = MOV
	case "M4A ", "M4B ", "M4P ":
		rec.Container = M4A
	}
	if m.picture != nil {
		m.picture.delayFragments()
	}
	rec.Duration = m.length()
	if m.picture == nil {
		rec.Codec = m.sound.codec
		return rec.settle(0, Rate{})
	}
	t := m.picture
	rec.Kind, rec.Codec = Video, t.codec
	rec.Width, rec.Height, rec.Rotation = t.width, t.height, t.rotation
	if t.rotation%180 != 0 {
		rec.Width, rec.Height = t.height, t.width
	}
	stated := t.spacing()
	var err error
	if rec.Frames, rec.FramesEnd, err = m.present(t); err != nil {
		return nil, err
	}
	return rec.settle(ticks(1, t.timescale), stated)
}

// length is what the movie header says, or where that says nothing or leaves
// out what only fragments hold, the time from the first start of a track to the
// last end.
func (m *movie) length() time.Duration {
	told := m.duration > 0
	begin, end := 2*longest, time.Duration(0)
	for _, t := range []*track{m.picture, m.sound} {
		if t == nil || !t.seen {
			continue
		}
		told = told && !t.inFragments
		b, e := m.span(t)
		begin, end = min(begin, b), max(end, e)
	}
	if told {
		return ticks(m.duration, m.timescale)
	}
	return end - begin
}
