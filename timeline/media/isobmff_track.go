package media

import (
	"encoding/binary"
	"math"
)

// track is one track of a movie.
type track struct {
	id            uint32
	enabled       bool
	handler       string // "vide", "soun" or another
	codec         string
	width, height int // square pixels, before rotation
	rotation      int
	timescale     int64 // ticks a second of the track's own clock
	edits         []edit

	stts, ctts, stsz box // sample durations, offsets and count

	// What reading the samples found, in ticks. Times are only kept for the
	// picture.
	times []int64
	next  int64 // decoding time at which the next sample would start
	seen  bool  // there was a sample
	begin int64 // when the first sample is presented
	end   int64 // when the last sample stops being presented

	listed      int   // how many of the times are from the index
	inFragments bool  // the rest are from fragments
	lowest      int64 // the lowest offset in a fragment, if below zero
}

// edit says that length ticks of the movie's clock show the track from start,
// in the track's ticks, on. A start of -1 shows nothing; length 0 means to the
// end. Rates other than 1 are treated as 1, as common players do.
type edit struct{ length, start int64 }

// maxTracks bounds the tracks of a movie, and those it names as chapters.
const maxTracks = 1000

func (m *movie) readTrack(trak box) error {
	if len(m.tracks) == maxTracks {
		return damaged("trak", trak.off, "more than %d tracks", maxTracks)
	}
	t := &track{}
	m.tracks = append(m.tracks, t)
	err := m.s.eachBox(trak.body, trak.end, func(b box) error {
		switch b.String() {
		case "tkhd":
			return m.s.trackHeader(b, t)
		case "edts":
			return m.s.eachBox(b.body, b.end, func(b box) error {
				if b.String() == "elst" {
					return m.s.editList(b, t)
				}
				return nil
			})
		case "tref":
			return m.s.eachBox(b.body, b.end, func(b box) error {
				if b.String() != "chap" {
					return nil
				}
				return m.s.eachEntry(b, b.body, (b.end-b.body)/4, 4, func(e []byte) {
					if len(m.chapters) < maxTracks {
						m.chapters[binary.BigEndian.Uint32(e)] = true
					}
				})
			})
		case "mdia":
			return m.s.mediaBox(b, t)
		}
		return nil
	})
	if err == nil && t.timescale == 0 && (t.handler == "vide" || t.handler == "soun") {
		return damaged("trak", trak.off, "the track has no media header (mdhd)")
	}
	return err
}

// mediaBox reads mdia, minf and stbl, whose parts are needed alike.
func (s *source) mediaBox(parent box, t *track) error {
	return s.eachBox(parent.body, parent.end, func(b box) error {
		switch b.String() {
		case "mdhd":
			var err error
			t.timescale, _, err = s.timeHeader(b)
			return err
		case "hdlr":
			// QuickTime has a second one, in minf, for where the data lies.
			if parent.String() != "mdia" {
				return nil
			}
			h, err := s.inBox(b, 8, 4)
			t.handler = string(h)
			return err
		case "minf":
			if parent.String() == "mdia" {
				return s.mediaBox(b, t)
			}
		case "stbl":
			if parent.String() == "minf" {
				return s.mediaBox(b, t)
			}
		case "stsd":
			return s.sampleEntry(b, t)
		case "stts":
			t.stts = b
		case "ctts":
			t.ctts = b
		case "stsz", "stz2":
			t.stsz = b
		}
		return nil
	})
}

// inBox gives n bytes at an offset into a box's content.
func (s *source) inBox(b box, off int64, n int) ([]byte, error) {
	if off+int64(n) > b.end-b.body {
		return nil, damaged(b.String(), b.off, "the box is too short")
	}
	return s.peek(b.body+off, n)
}

// eachEntry visits count entries of width bytes from off on, inside b.
func (s *source) eachEntry(b box, off, count, width int64, visit func([]byte)) error {
	if count > (b.end-off)/width {
		return damaged(b.String(), b.off, "it claims %d entries and has room for %d", count, max(0, (b.end-off)/width))
	}
	for ; count > 0; count-- {
		e, err := s.peek(off, int(width))
		if err != nil {
			return err
		}
		visit(e)
		off += width
	}
	return nil
}

// timeHeader reads what mvhd and mdhd share: the clock and the length on it.
// A length of 0 means that it is not said.
func (s *source) timeHeader(b box) (timescale, duration int64, err error) {
	h, err := s.inBox(b, 0, 20)
	if err != nil {
		return 0, 0, err
	}
	timescale, duration = int64(binary.BigEndian.Uint32(h[12:])), int64(binary.BigEndian.Uint32(h[16:]))
	if h[0] == 1 {
		if h, err = s.inBox(b, 0, 32); err != nil {
			return 0, 0, err
		}
		timescale, duration = int64(binary.BigEndian.Uint32(h[20:])), int64(binary.BigEndian.Uint64(h[24:]))
	} else if duration == math.MaxUint32 {
		duration = 0
	}
	if timescale == 0 {
		return 0, 0, damaged(b.String(), b.off, "its clock has no ticks in a second")
	}
	return timescale, max(duration, 0), nil // all ones in 64 bits is negative: not said
}

func (s *source) trackHeader(b box, t *track) error {
	h, err := s.inBox(b, 0, 4)
	if err != nil {
		return err
	}
	t.enabled = h[3]&1 != 0
	id, matrix := int64(12), int64(40)
	if h[0] == 1 { // three times of eight bytes instead of four
		id, matrix = 20, 52
	}
	if h, err = s.inBox(b, id, 4); err != nil {
		return err
	}
	t.id = binary.BigEndian.Uint32(h)
	if h, err = s.inBox(b, matrix, 44); err != nil {
		return err
	}
	word := func(i int) int32 { return int32(binary.BigEndian.Uint32(h[4*i:])) }
	// The picture is turned by the matrix (a b; c d), its columns across and
	// down. Mirroring and skew do not move anything in time and are ignored.
	switch a, b, d := word(0), word(1), word(4); {
	case a == 0 && d == 0 && b > 0:
		t.rotation = 90
	case a == 0 && d == 0 && b < 0:
		t.rotation = 270
	case a < 0 && d < 0:
		t.rotation = 180
	}
	if t.width == 0 { // the sample entry knows better, if it was read first
		t.width, t.height = int(uint32(word(9))>>16), int(uint32(word(10))>>16)
	}
	return nil
}

func (s *source) editList(b box, t *track) error {
	h, err := s.inBox(b, 0, 8)
	if err != nil {
		return err
	}
	count := int64(binary.BigEndian.Uint32(h[4:]))
	if h[0] == 1 {
		return s.eachEntry(b, b.body+8, count, 20, func(e []byte) {
			length := int64(binary.BigEndian.Uint64(e))
			t.edits = append(t.edits, edit{max(length, 0), int64(binary.BigEndian.Uint64(e[8:]))})
		})
	}
	return s.eachEntry(b, b.body+8, count, 12, func(e []byte) {
		t.edits = append(t.edits, edit{int64(binary.BigEndian.Uint32(e)), int64(int32(binary.BigEndian.Uint32(e[4:])))})
	})
}

// sampleEntry reads the first entry of stsd: the coding and the picture size.
func (s *source) sampleEntry(b box, t *track) error {
	if b.end-b.body < 16 {
		return nil // no entry: the track holds nothing that can be shown
	}
	entry, err := s.boxAt(b.body+8, b.end)
	if err != nil {
		return damaged(b.String(), b.off, "its first entry does not fit")
	}
	t.codec = printable(entry.String())
	if t.handler != "vide" || entry.end-entry.body < 78 {
		return nil
	}
	h, err := s.peek(entry.body, 28)
	if err != nil {
		return err
	}
	width, height := int64(binary.BigEndian.Uint16(h[24:])), int64(binary.BigEndian.Uint16(h[26:]))
	// What follows the fixed part is only read for the pixel shape; if it is
	// not a row of boxes, the pixels are taken as square.
	_ = s.eachBox(entry.body+78, entry.end, func(b box) error {
		if h, err := s.inBox(b, 0, 8); err == nil && b.String() == "pasp" {
			across, down := int64(binary.BigEndian.Uint32(h)), int64(binary.BigEndian.Uint32(h[4:]))
			if across > 0 && down > 0 && across < 64*down && down < 64*across {
				width = mulDiv(width, across, down)
			}
		}
		return nil
	})
	if width > 0 && height > 0 {
		t.width, t.height = int(width), int(height)
	}
	return nil
}

// printable keeps a name from a file fit to be shown.
func printable(name string) string {
	out := make([]byte, 0, len(name))
	for i := range len(name) {
		if name[i] > ' ' && name[i] < 0x7F {
			out = append(out, name[i])
		}
	}
	return string(out)
}
