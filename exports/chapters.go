package exports

import (
	"fmt"
	"io"
	"regexp"
	"strings"

	"tautline/timeline"
)

// Chapter is one phase as a chapter.
type Chapter struct {
	Mark     int64
	From, To timeline.Instant // To is the next chapter's From, or the end
	Title    string           // clean, never empty
}

// Chapters lists the phases that a player can show: those with some length
// within the recording. The second result says in one line each what was left
// out and why.
func Chapters(r *timeline.Report, o Options) ([]Chapter, []string) {
	o = o.withDefaults()
	chapters := []Chapter{}
	var empty, beyond []int
	titles := newTitler(r, o)
	last, cutOff := end(r), end(r) < r.Study.End()
	for i := range r.Phases {
		p := &r.Phases[i]
		from, to := max(0, p.From), min(p.To, last)
		switch {
		case from >= last && cutOff:
			beyond = append(beyond, p.Number)
		case to <= from:
			empty = append(empty, p.Number)
		default:
			chapters = append(chapters, Chapter{p.Mark.ID, from, to, titles.title(p)})
		}
	}
	var said []string
	if len(empty) > 0 {
		said = append(said, "left out, because they have no length: phases "+numbers(empty))
	}
	if len(beyond) > 0 {
		said = append(said, "left out, because they lie past the end of the recording: phases "+numbers(beyond))
	}
	return chapters, said
}

// writeChaptersVTT writes the chapters as a WebVTT track of that kind: disjoint
// cues whose payload is escaped text and nothing else.
func writeChaptersVTT(w io.Writer, r *timeline.Report, o Options) error {
	chapters, said := Chapters(r, o)
	notes := append(headNotes(r, o), sentences(said)...)
	o.tell(said)
	cues := make([]Cue, len(chapters))
	for i, c := range chapters {
		cues[i] = Cue{fmt.Sprintf("m%d", c.Mark), c.From, c.To, []string{c.Title}}
	}
	return track{notes: notes, cues: cues}.write(w)
}

// The rules of chapter lists in the descriptions of video platforms: the first
// starts at 0:00, there are at least three, each lasts at least ten seconds, and
// times are whole seconds.
const (
	listLeast  = 3
	listLength = 10 // s
)

// ChapterListError says that a study has too few chapters for a list.
type ChapterListError struct{ Chapters int }

// Error says what is there and what a list needs.
func (e *ChapterListError) Error() string {
	return fmt.Sprintf("a chapter list needs at least %d chapters of %d seconds or more; this study has %d", listLeast, listLength, e.Chapters)
}

// ListItem is one line of a chapter list.
type ListItem struct {
	Second int
	Title  string
}

// ChapterList fits the chapters to the platforms' rules. Where it had to change
// something it says so, one line each; where that is not enough it refuses
// with a *ChapterListError. The rules are applied to the rounded times, as the
// platforms do.
func ChapterList(r *timeline.Report, o Options) ([]ListItem, []string, error) {
	chapters, said := Chapters(r, o)
	items := []ListItem{}
	last := int(end(r) / 1000)
	for _, c := range chapters {
		item := ListItem{int(c.From / 1000), listTitle(c)}
		switch {
		case len(items) == 0 && item.Second >= listLength:
			items = append(items, ListItem{0, listStart})
			said = append(said, fmt.Sprintf("added %q at 0:00, because a list starts there and the first mark is at %s", listStart, c.From.Short()))
		case len(items) == 0 && item.Second > 0:
			said = append(said, fmt.Sprintf("%q starts at 0:00 instead of %s, because a list starts there", item.Title, c.From.Short()))
			item.Second = 0
		}
		if n := len(items); n > 0 && item.Second-items[n-1].Second < listLength {
			said = append(said, fmt.Sprintf("left out %q at %s, because %q before it would last less than %d seconds", item.Title, c.From.Short(), items[n-1].Title, listLength))
			continue
		}
		if len(items) > 0 && last-item.Second < listLength {
			said = append(said, fmt.Sprintf("left out %q at %s, because less than %d seconds are left", item.Title, c.From.Short(), listLength))
			continue
		}
		items = append(items, item)
	}
	if len(items) < listLeast {
		return nil, said, &ChapterListError{len(items)}
	}
	return items, said, nil
}

// listStart names what comes before the first mark.
const listStart = "Start"

// listTitle is a title that does not look like a line of its own: without a
// time at its front.
func listTitle(c Chapter) string {
	if title := strings.TrimSpace(timeFirst.ReplaceAllString(c.Title, "")); title != "" {
		return title
	}
	return "At " + strings.ReplaceAll(c.From.Short(), ":", ".")
}

var timeFirst = regexp.MustCompile(`^(?:[\s(\[\-–—]*\d+:\d\d(?::\d\d)?(?:\.\d+)?[\s)\]\-–—]*)+`)

// writeChapterList writes the list to paste into a description, and below it the
// care line and the maker, none of which looks like a line of the list. What was
// changed to make the list valid is told to Warn and not written into it.
func writeChapterList(w io.Writer, r *timeline.Report, o Options) error {
	items, said, err := ChapterList(r, o)
	o.tell(said)
	if err != nil {
		return err
	}
	var b strings.Builder
	for _, item := range items {
		fmt.Fprintf(&b, "%s %s\n", timeline.Instant(item.Second*1000).Short(), item.Title)
	}
	b.WriteString("\n" + strings.Join(careNotes(r, o), "\n") + "\n")
	_, err = io.WriteString(w, b.String())
	return err
}
