package media

import (
	"encoding/binary"
	"errors"
	"io"
	"math"
	"math/bits"
	"time"
)

// source reads a file through one small window, so that walking over headers
// costs one read for each neighbourhood, and no size found in a file is ever
// the size of an allocation.
type source struct {
	r      io.ReaderAt
	size   int64
	window int    // bytes fetched at a time
	buf    []byte // the bytes held, starting at file offset at
	at     int64
}

const (
	smallWindow = 4 << 10  // for hopping from header to header
	largeWindow = 64 << 10 // for reading straight on
)

func newSource(r io.ReaderAt, size int64) *source {
	return &source{r: r, size: max(size, 0), window: smallWindow}
}

// apart is the same file through a window of its own, for tables that are
// read side by side.
func (s *source) apart(window int) *source {
	return &source{r: s.r, size: s.size, window: window}
}

// peek gives the n bytes at off. The slice is good until the next peek.
// Asking for more than largeWindow is a caller's bug.
func (s *source) peek(off int64, n int) ([]byte, error) {
	if n < 0 || n > largeWindow {
		panic("media: peek past the window")
	}
	if off < 0 || off > s.size-int64(n) {
		return nil, truncated("", off, "%d more bytes were expected and the file ends at byte %d", n, s.size)
	}
	if off < s.at || off+int64(n) > s.at+int64(len(s.buf)) {
		if err := s.fetch(off, n); err != nil {
			return nil, err
		}
	}
	i := int(off - s.at)
	return s.buf[i : i+n : i+n], nil
}

func (s *source) fetch(off int64, n int) error {
	want := int(min(int64(max(s.window, n)), s.size-off))
	if cap(s.buf) < want {
		s.buf = make([]byte, max(s.window, n))
	}
	s.buf, s.at = s.buf[:want], off
	got, err := s.r.ReadAt(s.buf, off)
	s.buf = s.buf[:got]
	switch {
	case got >= n:
		return nil // what was asked for is here; the rest was a courtesy
	case err == nil || errors.Is(err, io.EOF):
		return truncated("", off, "the file became shorter while it was read")
	}
	return &Error{Reason: err, Offset: off}
}

func (s *source) u32(off int64) (uint32, error) {
	b, err := s.peek(off, 4)
	if err != nil {
		return 0, err
	}
	return binary.BigEndian.Uint32(b), nil
}

// ticks is v/scale seconds as a time, rounded to the nearest nanosecond and
// held inside the range of int64. The scale must be positive.
func ticks(v, scale int64) time.Duration {
	return time.Duration(mulDiv(v, int64(time.Second), scale))
}

// mulDiv is a*b/c rounded to nearest, halves away from zero, saturating; b is
// not negative, c is positive. The product is taken in 128 bits.
func mulDiv(a, b, c int64) int64 {
	negative := a < 0
	u := uint64(a)
	if negative {
		u = -u
	}
	hi, lo := bits.Mul64(u, uint64(b))
	lo, carry := bits.Add64(lo, uint64(c)/2, 0)
	hi += carry
	q := uint64(math.MaxInt64)
	if hi < uint64(c) {
		q, _ = bits.Div64(hi, lo, uint64(c))
		q = min(q, math.MaxInt64)
	}
	if negative {
		return -int64(q)
	}
	return int64(q)
}

// add is a+b, held inside the range of int64.
func add(a, b int64) int64 {
	sum := a + b
	if a > 0 && b > 0 && sum < 0 {
		return math.MaxInt64
	}
	if a < 0 && b < 0 && sum >= 0 {
		return math.MinInt64
	}
	return sum
}
