package media

import (
	"slices"
	"time"
)

// End gives the last instant of the recording's clock. Where pictures start
// after time zero it is later than Duration, which counts from their start.
func (rec *Recording) End() time.Duration { return max(rec.Duration, rec.FramesEnd) }

// FrameAt gives the time at which frame n appears; the first is frame 0. It is
// not ok when there is no such frame.
func (rec *Recording) FrameAt(n int) (t time.Duration, ok bool) {
	if n < 0 || n >= len(rec.Frames) {
		return 0, false
	}
	return rec.Frames[n], true
}

// FrameNear gives the frame whose time is nearest to t, the earlier of two
// equally near; -1 when there are no frames.
func (rec *Recording) FrameNear(t time.Duration) int {
	i, exact := slices.BinarySearch(rec.Frames, t)
	switch {
	case exact || i == 0 && len(rec.Frames) > 0:
		return i
	case i == len(rec.Frames):
		return i - 1
	case t-rec.Frames[i-1] <= rec.Frames[i]-t:
		return i - 1
	}
	return i
}

// FrameShown gives the frame that is on screen at t: the last one to have
// appeared, or the first before any has; -1 when there are no frames.
func (rec *Recording) FrameShown(t time.Duration) int {
	i, exact := slices.BinarySearch(rec.Frames, t)
	if exact || i == 0 && len(rec.Frames) > 0 {
		return i
	}
	return i - 1
}

// SeekTime gives the middle of frame n's stay on screen. A player told to go
// there shows frame n, where one told to go to the frame's own time may round
// down into the frame before. It is not ok when there is no such frame.
func (rec *Recording) SeekTime(n int) (t time.Duration, ok bool) {
	if n < 0 || n >= len(rec.Frames) {
		return 0, false
	}
	end := rec.FramesEnd
	if n+1 < len(rec.Frames) {
		end = rec.Frames[n+1]
	}
	return rec.Frames[n] + (end-rec.Frames[n])/2, true
}
