package media

import (
	"encoding/binary"
	"math"
	"time"
)

// This file reads WebM and Matroska (RFC 8794 and RFC 9559): the header, the
// tracks, and the walk from element to element.

// Element identifiers, with their length marker.
const (
	idEBML    = 0x1A45DFA3
	idDocType = 0x4282
	idSegment = 0x18538067

	idInfo     = 0x1549A966
	idScale    = 0x2AD7B1
	idDuration = 0x4489

	idTracks          = 0x1654AE6B
	idTrackEntry      = 0xAE
	idTrackNumber     = 0xD7
	idTrackType       = 0x83
	idFlagEnabled     = 0xB9
	idCodecID         = 0x86
	idDefaultDuration = 0x23E383
	idCodecDelay      = 0x56AA
	idVideo           = 0xE0
	idPixelWidth      = 0xB0
	idPixelHeight     = 0xBA
	idDisplayWidth    = 0x54B0
	idDisplayHeight   = 0x54BA
	idDisplayUnit     = 0x54B2

	idCluster       = 0x1F43B675
	idTimestamp     = 0xE7
	idSimpleBlock   = 0xA3
	idBlockGroup    = 0xA0
	idBlock         = 0xA1
	idBlockDuration = 0x9B
)

// element is one EBML element: its content is [body, end).
type element struct {
	id             uint32
	off, body, end int64
	open           bool // its size is not known: it ends where its parent or a neighbour says
	cut            bool // it runs past the end of the file; end is drawn in
}

// elementAt reads the element header at off, in a parent that ends at end.
func (s *source) elementAt(off, end int64) (element, error) {
	h, err := s.peek(off, int(min(12, max(0, end-off))))
	if err != nil {
		return element{}, err
	}
	idLen := vintLen(h, 4)
	if idLen == 0 {
		return element{}, damaged("element", off, "there is no element here")
	}
	e := element{off: off}
	for _, c := range h[:idLen] {
		e.id = e.id<<8 | uint32(c)
	}
	size, sizeLen := vint(h[idLen:])
	if sizeLen == 0 {
		return element{}, damaged("element", off, "the element has no size")
	}
	e.body = off + int64(idLen+sizeLen)
	switch {
	case size == 1<<(7*sizeLen)-1:
		e.open, e.end = true, end
	case size > uint64(end-e.body):
		e.cut, e.end = true, end
	default:
		e.end = e.body + int64(size)
	}
	return e, nil
}

// vintLen is the length that the first byte of a variable-size number gives;
// 0 when it is longer than allowed or not all there.
func vintLen(h []byte, longest int) int {
	if len(h) == 0 {
		return 0
	}
	n := 1
	for mask := byte(0x80); n <= longest && h[0]&mask == 0; mask >>= 1 {
		n++
	}
	if n > longest || n > len(h) {
		return 0
	}
	return n
}

// vint reads a variable-size number without its length marker; n is 0 when
// there is none.
func vint(h []byte) (v uint64, n int) {
	n = vintLen(h, 8)
	if n == 0 {
		return 0, 0
	}
	v = uint64(h[0]) & (1<<(8-n) - 1)
	for _, c := range h[1:n] {
		v = v<<8 | uint64(c)
	}
	return v, n
}

// eachElement visits the elements inside e, all of which must be whole.
func (s *source) eachElement(e element, visit func(element) error) error {
	for off := e.body; off < e.end; {
		child, err := s.elementAt(off, e.end)
		if err != nil {
			return err
		}
		if child.cut || child.open {
			return damaged("element", child.off, "an element runs past the end of the one that holds it")
		}
		if err := visit(child); err != nil {
			return err
		}
		off = child.end
	}
	return nil
}

// unsigned reads a whole number of at most eight bytes, held inside int64.
func (s *source) unsigned(e element) (int64, error) {
	n := e.end - e.body
	if n > 8 {
		return 0, damaged("element", e.off, "a number of %d bytes", n)
	}
	h, err := s.peek(e.body, int(n))
	if err != nil {
		return 0, err
	}
	var v uint64
	for _, c := range h {
		v = v<<8 | uint64(c)
	}
	return int64(min(v, math.MaxInt64)), nil
}

// float reads a floating-point number of 0, 4 or 8 bytes.
func (s *source) float(e element) (float64, error) {
	switch e.end - e.body {
	case 0:
		return 0, nil
	case 4:
		v, err := s.unsigned(e)
		return float64(math.Float32frombits(uint32(v))), err
	case 8:
		h, err := s.peek(e.body, 8)
		if err != nil {
			return 0, err
		}
		return math.Float64frombits(binary.BigEndian.Uint64(h)), nil
	}
	return 0, damaged("element", e.off, "a fraction of %d bytes", e.end-e.body)
}

// text reads a short string, stopping at a zero byte.
func (s *source) text(e element) (string, error) {
	h, err := s.peek(e.body, int(min(e.end-e.body, 64)))
	if err != nil {
		return "", err
	}
	for i, c := range h {
		if c == 0 {
			h = h[:i]
			break
		}
	}
	return printable(string(h)), nil
}

// mkvTrack is one track of a segment. Times are in nanoseconds.
type mkvTrack struct {
	number, kind  int64
	enabled       bool
	codec         string
	spacing       int64 // from one frame to the next; 0 when not said
	delay         int64 // taken off every time
	width, height int64
	shownWidth    int64
	shownHeight   int64
	shownUnit     int64
}

// Track types that matter here.
const (
	mkvPicture = 1
	mkvSound   = 2
)

func (s *source) mkvTrackEntry(e element) (*mkvTrack, error) {
	t := &mkvTrack{enabled: true}
	number := func(e element, into *int64) error {
		v, err := s.unsigned(e)
		*into = v
		return err
	}
	return t, s.eachElement(e, func(e element) (err error) {
		switch e.id {
		case idTrackNumber:
			return number(e, &t.number)
		case idTrackType:
			return number(e, &t.kind)
		case idDefaultDuration:
			return number(e, &t.spacing)
		case idCodecDelay:
			return number(e, &t.delay)
		case idFlagEnabled:
			v, err := s.unsigned(e)
			t.enabled = v != 0
			return err
		case idCodecID:
			t.codec, err = s.text(e)
			return err
		case idVideo:
			return s.eachElement(e, func(e element) error {
				switch e.id {
				case idPixelWidth:
					return number(e, &t.width)
				case idPixelHeight:
					return number(e, &t.height)
				case idDisplayWidth:
					return number(e, &t.shownWidth)
				case idDisplayHeight:
					return number(e, &t.shownHeight)
				case idDisplayUnit:
					return number(e, &t.shownUnit)
				}
				return nil
			})
		}
		return nil
	})
}

// size is the picture as shown in square pixels: its stored height, and the
// width that gives the shown shape.
func (t *mkvTrack) size() (width, height int) {
	const most = 1 << 16
	w, h := min(t.width, most), min(t.height, most)
	if t.shownWidth > 0 && t.shownHeight > 0 && t.shownUnit <= 3 {
		w = min(mulDiv(h, t.shownWidth, t.shownHeight), most)
	}
	return int(w), int(h)
}

// rate is what the track says its rate is; zero when it says nothing.
func (t *mkvTrack) rate() Rate { return makeRate(int64(time.Second), t.spacing) }
