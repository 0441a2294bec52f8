package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"tautline/analysis/body"
	"tautline/exports"
	"tautline/timeline"
	"tautline/timeline/media"
	"tautline/timeline/store"
)

// problemsFound ends a command that did its work and found something wrong. It
// prints nothing of its own.
var errProblems = errors.New("problems found")

// hinted is an error with the command that would work.
type hinted struct {
	error
	try string
}

func (h *hinted) Unwrap() error { return h.error }

// withHint adds a hint to an error that has none of its own.
func withHint(err error, format string, a ...any) error {
	if err == nil {
		return nil
	}
	return &hinted{err, fmt.Sprintf(format, a...)}
}

// hints is the one table from what went wrong to a command that works. The
// first that matches is used.
var hints = []struct {
	is  error
	try string
}{
	{store.ErrExists, "tautline list STUDY, to see what is there, or another name"},
	{store.ErrNotStudy, "tautline new NAME.study RECORDING"},
	{store.ErrNewer, "tautline --version, and a newer version of tautline"},
	{store.ErrDamaged, "tautline check STUDY, on a copy from before"},
	{store.ErrNoMark, "tautline list STUDY"},
	{store.ErrBusy, "the same command again in a moment"},
	{store.ErrReadOnly, "tautline copy STUDY NEW.study, in a folder that may be written"},
	{store.ErrMoved, "the same command again"},
	{store.ErrNothingToUndo, "tautline list STUDY"},
	{store.ErrNothingToRedo, "tautline list STUDY"},
	{media.ErrNotRecording, "tautline new STUDY, without a recording for now"},
	{media.ErrTruncated, "tautline new STUDY, without a recording for now"},
	{media.ErrDamaged, "tautline new STUDY, without a recording for now"},
	{media.ErrNotFound, "tautline recording STUDY FILE"},
	{fs.ErrNotExist, "tautline demo, for a study to look at"},
}

// outcome prints what a command ended with and returns the exit code.
func outcome(stderr io.Writer, err error) int {
	if err == nil {
		return 0
	}
	if errors.Is(err, errProblems) {
		return 1
	}
	if errors.Is(err, context.Canceled) {
		fmt.Fprintln(stderr, "tautline: stopped")
		return 1
	}
	code, try := 1, ""
	var line *lineError
	var own *hinted
	var when *timeline.TimeError
	var format *exports.FormatError
	var chapters *exports.ChapterListError
	var person *body.PersonError
	switch {
	case errors.As(err, &line):
		code, try = 2, line.try
	case errors.As(err, &own):
		try = own.try
	case errors.As(err, &when):
		code, try = 2, "tautline mark add STUDY 1:23.4 \"side reach\""
	case errors.As(err, &format):
		code, try = 2, "tautline export --help"
	case errors.As(err, &chapters):
		try = "tautline mark add STUDY TIME TITLE"
	case errors.As(err, &person):
		code, try = 2, "tautline new STUDY --stature-m 1.7 --mass-kg 65 --sex female"
	default:
		for _, h := range hints {
			if errors.Is(err, h.is) {
				try = h.try
				break
			}
		}
	}
	if strings.HasPrefix(err.Error(), "unknown command ") { // cobra's own, for parents without arguments
		code, try = 2, "tautline --help"
	}
	fmt.Fprintf(stderr, "tautline: %s\n", oneLine(err.Error()))
	if try != "" {
		fmt.Fprintf(stderr, "try: %s\n", try)
	}
	return code
}

// oneLine keeps an error on one line, whatever text it quotes.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
