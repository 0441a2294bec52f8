package media

import (
	"encoding/binary"
	"errors"
)

// This file reads MP3: tags, the first frame's own account of the whole, and
// where that is missing or wrong, a count of every frame.

// readMP3 reads an MP3 file.
func readMP3(s *source) (*Recording, error) {
	s = s.apart(largeWindow)
	start, err := skipID3(s)
	if err != nil {
		return nil, err
	}
	end, err := trimTags(s, start)
	if err != nil {
		return nil, err
	}
	// Writers leave padding after a tag; some leave other things.
	first, err := nextMP3Frame(s, start, min(end, start+128<<10), end, 0)
	if errors.Is(err, errNoFrame) {
		return nil, notRecording("it holds a tag but no MP3 sound")
	}
	if err != nil {
		return nil, err
	}
	rec := &Recording{Container: MP3, Kind: Audio, Codec: "mp3"}
	said, err := readMP3Summary(s, first)
	if err != nil {
		return nil, err
	}
	frames := said.frames
	// The account is believed when the bytes it speaks of are the bytes here:
	// files are cut, joined and re-tagged without being recounted.
	const slack = 4096
	if held := end - first.off; frames == 0 || said.bytes < held-slack || said.bytes > held+slack {
		if frames, err = countMP3Frames(s, first, end); err != nil {
			return nil, err
		}
		if said.present {
			frames-- // the summary sits in a frame without sound
		}
		rec.CutShort = said.frames > frames
	}
	perFrame, rate := first.samples, first.rate
	rec.Duration = ticks(mulDiv(frames, perFrame, 1), rate)
	rec.EncoderDelay, rec.EncoderPadding = ticks(said.delay, rate), ticks(said.padding, rate)
	return rec.settle(0, Rate{})
}

// skipID3 gives the end of the ID3v2 tags that open the file.
func skipID3(s *source) (int64, error) {
	off := int64(0)
	for s.size-off >= 10 {
		h, err := s.peek(off, 10)
		if err != nil {
			return 0, err
		}
		if string(h[:3]) != "ID3" {
			break
		}
		size := int64(10)
		for i, c := range h[6:10] {
			size += int64(c&0x7F) << (7 * (3 - i))
		}
		if h[5]&0x10 != 0 {
			size += 10 // a footer
		}
		if size > s.size-off {
			return 0, truncated("ID3", off, "the file ends inside its tag")
		}
		off += size
	}
	return off, nil
}

// trimTags gives where the sound ends: before an ID3v1 tag, and an APE tag
// before that.
func trimTags(s *source, start int64) (int64, error) {
	end := s.size
	if end-start >= 128 {
		h, err := s.peek(end-128, 3)
		if err != nil {
			return 0, err
		}
		if string(h) == "TAG" {
			end -= 128
		}
	}
	if end-start >= 32 {
		h, err := s.peek(end-32, 32)
		if err != nil {
			return 0, err
		}
		if string(h[:8]) == "APETAGEX" {
			size := int64(binary.LittleEndian.Uint32(h[12:]))
			if binary.LittleEndian.Uint32(h[20:])&(1<<31) != 0 {
				size += 32 // a header as well
			}
			if size >= 32 && size <= end-start {
				end -= size
			}
		}
	}
	return end, nil
}

// mp3Summary is what the first frame says of the whole file.
type mp3Summary struct {
	present        bool
	frames, bytes  int64 // 0 when not said
	delay, padding int64 // samples of silence the encoder added
}

// readMP3Summary reads a Xing, Info or VBRI header, if the first frame is one.
func readMP3Summary(s *source, f mp3Frame) (mp3Summary, error) {
	var said mp3Summary
	h, err := s.peek(f.off, int(min(f.length, s.size-f.off)))
	if err != nil {
		return said, err
	}
	at := func(off, n int) []byte { // zeros past the frame's end
		out := make([]byte, n)
		if off < len(h) {
			copy(out, h[off:])
		}
		return out
	}
	u32 := func(off int) int64 { return int64(binary.BigEndian.Uint32(at(off, 4))) }
	if string(at(4+32, 4)) == "VBRI" {
		return mp3Summary{present: true, bytes: u32(4 + 32 + 10), frames: u32(4 + 32 + 14)}, nil
	}
	off := 4 + f.sideInfo
	if word := string(at(off, 4)); word != "Xing" && word != "Info" {
		return said, nil
	}
	said.present = true
	flags := u32(off + 4)
	off += 8
	if flags&1 != 0 {
		said.frames = u32(off)
		off += 4
	}
	if flags&2 != 0 {
		said.bytes = u32(off)
		off += 4
	}
	if flags&4 != 0 {
		off += 100
	}
	if flags&8 != 0 {
		off += 4
	}
	switch string(at(off, 4)) {
	case "LAME", "Lavf", "Lavc":
		d := at(off+21, 3)
		said.delay = int64(d[0])<<4 | int64(d[1])>>4
		said.padding = int64(d[1]&0x0F)<<8 | int64(d[2])
	}
	return said, nil
}

// countMP3Frames counts the frames from first to end, stepping over anything
// between them that is not a frame of the same stream.
func countMP3Frames(s *source, first mp3Frame, end int64) (int64, error) {
	count := int64(0)
	for off := first.off; off < end; {
		f, err := mp3FrameAt(s, off)
		if err == nil && f.stream == first.stream && off+f.length <= end {
			count++
			off += f.length
			continue
		}
		if err == nil && f.stream == first.stream && off+f.length > end {
			break // the last frame is not all there
		}
		f, err = nextMP3Frame(s, off+1, end, end, first.stream)
		if errors.Is(err, errNoFrame) {
			break
		}
		if err != nil {
			return 0, err
		}
		off = f.off
	}
	return count, nil
}

// mp3Frame is one frame header, read.
type mp3Frame struct {
	off, length int64
	samples     int64  // in the frame, of each channel
	rate        int64  // samples a second
	sideInfo    int    // bytes between the header and where a summary may sit
	stream      uint32 // the header's bits that stay the same through a stream
}
