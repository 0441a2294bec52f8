package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"tautline/analysis/body"
	"tautline/exports"
	"tautline/timeline"
	"tautline/timeline/media"
	"tautline/timeline/store"
)

// errProblems ends a command that did its work and found something wrong. It
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
// first that matches is used; where none does, the command's own help. STUDY
// stands for the study that the command was given, COPY for a free name beside
// where one stands, AGAIN for the whole line.
var hints = []struct {
	is  error
	try string
}{
	{store.ErrNewer, "tautline --version"},
	{store.ErrDamaged, "tautline check STUDY"},
	{store.ErrNoMark, "tautline list STUDY"},
	{store.ErrNoRemark, "tautline remark list STUDY"},
	{store.ErrBusy, "AGAIN"},
	{store.ErrReadOnly, "tautline copy STUDY COPY"},
	{store.ErrMoved, "AGAIN"},
	{store.ErrNothingToUndo, "tautline list STUDY"},
	{store.ErrNothingToRedo, "tautline list STUDY"},
	{media.ErrNotFound, "tautline recording STUDY --find ~"},
}

// outcome prints what command c ended with, in one line and a second with a
// command that would work, and returns the exit code.
func outcome(stderr io.Writer, c *cobra.Command, typed []string, err error) int {
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
	code, try := 1, c.CommandPath()+" --help"
	var line *lineError
	var own *hinted
	var when *timeline.TimeError
	var format *exports.FormatError
	var chapters *exports.ChapterListError
	var look *exports.LookError
	var person *body.PersonError
	switch {
	case errors.As(err, &line):
		code, try = 2, line.try
	case errors.As(err, &own):
		try = own.try
	case errors.As(err, &when):
		code, try = 2, retype(c, when.Text, "0:05")
	case errors.As(err, &format):
		code, try = 2, retype(c, format.Name, nearest(fold(format.Name), formatNames(), 1)[0])
	case errors.As(err, &look):
		code, try = 2, retype(c, look.Name, nearest(fold(look.Name), look.Known, 1)[0])
	case errors.As(err, &chapters):
		try = "tautline mark add STUDY 0:30 'another posture'"
	case errors.As(err, &person):
		code, try = 2, "tautline new STUDY --stature-m 1.7 --mass-kg 65 --sex female"
	case errors.Is(err, store.ErrInvalid):
		code = 2
	default:
		for _, h := range hints {
			if errors.Is(err, h.is) {
				try = h.try
				break
			}
		}
	}
	fmt.Fprintf(stderr, "tautline: %s\ntry: %s\n", oneLine(err.Error()), fill(try, c, typed))
	return code
}

// fill puts the names of this command line into a hint.
func fill(try string, c *cobra.Command, typed []string) string {
	again := []string{"tautline"}
	for _, a := range typed {
		again = append(again, word(a))
	}
	study, copied := "STUDY", "COPY"
	if a := c.Flags().Args(); len(a) > 0 && strings.Contains(c.Use, "STUDY") {
		study, copied = file(a[0]), file(free("copy-of-"+filepath.Base(a[0])))
	}
	return strings.NewReplacer("STUDY", study, "COPY", copied, "AGAIN", strings.Join(again, " ")).Replace(try)
}

// oneLine keeps an error on one line, whatever text it quotes.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
