package exports

import (
	"fmt"
	"io"
	"net/url"
	"strconv"
	"strings"

	"tautline/timeline"
)

// annotationPage is a set of W3C Web Annotations. The first of them is about the
// whole recording and says the care line and who made the set.
type annotationPage struct {
	Context string          `json:"@context"`
	ID      string          `json:"id"`
	Type    string          `json:"type"`
	PartOf  annotationSet   `json:"partOf"`
	Items   []webAnnotation `json:"items"`
}

type annotationSet struct {
	ID    string `json:"id"`
	Type  string `json:"type"`
	Label string `json:"label"`
	Total int    `json:"total"`
}

type webAnnotation struct {
	ID         string           `json:"id"`
	Type       string           `json:"type"`
	Motivation string           `json:"motivation"`
	Generator  software         `json:"generator"`
	Body       []textualBody    `json:"body"`
	Target     annotationTarget `json:"target"`
}

type software struct {
	Type string `json:"type"`
	Name string `json:"name"`
}

type textualBody struct {
	Type     string `json:"type"`
	Purpose  string `json:"purpose"`
	Value    string `json:"value"`
	Format   string `json:"format"`
	Language string `json:"language"`
}

type annotationTarget struct {
	Source   string            `json:"source"`
	Selector *fragmentSelector `json:"selector,omitempty"`
}

type fragmentSelector struct {
	Type       string `json:"type"`
	ConformsTo string `json:"conformsTo"`
	Value      string `json:"value"`
}

// writeAnnotations writes a Web Annotation for every phase, whose target is a
// media fragment of the recording: the title as a tag, the findings as a
// description, cautions and doubts as comments.
func writeAnnotations(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	chapters, said := Chapters(r, Options{Title: o.Title})
	o.tell(said)
	id := "urn:uuid:" + uuid(r.Study.ID)
	source := o.URL
	if source == "" {
		if source = relative(recordingName(r)); source == "" {
			source = id
		}
	}
	sentences := sentenceLanguage(r)
	page := annotationPage{
		Context: "http://www.w3.org/ns/anno.jsonld", ID: id + "#page", Type: "AnnotationPage",
		PartOf: annotationSet{id, "AnnotationCollection", cut(cleanLine(r.Study.Title), longTitle), len(chapters) + 1},
	}
	add := func(name, motivation string, target annotationTarget, body ...textualBody) {
		kept := []textualBody{}
		for _, b := range body {
			if b.Value != "" {
				b.Type, b.Format = "TextualBody", "text/plain"
				kept = append(kept, b)
			}
		}
		page.Items = append(page.Items, webAnnotation{id + "#" + name, "Annotation", motivation, software{"Software", o.tool()}, kept, target})
	}
	add("care", "commenting", annotationTarget{Source: source},
		textualBody{Purpose: "commenting", Value: strings.Join(careNotes(r, o), "\n"), Language: sentences})
	sp := o.speaker(r.Model)
	of := phases(r)
	for _, c := range chapters {
		p := of[c.Mark]
		var describing, commenting []string
		if p.Findings != nil {
			describing = textsOf(sp.posture(p.Findings))
			for _, c := range p.Findings.Cautions {
				commenting = append(commenting, cautionWords(c))
			}
			for _, d := range doubts(p.Findings) {
				commenting = append(commenting, doubtWords(d))
			}
		}
		describing = append(describing, textsOf(sp.movement(p.Movement))...)
		describing = append(describing, textsOf(sp.wayWork(p.Movement))...)
		target := annotationTarget{source, &fragmentSelector{"FragmentSelector", "http://www.w3.org/TR/media-frags/", fragment(c.From, c.To)}}
		add(fmt.Sprintf("m%d", c.Mark), "describing", target,
			textualBody{Purpose: "tagging", Value: c.Title, Language: titleLanguage(r, Options{})},
			textualBody{Purpose: "describing", Value: strings.Join(describing, "\n"), Language: sentences},
			textualBody{Purpose: "commenting", Value: strings.Join(commenting, "\n"), Language: sentences})
	}
	return encode(w, page)
}

// phases finds phases by the IDs of their marks.
func phases(r *timeline.Report) map[int64]*timeline.PhaseReport {
	of := make(map[int64]*timeline.PhaseReport, len(r.Phases))
	for i := range r.Phases {
		of[r.Phases[i].Mark.ID] = &r.Phases[i]
	}
	return of
}

// textsOf gives statements as sentences.
func textsOf(all []Statement) []string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = s.Text
	}
	return out
}

// fragment is a stretch of time as a media fragment: half open, in seconds.
func fragment(from, to timeline.Instant) string {
	return "t=" + shortSeconds(from) + "," + shortSeconds(to)
}

// shortSeconds writes a time in seconds with no more decimals than it has.
func shortSeconds(t timeline.Instant) string {
	return strconv.FormatFloat(t.Seconds(), 'f', -1, 64)
}

// relative writes a file's name as an address relative to the page it lies
// beside.
func relative(name string) string {
	if name == "" {
		return ""
	}
	return (&url.URL{Path: name}).String()
}

// uuid writes a study's ID in the groups of a UUID.
func uuid(id string) string {
	if len(id) != 32 {
		return id
	}
	return strings.Join([]string{id[:8], id[8:12], id[12:16], id[16:20], id[20:]}, "-")
}
