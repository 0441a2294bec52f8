package analysis

import (
	"fmt"
	"slices"

	"tautline/analysis/body"
	"tautline/analysis/geom"
)

// Where a posture begins to call for a caution. These are thresholds of care,
// set low on purpose; they measure nothing.
var (
	overheadFrom = geom.Deg(120) // arm against trunk, with a load in the hands
	bendFrom     = geom.Deg(45)  // hips or trunk, with a load
	wristFrom    = geom.Deg(60)  // wrist extension under the body's weight
	neckShare    = 0.75          // of the neck's own range of extension
	effortFrom   = 0.5           // of a group's capacity, or a cue's intensity
	effortMoment = 30.0          // N·m: what the large groups hold
)

// cautions adds the specific cautions that a posture calls for.
func (a *Analyser) cautions(f *Findings) {
	add := func(key, format string, args ...any) {
		if !slices.ContainsFunc(f.Cautions, func(c Caution) bool { return c.Key == key }) {
			f.Cautions = append(f.Cautions, Caution{Key: key, Why: fmt.Sprintf(format, args...)})
		}
	}
	loaded := false
	for _, l := range f.Posture.Loads {
		loaded = loaded || l.Kind == body.Carry && l.Mass > 0 || l.Force > 0
	}
	for _, side := range []string{"_r", "_l"} {
		raised := max(f.valueOf(a, "shoulder_flexion"+side), f.valueOf(a, "shoulder_abduction"+side))
		if loaded && raised >= overheadFrom {
			add("overhead load", "a load is held with the arms raised")
		}
		if loaded && f.valueOf(a, "hip_flexion"+side)+f.valueOf(a, "lumbar_flexion")+f.valueOf(a, "thoracic_flexion") >= bendFrom {
			add("loaded forward bend", "a load is held in a forward bend")
		}
		if f.valueOf(a, "wrist_flexion"+side) <= -wristFrom && f.rests("palm"+side) {
			add("pressure on the wrist", "the body leans on a wrist bent far back")
		}
	}
	for _, key := range []string{"neck_flexion", "head_flexion", "lower_neck_flexion"} {
		if id, ok := a.Model.Movement(key); ok {
			if mv := &a.Model.Movements[id]; mv.Lo < 0 && f.value(id) <= neckShare*mv.Lo {
				add("neck extension", "the neck is near the end of its extension")
			}
		}
	}
	onToes, heels, feet := false, false, map[string]bool{}
	for _, c := range f.Contacts {
		switch body.Bare(c.Patch) {
		case "ball", "toes":
			onToes = true
			feet[c.Patch[len(c.Patch)-2:]] = true
		case "heel":
			heels = true
			feet[c.Patch[len(c.Patch)-2:]] = true
		default:
			feet["more"] = true
		}
	}
	if onToes && !heels && !feet["more"] {
		add("balance on toes", "the body stands on the balls of the feet")
	}
	if len(feet) == 1 && !feet["more"] {
		add("balance on one leg", "the body stands on one leg")
	}
	for _, c := range f.Posture.Cues {
		if c.Intensity >= effortFrom {
			add("breath", "a strong effort is asked for")
		}
	}
	for _, g := range f.Groups {
		if g.Role == Working && g.Effort >= effortFrom && g.Moment >= effortMoment {
			add("breath", "the posture asks a large share of a muscle group's strength")
		}
	}
}

// valueOf gives a movement's value by key, rad; 0 for a key the model lacks.
func (f *Findings) valueOf(a *Analyser, key string) float64 {
	id, ok := a.Model.Movement(key)
	if !ok {
		return 0
	}
	return f.value(id)
}

// rests reports whether a patch carries weight.
func (f *Findings) rests(patch string) bool {
	return slices.ContainsFunc(f.Contacts, func(c Contact) bool { return c.Patch == patch })
}
