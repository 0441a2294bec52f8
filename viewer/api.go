package viewer

// Everything that the page is told and tells, as JSON. Times are whole
// milliseconds from the recording's time zero (_ms), angles degrees (_deg),
// lengths millimetres (_mm) unless a name says otherwise. No slice is null.

// apiError answers a request that failed.
type apiError struct {
	Error string `json:"error"` // one line: what was wrong
	Hint  string `json:"hint"`  // what may help; may be empty
}

// apiReport is the study at a glance; the findings of a phase are asked for
// one by one.
type apiReport struct {
	Revision  int64         `json:"revision"`
	Tool      string        `json:"tool"`
	Study     apiStudy      `json:"study"`
	Recording *apiRecording `json:"recording"` // null when the study has none
	EndMS     int64         `json:"end_ms"`
	Phases    []apiPhase    `json:"phases"`
	Problems  []apiProblem  `json:"problems"`
	Remarks   []apiRemark   `json:"remarks"`  // in the order of time
	Postures  []apiPosture  `json:"postures"` // kept by name, in the order of names
	Angles    []apiAngle    `json:"angles"`   // read off the picture
	Care      []string      `json:"care"`
	Undo      string        `json:"undo"` // what undo would take back; empty for nothing
	Redo      string        `json:"redo"`
	// FiguresOf names the body that the figures are of.
	FiguresOf string `json:"figures_of"`
}

type apiStudy struct {
	ID        string  `json:"id"`
	Title     string  `json:"title"`
	Language  string  `json:"language"`
	StatureMM float64 `json:"stature_mm"`
	MassKg    float64 `json:"mass_kg"`
}

// apiRecording is what is to be played.
type apiRecording struct {
	Name       string  `json:"name"` // of the file, without its folder
	URL        string  `json:"url"`  // empty when it cannot be played
	Kind       string  `json:"kind"` // "video" or "audio"
	Type       string  `json:"type"` // media type
	Problem    string  `json:"problem"`
	DurationMS int64   `json:"duration_ms"`
	FrameRate  float64 `json:"frame_rate"` // nominal, 0 for sound
	Variable   bool    `json:"variable"`
	Frames     int     `json:"frames"`
	Width      int     `json:"width"` // pixels
	Height     int     `json:"height"`
	// Fingerprint and Bytes know the file again that a person drops on the page.
	Fingerprint string `json:"fingerprint"`
	Bytes       int64  `json:"bytes"`
}

// apiPhase is one phase with the mark that begins it.
type apiPhase struct {
	Number  int    `json:"number"` // from 1
	FromMS  int64  `json:"from_ms"`
	ToMS    int64  `json:"to_ms"`
	Hold    bool   `json:"hold"`
	Mark    int64  `json:"mark"` // ID
	Title   string `json:"title"`
	Words   string `json:"words"`    // as typed at this mark; empty: the posture so far
	InForce string `json:"in_force"` // the words that hold from here
	Note    string `json:"note"`
	Doubts  int    `json:"doubts"`  // how many things are unsure or not understood
	Detail  string `json:"detail"`  // changes when the answer of /api/phases does
	Scene   string `json:"scene"`   // key for /api/scenes
	Lengths int    `json:"lengths"` // how many groups are drawn long
	Works   int    `json:"works"`   // how many groups may or must work
}

type apiProblem struct {
	Kind  string `json:"kind"`
	Mark  int64  `json:"mark"` // ID, 0 for the study as a whole
	AtMS  int64  `json:"at_ms"`
	Text  string `json:"text"`
	Doubt bool   `json:"doubt"`
}

// apiFindings is what is told about one phase.
type apiFindings struct {
	Number     int            `json:"number"`
	Canonical  string         `json:"canonical"` // the posture as it was understood
	Unknown    []apiUnknown   `json:"unknown"`
	Statements []apiStatement `json:"statements"` // of the posture, ranked
	Movement   []apiStatement `json:"movement"`   // of the way to the next mark, ranked
	WayNote    string         `json:"way_note"`   // about the way as a whole; may be empty
	Held       apiHeld        `json:"held"`
	Doubts     []apiDoubt     `json:"doubts"`
	Cautions   []string       `json:"cautions"`
	Joints     []apiJoint     `json:"joints"` // what was stated
	Sources    []apiSource    `json:"sources"`
	Muscles    apiMuscles     `json:"muscles"`
}

// apiHeld tells whether the posture can be held.
type apiHeld struct {
	Held     bool   `json:"held"`
	Text     string `json:"text"` // when it cannot: what is missing
	Mend     string `json:"mend"`
	Supports string `json:"supports"`  // what each bears; may be empty
	NearBest string `json:"near_best"` // which ways of holding it spans are over
}

// apiUnknown is a stretch of the words that was not understood. From and To
// count UTF-16 units, as a page does.
type apiUnknown struct {
	From int      `json:"from"`
	To   int      `json:"to"`
	Text string   `json:"text"`
	Why  string   `json:"why"`
	Near []string `json:"near"`
}

type apiStatement struct {
	Kind    string      `json:"kind"`  // "work", "long", "short", "untold", "lengthens", "shortens"
	Grade   string      `json:"grade"` // "geometry", "must", "likely", "may", "not told"
	Text    string      `json:"text"`
	Figures string      `json:"figures"`
	Reasons []apiReason `json:"reasons"`
	Muscles []int       `json:"muscles"` // indices into the model's muscles
	Spans   []apiSpan   `json:"spans"`   // of members that the position does not tell apart
}

// apiSpan is how much of its full effort a muscle gives, in shares of one.
type apiSpan struct {
	Muscle int     `json:"muscle"` // index
	Name   string  `json:"name"`   // in the voice asked for, without its side
	Text   string  `json:"text"`   // "8 to 31%"
	Best   float64 `json:"best"`   // in the way that costs least effort
	Lo     float64 `json:"lo"`     // in near-best ways
	Hi     float64 `json:"hi"`
}

type apiReason struct {
	Kind   string `json:"kind"`
	Text   string `json:"text"`
	Source string `json:"source"` // key
}

type apiDoubt struct {
	Kind string `json:"kind"`
	Text string `json:"text"`
	Mend string `json:"mend"`
}

type apiJoint struct {
	Name     string  `json:"name"`  // "right knee"
	Toward   string  `json:"words"` // "flexion"
	ValueDeg float64 `json:"value_deg"`
	PastDeg  float64 `json:"past_deg"` // past the published range, 0 within
}

type apiSource struct {
	Key   string `json:"key"`
	Text  string `json:"text"`
	Grade string `json:"grade"` // "published", "estimate" ...
}

// apiMuscles tells of every muscle, in the order of the model. Role codes are
// "w" works, "l" drawn long, "s" slack, "q" quiet; grade codes "m" must, "l"
// likely, "y" may, "n" not told, "g" geometry.
type apiMuscles struct {
	Roles  string `json:"roles"`
	Grades string `json:"grades"`
	// NextRoles and NextGrades are those of the posture at the next mark, the
	// same for a hold.
	NextRoles  string `json:"next_roles"`
	NextGrades string `json:"next_grades"`
	// Places are the places in their own spans, per mille.
	Places []int `json:"places"`
	// Efforts are shares of full effort in the way that costs least, per mille.
	Efforts     []int `json:"efforts"`
	NextEfforts []int `json:"next_efforts"`
	// Pulls are codes of the end that is held, as far as the supports tell: "o"
	// the one where the muscle's line begins, "i" the other, "-" not told.
	Pulls     string `json:"pulls"`
	NextPulls string `json:"next_pulls"`
}

// apiMuscle is everything about one muscle in one phase.
type apiMuscle struct {
	Name    string      `json:"name"`
	Latin   string      `json:"latin"`
	Plain   string      `json:"plain"`
	From    string      `json:"from"` // origin in words
	To      string      `json:"to"`
	Note    string      `json:"note"`
	Role    string      `json:"role"`
	Grade   string      `json:"grade"`
	Place   float64     `json:"place"`   // in its own span, 0 to 1
	State   string      `json:"state"`   // in one or two sentences
	Part    string      `json:"part"`    // among the others; may be empty
	Pull    string      `json:"pull"`    // which end is held; may be empty
	Effort  string      `json:"effort"`  // in figures; empty where none is known
	Span    []apiSpan   `json:"span"`    // one where its near-best span is known, else none
	Length  string      `json:"length"`  // in figures
	Actions string      `json:"actions"` // what it is known to do
	Reasons []apiReason `json:"reasons"`
	Sources []apiSource `json:"sources"`
}

// apiModel is what of the body does not move. Radii are millimetres.
type apiModel struct {
	Version    string      `json:"version"`
	Parts      []string    `json:"parts"`       // of every capsule: "head", "thigh"
	RadiiMM    []float64   `json:"radii_mm"`    // two for each capsule
	LinePoints int         `json:"line_points"` // of every muscle line
	Muscles    []apiStrand `json:"muscles"`
}

// apiStrand is one muscle as it is drawn.
type apiStrand struct {
	Key     string  `json:"key"`
	Plain   string  `json:"plain"`
	Name    string  `json:"name"`
	Side    string  `json:"side"` // "right", "left", ""
	Region  string  `json:"region"`
	WidthMM float64 `json:"width_mm"` // breadth of the band
}

// apiScene is where everything is, at evenly spaced moments of a phase: one for
// a hold. World millimetres, x forward, y up from the floor, z to the right.
type apiScene struct {
	Samples []apiSample `json:"samples"`
}

type apiSample struct {
	Body     []int      `json:"body"`  // six for each capsule: a, then b
	Lines    []int      `json:"lines"` // 3 x line_points for each muscle
	Centre   []int      `json:"centre"`
	Contacts []int      `json:"contacts"` // three for each patch at rest
	Bears    []int      `json:"bears"`    // what presses on the body there in the best way, N
	Loads    []apiHeavy `json:"loads"`
}

// apiHeavy is a load to be drawn.
type apiHeavy struct {
	At   []int  `json:"at"`
	Way  string `json:"way"`  // of the body's push or pull; "down" for what is carried
	Text string `json:"text"` // "2 kg"
}

// apiFrames tells when the recording's frames appear. With a constant rate
// times_us is empty and frame n appears at first_us + n * period_us.
type apiFrames struct {
	Count    int     `json:"count"`
	FirstUS  float64 `json:"first_us"`
	PeriodUS float64 `json:"period_us"`
	EndUS    float64 `json:"end_us"` // when the last one goes
	TimesUS  []int64 `json:"times_us"`
}

// apiWords asks what a posture in words is understood as.
type apiWords struct {
	Words string `json:"words"`
}

type apiReading struct {
	Canonical string       `json:"canonical"`
	Parts     []apiPart    `json:"parts"`
	Unknown   []apiUnknown `json:"unknown"`
}

// apiPart is one statement of the words; From and To count UTF-16 units.
type apiPart struct {
	From      int    `json:"from"`
	To        int    `json:"to"`
	Canonical string `json:"canonical"`
}

// apiMarkEdit adds or changes a mark; what is absent stays as it is.
type apiMarkEdit struct {
	AtMS  *int64  `json:"at_ms"`
	Title *string `json:"title"`
	Words *string `json:"words"`
	Note  *string `json:"note"`
}

// apiChanged answers a change.
type apiChanged struct {
	Mark  int64  `json:"mark"`  // the mark it was about; 0 for none
	ID    int64  `json:"id"`    // the remark, posture or angle it was about; 0 for none
	Label string `json:"label"` // what undo or redo did, in words
}

// message goes over the websocket, both ways.
type message struct {
	Kind     string `json:"kind"` // "revision", "trouble", "playhead"
	Revision int64  `json:"revision,omitempty"`
	AtMS     int64  `json:"at_ms,omitempty"`
	Playing  bool   `json:"playing,omitempty"`
}
