package exports

import (
	"bufio"
	"embed"
	"io"
	"strings"

	"tautline/exports/draw"
)

//go:embed pages
var pageFiles embed.FS

// pageFile reads a file that is part of the program.
func pageFile(name string) string {
	b, err := pageFiles.ReadFile("pages/" + name)
	if err != nil {
		panic(err)
	}
	return string(b)
}

// html writes one HTML page; its writer remembers the first error.
type html struct{ *bufio.Writer }

// policy lets a page use what stands in its own file and the recording beside
// it, and ask nobody for anything.
const policy = "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:; media-src 'self' file:; base-uri 'none'; form-action 'none'"

// newHTML begins a page: everything up to its body's first element.
func newHTML(w io.Writer, title, made, css string) html {
	h := html{bufio.NewWriter(w)}
	h.put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
	h.put("<meta http-equiv=\"Content-Security-Policy\" content=\"" + draw.Escape(policy) + "\">\n")
	h.put("<meta name=\"generator\" content=\"" + draw.Escape(made) + "\">\n<title>" + draw.Escape(title) + "</title>\n<style>\n" + css + "</style>\n</head>\n<body>\n")
	return h
}

func (h html) put(s string) { h.WriteString(s) }

// element writes a piece of text in an element; attributes stand ready to write.
func (h html) element(name, attributes, text string) {
	if attributes != "" {
		attributes = " " + attributes
	}
	h.put("<" + name + attributes + ">" + draw.Escape(text) + "</" + name + ">\n")
}

// list writes a titled list; an empty one is left out.
func (h html) list(title, class string, items []string) {
	if len(items) == 0 {
		return
	}
	if class != "" {
		class = "class=\"" + class + "\""
	}
	h.element("h3", class, title)
	h.put("<ul>\n")
	for _, item := range items {
		h.element("li", "", item)
	}
	h.put("</ul>\n")
}

// caution writes what every export says.
func (h html) caution() { h.element("p", "class=\"caution\"", strings.Join(careText, " ")) }

// end closes the page and returns the first error.
func (h html) end() error {
	h.put("</body>\n</html>\n")
	return h.Flush()
}
