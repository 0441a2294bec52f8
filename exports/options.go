// Package exports turns a finished report into files and screens: wording,
// captions, chapters, notes, JSON and terminal text. It computes nothing about
// the body and writes only to the io.Writer it is given; the same report and
// options always give the same bytes.
//
// Every format is one row of the table in format.go, every sentence that a
// reader meets stands in a file named wording*.go, and every text that came
// from a person passes through clean.go on its way out.
package exports

import (
	"fmt"
	"strings"

	"tautline/timeline"
)

// Voice chooses between everyday names and the names of the trade.
type Voice string

const (
	Plain     Voice = "plain"     // "the calf is drawn long on both sides"
	Technical Voice = "technical" // "the plantar flexors are drawn long on both sides"
)

// ParseVoice reads the name of a voice.
func ParseVoice(name string) (Voice, error) {
	switch v := Voice(name); v {
	case Plain, Technical:
		return v, nil
	}
	return "", fmt.Errorf("there is no voice %q: the voices are %s and %s", name, Plain, Technical)
}

// TitleLength is where players commonly cut a chapter's title themselves.
const TitleLength = 70

// Options is what a person may choose about an export. The zero value works:
// every zero field takes its default.
type Options struct {
	Tool  string // the version of the tool that every file carries: "1.2.0"
	Voice Voice  // Plain unless said
	Names Names  // English unless said; Latin brings the technical voice with it
	Pace  Pace   // reading limits of captions; zero fields take DefaultPace's
	// Title is the greatest length of a chapter's title, in characters as a
	// reader counts them; longer ones are cut at the end of a word. TitleLength
	// unless said.
	Title int
	// TitleGroups lets a chapter's title go on with what works and what is drawn
	// long in its phase, as far as Title has room.
	TitleGroups bool
	// Share leaves the bottom of the picture to the teacher's own captions: ours
	// stand at its top.
	Share bool
	// URL is where the recording is published, for files that point into it; where
	// it is empty they point to its file by name, or nowhere.
	URL string
	// LinkRecording lets the review page play the recording that lies beside it;
	// without it the page goes without.
	LinkRecording bool
	// GuardCells puts an apostrophe before texts in tables that a spreadsheet
	// would take for formulas.
	GuardCells bool
	Width      int // columns of terminal text; 88 unless said
	// Warn is told, in one line each, what a file does not hold or what was
	// changed to make it valid: phases too short for a caption, chapters that
	// were merged. Nil: nobody is told, except where the file itself says it.
	Warn func(string)
}

// withDefaults fills the fields that nobody chose.
func (o Options) withDefaults() Options {
	if o.Voice == "" && o.Names == Latin {
		o.Voice = Technical
	}
	if o.Voice == "" {
		o.Voice = Plain
	}
	o.Pace = o.Pace.withDefaults()
	if o.Title <= 0 {
		o.Title = TitleLength
	}
	if o.Width <= 0 {
		o.Width = 88
	}
	return o
}

// tell passes lines on to Warn, the first of very many.
func (o Options) tell(lines []string) {
	const most = 20
	if o.Warn == nil {
		return
	}
	for i, line := range lines {
		if i == most {
			o.Warn(fmt.Sprintf("and %d more like these", len(lines)-most))
			return
		}
		o.Warn(line)
	}
}

// maker says what made a file and from what: the same words in every format.
func (o Options) maker(r *timeline.Report) string {
	said := []string{"Made by " + o.tool()}
	if r.Model != nil && r.Model.Version != "" {
		said = append(said, "body model "+cleanLine(r.Model.Version))
	}
	return strings.Join(append(said, fmt.Sprintf("study revision %d", r.Study.Revision)), ", ")
}

// tool names the tool with its version.
func (o Options) tool() string {
	return strings.TrimSpace("tautline " + cleanLine(o.Tool))
}
