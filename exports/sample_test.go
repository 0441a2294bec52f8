package exports

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"sync"

	"tautline/analysis"
	"tautline/analysis/body"
	"tautline/analysis/geom"
	"tautline/analysis/posture"
	"tautline/timeline"
)

// sampleModel is a small made-up body for tests of words and files: no figure
// in it means anything.
func sampleModel() *body.Model {
	m := &body.Model{
		Person: body.Person{Stature: 1.75, Mass: 73, Sex: body.Male}, Version: "sample",
		Sources: map[string]body.Source{"made_up": {Key: "made_up", Text: "Made up for a test", Grade: "estimate"}},
	}
	for _, s := range []body.Side{body.Right, body.Left} {
		for _, mv := range []body.Movement{
			{Key: "ankle_dorsiflexion", Joint: "ankle", Toward: "dorsiflexion", Away: "plantarflexion", Agents: "dorsiflexors", Against: "plantar flexors", Plain: "drawing the foot up", PlainAway: "pointing the foot"},
			{Key: "shoulder_flexion", Joint: "shoulder", Toward: "flexion", Away: "extension", Agents: "shoulder flexors", Against: "shoulder extensors", Plain: "raising the arm forward", PlainAway: "drawing the arm back"},
			{Key: "knee_flexion", Joint: "knee", Toward: "flexion", Away: "extension", Agents: "knee flexors", Against: "knee extensors", Plain: "bending the knee", PlainAway: "straightening the knee"},
		} {
			mv.Key, mv.Side, mv.Lo, mv.Hi, mv.Source = mv.Key+s.Suffix(), s, -0.5, 2, "made_up"
			m.Movements = append(m.Movements, mv)
		}
	}
	m.Movements = append(m.Movements, body.Movement{
		Key: "trunk_bend", Joint: "trunk", Toward: "bend right", Away: "bend left", Agents: "right side benders of the trunk",
		Against: "left side benders of the trunk", Plain: "bending the trunk to the right", PlainAway: "bending the trunk to the left", Lo: -0.6, Hi: 0.6,
	})
	for _, s := range []body.Side{body.Right, body.Left} {
		for _, mu := range []body.Muscle{
			{Key: "gastrocnemius_medial", Name: "gastrocnemius, medial head", Plain: "inner calf"},
			{Key: "gastrocnemius_lateral", Name: "gastrocnemius, lateral head", Plain: "outer calf"},
			{Key: "soleus", Name: "soleus", Latin: "musculus soleus", Plain: "deep calf", Actions: []body.Action{{Movement: 0, Main: true}, {Movement: 2}}, Origin: "back of the shank", Insertion: "heel", Note: "Its share beside the gastrocnemius varies."},
			{Key: "deltoid_posterior", Name: "posterior deltoid", Plain: "back of the shoulder"},
			{Key: "deltoid_anterior", Name: "anterior deltoid", Plain: "front of the shoulder"},
			{Key: "biceps_femoris", Name: "biceps femoris, long head", Plain: "outer hamstring"},
			{Key: "rectus_femoris", Name: "rectus femoris", Plain: "front thigh"},
			{Key: "vastus_medialis", Name: "vastus medialis", Plain: "inner thigh"},
			{Key: "obliques", Name: "external oblique", Plain: "side of the waist"},
		} {
			mu.Key, mu.Side = mu.Key+s.Suffix(), s
			mu.Name, mu.Plain = s.String()+" "+mu.Name, s.String()+" "+mu.Plain
			mu.Fibre, mu.PCSA, mu.Source = 0.05, 0.001, "made_up"
			m.Muscles = append(m.Muscles, mu)
		}
	}
	for _, s := range []body.Side{body.Right, body.Left} {
		for _, word := range []string{"heel", "toes"} {
			m.Patches = append(m.Patches, body.Patch{Key: word + s.Suffix(), Name: s.String() + " " + word, Word: word, Side: s})
		}
	}
	return m
}

// find gives the index of a sample movement or muscle.
func sampleMovement(m *body.Model, key string) body.MovementID {
	for i := range m.Movements {
		if m.Movements[i].Key == key {
			return body.MovementID(i)
		}
	}
	panic("no sample movement " + key)
}

func sampleMuscles(m *body.Model, keys ...string) []body.MuscleID {
	var ids []body.MuscleID
	for _, key := range keys {
		found := false
		for i := range m.Muscles {
			if m.Muscles[i].Key == key {
				ids, found = append(ids, body.MuscleID(i)), true
			}
		}
		if !found {
			panic("no sample muscle " + key)
		}
	}
	return ids
}

// sampleGroup makes one group finding. The movement's name ends in "+" for the
// group that does it and in "-" for its opposite.
func sampleGroup(m *body.Model, movement string, role analysis.Role, grade analysis.Grade, muscles ...string) analysis.GroupFinding {
	return analysis.GroupFinding{
		Movement: sampleMovement(m, strings.TrimRight(movement, "+-")), Toward: strings.HasSuffix(movement, "+"),
		Role: role, Grade: grade, Muscles: sampleMuscles(m, muscles...), Place: 0.87, Moment: 34.2, Effort: 0.21,
		Reasons: []analysis.Reason{
			{Kind: "position", Movement: 0, Value: 0.5, Length: 0.02, Source: "made_up"},
			{Kind: "load", Movement: 0, Value: 34.2},
			{Kind: "arm", Movement: 0, Value: -0.045, Source: "made_up"},
			{Kind: "model", Movement: -1},
		},
	}
}

// sampleWork makes a working group as the balance of the whole body gives it,
// with two members that it does not tell apart.
func sampleWork(m *body.Model, movement string, grade analysis.Grade, b analysis.Bounds, muscles ...string) analysis.GroupFinding {
	g := sampleGroup(m, movement, analysis.Working, grade, muscles...)
	g.Bounds, g.Effort = b, b.Best
	g.Reasons = []analysis.Reason{
		{Kind: "load", Movement: g.Movement, Value: 34.2},
		{Kind: "arm", Movement: g.Movement, Value: -0.045, Source: "made_up"},
		{Kind: "bound", Movement: -1, Value: b.Least, Length: b.Lo},
		{Kind: "model", Movement: -1},
	}
	if len(g.Muscles) > 1 {
		g.Split = []analysis.Span{
			{Muscle: g.Muscles[0], Bounds: analysis.Bounds{Best: 0.2, Lo: 0.08, Hi: 0.31}},
			{Muscle: g.Muscles[1], Bounds: analysis.Bounds{Best: 0.1, Hi: 0.24}},
		}
	}
	return g
}

// sampleFindings is a posture with a bit of everything.
func sampleFindings(m *body.Model) *analysis.Findings {
	f := &analysis.Findings{
		Groups: []analysis.GroupFinding{
			sampleGroup(m, "ankle_dorsiflexion_r-", analysis.DrawnLong, analysis.Geometry, "gastrocnemius_medial_r", "gastrocnemius_lateral_r", "soleus_r"),
			sampleGroup(m, "ankle_dorsiflexion_l-", analysis.DrawnLong, analysis.Geometry, "gastrocnemius_medial_l", "gastrocnemius_lateral_l", "soleus_l"),
			sampleGroup(m, "shoulder_flexion_r+", analysis.Working, analysis.May, "deltoid_anterior_r"),
			sampleGroup(m, "shoulder_flexion_l+", analysis.Working, analysis.May, "deltoid_anterior_l"),
			sampleWork(m, "ankle_dorsiflexion_r-", analysis.Must, analysis.Bounds{Best: 0.3, Least: 0.27, Lo: 0.29, Hi: 0.3}, "soleus_r", "gastrocnemius_medial_r"),
			sampleWork(m, "ankle_dorsiflexion_l-", analysis.Must, analysis.Bounds{Best: 0.3, Least: 0.27, Lo: 0.29, Hi: 0.3}, "soleus_l", "gastrocnemius_medial_l"),
			sampleGroup(m, "trunk_bend-", analysis.DrawnLong, analysis.Geometry, "obliques_l"),
			sampleGroup(m, "knee_flexion_r-", analysis.Working, analysis.NotTold, "rectus_femoris_r"),
			sampleGroup(m, "knee_flexion_l+", analysis.Slack, analysis.Geometry, "biceps_femoris_l"),
		},
		Joints:   []analysis.JointValue{{Movement: 0, Value: 0.5, Stated: true}, {Movement: 6, Value: -0.7, Past: 0.1}},
		Doubts:   []analysis.Doubt{{Kind: "support", Text: "The left heel is 3 cm off the floor.", Mend: "Say how the left knee is bent.", Source: "made_up"}},
		Cautions: []analysis.Caution{{Key: "overhead load", Why: "a load is held with the arms raised"}},
		Contacts: []analysis.Contact{{Patch: "heel_r", On: body.Floor}},
		Effort: analysis.Effort{Held: true, Solved: true, Cost: 0.4, NearBest: 1.1, Short: []analysis.Shortfall{}, Primal: 2e-14, Gap: -3e-13,
			Forces: []analysis.SupportForce{{Patch: "heel_r", Force: geom.V(0, 300, 0)}, {Patch: "heel_l", Force: geom.V(0, 358, 0)}, {Patch: "toes_r", Force: geom.V(0, 58, 0)}}},
	}
	for i := range m.Muscles {
		f.Muscles = append(f.Muscles, analysis.MuscleFinding{
			Muscle: body.MuscleID(i), Length: 0.3, Place: float64(i) / float64(len(m.Muscles)), Fibre: 1.1, State: []analysis.LengthState{analysis.Short, analysis.Mid, analysis.Long}[i%3],
			FromAnatomical: 0.01, FromPrevious: 0.004 * float64(i%4-1), Role: analysis.Quiet, Grade: analysis.Geometry, For: -1,
			Reasons: []analysis.Reason{
				{Kind: "position", Movement: 0, Value: 0.5, Length: 0.012},
				{Kind: "length", Movement: -1, Value: 0.01, Source: "made_up"},
				{Kind: "source", Movement: -1, Value: 1.1, Source: "made_up"},
			},
		})
	}
	return f
}

// sampleMove is the way from one posture to another.
func sampleMove(m *body.Model) *analysis.Movement {
	return &analysis.Movement{
		Groups: []analysis.GroupChange{
			{Movement: sampleMovement(m, "shoulder_flexion_r"), Change: 0.4, Muscles: sampleMuscles(m, "deltoid_posterior_r")},
			{Movement: sampleMovement(m, "knee_flexion_r"), Change: -0.2, Muscles: sampleMuscles(m, "rectus_femoris_r")},
			{Movement: sampleMovement(m, "knee_flexion_l"), Change: -0.2, Muscles: sampleMuscles(m, "rectus_femoris_l")},
		},
		Joints: []analysis.JointChange{
			{Movement: sampleMovement(m, "shoulder_flexion_r"), From: 0, To: 2.2},
			{Movement: sampleMovement(m, "knee_flexion_r"), From: 1, To: 0},
			{Movement: sampleMovement(m, "knee_flexion_l"), From: 0.9, To: 0},
		},
		Muscles: []analysis.MovementFinding{{Muscle: 3, Change: 0.02, PlaceFrom: 0.4, PlaceTo: 0.8, Peak: 0.4, Mean: 0.2, Contraction: analysis.Eccentric}},
		Work: []analysis.GroupWork{
			{Movement: sampleMovement(m, "shoulder_flexion_r"), Toward: true, Peak: 0.41, Mean: 0.22, Contraction: analysis.Concentric, Muscles: sampleMuscles(m, "deltoid_anterior_r")},
			{Movement: sampleMovement(m, "knee_flexion_r"), Peak: 0.2, Mean: 0.1, Contraction: analysis.Eccentric, Muscles: sampleMuscles(m, "rectus_femoris_r")},
			{Movement: sampleMovement(m, "knee_flexion_l"), Peak: 0.2, Mean: 0.1, Contraction: analysis.Eccentric, Muscles: sampleMuscles(m, "rectus_femoris_l")},
		},
		Quick: true, QuickBelow: 0.8, Held: 9, Looked: 9,
	}
}

// sampleReport makes a report of marks at the given times.
func sampleReport(titles []string, at []timeline.Instant, duration timeline.Instant) *timeline.Report {
	m := sampleModel()
	r := &timeline.Report{Model: m, Phases: []timeline.PhaseReport{}, Problems: []timeline.Problem{}}
	r.Study = timeline.Study{ID: "0123456789abcdef0123456789abcdef", Title: "Warm-up among the trees", Language: "en", Revision: 42}
	if duration > 0 {
		r.Study.Recording = &timeline.Recording{Path: "warm-up.mp4", Fingerprint: "f0", Duration: duration, Kind: "video", FrameRate: 25}
	}
	for i, t := range at {
		r.Study.Marks = append(r.Study.Marks, timeline.Mark{ID: int64(i + 1), At: t, Title: titles[i%len(titles)], Words: fmt.Sprintf("standing; knees bent %d", i%2)})
	}
	findings := sampleFindings(m)
	for i, p := range r.Study.Phases() {
		pr := timeline.PhaseReport{Phase: p, Findings: findings}
		pr.Reading = posture.Reading{Canonical: p.Words, Parts: []posture.Part{}, Unknown: []posture.Unknown{}}
		if i%3 == 1 {
			pr.Reading.Unknown = append(pr.Reading.Unknown, posture.Unknown{From: 0, To: 5, Text: "elbws", Why: "no joint of that name", Near: []string{"elbows"}})
		}
		if p.Next != nil && !p.Hold() {
			pr.Movement = sampleMove(m)
		}
		r.Phases = append(r.Phases, pr)
	}
	if len(at) > 0 {
		r.Problems = append(r.Problems, timeline.Problem{Kind: "words", Mark: 1, At: at[0], Text: `"elbws" is not understood`})
	}
	return r
}

// seconds makes times.
func seconds(s ...float64) []timeline.Instant {
	at := make([]timeline.Instant, len(s))
	for i, v := range s {
		at[i] = timeline.Instant(math.Round(v * 1000))
	}
	return at
}

var sampleTitles = []string{"Quiet stand", "Overhead reach on toes", "One-arm side reach", "Loaded crate hinge", "Half-kneeling rest"}

// hostileTitles are texts that break careless writers.
var hostileTitles = []string{
	"an arrow --> inside", "a & b < c > d &amp; &lt; &#39;", "two\n\nparagraphs\r\n\r\n\r\nof text", "NOTE the pelvis", "STYLE", "WEBVTT",
	"00:00:01.000 --> 00:00:02.000", "control \x00\x01\x1b[31m\x7f\u0085 characters", "مرفوع الذراعين فوق الرأس", "\u202eoverride\u202c \u2067isolate\u2069",
	"e\u0301\u0302\u0303\u0304 combining q\u0323\u0307", "👩🏽\u200d🌾 picks 🍎 🇸🇪🇳🇴", "<b>bold</b> <v Bob> <00:00:01.000>", "{\\an8}top \\N \\h", "12", "\ufeffmark \ufffe\uffff",
	"bad utf-8 \xff\xfe\xc0", "\t tabs \v and \f feeds \u2028 and \u2029 separators", "", " ", "# heading * list _under_ `code` | cell [link](x) ![i](y)",
	"1. numbered", "- dash", "+ plus", "===", "http://example.org www.example.org me@example.org", "1:23 time first", "(0:05) - 1:02:03 twice",
	strings.Repeat("long title of many words ", 420), strings.Repeat("unbroken", 1300), "a" + strings.Repeat("\u0301", 5000), "nbsp\u00a0here", "line\\", "~~~", "$x$ ^y^", "&copy; &nbsp;",
}

// sampleStudies are the studies that every writer is held to.
var sampleStudies = sync.OnceValue(func() map[string]*timeline.Report {
	crowd := make([]timeline.Instant, 10_000)
	for i := range crowd {
		crowd[i] = timeline.Instant(i * 4000)
	}
	hostile := make([]timeline.Instant, len(hostileTitles))
	for i := range hostile {
		hostile[i] = timeline.Instant(i*12_000 + 137)
	}
	nasty := sampleReport(hostileTitles, hostile, timeline.Instant(len(hostile)*12_000))
	nasty.Study.Title = strings.Join(hostileTitles[:20], " ")
	for i := range nasty.Phases {
		p := &nasty.Phases[i]
		text := hostileTitles[(i+7)%len(hostileTitles)]
		p.Mark.Note, p.Reading.Canonical = text, text
		p.Reading.Unknown = append(p.Reading.Unknown, posture.Unknown{Text: text, Why: text, Near: []string{text}})
	}
	return map[string]*timeline.Report{
		"empty":       sampleReport(nil, nil, 0),
		"one mark":    sampleReport(sampleTitles, seconds(2), 20_000),
		"plain":       sampleReport(sampleTitles, seconds(0, 12.5, 25, 41, 60), 80_000),
		"ten seconds": sampleReport(sampleTitles, seconds(12, 22, 32, 42, 52), 62_500),
		"crowd":       sampleReport(sampleTitles, crowd, 0),
		"no length":   sampleReport(sampleTitles, seconds(5, 5, 5, 5.4, 6.1, 6.1, 7.35, 30, 50, 70), 90_000),
		"past end":    sampleReport(sampleTitles, seconds(0, 12, 24, 36, 55, 60), 40_000),
		"hostile":     nasty,
	}
})

// generated makes a random study: phases of nothing to a minute, titles of any
// length, any number of findings.
func generated(seed uint64) *timeline.Report {
	rng := rand.New(rand.NewPCG(seed, 1))
	n := rng.IntN(30)
	at := make([]timeline.Instant, n)
	now := timeline.Instant(rng.IntN(12_000))
	for i := range at {
		at[i] = now
		switch rng.IntN(5) {
		case 0:
		case 1:
			now += timeline.Instant(rng.IntN(1500))
		default:
			now += timeline.Instant(rng.ExpFloat64() * 9000)
		}
	}
	titles := append(append([]string{}, sampleTitles...), hostileTitles...)
	rng.Shuffle(len(titles), func(i, j int) { titles[i], titles[j] = titles[j], titles[i] })
	r := sampleReport(titles, at, now*timeline.Instant(rng.IntN(3))/2)
	for i := range r.Phases {
		f := sampleFindings(r.Model)
		r.Phases[i].Findings = f
		rng.Shuffle(len(f.Groups), func(a, b int) { f.Groups[a], f.Groups[b] = f.Groups[b], f.Groups[a] })
		f.Groups = f.Groups[:rng.IntN(len(f.Groups)+1)]
		if rng.IntN(3) > 0 {
			f.Cautions = nil
		}
	}
	return r
}
