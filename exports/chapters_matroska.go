package exports

import (
	"bufio"
	"fmt"
	"hash/fnv"
	"io"
	"slices"
	"strings"

	"tautline/timeline"
)

// writeChaptersMatroska writes the chapters as the XML that Matroska's tools
// take. The order of elements is that of the tools' own document type, which is
// stricter than they are. Care line and maker stand in a comment: the format has
// no field for them, so that they do not go into the recording.
func writeChaptersMatroska(w io.Writer, r *timeline.Report, o Options) error {
	chapters, said := Chapters(r, o)
	o.tell(said)
	b := bufio.NewWriter(w)
	b.WriteString("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	writeXMLComment(b, append(headNotes(r, o), sentences(said)...))
	if len(chapters) == 0 {
		b.WriteString("<Chapters/>\n") // an edition without chapters is not allowed
		return b.Flush()
	}
	fmt.Fprintf(b, "<Chapters>\n  <EditionEntry>\n    <EditionUID>%d</EditionUID>\n", matroskaUID(r.Study.ID, 0))
	letters, tag := matroskaLanguage(titleLanguage(r, o))
	for _, c := range chapters {
		b.WriteString("    <ChapterAtom>\n      <ChapterTimeStart>")
		b.Write(appendClock(b.AvailableBuffer(), c.From, '.'))
		b.WriteString("</ChapterTimeStart>\n      <ChapterTimeEnd>")
		b.Write(appendClock(b.AvailableBuffer(), c.To, '.'))
		fmt.Fprintf(b, "</ChapterTimeEnd>\n      <ChapterUID>%d</ChapterUID>\n", matroskaUID(r.Study.ID, c.Mark))
		fmt.Fprintf(b, "      <ChapterDisplay>\n        <ChapterString>%s</ChapterString>\n", xmlText(c.Title))
		fmt.Fprintf(b, "        <ChapterLanguage>%s</ChapterLanguage>\n", letters)
		if tag != "" {
			fmt.Fprintf(b, "        <ChapLanguageIETF>%s</ChapLanguageIETF>\n", tag)
		}
		b.WriteString("      </ChapterDisplay>\n    </ChapterAtom>\n")
	}
	b.WriteString("  </EditionEntry>\n</Chapters>\n")
	return b.Flush()
}

// writeXMLComment writes clean lines as one comment.
func writeXMLComment(b *bufio.Writer, lines []string) {
	b.WriteString("<!--\n")
	for _, line := range lines {
		b.WriteString("  " + xmlComment(line) + "\n")
	}
	b.WriteString("-->\n")
}

// matroskaUID makes the number that names a chapter for good out of the study's
// and the mark's own names: the same every time, different between studies.
func matroskaUID(study string, mark int64) uint64 {
	h := fnv.New64a()
	fmt.Fprintf(h, "%s/%d", study, mark)
	return h.Sum64() | 1 // zero is not allowed
}

// matroskaLanguage gives a language as the two elements that name it: by three
// letters, of which the tools keep a list of their own, and as a BCP 47 tag. Only
// languages of two letters are named, without script and region: tools refuse a
// whole file for one tag that they do not know.
func matroskaLanguage(tag string) (letters, ietf string) {
	primary, _, _ := strings.Cut(strings.ToLower(tag), "-")
	if !slices.Contains(strings.Fields(twoLetters), primary) {
		return "und", ""
	}
	if primary == "en" {
		return "eng", primary
	}
	return "und", primary
}

// twoLetters are the languages that ISO 639-1 names.
const twoLetters = "aa ab ae af ak am an ar as av ay az ba be bg bi bm bn bo br bs ca ce ch co cr cs cu cv cy " +
	"da de dv dz ee el en eo es et eu fa ff fi fj fo fr fy ga gd gl gn gu gv ha he hi ho hr ht hu hy hz " +
	"ia id ie ig ii ik io is it iu ja jv ka kg ki kj kk kl km kn ko kr ks ku kv kw ky la lb lg li ln lo lt lu lv " +
	"mg mh mi mk ml mn mr ms mt my na nb nd ne ng nl nn no nr nv ny oc oj om or os pa pi pl ps pt qu " +
	"rm rn ro ru rw sa sc sd se sg si sk sl sm sn so sq sr ss st su sv sw ta te tg th ti tk tl tn to tr ts tt tw ty " +
	"ug uk ur uz ve vi vo wa wo xh yi yo za zh zu"
