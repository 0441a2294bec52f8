// Package media says what a recording is: how long it lasts, when each of its
// frames is shown, and whether a file is still the one it was. It reads
// MP4/MOV/M4A, WebM/Matroska, MP3 and WAV by itself, by content and not by
// name, and never opens a recording for writing.
//
// Times are time.Duration (whole nanoseconds) from the recording's own time
// zero, which is the zero of a player's clock: edit lists are applied, frames
// that an edit hides are left out. Each is rounded once, from the exact
// rational in the file, so it is within half a nanosecond of what the file
// says.
package media

import (
	"errors"
	"io"
	"os"
	"slices"
	"time"
)

// Kind is what there is to follow in a recording.
type Kind string

// The kinds of recording. One with picture and sound is Video.
const (
	Video Kind = "video"
	Audio Kind = "audio"
)

// Container is the wrapping a recording came in, told from its content.
type Container string

// The containers that are read.
const (
	MP4      Container = "mp4"
	MOV      Container = "mov"
	M4A      Container = "m4a"
	WebM     Container = "webm"
	Matroska Container = "matroska"
	MP3      Container = "mp3"
	WAV      Container = "wav"
)

// Recording is what one file says of itself. It is not written to after Open
// or Read returns it, so it may be shared.
type Recording struct {
	Container Container
	Kind      Kind

	// Duration is the whole length as the container states it, or, where it
	// states none, as its frames and blocks do. It is what players show, and
	// need not be the last instant: see End. For MP3 it counts every frame, the
	// encoder's own silence included.
	Duration time.Duration

	// Width and Height are the picture as shown, in square pixels, after pixel
	// shape and Rotation; 0 for sound.
	Width, Height int
	// Rotation is how far the stored picture is turned clockwise to be shown:
	// 0, 90, 180 or 270 degrees.
	Rotation int
	// Codec is the container's own word for the picture coding, or for the
	// sound coding when there is no picture: "avc1", "V_VP9", "mp4a", "pcm".
	Codec string

	// Rate is the nominal frame rate; zero for sound or where a single frame
	// tells none. Variable says that counting frames at Rate would miss: use
	// Frames.
	Rate     Rate
	Variable bool

	// Frames are the times at which frames appear, strictly ascending. Empty,
	// never nil, for sound. FramesEnd is when the last one goes.
	Frames    []time.Duration
	FramesEnd time.Duration

	// EncoderDelay and EncoderPadding are the silence an MP3 encoder says it
	// put before and after the sound; both are inside Duration.
	EncoderDelay, EncoderPadding time.Duration

	// CutShort says that the file ends, or stops being readable, before the
	// media its own headers promise. Duration is then still the promise for
	// MP4 and Matroska, and what is really there for MP3 and WAV.
	CutShort bool
}

// maxFrames bounds the table of frames: 46 hours at 60 frames a second, 80 MB.
const maxFrames = 10_000_000

// longest is the most a recording may claim to last; more is damage.
const longest = 10_000 * time.Hour

// Open reads the recording at path. Errors are *Error, with Path set.
func Open(path string) (*Recording, error) {
	f, size, err := openRegular(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rec, err := Read(f, size)
	var e *Error
	if errors.As(err, &e) {
		e.Path = path
	}
	return rec, err
}

// Read reads a recording of size bytes from r. Errors are *Error whose Reason
// is ErrNotRecording, ErrTruncated, ErrDamaged or what r returned.
func Read(r io.ReaderAt, size int64) (*Recording, error) {
	s := newSource(r, size)
	read, err := sniff(s)
	if err != nil {
		return nil, err
	}
	return read(s)
}

// settle finishes a recording whose reader has filled in what the file says:
// frames in order, rate found, and what cannot be refused. Times were rounded
// to a clock of the given tick; stated is the container's own rate, if any.
func (rec *Recording) settle(tick time.Duration, stated Rate) (*Recording, error) {
	slices.Sort(rec.Frames)
	// Two frames at one instant: the first is shown for no time at all.
	rec.Frames = slices.Compact(rec.Frames)
	if rec.Frames == nil {
		rec.Frames = []time.Duration{}
	}
	hours := int(longest.Hours())
	if n := len(rec.Frames); n > 0 {
		last := rec.Frames[n-1]
		if rec.Frames[0] < -longest || last > longest || rec.FramesEnd > longest {
			return nil, damaged("", -1, "a frame is placed more than %d hours away", hours)
		}
		rec.Rate, rec.Variable = pace(rec.Frames, tick, stated)
		if rec.FramesEnd <= last {
			rec.FramesEnd = last + rec.Rate.Period()
		}
		if rec.Duration <= 0 {
			rec.Duration = rec.FramesEnd
		}
	} else if rec.Kind == Video {
		return nil, damaged("", -1, "the picture track holds no frame")
	}
	switch {
	case rec.Duration <= 0:
		return nil, damaged("", -1, "it holds no time at all")
	case rec.Duration > longest:
		return nil, damaged("", -1, "it claims to last more than %d hours", hours)
	}
	return rec, nil
}

// openRegular opens path for reading if it is an ordinary file. It looks
// before it opens, because opening a pipe would wait for ever.
func openRegular(path string) (*os.File, int64, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, 0, outside(path, err)
	}
	if info.IsDir() {
		return nil, 0, &Error{Reason: ErrNotRecording, Path: path, Offset: -1, What: "it is a folder"}
	}
	if !info.Mode().IsRegular() {
		return nil, 0, &Error{Reason: ErrNotRecording, Path: path, Offset: -1, What: "it is not an ordinary file"}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, 0, outside(path, err)
	}
	// Ask again through the handle: this is the file that will be read.
	if info, err = f.Stat(); err != nil {
		f.Close()
		return nil, 0, outside(path, err)
	}
	return f, info.Size(), nil
}
