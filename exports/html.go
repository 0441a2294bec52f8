package exports

import (
	"bufio"
	"crypto/sha256"
	"embed"
	"encoding/base64"
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
type html struct {
	*bufio.Writer
	script string
}

// newHTML begins a page: everything up to its body's first element. The page may
// run this script and style, use the recording beside it, and ask nobody for
// anything: text from a person can never become code.
func newHTML(w io.Writer, title, made, css, script string) html {
	h := html{bufio.NewWriter(w), script}
	policy := "default-src 'none'; style-src " + digestOf("\n"+css) + "; script-src " + digestOf("\n"+script) +
		"; img-src data:; media-src 'self' file:; base-uri 'none'; form-action 'none'"
	h.put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
	h.put("<meta http-equiv=\"Content-Security-Policy\" content=\"" + policy + "\">\n")
	h.put("<meta name=\"generator\" content=\"" + draw.Escape(made) + "\">\n<title>" + draw.Escape(title) + "</title>\n<style>\n" + css + "</style>\n</head>\n<body>\n")
	return h
}

// digestOf names a script or style for a page's policy.
func digestOf(text string) string {
	if text == "\n" {
		return "'none'"
	}
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
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
	if h.script != "" {
		h.put("<script>\n" + h.script + "</script>\n")
	}
	h.put("</body>\n</html>\n")
	return h.Flush()
}
