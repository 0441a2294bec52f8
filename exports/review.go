package exports

import (
	"encoding/json"
	"fmt"
	"io"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"

	"tautline/analysis"
	"tautline/exports/draw"
	"tautline/exports/figure"
	"tautline/timeline"
)

// Size of a figure on the review page, in its own units.
const (
	reviewWide = 320
	reviewHigh = 410
)

// A page holds this many pictures at most; of more postures it shows fewer sides.
const mostPictures = 160

// reviewStudy is what the page's script reads.
type reviewStudy struct {
	EndMs    int64             `json:"end_ms"`
	Score    reviewScore       `json:"score"`
	Words    map[string]string `json:"words"`
	Phases   []reviewPhase     `json:"phases"`
	Postures []reviewPosture   `json:"postures"`
}

// reviewScore is where time begins and ends in the score, as shares of its width.
type reviewScore struct {
	Left  float64 `json:"left"`
	Right float64 `json:"right"`
}

type reviewPhase struct {
	Title   string   `json:"title"`
	Span    string   `json:"span"`
	Note    string   `json:"note"`
	Words   string   `json:"words"`
	FromMs  int64    `json:"from_ms"`
	Posture int      `json:"posture"` // index into postures
	MovesTo string   `json:"moves_to"`
	Moves   []string `json:"moves"`
}

type reviewPosture struct {
	Views  []string     `json:"views"`
	Said   []reviewSaid `json:"said"`
	Care   []string     `json:"care"`
	Pulls  []string     `json:"pulls"`
	Doubts []string     `json:"doubts"`
}

type reviewSaid struct {
	Kind    string   `json:"kind"`
	Text    string   `json:"text"`
	Figures string   `json:"figures"`
	Why     []string `json:"why"`
}

// writeReview writes the whole study as one page that opens anywhere with nothing
// installed: a playhead over the score, the figure from several sides, findings
// and their reasons. The recording is linked where the options ask for it.
func writeReview(w io.Writer, r *timeline.Report, o Options) error {
	o = o.withDefaults()
	page := &review{r: r, o: o, speaker: newSpeaker(r.Model, o.Voice)}
	page.study()
	pictures := page.pictures()
	data, err := json.Marshal(page.data)
	if err != nil {
		return err
	}
	h := newHTML(w, sheetTitle(r)+": review", o.maker(r), pageFile("base.css")+pageFile("review.css"), pageFile("review.js"))
	h.put("<main data-now=\"\">\n<header class=\"top\">\n")
	h.element("h1", "", sheetTitle(r))
	h.put("</header>\n")
	h.caution()
	h.put("<noscript><p>" + draw.Escape(reviewNoScript) + "</p></noscript>\n<div class=\"desk\">\n<div class=\"card\">\n")
	if rec := r.Study.Recording; rec != nil && o.LinkRecording {
		h.put("<video controls preload=\"metadata\" src=\"" + draw.Escape(besidePage(rec.Path)) + "\" aria-label=\"" + reviewWords["recording"] + "\"></video>\n")
		h.element("p", "id=\"missing\" hidden", reviewWords["missing"])
	}
	h.put("<div class=\"stage\" id=\"figure\"></div>\n<div class=\"row\" id=\"views\" role=\"group\" aria-label=\"" + reviewWords["views"] + "\">\n")
	for _, v := range reviewViews {
		h.put("<button type=\"button\" value=\"" + v + "\" aria-pressed=\"false\">" + v + "</button>\n")
	}
	h.put("</div>\n<div class=\"row\">\n")
	for _, b := range [][2]string{{"before", reviewWords["previous"]}, {"play", reviewWords["play"]}, {"after", reviewWords["next"]}} {
		class := ""
		if b[0] == "play" {
			class = " class=\"main\""
		}
		h.put("<button type=\"button\" id=\"" + b[0] + "\"" + class + ">" + b[1] + "</button>\n")
	}
	fmt.Fprintf(h, "<input type=\"range\" id=\"scrub\" min=\"0\" max=\"%d\" step=\"100\" value=\"0\" aria-label=\"%s\">\n<output id=\"time\" for=\"scrub\"></output>\n</div>\n", page.data.EndMs, reviewWords["time"])
	h.put("<p class=\"quiet\">" + reviewKeys + "</p>\n<ul class=\"marks\" id=\"marks\" tabindex=\"0\" aria-label=\"" + reviewWords["phases"] + "\">\n")
	for _, p := range page.data.Phases {
		fmt.Fprintf(h, "<li><button type=\"button\" value=\"%d\">%s</button></li>\n", p.FromMs, draw.Escape(cut(p.Title, 60)))
	}
	if len(page.data.Phases) == 0 {
		h.element("li", "", noMarksYet)
	}
	h.put("</ul>\n</div>\n<div class=\"card findings\" id=\"findings\" tabindex=\"0\" role=\"region\" aria-label=\"" + reviewWords["findings"] + "\"></div>\n</div>\n<p id=\"said\" role=\"status\" class=\"quiet\"></p>\n")
	score, _ := scorePicture(r, o)
	h.put("<div class=\"score\" role=\"region\" tabindex=\"0\" aria-label=\"" + reviewWords["score"] + "\">\n<div id=\"score\">\n" + score.Inline("score-") + "\n<div class=\"head\" id=\"head\"></div>\n</div>\n</div>\n")
	h.put("<div class=\"score\">\n" + legendPicture(noteKeysWide).Inline("keys-") + "\n</div>\n")
	h.element("p", "class=\"quiet\"", o.maker(r)+".")
	h.put("</main>\n")
	for _, p := range pictures {
		h.put("<template id=\"" + p.id + "\">" + p.text + "</template>\n")
	}
	h.put("<script type=\"application/json\" id=\"study\">")
	h.Write(data) // the writer remembers an error
	h.put("</script>\n")
	return h.end()
}

// besidePage is the recording's name beside the page, safe in a link.
func besidePage(file string) string {
	name := path.Base(strings.ReplaceAll(file, `\`, "/"))
	var b strings.Builder
	for _, c := range []byte(name) {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || strings.IndexByte("-._~", c) >= 0 {
			b.WriteByte(c)
		} else {
			fmt.Fprintf(&b, "%%%02X", c)
		}
	}
	return b.String()
}

type review struct {
	r       *timeline.Report
	o       Options
	speaker *speaker
	data    reviewStudy
	todo    []todoPicture
}

// reviewViews are the sides that the page can show.
var reviewViews = []string{"front", "back", "left", "right"}

type todoPicture struct {
	id, text string
	view     string
	phase    *timeline.PhaseReport
}

// study fills in what the script reads: each different posture once.
func (v *review) study() {
	v.data = reviewStudy{EndMs: int64(v.r.Study.End()), Words: reviewWords, Phases: []reviewPhase{}, Postures: []reviewPosture{},
		Score: reviewScore{(scorePad + scoreNames) / scoreWide, (scoreWide - scorePad) / scoreWide}}
	known := map[*analysis.Findings]int{}
	var with []int
	for i := range v.r.Phases {
		p := &v.r.Phases[i]
		at, ok := known[p.Findings]
		if !ok {
			at = len(v.data.Postures)
			known[p.Findings] = at
			v.data.Postures = append(v.data.Postures, v.posture(p.Findings))
			if drawn(p.Findings) {
				with = append(with, i)
			}
		}
		v.data.Phases = append(v.data.Phases, v.phase(p, at))
	}
	sides := reviewViews
	switch n := len(with); {
	case n > mostPictures/2:
		sides = []string{bestView}
	case n > mostPictures/len(reviewViews):
		sides = reviewViews[:2]
	}
	if len(with) > mostPictures {
		v.o.tell([]string{fmt.Sprintf("the review page shows the pictures of %d postures; %d have none", mostPictures, len(with)-mostPictures)})
		with = with[:mostPictures]
	}
	for _, i := range with {
		at := v.data.Phases[i].Posture
		for _, side := range sides {
			v.todo = append(v.todo, todoPicture{id: fmt.Sprintf("picture-%d-%s", at, side), view: side, phase: &v.r.Phases[i]})
			v.data.Postures[at].Views = append(v.data.Postures[at].Views, side)
		}
	}
}

func (v *review) phase(p *timeline.PhaseReport, at int) reviewPhase {
	a := reviewPhase{Title: pictureTitle(p), Span: phaseSpan(p) + ".", Note: cleanLine(p.Mark.Note), FromMs: int64(p.From), Posture: at, Moves: []string{}}
	if words := cleanLine(p.Reading.Canonical); words != "" {
		a.Words = upperFirst(strings.TrimRight(words, ".")) + "."
	}
	if p.Movement != nil && p.Next != nil {
		a.MovesTo = upperFirst(toward(p.Next.Title))
		for _, all := range [][]Statement{v.speaker.movement(p.Movement), v.speaker.wayWork(p.Movement)} {
			for i, s := range all {
				if i == mostSaid {
					a.Moves = append(a.Moves, andMore(len(all)-mostSaid))
					break
				}
				a.Moves = append(a.Moves, s.Text)
			}
		}
	}
	return a
}

func (v *review) posture(f *analysis.Findings) reviewPosture {
	a := reviewPosture{Views: []string{}, Said: []reviewSaid{}, Care: []string{}, Pulls: []string{}, Doubts: []string{}}
	if f == nil {
		return a
	}
	for _, s := range v.speaker.posture(f) {
		said := reviewSaid{Kind: string(s.Kind), Text: s.Text, Figures: figures(s, v.o.Voice), Why: []string{}}
		for _, g := range s.Groups[:min(1, len(s.Groups))] { // the other side says the same
			group := &f.Groups[g]
			for _, reason := range group.Reasons {
				if text := GroupWhy(v.r.Model, f, group, reason); text != "" && !slices.Contains(said.Why, text) {
					said.Why = append(said.Why, text)
				}
			}
		}
		a.Said = append(a.Said, said)
	}
	for _, c := range f.Cautions {
		a.Care = append(a.Care, cautionWords(c))
	}
	a.Pulls = append(a.Pulls, v.speaker.pulls(f)...)
	for _, d := range doubts(f) {
		a.Doubts = append(a.Doubts, doubtWords(d))
	}
	return a
}

// pictures draws what study has listed, several at a time.
func (v *review) pictures() []todoPicture {
	var wait sync.WaitGroup
	work := make(chan *todoPicture)
	for range min(len(v.todo), runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			d := newDrawer(v.r, v.o)
			for t := range work {
				pic := d.plate(t.phase, Look{View: t.view}, figure.Plate{W: reviewWide, H: reviewHigh, Bare: true}, 0)
				t.text = pic.Inline(t.id + "-")
			}
		})
	}
	for i := range v.todo {
		work <- &v.todo[i]
	}
	close(work)
	wait.Wait()
	return v.todo
}
