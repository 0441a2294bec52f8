package exports

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestCharactersAreCountedAsReadersDo(t *testing.T) {
	for _, c := range []struct {
		text string
		want int
	}{
		{"", 0}, {"calf", 4}, {"e\u0301", 1}, {"e\u0301\u0302q\u0323", 2}, {"👩🏽\u200d🌾", 1}, {"🇸🇪🇳🇴", 2}, {"🇸🇪🇳", 2},
		{"👍🏽👍", 2}, {"مَرفوع", 5}, {"a\u200bb", 2}, {"日本", 2}, {"\u0301", 1}, {"❤\ufe0f!", 2},
	} {
		if got := width(c.text); got != c.want {
			t.Errorf("%q counts %d, want %d", c.text, got, c.want)
		}
	}
}

func TestCuttingAtWords(t *testing.T) {
	for _, c := range []struct {
		text  string
		limit int
		want  string
	}{
		{"Overhead reach", 14, "Overhead reach"},
		{"Overhead reach on toes", 20, "Overhead reach on…"},
		{"Overhead reach on toes", 15, "Overhead reach…"},
		{"Overhead, reach", 10, "Overhead…"},
		{"unbrokenunbroken", 10, "unbrokenu…"},
		{"a bbbbbbbbbbbbbbbbb", 10, "a bbbbbbb…"},
		{"e\u0301e\u0301e\u0301e\u0301", 3, "e\u0301e\u0301…"},
	} {
		got := cut(c.text, c.limit)
		if got != c.want || width(got) > c.limit {
			t.Errorf("%q at %d is cut to %q, want %q", c.text, c.limit, got, c.want)
		}
	}
}

// TestPiledMarksAreThinned: a character keeps what scripts and emoji need.
func TestPiledMarksAreThinned(t *testing.T) {
	family := "👨🏽\u200d👩🏽\u200d👧🏽\u200d👦🏽 picks"
	if got := cleanLine(family); got != family {
		t.Errorf("%q became %q", family, got)
	}
	piled := "a" + strings.Repeat("\u0301", 500) + "b"
	if got, want := cleanLine(piled), "a"+strings.Repeat("\u0301", mostPiled-1)+"b"; got != want {
		t.Errorf("%d code points are left of a pile, want %d", utf8.RuneCountInString(got), mostPiled+1)
	}
}

// FuzzClean: whatever comes in, what goes out is one line of valid, visible text
// that cleaning again leaves alone.
func FuzzClean(f *testing.F) {
	for _, title := range hostileTitles {
		f.Add(title)
	}
	f.Fuzz(func(t *testing.T, text string) {
		line := cleanLine(text)
		if !utf8.ValidString(line) || cleanLine(line) != line || strings.Contains(line, "  ") || strings.Trim(line, " ") != line {
			t.Fatalf("%q became %q", text, line)
		}
		for _, r := range line {
			if unicode.Is(unicode.Cc, r) || r == '\ufeff' || r == '\u2028' || r == '\u202e' {
				t.Fatalf("%q kept %U", text, r)
			}
		}
		for limit := 1; limit < 8; limit++ {
			if got := cut(line, limit); width(got) > limit {
				t.Fatalf("cut to %d gives %q", limit, got)
			}
		}
		if strings.Contains(vttNote(line), "-->") || strings.ContainsAny(vttEscapes.Replace(line), "<>") {
			t.Fatalf("%q is not safe in WebVTT", line)
		}
		if safe := srtText(line); strings.ContainsAny(safe, `<>{}\`) || strings.Contains(safe, "-->") {
			t.Fatalf("%q is not safe in SRT: %q", line, safe)
		}
	})
}

// TestMarkdownKeepsTextText: hostile text neither becomes markup nor changes.
func TestMarkdownKeepsTextText(t *testing.T) {
	for _, c := range [][2]string{
		{"plain words, 50% of them", "plain words, 50% of them"},
		{"# heading", `\# heading`},
		{"1. numbered 2. twice", `1\. numbered 2. twice`},
		{"- dash - dash", `\- dash - dash`},
		{"*a* _b_ `c` ~d~ |e| [f](g) ![h](i)", `\*a\* \_b\_ ` + "\\`c\\`" + ` \~d\~ \|e\| \[f\](g) !\[h\](i)`},
		{"<b>&copy;</b>", `\<b\>\&copy;\</b\>`},
		{"see http://example.org or www.example.org", `see http\://example.org or www\.example.org`},
		{"me@example.org", `me\@example.org`},
		{`back\slash`, `back\\slash`},
		{"two\nlines", "two lines"},
		{"0:12 is a time", "0:12 is a time"},
	} {
		if got := markdownText(c[0]); got != c[1] {
			t.Errorf("%q is written %q, want %q", c[0], got, c[1])
		}
	}
	// Without its backslashes the text is what it was.
	unescape := strings.NewReplacer(`\\`, `\`, `\`, "")
	for _, title := range hostileTitles {
		if got := unescape.Replace(markdownText(title)); got != cleanLine(title) {
			t.Errorf("%q reads back as %q", title, got)
		}
	}
}
