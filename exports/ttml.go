package exports

import (
	"bufio"
	"io"
	"strings"

	"tautline/timeline"
)

// writeCaptionsTTML writes the captions as TTML in the IMSC 1.1 text profile: one
// region, clock times, an id on every paragraph. Care line and maker stand in the
// description at its head.
//
// It is ours because the subtitle package writes neither the language of most
// files, which the schema asks for, nor ids, the profile or a declaration.
func writeCaptionsTTML(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	cues, silent, err := Captions(r, o)
	if err != nil {
		return err
	}
	o.tell(append(silent.words(), foreign(r)...))
	b := bufio.NewWriter(w)
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>
<tt xmlns="http://www.w3.org/ns/ttml" xmlns:ttm="http://www.w3.org/ns/ttml#metadata" xmlns:ttp="http://www.w3.org/ns/ttml#parameter" xmlns:tts="http://www.w3.org/ns/ttml#styling"
    xml:lang="` + sentenceLanguage(r) + `" ttp:contentProfiles="http://www.w3.org/ns/ttml/profile/imsc1.1/text" ttp:timeBase="media">
  <head>
    <metadata>
      <ttm:title>` + xmlText(cut(cleanLine(r.Study.Title), longTitle)) + `</ttm:title>
      <ttm:desc>` + xmlText(strings.Join(append(careNotes(r, o), silenceNotes(r, silent)...), " ")) + `</ttm:desc>
    </metadata>
    <styling>
      <style xml:id="line" tts:backgroundColor="#000000cc" tts:color="white" tts:fontFamily="proportionalSansSerif"/>
    </styling>
    <layout>
      <region xml:id="place" tts:origin="10% 5%" tts:extent="80% 90%" tts:displayAlign="` + ttmlAlign(o) + `" tts:textAlign="center"/>
    </layout>
  </head>
  <body region="place">
    <div>
`)
	for _, c := range cues {
		b.WriteString(`      <p xml:id="` + c.ID + `" begin="`)
		b.Write(appendClock(b.AvailableBuffer(), c.From, '.'))
		b.WriteString(`" end="`)
		b.Write(appendClock(b.AvailableBuffer(), c.To, '.'))
		b.WriteString(`"><span style="line">`)
		for i, line := range c.Lines {
			if i > 0 {
				b.WriteString("<br/>")
			}
			xmlEscapes.WriteString(b, line)
		}
		b.WriteString("</span></p>\n")
	}
	b.WriteString("    </div>\n  </body>\n</tt>\n")
	return b.Flush()
}

// ttmlAlign is where in its region text stands.
func ttmlAlign(o Options) string {
	if o.Share {
		return "before"
	}
	return "after"
}
