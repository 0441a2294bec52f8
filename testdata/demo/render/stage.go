package main

import (
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"math"
	"os"
	"path/filepath"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/exports/figure"
	"tautline/timeline"
)

// The recording's size in pixels, and its pictures per second.
const (
	width, height = 854, 480
	rate          = 25
)

// The crate, m: it stands on a low one until it is carried for a moment.
const (
	crateLength, crateWidth, crateHeight = 0.36, 0.25, 0.31
	standHeight                          = 0.16
	crateAhead                           = 0.42
	lifted                               = 0.03
)

// stage is everything that the recording shows.
type stage struct {
	model    *body.Model
	phases   []timeline.PhaseReport
	backdrop *image.RGBA
	carried  float64 // s, when the hands hold the crate
}

func newStage(r *timeline.Report) *stage {
	s := &stage{model: r.Model, phases: r.Phases, backdrop: sky(width, height), carried: math.Inf(1)}
	far := &figure.Scene{}
	for i, t := range []struct{ across, away, size float64 }{{-1.62, 4.4, 0.74}, {1.42, 3.6, 0.80}, {2.05, 7.0, 0.60}, {-0.86, 7.5, 0.52}} {
		far.Groups = append(far.Groups, tree(spot(t.across, t.away), t.size, 2*i+1)...)
		for _, x := range []float64{-0.16, 0, 0.16} {
			far.Shadows = append(far.Shadows, spot(t.across+x, t.away))
		}
	}
	figure.New(s.model).Draw(far, seat).Paint(s.backdrop)
	for _, p := range r.Phases {
		if len(p.Reading.Posture.Loads) > 0 {
			s.carried = p.From.Seconds()
		}
	}
	return s
}

// ease goes from 0 at a to 1 at b without a jerk.
func ease(a, b, t float64) float64 {
	x := max(0, min(1, (t-a)/(b-a)))
	return x * x * x * (10 - 15*x + 6*x*x)
}

// player draws pictures of the stage, one after the other.
type player struct {
	*stage
	artist *figure.Artist
	course *course
}

func (s *stage) player() *player {
	return &player{s, figure.New(s.model), newCourse(s.model, s.phases)}
}

// picture draws the recording's picture at a time, s.
func (p *player) picture(t float64) *image.RGBA {
	img := image.NewRGBA(p.backdrop.Rect)
	copy(img.Pix, p.backdrop.Pix)
	scene := p.artist.Person(p.course.frames(t), figure.Orchard)
	low := geom.V(crateAhead, 0, 0)
	up := lifted * ease(p.carried-0.7, p.carried, t) * (1 - ease(p.carried+0.9, p.carried+1.6, t))
	crate := low.Add(geom.V(0, standHeight+up, 0))
	scene.Groups = append(scene.Groups,
		box(low, crateLength+0.04, crateWidth+0.05, standHeight, plank),
		box(crate, crateLength, crateWidth, crateHeight, wood),
		apples(crate, crateLength, crateWidth, crateHeight))
	for x := -2.0; x <= 2; x++ {
		scene.Shadows = append(scene.Shadows, geom.V(crateAhead+0.1*x, 0, 0.07), geom.V(crateAhead+0.1*x, 0, -0.07))
	}
	p.artist.Draw(scene, seat).Paint(img)
	return img
}

// stills writes one picture of each mark.
func (s *stage) stills(folder string) error {
	p := s.player()
	for _, ph := range s.phases {
		if err := write(p.picture(ph.From.Seconds()), filepath.Join(folder, fmt.Sprintf("mark-%d.png", ph.Number))); err != nil {
			return err
		}
	}
	return nil
}

// picture draws the posture of the third mark from the front and from the left,
// with its muscles.
func picture(m *body.Model, r *timeline.Report, file string) error {
	const w, h = 300, 740
	artist := figure.New(m)
	scene := artist.Findings(r.Phases[2].Findings)
	sheet := image.NewRGBA(image.Rect(0, 0, 2*w, h))
	for i, v := range []figure.View{figure.Front, figure.Left} {
		draw.Draw(sheet, image.Rect(i*w, 0, (i+1)*w, h), artist.Draw(scene, v).Image(w, h), image.Point{}, draw.Src)
	}
	return write(sheet, file)
}

func write(img image.Image, file string) error {
	f, err := os.Create(file)
	if err != nil {
		return err
	}
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(f, img); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
