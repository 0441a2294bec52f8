package exports

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"tautline/timeline"
)

// mediaObject is a recording as schema.org describes it, for the page that shows
// it. Care line and maker stand in the description.
type mediaObject struct {
	Context     string       `json:"@context"`
	Type        string       `json:"@type"`
	Name        string       `json:"name"`
	Description string       `json:"description"`
	Language    string       `json:"inLanguage"`
	Duration    string       `json:"duration"`
	ContentURL  string       `json:"contentUrl,omitempty"`
	Parts       []clipObject `json:"hasPart"`
}

// clipObject is one phase; offsets are in seconds.
type clipObject struct {
	Type  string `json:"@type"`
	Name  string `json:"name"`
	Start Number `json:"startOffset"`
	End   Number `json:"endOffset"`
	URL   string `json:"url,omitempty"`
}

// writeClips writes the chapters as schema.org clips of the recording, to be put
// into a page's head as they are: the characters that could end a script element
// are escaped.
func writeClips(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	chapters, said := Chapters(r, o)
	more := "the page has to add uploadDate and thumbnailUrl, which a search engine asks for"
	if o.URL == "" {
		more = "the clips have no address, because none was given; " + more
	}
	o.tell(append(said, more))
	doc := mediaObject{
		Context: "https://schema.org", Type: "VideoObject",
		Name:        cmp.Or(cut(cleanLine(r.Study.Title), longTitle), recordingName(r), "Recording"),
		Description: strings.Join(careNotes(r, o), " "), Language: titleLanguage(r, Options{}),
		Duration: isoDuration(end(r)), ContentURL: o.URL, Parts: make([]clipObject, len(chapters)),
	}
	if rec := r.Study.Recording; rec != nil && rec.Kind == "audio" {
		doc.Type = "AudioObject"
	}
	for i, c := range chapters {
		doc.Parts[i] = clipObject{"Clip", c.Title, Number(c.From.Seconds()), Number(c.To.Seconds()), ""}
		if o.URL != "" {
			doc.Parts[i].URL = o.URL + "#" + fragment(c.From, c.To)
		}
	}
	return encode(w, doc)
}

// isoDuration writes a length as ISO 8601 does, in whole seconds, which every
// reader takes, and rounded up, so that no clip ends after it: PT40S.
func isoDuration(t timeline.Instant) string { return fmt.Sprintf("PT%dS", (t+999)/1000) }
