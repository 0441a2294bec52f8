package media

import (
	"encoding/binary"
	"slices"
	"time"
)

// This file turns the tables of a track into times: samples in the order they
// are decoded, then as they are presented, then through the edit list.

// runs reads a table of runs (how many samples, what value) one sample at a
// time. It is over when it has no more; a table may also not be there at all.
type runs struct {
	s      *source
	off    int64
	left   int64 // runs not yet read
	repeat int64 // samples left in this run
	value  uint32
}

func (s *source) readRuns(b box) (*runs, error) {
	r := &runs{s: s.apart(largeWindow), off: b.body + 8}
	if b.end == 0 {
		return r, nil
	}
	h, err := s.inBox(b, 0, 8)
	if err != nil {
		return nil, err
	}
	r.left = int64(binary.BigEndian.Uint32(h[4:]))
	if room := (b.end - r.off) / 8; r.left > room {
		return nil, damaged(b.String(), b.off, "it claims %d entries and has room for %d", r.left, room)
	}
	return r, nil
}

// run gives the rest of the current run, or the next: at most limit samples of
// one value. The count is 0 when the table is over.
func (r *runs) run(limit int64) (count int64, value uint32, err error) {
	for r.repeat == 0 {
		if r.left == 0 {
			return 0, 0, nil
		}
		e, err := r.s.peek(r.off, 8)
		if err != nil {
			return 0, 0, err
		}
		r.repeat, r.value = int64(binary.BigEndian.Uint32(e)), binary.BigEndian.Uint32(e[4:])
		r.off += 8
		r.left--
	}
	count = min(r.repeat, limit)
	r.repeat -= count
	return count, r.value, nil
}

// readSamples reads the samples that the index itself lists: their times for
// the picture, only their end for sound.
func (m *movie) readSamples(t *track) error {
	if t != m.picture && t != m.sound || t.stsz.end == 0 {
		return nil
	}
	h, err := m.s.inBox(t.stsz, 4, 8)
	if err != nil {
		return err
	}
	count := int64(binary.BigEndian.Uint32(h[4:]))
	if err := m.allow(t, count, t.stsz); err != nil {
		return err
	}
	durations, err := m.s.readRuns(t.stts)
	if err != nil {
		return err
	}
	offsets, err := m.s.readRuns(t.ctts)
	if err != nil {
		return err
	}
	var last uint32
	for count > 0 {
		n, duration, err := durations.run(count)
		if err != nil {
			return err
		}
		if n == 0 { // a table too short: the last duration goes on
			n, duration = count, last
		}
		last = duration
		count -= n
		if t != m.picture {
			m.stretch(t, n, int64(duration))
			continue
		}
		for range n {
			// Offsets count as signed in either version of the table: writers
			// of version 0 put negative ones there too.
			_, offset, err := offsets.run(1)
			if err != nil {
				return err
			}
			m.sample(t, int64(duration), int64(int32(offset)))
		}
	}
	return nil
}

// allow refuses a count of frames that the file cannot hold, at one byte each,
// or that no recording has. Sound is only added up, so it needs no bound.
func (m *movie) allow(t *track, count int64, b box) error {
	switch {
	case t != m.picture:
		return nil
	case count > m.s.size:
		return damaged(b.String(), b.off, "it claims %d frames in a file of %d bytes", count, m.s.size)
	case int64(len(t.times))+count > maxFrames:
		return damaged(b.String(), b.off, "more than %d frames", maxFrames)
	}
	t.times = slices.Grow(t.times, int(count))
	return nil
}

// sample takes in the next sample of a track, in ticks.
func (m *movie) sample(t *track, duration, offset int64) {
	at := add(t.next, offset)
	t.next = add(t.next, duration)
	t.extend(at, add(at, duration))
	if t == m.picture {
		t.times = append(t.times, at)
	}
}

// stretch takes in count samples of one duration whose times are not kept.
func (m *movie) stretch(t *track, count, duration int64) {
	from := t.next
	t.next = add(t.next, mulDiv(count, duration, 1))
	t.extend(from, t.next)
}

func (t *track) extend(begin, end int64) {
	if !t.seen || begin < t.begin {
		t.begin = begin
	}
	t.seen, t.end = true, max(t.end, end)
}

// spacing is the rate that the most usual difference between samples gives,
// exactly; zero when there are fewer than two.
func (t *track) spacing() Rate {
	if len(t.times) == 1 && t.end > t.times[0] {
		return makeRate(t.timescale, t.end-t.times[0])
	}
	if len(t.times) < 2 {
		return Rate{}
	}
	slices.Sort(t.times)
	gaps := make([]int64, len(t.times)-1)
	for i := range gaps {
		gaps[i] = t.times[i+1] - t.times[i]
	}
	slices.Sort(gaps)
	return makeRate(t.timescale, gaps[len(gaps)/2])
}

// present gives the times at which the picture's frames appear, through the
// edit list, and when the last of them goes.
//
// Where the standard leaves players a choice, this is what FFmpeg and the
// browsers built on it show: a frame belongs to an edit when its own time lies
// inside it, and an edit that starts between two frames starts with the later
// one, at once.
func (m *movie) present(t *track) (frames []time.Duration, end time.Duration, err error) {
	slices.Sort(t.times)
	if len(t.edits) == 0 {
		frames = make([]time.Duration, len(t.times))
		for i, at := range t.times {
			frames[i] = ticks(at, t.timescale)
		}
		return frames, ticks(t.end, t.timescale), nil
	}
	total := 0
	for _, e := range t.edits {
		first, past := t.covered(e, m.timescale)
		if total += past - first; total > maxFrames {
			return nil, 0, damaged("elst", -1, "the edit list repeats frames to more than %d", maxFrames)
		}
	}
	frames = make([]time.Duration, 0, total)
	var position int64 // on the movie's clock
	for _, e := range t.edits {
		first, past := t.covered(e, m.timescale)
		if shown := t.times[first:past]; len(shown) > 0 {
			base := ticks(position, m.timescale)
			for _, at := range shown {
				frames = append(frames, base+ticks(at-shown[0], t.timescale))
			}
			goes := base + ticks(t.end-shown[0], t.timescale)
			if e.length > 0 {
				goes = min(goes, ticks(add(position, e.length), m.timescale))
			}
			end = max(end, goes)
		}
		position = m.advance(position, e)
	}
	return frames, end, nil
}

// covered gives the frames [first, past) whose times lie inside an edit.
func (t *track) covered(e edit, movieScale int64) (first, past int) {
	if e.start < 0 {
		return 0, 0
	}
	first, _ = slices.BinarySearch(t.times, e.start)
	past = len(t.times)
	if e.length > 0 {
		past, _ = slices.BinarySearch(t.times, add(e.start, mulDiv(e.length, t.timescale, movieScale)))
	}
	return first, past
}

// advance moves a position on the movie's clock past an edit, but not past
// what any recording may last.
func (m *movie) advance(position int64, e edit) int64 {
	return min(add(position, e.length), 2*int64(longest/time.Second)*m.timescale)
}

// span is when a track starts and stops, edit list applied.
func (m *movie) span(t *track) (begin, end time.Duration) {
	if len(t.edits) == 0 {
		return ticks(t.begin, t.timescale), ticks(t.end, t.timescale)
	}
	var position int64
	started := false
	for _, e := range t.edits {
		from := ticks(position, m.timescale)
		stop := ticks(add(position, e.length), m.timescale)
		if e.length == 0 && e.start >= 0 {
			stop = from + max(0, ticks(t.end-e.start, t.timescale))
		}
		if e.start >= 0 && !started {
			begin, started = from, true
		}
		end = max(end, min(stop, 2*longest))
		position = m.advance(position, e)
	}
	return begin, end
}
