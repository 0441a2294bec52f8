package analysis

import (
	"fmt"
	"math"

	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/pose"
)

// Below these a misfit is within what the model's own landmarks are worth.
const (
	leastGap  = 0.015 // m between a supporting patch and its surface
	leastFall = 0.01  // m of the centre of mass outside the base of support
	leastDip  = 0.03  // m of a patch below the floor
)

// doubts adds what the reader should know about a posture.
func (a *Analyser) doubts(f *Findings, placed pose.Placement, balanced bool) {
	m := a.Model
	add := func(kind, source, mend, format string, args ...any) {
		f.Doubts = append(f.Doubts, Doubt{Kind: kind, Text: fmt.Sprintf(format, args...), Mend: mend, Source: source})
	}
	for _, j := range f.Joints {
		// Half a degree is the grain of what people type; what nobody stated is
		// the model's own doing and within its sources.
		if !j.Stated || j.Past <= geom.Deg(0.5) {
			continue
		}
		mv := &m.Movements[j.Movement]
		word, end := mv.Toward, mv.Hi
		if j.Value < 0 {
			word, end = mv.Away, -mv.Lo
		}
		whose := ""
		if len(mv.Ranges) > 0 {
			whose = " (" + mv.Ranges[0].Whose + ")"
		}
		add("range", mv.Source, fmt.Sprintf("State at most %.0f degrees, or keep it and read the findings with care.", geom.Degrees(end)),
			"%s %s of %.0f degrees is past the published range of %.0f%s.",
			upperFirst(jointName(mv)), word, math.Abs(geom.Degrees(j.Value)), geom.Degrees(end), whose)
	}
	rests := map[string]bool{}
	for _, c := range placed.Contacts {
		rests[c.Patch.Key] = true
		switch {
		case c.Gap > leastGap:
			add("support", c.Patch.Source, "Change the joints between this and the other supports, or leave this support out.",
				"%s is %.0f cm off the %s.", upperFirst(theName(c.Patch)), c.Gap*100, c.On)
		case c.Gap < -leastGap:
			add("support", c.Patch.Source, "Change the joints between this and the other supports.",
				"%s is %.0f cm inside the %s.", upperFirst(theName(c.Patch)), -c.Gap*100, c.On)
		}
	}
	if len(placed.Contacts) > 0 {
		a.dips(f, rests, add)
	}
	if d := placed.Outside; d.Norm() > leastFall {
		add("balance", "", "Shift the hips, bend a joint the other way, or add a support.",
			"Held still, this posture would fall %s: the centre of mass is %.0f cm %s the base of support.", falls(d), d.Norm()*100, whichWay(d))
	} else if !balanced && !f.Effort.Held && len(placed.Contacts) > 0 {
		add("balance", "", "Name every support.", "The supports named cannot carry the weight by pushing upward alone.")
	}
	for i := range f.Muscles {
		if o := f.Muscles[i].Wrap; o == body.Inside || o == body.Failed {
			add("wrap", m.Muscles[i].PathSource, "Read this muscle's figures with care.",
				"The path of the %s runs %s the bone it should pass over; its length and arm are not trusted here.", m.Muscles[i].Name,
				map[body.WrapOutcome]string{body.Inside: "inside", body.Failed: "past"}[o])
		}
	}
}

// dips reports body parts that the posture puts below the floor.
func (a *Analyser) dips(f *Findings, rests map[string]bool, add func(kind, source, mend, format string, args ...any)) {
	m := a.Model
	for i := range m.Patches {
		pt := &m.Patches[i]
		if rests[pt.Key] {
			continue
		}
		lowest := math.Inf(1)
		for _, at := range pt.Points {
			lowest = math.Min(lowest, f.Frames[pt.Segment].Point(at).Y)
		}
		if lowest < -leastDip {
			add("support", pt.Source, "Name it as a support, or lift it by the joints above it.",
				"%s would be %.0f cm below the floor.", upperFirst(theName(pt)), -lowest*100)
		}
	}
}

// whichWay says a horizontal way in words, X forward and Z to the right.
func whichWay(d geom.Vec) string {
	if math.Abs(d.X) >= math.Abs(d.Z) {
		if d.X > 0 {
			return "in front of"
		}
		return "behind"
	}
	if d.Z > 0 {
		return "to the right of"
	}
	return "to the left of"
}

// falls says the way that whichWay finds as a body falls.
func falls(d geom.Vec) string {
	return map[string]string{"in front of": "forward", "behind": "backward", "to the right of": "to the right", "to the left of": "to the left"}[whichWay(d)]
}

func theName(p *body.Patch) string { return "the " + p.Name }

func jointName(mv *body.Movement) string {
	if mv.Side == body.Middle {
		return mv.Joint
	}
	return mv.Side.String() + " " + mv.Joint
}

func upperFirst(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
