package media

import (
	"encoding/binary"
	"math"
	"slices"
	"testing"
	"time"
)

func mp3Time(frames int64) time.Duration { return ticks(frames*1152, 44100) }

// summaryFrame is a frame that holds a Xing header, with a LAME tag.
func summaryFrame(frames, bytes uint32, delay, padding uint16) []byte {
	frame := mp3Frames(1)
	tag := join([]byte("Xing"), be32(0xF), be32(frames), be32(bytes), make([]byte, 104), []byte("LAME3.100"), make([]byte, 12),
		[]byte{byte(delay >> 4), byte(delay<<4) | byte(padding>>8), byte(padding)})
	copy(frame[36:], tag)
	return frame
}

func id3v2(size int) []byte {
	return join([]byte("ID3\x04\x00\x00"), []byte{byte(size >> 21 & 0x7F), byte(size >> 14 & 0x7F), byte(size >> 7 & 0x7F), byte(size & 0x7F)},
		make([]byte, size))
}

func TestMP3LengthIsTheCountOfFrames(t *testing.T) {
	ape := join([]byte("APETAGEX"), le32(2000), le32(40), le32(1), le32(0), make([]byte, 8))
	v1 := append([]byte("TAG"), make([]byte, 125)...)
	// Something between frames that opens like one.
	rubbish := join(make([]byte, 57), []byte{0xFF, 0xFB, 0x90, 0x00}, make([]byte, 33))
	vbri := mp3Frames(1)
	copy(vbri[36:], join([]byte("VBRI"), make([]byte, 6), be32(11*417), be32(10)))
	for name, c := range map[string]struct {
		data   []byte
		frames int64
	}{
		"bare":                         {mp3Frames(10), 10},
		"one frame":                    {mp3Frames(1), 1},
		"behind a tag":                 {join(id3v2(300), mp3Frames(10)), 10},
		"behind two tags and padding":  {join(id3v2(300), id3v2(70000), make([]byte, 999), mp3Frames(10)), 10},
		"before a tag":                 {join(mp3Frames(10), v1), 10},
		"before two tags":              {join(mp3Frames(10), make([]byte, 2000-32), ape, v1), 10},
		"with rubbish between":         {join(mp3Frames(10), rubbish, mp3Frames(5)), 15},
		"as a summary says":            {join(summaryFrame(10, 11*417, 0, 0), mp3Frames(10)), 10},
		"as another summary says":      {join(vbri, mp3Frames(10)), 10},
		"not as a wrong summary says":  {join(summaryFrame(900, 900*417, 0, 0), mp3Frames(20)), 20},
		"not as an empty summary says": {join(summaryFrame(0, 0, 0, 0), mp3Frames(20)), 20},
		"joined end to end":            {join(summaryFrame(20, 21*417, 0, 0), mp3Frames(20), mp3Frames(20)), 40},
	} {
		t.Run(name, func(t *testing.T) {
			rec := mustRead(t, c.data)
			if rec.Duration != mp3Time(c.frames) || rec.Container != MP3 || rec.Kind != Audio {
				t.Errorf("%+v, want %v", rec, mp3Time(c.frames))
			}
		})
	}
}

func TestMP3SaysWhatSilenceTheEncoderAdded(t *testing.T) {
	rec := mustRead(t, join(summaryFrame(10, 11*417, 576, 1105), mp3Frames(10)))
	if rec.EncoderDelay != ticks(576, 44100) || rec.EncoderPadding != ticks(1105, 44100) {
		t.Errorf("%v and %v", rec.EncoderDelay, rec.EncoderPadding)
	}
}

func TestMP3CutFilesSaySo(t *testing.T) {
	whole := join(summaryFrame(40, 41*417, 0, 0), mp3Frames(40))
	rec := mustRead(t, whole[:len(whole)-20*417+5])
	if !rec.CutShort || rec.Duration != mp3Time(20) {
		t.Errorf("%+v", rec)
	}
	refused(t, id3v2(500)[:100], ErrTruncated, "ID3")
	refused(t, id3v2(500), ErrNotRecording, "no MP3 sound")
}

func TestWAVLengthIsItsSamples(t *testing.T) {
	samples := make([]byte, 16000)
	extensible := chunk("fmt ", le16(wavExtensible), le16(1), le32(8000), le32(16000), le16(2), le16(16), le16(22), le16(16), le32(4),
		le16(wavPCM), make([]byte, 14))
	adpcm := chunk("fmt ", le16(0x11), le16(1), le32(8000), le32(4055), le16(256), le16(4))
	unsized := func(size uint32) []byte {
		b := wavFile(wavFormat(), chunk("data", samples))
		binary.LittleEndian.PutUint32(b[len(b)-len(samples)-4:], size)
		return b
	}
	wide := join([]byte("RF64"), le32(math.MaxUint32), []byte("WAVE"),
		chunk("ds64", le64(0), le64(16000), le64(8000), le32(0)), wavFormat(), []byte("data"), le32(math.MaxUint32), samples, chunk("LIST", make([]byte, 999)))
	for name, c := range map[string]struct {
		data []byte
		want time.Duration
	}{
		"plain":                          {wavFile(wavFormat(), chunk("data", samples)), time.Second},
		"behind chunks of odd length":    {wavFile(chunk("junk", make([]byte, 7)), wavFormat(), chunk("note", make([]byte, 1)), chunk("data", samples)), time.Second},
		"before other chunks":            {wavFile(wavFormat(), chunk("data", samples), chunk("LIST", make([]byte, 500))), time.Second},
		"extensible":                     {wavFile(extensible, chunk("data", samples)), time.Second},
		"packed, by its fact":            {wavFile(adpcm, chunk("fact", le32(12000)), chunk("data", samples)), 1500 * time.Millisecond},
		"packed, by its byte rate":       {wavFile(adpcm, chunk("data", make([]byte, 4055))), time.Second},
		"of a size never filled in":      {unsized(math.MaxUint32), time.Second},
		"of a size left at nought":       {unsized(0), time.Second},
		"with sizes of 64 bits":          {wide, time.Second},
		"with half a sample at the end":  {wavFile(wavFormat(), chunk("data", samples, []byte{1})), time.Second},
		"that stops before its own size": {unsized(20000), time.Second},
	} {
		t.Run(name, func(t *testing.T) {
			rec := mustRead(t, c.data)
			if rec.Duration != c.want || rec.Container != WAV {
				t.Errorf("%+v, want %v", rec, c.want)
			}
			if rec.CutShort != (name == "that stops before its own size") {
				t.Errorf("cut short: %v", rec.CutShort)
			}
		})
	}
}

func TestWAVLiesAreRefused(t *testing.T) {
	data := chunk("data", make([]byte, 100))
	mute := chunk("fmt ", le16(wavPCM), le16(0), le32(8000), le32(16000), le16(2), le16(16))
	odd := chunk("fmt ", le16(0x55), le16(1), le32(8000), le32(0), le16(1), le16(0))
	refused(t, wavFile(wavFormat()), ErrTruncated, "data")
	refused(t, wavFile(data, wavFormat()), ErrDamaged, "before its format")
	refused(t, wavFile(mute, data), ErrDamaged, "0 channels")
	refused(t, wavFile(odd, data), ErrDamaged, "bytes make a second")
	refused(t, wavFile(chunk("fmt ", make([]byte, 9)), data), ErrDamaged, "9 bytes")
	refused(t, wavFile(wavFormat(), chunk("data")), ErrDamaged, "no time")
}

func TestForeignFilesAreNamed(t *testing.T) {
	for name, c := range map[string]struct{ head, says string }{
		"empty": {"", "empty"}, "ogg": {"OggS\x00\x02", "Ogg"}, "avi": {"RIFF\x00\x10\x00\x00AVI LIST", "AVI"},
		"captions": {"\xEF\xBB\xBFWEBVTT\n\n", "caption track"}, "png": {"\x89PNG\r\n\x1a\n", "still picture"},
		"adts": {"\xFF\xF1\x50\x80\x02\x1F\xFC", "AAC"}, "words": {"The pickers stand quietly.", "not MP4, MOV"},
		"one byte": {"\xFF", "not MP4, MOV"}, "one false frame": {"\xFF\xFB\x90\x00 and then words", "not MP4, MOV"},
	} {
		t.Run(name, func(t *testing.T) { refused(t, []byte(c.head), ErrNotRecording, c.says) })
	}
}

func TestErrorsOfTheReaderComeThrough(t *testing.T) {
	data := wavFile(wavFormat(), chunk("data", make([]byte, 100)))
	claimed := int64(len(data)) + 50 // a file that shrank after it was measured
	if _, err := Read(shrunk(data), claimed); !isReason(err, ErrTruncated) {
		t.Errorf("%v", err)
	}
}

// shrunk reads nothing at all.
type shrunk []byte

func (shrunk) ReadAt([]byte, int64) (int, error) { return 0, nil }

func isReason(err error, reason error) bool {
	e, ok := err.(*Error)
	return ok && slices.Contains([]error{e.Reason}, reason)
}
