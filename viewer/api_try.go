package viewer

// What a posture that is only being tried is told and tells; nothing of it is
// kept in the study.

// apiTry asks what a posture means: of words, of words that vary a base, or of
// a state of dials.
type apiTry struct {
	Words  *string   `json:"words"`
	Base   *string   `json:"base"`  // words that Words vary
	State  *apiState `json:"state"` // instead of Words
	Mirror bool      `json:"mirror"`
	// Intent is the intensity of every cue instead of what is said of it: 0
	// leaves cues out, 1 is all that there is.
	Intent  *float64 `json:"intent"`
	Against *string  `json:"against"` // words: what changes from them is told
	Glance  bool     `json:"glance"`  // the quick answer, without how firm
	Voice   string   `json:"voice"`
}

// apiTried is the answer.
type apiTried struct {
	Key       string       `json:"key"` // for /api/tried/{key}/muscles
	Glance    bool         `json:"glance"`
	Canonical string       `json:"canonical"`
	Parts     []apiPart    `json:"parts"`   // of the words
	Unknown   []apiUnknown `json:"unknown"` // of the words
	State     apiState     `json:"state"`
	// Values is every movement's value as the body stands, degrees, in the order
	// of the vocabulary.
	Values   []float64   `json:"values"`
	Sample   apiSample   `json:"sample"`
	Findings apiFindings `json:"findings"`
	Varied   *apiVaried  `json:"varied"` // null unless asked for
}

// apiVaried is what changes between two postures.
type apiVaried struct {
	Differs    []string       `json:"differs"`
	Effort     string         `json:"effort"`
	Statements []apiStatement `json:"statements"`
	Figures    []apiVaries    `json:"figures"`
}

// apiVaries is one group's change in figures, per cent: of its strength for
// work, of its span for lengths.
type apiVaries struct {
	Name string  `json:"name"`
	Role string  `json:"role"`
	From float64 `json:"from"`
	To   float64 `json:"to"`
}

// apiState is a posture as what can be set one by one, by keys of the
// vocabulary.
type apiState struct {
	Stance    string        `json:"stance"` // "" for none
	Positions []apiPosition `json:"positions"`
	Supports  []apiSupport  `json:"supports"` // besides those of the stance
	Loads     []apiLoad     `json:"loads"`
	Cues      []apiCue      `json:"cues"`
	Hanging   apiArms       `json:"hanging"` // arms that hang straight down
}

type apiArms struct {
	Right bool `json:"right"`
	Left  bool `json:"left"`
}

type apiPosition struct {
	Movement string  `json:"movement"`
	ValueDeg float64 `json:"value_deg"` // positive toward the first name
}

type apiSupport struct {
	Patch string `json:"patch"`
	On    string `json:"on"`
}

type apiLoad struct {
	Kind      string  `json:"kind"` // "carry", "push", "pull"
	Patch     string  `json:"patch"`
	MassKg    float64 `json:"mass_kg"`
	ForceN    float64 `json:"force_n"`
	Direction string  `json:"direction"`
}

type apiCue struct {
	Kind      string  `json:"kind"`     // "pull", "brace", "push away", "pull in"
	Movement  string  `json:"movement"` // "" for those at a contact
	Toward    bool    `json:"toward"`
	Patch     string  `json:"patch"`
	Intensity float64 `json:"intensity"` // share of capacity
}

// apiVocabulary is everything that can be set or said.
type apiVocabulary struct {
	Movements []apiDial   `json:"movements"`
	Stances   []apiNamed  `json:"stances"`
	Patches   []apiNamed  `json:"patches"`
	Surfaces  []string    `json:"surfaces"`
	Ways      []string    `json:"ways"` // of pushes and pulls
	Says      [][2]string `json:"says"` // what may be typed, and how it is understood
}

// apiDial is one movement with its published range.
type apiDial struct {
	Key     string     `json:"key"`
	Name    string     `json:"name"` // of the joint, with its side
	Joint   string     `json:"joint"`
	Side    string     `json:"side"`
	Toward  string     `json:"toward"`
	Away    string     `json:"away"`
	Plain   string     `json:"plain"` // toward, in plain words
	LoDeg   float64    `json:"lo_deg"`
	HiDeg   float64    `json:"hi_deg"`
	Other   int        `json:"other"`   // the same movement on the other side; its own index in the middle
	Lateral bool       `json:"lateral"` // its mirror image is its opposite
	Ranges  []apiRange `json:"ranges"`
	Source  string     `json:"source"`
}

type apiRange struct {
	LoDeg float64 `json:"lo_deg"`
	HiDeg float64 `json:"hi_deg"`
	Whose string  `json:"whose"`
}

type apiNamed struct {
	Key  string `json:"key"`
	Name string `json:"name"`
}
