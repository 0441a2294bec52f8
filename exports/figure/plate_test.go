package figure

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/exports/draw"
)

// every labels each muscle with its own name, so that many compete.
func every(a *Artist, f *analysis.Findings) []Label {
	var out []Label
	for i := range f.Muscles {
		out = append(out, Label{Text: a.Model.Muscles[i].Name, Note: "here", Role: f.Muscles[i].Role, Muscles: []body.MuscleID{body.MuscleID(i)}})
	}
	return out
}

// TestLabelsDoNotCollide: from every side, whole and near, at most six labels
// stand one below the other in their columns, inside the picture, no leader
// crosses another of its side, and each points at a place that is seen.
func TestLabelsDoNotCollide(t *testing.T) {
	artist, f := reach(t)
	s := artist.Findings(f)
	box := draw.Box{X: 150, Y: 80, W: 500, H: 600}
	seen := 0
	for _, v := range Views {
		for _, near := range append([]*CloseUp{nil}, &CloseUps[0], &CloseUps[1]) {
			view := v.Seen()
			if near != nil {
				view = view.Near(*near, artist.Model, f.Frames)
			}
			sg := artist.Draw(s, view).see(int(box.W), int(box.H))
			for i := range sg.bands {
				sg.bands[i].shift(pt{X: box.X, Y: box.Y})
			}
			all := pins(every(artist, f), sg.bands, box, 140, mostLabels, 1, 4)
			seen += len(all)
			if len(all) > mostLabels {
				t.Errorf("%s: %d labels", view.Name, len(all))
			}
			for i, p := range all {
				if p.y-p.high/2 < box.Y-0.01 || p.y+p.high/2 > box.Y+box.H+0.01 {
					t.Errorf("%s: %q stands outside, at %.0f", view.Name, p.Text, p.y)
				}
				if p.at.X < box.X || p.at.X > box.X+box.W || p.at.Y < box.Y || p.at.Y > box.Y+box.H {
					t.Errorf("%s: %q points outside", view.Name, p.Text)
				}
				for _, q := range all[:i] {
					if p.left != q.left {
						continue
					}
					if math.Abs(p.y-q.y) < (p.high+q.high)/2 {
						t.Errorf("%s: %q and %q overlap", view.Name, p.Text, q.Text)
					}
					edge := map[bool]float64{true: box.X, false: box.X + box.W}[p.left]
					if cross(pt{X: edge, Y: p.y}, p.at, pt{X: edge, Y: q.y}, q.at) {
						t.Errorf("%s: the leaders of %q and %q cross", view.Name, p.Text, q.Text)
					}
				}
			}
		}
	}
	if seen < 60 {
		t.Errorf("only %d labels in all pictures", seen)
	}
}

// TestPerspectiveKeepsTheMiddleAndEnlargesWhatIsNear is the meaning of Eye.
func TestPerspectiveKeepsTheMiddleAndEnlargesWhatIsNear(t *testing.T) {
	v := Front
	v.Height, v.Eye = 2, 4
	c := v.camera(&Scene{}, 200, 200)
	x, y, _ := c.at(geom.V(0, 0, 0))
	if x != 100 || y != 100 {
		t.Errorf("the middle is at %g, %g", x, y)
	}
	left := geom.V(0, 0, -0.5)
	xm, _, _ := c.at(left)
	xn, _, _ := c.at(left.Add(geom.V(1, 0, 0)))
	xf, _, _ := c.at(left.Add(geom.V(-1, 0, 0)))
	// By similar triangles: 50 px grow by 4/3 a metre nearer, shrink by 4/5 a metre farther.
	if math.Abs(xm-150) > 1e-9 || math.Abs(xn-100-50*4.0/3) > 1e-9 || math.Abs(xf-100-50*4.0/5) > 1e-9 {
		t.Errorf("%g, %g, %g", xm, xn, xf)
	}
}

// TestAFittedSceneStaysInside: from every view no part of the body leaves the
// picture, and one pair of sides is nearly touched.
func TestAFittedSceneStaysInside(t *testing.T) {
	artist, f := reach(t)
	s := artist.Person(f.Frames, Clay)
	for _, v := range Views {
		const w, h = 300, 400
		r := newRelief(s, v.Seen().camera(s, w, h), w, h)
		x0, x1, y0, y1 := w, 0, h, 0
		for y := range h {
			for x := range w {
				if r.depth[y*w+x] != nothing {
					x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
				}
			}
		}
		if x0 < 2 || y0 < 2 || x1 > w-3 || y1 > h-3 {
			t.Errorf("%s: from %d, %d to %d, %d", v.Name, x0, y0, x1, y1)
		}
		if float64(y1-y0) < 0.85*h && float64(x1-x0) < 0.85*w {
			t.Errorf("%s: fills only %d by %d", v.Name, x1-x0, y1-y0)
		}
	}
}

// TestSupportsTogetherBearTheBody: the arrows' sizes add up to the body's weight
// in quiet standing, one for each foot.
func TestSupportsTogetherBearTheBody(t *testing.T) {
	artist, f := reach(t)
	all := artist.Pushes(f, 9.80665, nil)
	sum := geom.Vec{}
	for _, p := range all {
		sum = sum.Add(p.Way.Scale(p.Size))
	}
	// The model's segments make up the whole mass to a part in a hundred.
	if math.Abs(sum.Y-1) > 0.01 || math.Hypot(sum.X, sum.Z) > 0.01 || len(all) != 2 {
		t.Errorf("%d arrows bear %v of the body's weight", len(all), sum)
	}
}

// TestPlateOfNothingHasItsWords: a scene without a body is no reason to fail.
func TestPlateOfNothingHasItsWords(t *testing.T) {
	p := New(body.Adult()).Plate(&Scene{}, Front.Seen(), Plate{W: 300, H: 300, Title: "Nothing", Foot: []string{"Care."}}, 0)
	var b bytes.Buffer
	if err := p.SVG(&b); err != nil || !bytes.Contains(b.Bytes(), []byte(">Nothing</text>")) || !bytes.Contains(b.Bytes(), []byte(">Care.</text>")) {
		t.Errorf("%v\n%s", err, b.String())
	}
}

// TestKeysExplainWhatIsThere and nothing else.
func TestKeysExplainWhatIsThere(t *testing.T) {
	artist, f := reach(t)
	bands := artist.Draw(artist.Findings(f), Front.Seen()).see(300, 600).bands
	var forms []Form
	for _, form := range []Form{MustWork, LikelyWork, MayWork, LongForm, SlackForm, HeldEnd, SupportPut, LoadPut} {
		if form.in(bands, []Push{{}}) {
			forms = append(forms, form)
		}
		if len(form.sample(draw.Box{W: 30, H: 10})) == 0 {
			t.Errorf("%s has no sample", form)
		}
	}
	if !slices.Contains(forms, LongForm) || !slices.Contains(forms, SupportPut) || slices.Contains(forms, LoadPut) {
		t.Errorf("forms %v", forms)
	}
}

func BenchmarkPlate(b *testing.B) {
	artist, f := reach(b)
	s := artist.Findings(f)
	for b.Loop() {
		artist.Plate(s, Front.Seen(), Plate{W: 820, H: 900, Labels: every(artist, f)}, 0)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "figures/s")
}
