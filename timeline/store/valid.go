package store

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"tautline/timeline"
)

// The longest texts that are kept, in bytes of UTF-8. The schema repeats them.
const (
	maxTitle = 10_000
	maxWords = 10_000
	maxNote  = 100_000
	maxPath  = 32_768
	maxSaid  = 10_000 // a remark, and an answer
	maxName  = 1_000  // of a person, a kept posture, a joint
)

// validStudy says why a study cannot be kept (ErrInvalid), or nil.
func validStudy(st *timeline.Study) error {
	if len(st.ID) != 32 || strings.Trim(st.ID, "0123456789abcdef") != "" {
		return invalid("the study's ID", "it must be 32 hex digits")
	}
	if err := validText("the study's title", st.Title, maxTitle, ""); err != nil {
		return err
	}
	if len(st.Language) == 0 || len(st.Language) > 64 || strings.ContainsFunc(st.Language, notInTag) {
		return invalid("the language", "it must be a tag such as en or pt-BR")
	}
	for what, v := range map[string]float64{"the person's stature": st.Person.StatureM, "the person's mass": st.Person.MassKg} {
		if !(v > 0) || math.IsInf(v, 1) {
			return invalid(what, "it must be more than nothing")
		}
	}
	if st.Person.Sex != "female" && st.Person.Sex != "male" {
		return invalid("the person's sex", "the body tables have female and male")
	}
	if st.Recording != nil {
		if err := validRecording(st.Recording); err != nil {
			return err
		}
	}
	return validSaid(st)
}

// validMark says why a mark cannot be kept, or nil. It does not look at the ID.
func validMark(m *timeline.Mark) error {
	if err := validMoment("a mark", m.At); err != nil {
		return err
	}
	if err := validText("the title", m.Title, maxTitle, ""); err != nil {
		return err
	}
	if err := validText("the posture", m.Words, maxWords, "\t\n\r"); err != nil {
		return err
	}
	return validText("the note", m.Note, maxNote, "\t\n\r")
}

func validRecording(r *timeline.Recording) error {
	if r.Path == "" || strings.ContainsRune(r.Path, 0) {
		return invalid("the recording's path", "it must name a file")
	}
	if len(r.Path) > maxPath || !utf8.ValidString(r.Path) {
		return invalid("the recording's path", "it must be readable text (UTF-8) of at most 32,768 bytes; rename the file")
	}
	if err := validText("the recording's fingerprint", r.Fingerprint, maxTitle, ""); err != nil {
		return err
	}
	if r.Kind != "video" && r.Kind != "audio" {
		return invalid("the recording's kind", "it must be video or audio")
	}
	if r.Duration < 0 || r.Duration > timeline.MaxInstant {
		return invalid("the recording's length "+r.Duration.String(), "it must be between 0 and "+timeline.MaxInstant.String())
	}
	if !(r.FrameRate >= 0) || math.IsInf(r.FrameRate, 1) || r.Size < 0 || r.Frames < 0 || r.Width < 0 || r.Height < 0 {
		return invalid("the recording's figures", "none may be below zero")
	}
	return nil
}

// validText lets any Unicode pass except control characters other than those
// allowed: they cannot be typed on purpose and would break lines of captions.
func validText(what, s string, limit int, allowed string) error {
	if len(s) > limit {
		return invalid(what, fmt.Sprintf("it has %d bytes, the most is %d", len(s), limit))
	}
	if !utf8.ValidString(s) {
		return invalid(what, "it is not readable text (UTF-8)")
	}
	for i, c := range s {
		if unicode.IsControl(c) && !strings.ContainsRune(allowed, c) {
			return invalid(what, fmt.Sprintf("there is a control character (U+%04X) after %s", c, quote(s[:i])))
		}
	}
	return nil
}

func notInTag(c rune) bool {
	return !(c == '-' || '0' <= c && c <= '9' || 'A' <= c && c <= 'Z' || 'a' <= c && c <= 'z')
}

func invalid(what, why string) error {
	return fmt.Errorf("%s %w: %s", what, ErrInvalid, why)
}
