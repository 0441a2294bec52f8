package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"

	"github.com/mattn/go-isatty"
)

// progress is one line that counts up on a terminal and is nothing elsewhere.
type progress struct {
	mu    sync.Mutex
	w     io.Writer
	what  string
	shown bool
	last  time.Time
}

// newProgress makes a progress line on w if w is a terminal.
func newProgress(w io.Writer, what string) *progress {
	f, ok := w.(*os.File)
	if !ok || !isatty.IsTerminal(f.Fd()) {
		w = nil
	}
	return &progress{w: w, what: what, last: time.Now()}
}

// step shows how many of how many are done, at most ten times a second and not
// before the first tenth has passed: short work shows nothing.
func (p *progress) step(done, total int) {
	if p.w == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if now := time.Now(); now.Sub(p.last) > 100*time.Millisecond {
		p.last, p.shown = now, true
		fmt.Fprintf(p.w, "\r%s %d of %d phases", p.what, done, total)
	}
}

// done clears the line.
func (p *progress) done() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.w != nil && p.shown {
		fmt.Fprint(p.w, "\r\033[K")
	}
}
