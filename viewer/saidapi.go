package viewer

// What the page is told, and tells, of what is said beside the marks.

// apiRemark is a reviewer's note.
type apiRemark struct {
	ID       int64  `json:"id"`
	Mark     int64  `json:"mark"`  // whose phase it is about; 0 for a moment
	AtMS     int64  `json:"at_ms"` // the moment, or the phase's beginning
	By       string `json:"by"`
	Text     string `json:"text"`
	Answer   string `json:"answer"` // empty until somebody answers
	AnswerBy string `json:"answer_by"`
	Settled  bool   `json:"settled"`
}

// apiPosture is a posture kept for a series.
type apiPosture struct {
	ID    int64  `json:"id"`
	Name  string `json:"name"`
	Words string `json:"words"`
}

// apiAngle is an angle read off the picture for a mark.
type apiAngle struct {
	ID       int64        `json:"id"`
	Mark     int64        `json:"mark"`
	AtMS     int64        `json:"at_ms"`     // of the picture
	Joint    string       `json:"joint"`     // the movement's key; empty for none
	AngleDeg float64      `json:"angle_deg"` // in the sense of the movement
	Points   [][2]float64 `json:"points"`    // three or four, x right and y down in pixels of the recording
}

// apiRemarkEdit adds or changes a remark; what is absent stays as it is. A mark
// pins it to that mark's phase, at_ms to a moment.
type apiRemarkEdit struct {
	Mark     *int64  `json:"mark"`
	AtMS     *int64  `json:"at_ms"`
	By       *string `json:"by"`
	Text     *string `json:"text"`
	Answer   *string `json:"answer"`
	AnswerBy *string `json:"answer_by"`
	Settled  *bool   `json:"settled"`
}

// apiPostureEdit keeps or changes a posture by name.
type apiPostureEdit struct {
	Name  *string `json:"name"`
	Words *string `json:"words"`
}

// apiAngleEdit keeps or changes an angle read off the picture.
type apiAngleEdit struct {
	AtMS     *int64        `json:"at_ms"`
	Joint    *string       `json:"joint"`
	AngleDeg *float64      `json:"angle_deg"`
	Points   *[][2]float64 `json:"points"`
}
