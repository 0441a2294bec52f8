package exports

import (
	"io"
	"path"
	"strings"

	"tautline/timeline"
)

// podcastChapters is the podcast namespace's chapter file, version 1.2. Care
// line and maker stand in its description.
type podcastChapters struct {
	Version     string           `json:"version"`
	Title       string           `json:"title,omitempty"`
	Description string           `json:"description"`
	FileName    string           `json:"fileName,omitempty"`
	Chapters    []podcastChapter `json:"chapters"`
}

// podcastChapter is one chapter; times are in seconds.
type podcastChapter struct {
	Start Number `json:"startTime"`
	End   Number `json:"endTime"`
	Title string `json:"title"`
}

// writeChaptersPodcast writes the chapters as podcast chapters JSON.
func writeChaptersPodcast(w io.Writer, r *timeline.Report, o Options) error {
	chapters, said := Chapters(r, o)
	o.tell(said)
	doc := podcastChapters{
		Version: "1.2.0", Title: cut(cleanLine(r.Study.Title), longTitle), FileName: recordingName(r),
		Description: strings.Join(append(careNotes(r, o), sentences(said)...), " "),
		Chapters:    make([]podcastChapter, len(chapters)),
	}
	for i, c := range chapters {
		doc.Chapters[i] = podcastChapter{Number(c.From.Seconds()), Number(c.To.Seconds()), c.Title}
	}
	return encode(w, doc)
}

// recordingName is the name of the recording's file without its folder, which
// is about the maker's machine; empty without a recording.
func recordingName(r *timeline.Report) string {
	if r.Study.Recording == nil || r.Study.Recording.Path == "" {
		return ""
	}
	return cleanLine(path.Base(strings.ReplaceAll(r.Study.Recording.Path, `\`, "/")))
}
