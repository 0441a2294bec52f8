package media

import (
	"encoding/binary"
	"fmt"
	"math"
)

// This file reads WAV: RIFF, and the RF64 and BW64 forms of it for files past
// four gigabytes (EBU Tech 3306, ITU-R BS.2088).

// maxChunks bounds the chunks before the sound.
const maxChunks = 100_000

// wav is what the chunks say.
type wav struct {
	coding     uint16
	channels   int64
	rate       int64 // samples a second
	byteRate   int64
	blockBytes int64 // one sample of every channel
	formatSeen bool
	samples    int64 // as the fact chunk says, for codings that are not PCM
	wide       int64 // the sound's size by ds64; -1 when not said
}

// Format tags that are plain samples.
const (
	wavPCM        = 0x0001
	wavFloat      = 0x0003
	wavALaw       = 0x0006
	wavMuLaw      = 0x0007
	wavExtensible = 0xFFFE
)

// readWAV reads a WAV file.
func readWAV(s *source) (*Recording, error) {
	w := &wav{wide: -1}
	off := int64(12)
	for range maxChunks {
		if s.size-off < 8 {
			return nil, truncated("RIFF", off, "the file ends before its sound (data)")
		}
		h, err := s.peek(off, 8)
		if err != nil {
			return nil, err
		}
		id, size := string(h[:4]), int64(binary.LittleEndian.Uint32(h[4:]))
		body := off + 8
		switch id {
		case "ds64":
			err = w.readWide(s, body, size)
		case "fmt ":
			err = w.readFormat(s, body, size)
		case "fact":
			if size >= 4 {
				if h, err = s.peek(body, 4); err == nil {
					w.samples = int64(binary.LittleEndian.Uint32(h))
				}
			}
		case "data":
			if !w.formatSeen {
				return nil, damaged("data", off, "the sound comes before its format (fmt)")
			}
			return w.recording(body, size, s.size)
		}
		if err != nil {
			return nil, err
		}
		off = body + size + size&1 // chunks start on even bytes
	}
	return nil, damaged("RIFF", off, "more than %d chunks before the sound", maxChunks)
}

func (w *wav) readWide(s *source, body, size int64) error {
	if size < 24 {
		return damaged("ds64", body-8, "a chunk of %d bytes is too short", size)
	}
	h, err := s.peek(body, 24)
	if err != nil {
		return err
	}
	w.wide = int64(min(binary.LittleEndian.Uint64(h[8:]), math.MaxInt64))
	w.samples = int64(min(binary.LittleEndian.Uint64(h[16:]), math.MaxInt64))
	return nil
}

func (w *wav) readFormat(s *source, body, size int64) error {
	if size < 14 {
		return damaged("fmt", body-8, "a chunk of %d bytes is too short", size)
	}
	h, err := s.peek(body, 14)
	if err != nil {
		return err
	}
	w.formatSeen = true
	w.coding = binary.LittleEndian.Uint16(h)
	w.channels = int64(binary.LittleEndian.Uint16(h[2:]))
	w.rate = int64(binary.LittleEndian.Uint32(h[4:]))
	w.byteRate = int64(binary.LittleEndian.Uint32(h[8:]))
	w.blockBytes = int64(binary.LittleEndian.Uint16(h[12:]))
	if w.coding == wavExtensible && size >= 40 {
		// The real tag opens the sub-format, whose other bytes are fixed.
		if h, err = s.peek(body+24, 2); err != nil {
			return err
		}
		w.coding = binary.LittleEndian.Uint16(h)
	}
	if w.rate == 0 || w.channels == 0 {
		return damaged("fmt", body-8, "%d channels at %d samples a second", w.channels, w.rate)
	}
	return nil
}

// plain says that every sample takes the same room, so that bytes tell time.
func (w *wav) plain() bool {
	switch w.coding {
	case wavPCM, wavFloat, wavALaw, wavMuLaw:
		return w.blockBytes > 0
	}
	return false
}

// recording works out the length from the sound's place in the file.
func (w *wav) recording(body, size, fileSize int64) (*Recording, error) {
	rec := &Recording{Container: WAV, Kind: Audio, Codec: fmt.Sprintf("wav-%04x", w.coding)}
	if w.plain() {
		rec.Codec = "pcm"
	}
	held := fileSize - body
	switch {
	case size == math.MaxUint32 && w.wide >= 0:
		size = w.wide
	case size == math.MaxUint32 || size == 0 && held > 0:
		size = held // a writer that could not go back to fill in the size
	}
	if size > held {
		size, rec.CutShort = held, true
	}
	switch {
	case w.plain():
		rec.Duration = ticks(size/w.blockBytes, w.rate)
	case w.samples > 0 && w.samples != math.MaxUint32 && !rec.CutShort:
		rec.Duration = ticks(w.samples, w.rate)
	case w.byteRate > 0:
		rec.Duration = ticks(size, w.byteRate)
	default:
		return nil, damaged("fmt", -1, "it does not say how many bytes make a second")
	}
	return rec.settle(0, Rate{})
}
