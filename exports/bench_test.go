package exports

import (
	"bytes"
	"io"
	"testing"
	"time"

	"github.com/asticode/go-astisub"
)

// BenchmarkCaptions words, paces and writes the captions of 10,000 phases.
func BenchmarkCaptions(b *testing.B) {
	r := sampleStudies()["crowd"]
	for b.Loop() {
		if err := writeCaptionsVTT(io.Discard, r, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(r.Phases))*float64(b.N)/b.Elapsed().Seconds(), "phases/s")
}

// BenchmarkWritingCues writes the same ready cues by our writer and by the
// subtitle package's, one after the other, and reports the ratio of their times:
// below one, ours is faster.
func BenchmarkWritingCues(b *testing.B) {
	r := sampleStudies()["crowd"]
	cues, _, err := Captions(r, Options{})
	if err != nil {
		b.Fatal(err)
	}
	peer := asSubtitles(cues)
	var ours, theirs time.Duration
	for b.Loop() {
		start := time.Now()
		if err := (track{cues: cues}).write(io.Discard); err != nil {
			b.Fatal(err)
		}
		middle := time.Now()
		if err := peer.WriteToWebVTT(&bytes.Buffer{}); err != nil {
			b.Fatal(err)
		}
		ours += middle.Sub(start)
		theirs += time.Since(middle)
	}
	b.ReportMetric(float64(len(cues))*float64(b.N)/ours.Seconds(), "cues/s")
	b.ReportMetric(ours.Seconds()/theirs.Seconds(), "ours/theirs")
}

// asSubtitles gives cues in the subtitle package's form.
func asSubtitles(cues []Cue) *astisub.Subtitles {
	s := astisub.NewSubtitles()
	for _, c := range cues {
		item := &astisub.Item{StartAt: time.Duration(c.From) * time.Millisecond, EndAt: time.Duration(c.To) * time.Millisecond}
		for _, line := range c.Lines {
			item.Lines = append(item.Lines, astisub.Line{Items: []astisub.LineItem{{Text: line}}})
		}
		s.Items = append(s.Items, item)
	}
	return s
}

// BenchmarkChapters lists and writes the chapters of 10,000 phases.
func BenchmarkChapters(b *testing.B) {
	r := sampleStudies()["crowd"]
	for b.Loop() {
		if err := writeChaptersVTT(io.Discard, r, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
