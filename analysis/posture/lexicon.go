package posture

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"sync"

	"tautline/analysis/body"
)

//go:embed words.csv
var wordsCSV string

//go:embed forms.csv
var formsCSV string

//go:embed phrases.csv
var phrasesCSV string

// term is one meaning of a saying; a saying may have several ("back" is a part
// of the body, a place that rests, and a direction).
type term struct {
	kind  string // the kind column of words.csv, or "stance" or "phrase"
	means string
	row   []phrase // of kind "phrase": its rows, in order
}

// phrase is one row of phrases.csv.
type phrase struct {
	said, means string
	when        condition
}

// condition restricts a row of a phrase to a stated position: movement > degrees.
type condition struct {
	movement string // bare key, "" when there is no condition
	degrees  float64
}

// form is one way of saying a movement's name.
type form struct {
	name   string   // a movement's Toward or Away, or "straight"
	joints []string // joints it is said of; empty for any
}

// lexicon is every saying that is understood over one model's vocabulary.
type lexicon struct {
	m           *body.Model
	terms       map[string][]term
	forms       map[string][]form
	formWord    map[string]bool
	known       map[string]bool   // single words of any saying, as written
	singular    map[string]string // irregular
	plural      map[string]string // irregular, for writing
	dropped     map[string]bool
	participle  map[string]string // of a movement's name
	carriers    map[string]string // what a bare patch key is called when it carries
	phrases     []string          // stances and phrases as they are said
	longest     int               // words in the longest saying
	intensities []named           // canonical ones, as the table orders them
	nearWords   []string
	vocabulary  func() []Entry
}

// named is a word for a number.
type named struct {
	word  string
	value float64
}

var lexicons sync.Map // of *lexicon by the version of the model's tables

// lexiconOf gives the lexicon of a model. Models of different stature share
// one, because their vocabulary comes from the same tables.
func lexiconOf(m *body.Model) *lexicon {
	if l, ok := lexicons.Load(m.Version); ok {
		return l.(*lexicon)
	}
	l, _ := lexicons.LoadOrStore(m.Version, newLexicon(m))
	return l.(*lexicon)
}

func newLexicon(m *body.Model) *lexicon {
	x := &lexicon{
		m: m, terms: map[string][]term{}, forms: map[string][]form{}, formWord: map[string]bool{},
		known: map[string]bool{}, singular: map[string]string{}, plural: map[string]string{},
		dropped: map[string]bool{}, participle: map[string]string{}, carriers: map[string]string{},
	}
	words, forms, phrases := rows(wordsCSV), rows(formsCSV), rows(phrasesCSV)

	// Every word first, so that plurals are known before keys are made.
	for _, r := range words {
		switch r[0] {
		case "singular":
			x.singular[r[1]] = r[2]
		case "plural":
			x.plural[r[1]] = r[2]
			x.know(r[2])
		case "drop":
			x.dropped[r[1]] = true
		}
		x.know(r[1])
	}
	for _, r := range forms {
		x.know(r[0], r[1])
		x.know(strings.Split(r[3], ";")...)
	}
	for _, p := range m.Patches {
		x.know(p.Word)
	}
	for _, s := range m.Stances {
		x.know(s.Name)
		x.phrases = append(x.phrases, s.Name)
	}
	for _, r := range phrases {
		x.know(r[0])
		x.phrases = append(x.phrases, r[0])
	}
	x.index(words, forms, phrases)
	for w := range x.known {
		x.nearWords = append(x.nearWords, w)
	}
	slices.Sort(x.nearWords)
	x.vocabulary = sync.OnceValue(func() []Entry { return x.entries() })
	return x
}

// index files every saying under its key.
func (x *lexicon) index(words, forms, phrases [][]string) {
	for _, r := range words {
		switch r[0] {
		case "singular", "plural", "drop":
			continue
		case "carrier":
			if x.carriers[r[2]] == "" {
				x.carriers[r[2]] = r[1]
			}
		case "intensity":
			v := number(r[2]) / 100
			if !slices.ContainsFunc(x.intensities, func(n named) bool { return n.value == v }) {
				x.intensities = append(x.intensities, named{r[1], v})
			}
		}
		x.add(r[1], term{kind: r[0], means: r[2]})
	}
	for _, p := range x.m.Patches {
		if p.Side != body.Left {
			x.add(p.Word, term{kind: "patch", means: body.Bare(p.Key)})
			x.add(x.pluralOf(p.Word), term{kind: "patch", means: body.Bare(p.Key)})
		}
	}
	for _, r := range words {
		if r[0] == "plural" {
			x.add(r[2], x.terms[x.key(r[1])]...)
		}
	}
	for _, s := range x.m.Stances {
		x.add(s.Name, term{kind: "stance", means: s.Key})
	}
	for _, r := range forms {
		if x.participle[r[0]] == "" {
			x.participle[r[0]] = r[1]
		}
		f := form{name: r[0], joints: list(r[2])}
		for _, said := range append([]string{r[0], r[1]}, list(r[3])...) {
			k := x.key(said)
			x.forms[k] = append(x.forms[k], f)
			for _, w := range strings.Fields(k) {
				x.formWord[w] = true
			}
		}
	}
	rowsOf := map[string][]phrase{}
	for _, r := range phrases {
		p := phrase{said: r[0], means: r[1]}
		if key, deg, ok := strings.Cut(r[2], ">"); ok {
			p.when = condition{key, number(deg)}
		}
		k := x.key(r[0])
		rowsOf[k] = append(rowsOf[k], p)
	}
	for k, rows := range rowsOf {
		x.add(k, term{kind: "phrase", row: rows})
	}
}

// add files terms under a saying, each meaning once; the first one of a kind stands.
func (x *lexicon) add(said string, terms ...term) {
	k := x.key(said)
	for _, t := range terms {
		if !slices.ContainsFunc(x.terms[k], func(o term) bool { return o.kind == t.kind }) {
			x.terms[k] = append(x.terms[k], t)
		}
	}
	x.longest = max(x.longest, len(strings.Fields(k)))
}

func (x *lexicon) know(sayings ...string) {
	for _, s := range sayings {
		for _, w := range strings.Fields(s) {
			if w != "#" && w != "@" {
				x.known[w] = true
			}
		}
	}
}

// key is what a saying is filed under: its words in the singular without those
// that mean nothing here.
func (x *lexicon) key(said string) string {
	var out []string
	for _, w := range strings.Fields(said) {
		if !x.dropped[w] {
			out = append(out, x.one(w))
		}
	}
	return strings.Join(out, " ")
}

// one gives the singular of a word where both are known.
func (x *lexicon) one(w string) string {
	if s, ok := x.singular[w]; ok {
		return s
	}
	if s, ok := strings.CutSuffix(w, "s"); ok && len(s) > 1 && x.known[s] {
		return s
	}
	return w
}

// pluralOf gives the plural for writing.
func (x *lexicon) pluralOf(word string) string {
	if p, ok := x.plural[word]; ok {
		return p
	}
	return word + "s"
}

// meaning gives the term of one kind under a key.
func (x *lexicon) meaning(key, kind string) (term, bool) {
	for _, t := range x.terms[key] {
		if t.kind == kind {
			return t, true
		}
	}
	return term{}, false
}

// list cuts a cell at semicolons.
func list(cell string) []string {
	if cell == "" {
		return nil
	}
	return strings.Split(cell, ";")
}

// rows reads an embedded table without its header; a broken one is our own bug.
func rows(text string) [][]string {
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic("posture: " + err.Error())
	}
	return all[1:]
}

func number(cell string) float64 {
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		panic("posture: " + err.Error())
	}
	return v
}
