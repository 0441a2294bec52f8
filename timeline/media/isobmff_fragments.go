package media

import (
	"encoding/binary"
	"time"
)

// This file reads movie fragments: samples that are not listed in the index
// but in front of each stretch of media, as live and phone recorders write.

// readFragmentDefaults reads mvex, which may stand before or after the tracks.
func (m *movie) readFragmentDefaults(mvex box) error {
	return m.s.eachBox(mvex.body, mvex.end, func(b box) error {
		if b.String() != "trex" {
			return nil
		}
		h, err := m.s.inBox(b, 4, 20)
		if err != nil {
			return err
		}
		if m.trex == nil {
			m.trex = map[uint32]uint32{}
		}
		m.trex[binary.BigEndian.Uint32(h)] = binary.BigEndian.Uint32(h[8:])
		return nil
	})
}

func (m *movie) readFragment(moof box) error {
	return m.s.eachBox(moof.body, moof.end, func(b box) error {
		if b.String() != "traf" {
			return nil
		}
		return m.readTrackFragment(b)
	})
}

// Flags of tfhd and trun that say which fields are there.
const (
	tfhdBaseOffset  = 0x1
	tfhdDescription = 0x2
	tfhdDuration    = 0x8

	trunDataOffset = 0x1
	trunFirstFlags = 0x4
	trunDuration   = 0x100
	trunSize       = 0x200
	trunFlags      = 0x400
	trunOffset     = 0x800
)

func (m *movie) readTrackFragment(traf box) error {
	var t *track
	var duration uint32
	return m.s.eachBox(traf.body, traf.end, func(b box) error {
		switch b.String() {
		case "tfhd":
			h, err := m.s.inBox(b, 0, 8)
			if err != nil {
				return err
			}
			flags := binary.BigEndian.Uint32(h) & 0xFFFFFF
			t = m.trackByID(binary.BigEndian.Uint32(h[4:]))
			if t == nil {
				return nil
			}
			duration = m.trex[t.id]
			if flags&tfhdDuration == 0 {
				return nil
			}
			off := int64(8)
			if flags&tfhdBaseOffset != 0 {
				off += 8
			}
			if flags&tfhdDescription != 0 {
				off += 4
			}
			h, err = m.s.inBox(b, off, 4)
			if err != nil {
				return err
			}
			duration = binary.BigEndian.Uint32(h)
		case "tfdt":
			if t == nil {
				return nil
			}
			h, err := m.s.inBox(b, 0, 8)
			if err != nil {
				return err
			}
			start := uint64(binary.BigEndian.Uint32(h[4:]))
			if h[0] == 1 {
				if h, err = m.s.inBox(b, 4, 8); err != nil {
					return err
				}
				start = binary.BigEndian.Uint64(h)
			}
			if t.timescale == 0 || start/uint64(t.timescale) > uint64(longest/time.Second) {
				return damaged("tfdt", b.off, "the fragment starts more than %d hours in", int(longest.Hours()))
			}
			t.next = int64(start)
		case "trun":
			if t == nil {
				return nil
			}
			return m.readRun(b, t, duration)
		}
		return nil
	})
}

// trackByID gives the picture or sound that is followed; nil for any other.
func (m *movie) trackByID(id uint32) *track {
	for _, t := range []*track{m.picture, m.sound} {
		if t != nil && t.id == id {
			return t
		}
	}
	return nil
}

// readRun reads one trun: a row of samples with the fields its flags name.
func (m *movie) readRun(b box, t *track, duration uint32) error {
	h, err := m.s.inBox(b, 0, 8)
	if err != nil {
		return err
	}
	flags, count := binary.BigEndian.Uint32(h)&0xFFFFFF, int64(binary.BigEndian.Uint32(h[4:]))
	if err := m.allow(t, count, b); err != nil {
		return err
	}
	if !t.inFragments {
		t.inFragments, t.listed = count > 0, len(t.times)
	}
	off := b.body + 8
	for _, flag := range []uint32{trunDataOffset, trunFirstFlags} {
		if flags&flag != 0 {
			off += 4
		}
	}
	var width int64
	durationAt, offsetAt := int64(-1), int64(-1)
	for _, flag := range []uint32{trunDuration, trunSize, trunFlags, trunOffset} {
		if flags&flag == 0 {
			continue
		}
		switch flag {
		case trunDuration:
			durationAt = width
		case trunOffset:
			offsetAt = width
		}
		width += 4
	}
	if width == 0 && t != m.picture {
		m.stretch(t, count, int64(duration))
		return nil
	}
	if width == 0 {
		for range count {
			m.sample(t, int64(duration), 0)
		}
		return nil
	}
	return m.s.eachEntry(b, off, count, width, func(e []byte) {
		d, offset := duration, int32(0)
		if durationAt >= 0 {
			d = binary.BigEndian.Uint32(e[durationAt:])
		}
		if offsetAt >= 0 {
			offset = int32(binary.BigEndian.Uint32(e[offsetAt:]))
		}
		t.lowest = min(t.lowest, int64(offset))
		m.sample(t, int64(d), int64(offset))
	})
}

// delayFragments moves frames from fragments with offsets below zero so that
// none is shown before it is decoded. The standard would let them start
// earlier; FFmpeg and the browsers built on it show them so.
func (t *track) delayFragments() {
	if t.lowest < 0 {
		for i := range t.times[t.listed:] {
			t.times[t.listed+i] -= t.lowest
		}
		t.end = add(t.end, -t.lowest)
		if t.listed == 0 {
			t.begin = add(t.begin, -t.lowest)
		}
	}
}
