package media

import (
	"encoding/binary"
	"errors"
)

// errNoFrame says that no MP3 frame stands where one was looked for.
var errNoFrame = errors.New("no MP3 frame")

// Bit rates of layer III in kbit/s, by header index, for MPEG-1 and for the
// half-rate versions (ISO/IEC 11172-3, 13818-3). Index 0, a rate of the
// writer's own, gives frames no length and is not read; 15 is forbidden.
var (
	mp3FullRates = [15]int64{0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320}
	mp3HalfRates = [15]int64{0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160}
	mp3Sampling  = [3]int64{44100, 48000, 32000}
)

// mp3FrameAt reads the frame header at off. The error is errNoFrame when there
// is none, or what reading the file returned.
func mp3FrameAt(s *source, off int64) (mp3Frame, error) {
	if off < 0 || s.size-off < 4 {
		return mp3Frame{}, errNoFrame
	}
	b, err := s.peek(off, 4)
	if err != nil {
		return mp3Frame{}, err
	}
	h := binary.BigEndian.Uint32(b)
	version, layer := h>>19&3, h>>17&3
	bitrate, sampling, padding, mono := h>>12&15, h>>10&3, int64(h>>9&1), h>>6&3 == 3
	if h>>21 != 0x7FF || version == 1 || layer != 1 || bitrate == 0 || bitrate == 15 || sampling == 3 {
		return mp3Frame{}, errNoFrame
	}
	f := mp3Frame{off: off, rate: mp3Sampling[sampling], stream: h & 0xFFFE0C00}
	switch {
	case version == 3: // MPEG-1
		f.samples, f.sideInfo = 1152, 32
		f.length = 144*1000*mp3FullRates[bitrate]/f.rate + padding
	default: // MPEG-2 halves the sampling rate, MPEG-2.5 halves it again
		f.rate /= 2
		if version == 0 {
			f.rate /= 2
		}
		f.samples, f.sideInfo = 576, 17
		f.length = 72*1000*mp3HalfRates[bitrate]/f.rate + padding
	}
	if mono {
		f.sideInfo = 17
		if version != 3 {
			f.sideInfo = 9
		}
	}
	return f, nil
}

// nextMP3Frame finds the first frame that starts in [from, until) and is
// followed by another of its stream, or by the end of the sound. Four bytes
// that look like a header come by chance; two in step hardly do. A stream of 0
// is any.
func nextMP3Frame(s *source, from, until, end int64, stream uint32) (mp3Frame, error) {
	for off := from; off < until; off++ {
		f, err := mp3FrameAt(s, off)
		if err == nil && (stream == 0 || f.stream == stream) {
			if off+f.length == end {
				return f, nil
			}
			var g mp3Frame
			if g, err = mp3FrameAt(s, off+f.length); err == nil && g.stream == f.stream {
				return f, nil
			}
		}
		if err != nil && !errors.Is(err, errNoFrame) {
			return mp3Frame{}, err
		}
	}
	return mp3Frame{}, errNoFrame
}
