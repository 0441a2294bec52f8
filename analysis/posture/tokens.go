package posture

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// token is one word, number or mark of the text.
type token struct {
	kind     tokenKind
	word     string // lower case, singular where the vocabulary has one; "#" for a number
	raw      string // as written, lower case
	plural   bool
	value    float64 // of a number
	unit     string  // of a number: "", "degree", "percent", "mass" (value in kg) or "force" (value in N)
	from, to int     // byte offsets in the text
}

type tokenKind int

const (
	wordToken tokenKind = iota
	numberToken
	commaToken
	endToken // the end of a statement
)

// tokens cuts a text into tokens. Words that mean nothing here are left out;
// every other character that is no blank or bracket ends up in some token.
func (x *lexicon) tokens(text string) []token {
	var out []token
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		switch {
		case r == ';' || r == '\n' || r == '!' || r == '?':
			out = append(out, token{kind: endToken, from: i, to: i + n})
			i += n
		case r == '.' && !digitAt(text, i+1):
			out = append(out, token{kind: endToken, from: i, to: i + n})
			i += n
		case r == ',':
			out = append(out, token{kind: commaToken, from: i, to: i + n})
			i += n
		case unicode.IsSpace(r) || strings.ContainsRune("()[]:\"“”-–—/_*", r) && !signAt(text, i, r, n):
			i += n
		case r >= '0' && r <= '9' || r == '.' || signAt(text, i, r, n):
			t := numberAt(text, i)
			out = append(out, t)
			i = t.to
		default:
			t := wordAt(text, i, r, n)
			i = t.to
			if !x.dropped[t.raw] {
				t.word = x.one(t.raw)
				t.plural = t.word != t.raw
				out = append(out, t)
			}
		}
	}
	return x.units(x.numerals(out))
}

func digitAt(text string, i int) bool { return i < len(text) && text[i] >= '0' && text[i] <= '9' }

// signAt tells a sign from a hyphen: a digit follows, and no word or number
// stands right before it.
func signAt(text string, i int, r rune, n int) bool {
	if r != '-' && r != '−' && r != '+' {
		return false
	}
	before, _ := utf8.DecodeLastRuneInString(text[:i])
	return digitAt(text, i+n) && (i == 0 || unicode.IsSpace(before) || before == ',' || before == ';' || before == '(')
}

// numberAt reads a number with a point or a decimal comma, with its sign.
func numberAt(text string, i int) token {
	start, sign := i, 1.0
	if r, n := utf8.DecodeRuneInString(text[i:]); r == '-' || r == '−' || r == '+' {
		if i += n; r != '+' {
			sign = -1
		}
	}
	digits := i
	for digitAt(text, i) {
		i++
	}
	if i < len(text) && (text[i] == '.' || text[i] == ',') && digitAt(text, i+1) {
		for i++; digitAt(text, i); i++ {
		}
	}
	v, err := strconv.ParseFloat(strings.Replace(text[digits:i], ",", ".", 1), 64)
	if err != nil { // longer than any number that means something
		return token{kind: wordToken, word: text[start:i], raw: text[start:i], from: start, to: i}
	}
	return token{kind: numberToken, word: "#", raw: text[start:i], value: sign * v, from: start, to: i}
}

// wordAt reads a run of letters with apostrophes inside, or one other character.
func wordAt(text string, i int, r rune, n int) token {
	start := i
	if !unicode.IsLetter(r) {
		return token{kind: wordToken, raw: text[i : i+n], from: i, to: i + n}
	}
	for i < len(text) {
		r, n := utf8.DecodeRuneInString(text[i:])
		if !unicode.IsLetter(r) && !unicode.IsMark(r) && r != '\'' && r != '’' {
			break
		}
		i += n
	}
	raw := strings.ToLower(strings.Trim(text[start:i], "'’"))
	raw = strings.TrimSuffix(strings.TrimSuffix(raw, "'s"), "’s")
	return token{kind: wordToken, raw: raw, from: start, to: i}
}

// numerals turns numbers in words ("forty five", "right angle") into numbers.
func (x *lexicon) numerals(in []token) []token {
	var out []token
	for i := 0; i < len(in); i++ {
		if i+1 < len(in) && in[i].kind == wordToken && in[i+1].kind == wordToken {
			if t, ok := x.meaning(in[i].word+" "+in[i+1].word, "number"); ok {
				out = append(out, numeral(in[i].from, in[i+1].to, t.means))
				i++
				continue
			}
		}
		if in[i].kind == wordToken && !in[i].plural { // "fours" is no number
			if t, ok := x.meaning(in[i].word, "number"); ok {
				out = append(out, numeral(in[i].from, in[i].to, t.means))
				continue
			}
		}
		out = append(out, in[i])
	}
	return out
}

func numeral(from, to int, means string) token {
	return token{kind: numberToken, word: "#", raw: means, value: number(means), from: from, to: to}
}

// units joins a number with the unit after it.
func (x *lexicon) units(in []token) []token {
	var out []token
	for i := 0; i < len(in); i++ {
		t := in[i]
		if t.kind == numberToken && i+1 < len(in) && in[i+1].kind == wordToken {
			for _, m := range x.terms[in[i+1].word] {
				switch m.kind {
				case "degree", "percent":
					t.unit = m.kind
				case "unit":
					t.unit = "mass"
					if per := number(m.means); per != 1 {
						t.value = round(t.value*per, 3) // converted to the gram
					}
				case "force":
					t.unit = "force"
				}
			}
			if t.unit != "" {
				t.to = in[i+1].to
				i++
			}
		}
		out = append(out, t)
	}
	return out
}
