package viewer

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"reflect"
	"testing"
)

// TestWhatIsSaidBesideTheMarksIsWritten: remarks, named postures and picture
// angles are added, changed, removed, taken back and made again, one step each,
// and the report tells of them.
func TestWhatIsSaidBesideTheMarksIsWritten(t *testing.T) {
	x := serve(t, warmUp())
	knee := [][2]float64{{100, 40}, {102.5, 80}, {90, 120}}
	type obj = map[string]any
	for _, step := range []struct {
		what, method, path string
		body               any
		status             int
		remarks            []apiRemark
		postures           []apiPosture
		angles             []apiAngle
	}{
		{what: "a remark at a moment", method: "POST", path: "/api/remarks", body: obj{"at_ms": 9500, "by": "Ana", "text": "Is the <chin> in?"}, status: 201,
			remarks: []apiRemark{{ID: 1, AtMS: 9500, By: "Ana", Text: "Is the <chin> in?"}}},
		{what: "a remark on a phase", method: "POST", path: "/api/remarks", body: obj{"mark": 2, "text": "Slower."}, status: 201,
			remarks: []apiRemark{{ID: 2, Mark: 2, AtMS: 4000, Text: "Slower."}, {ID: 1, AtMS: 9500, By: "Ana", Text: "Is the <chin> in?"}}},
		{what: "an answer", method: "PATCH", path: "/api/remarks/2", body: obj{"answer": "Yes.", "answer_by": "Ben", "settled": true}, status: 200,
			remarks: []apiRemark{{ID: 2, Mark: 2, AtMS: 4000, Text: "Slower.", Answer: "Yes.", AnswerBy: "Ben", Settled: true}, {ID: 1, AtMS: 9500, By: "Ana", Text: "Is the <chin> in?"}}},
		{what: "to a moment", method: "PATCH", path: "/api/remarks/2", body: obj{"at_ms": 12000}, status: 200,
			remarks: []apiRemark{{ID: 1, AtMS: 9500, By: "Ana", Text: "Is the <chin> in?"}, {ID: 2, AtMS: 12000, Text: "Slower.", Answer: "Yes.", AnswerBy: "Ben", Settled: true}}},
		{what: "a removal", method: "DELETE", path: "/api/remarks/1", status: 200,
			remarks: []apiRemark{{ID: 2, AtMS: 12000, Text: "Slower.", Answer: "Yes.", AnswerBy: "Ben", Settled: true}}},
		{what: "another removal", method: "DELETE", path: "/api/remarks/2", status: 200},
		{what: "a posture", method: "POST", path: "/api/postures", body: obj{"name": "reach", "words": "arms overhead"}, status: 201,
			postures: []apiPosture{{1, "reach", "arms overhead"}}},
		{what: "another posture", method: "POST", path: "/api/postures", body: obj{"name": "hinge", "words": "hinge forward 60"}, status: 201,
			postures: []apiPosture{{2, "hinge", "hinge forward 60"}, {1, "reach", "arms overhead"}}},
		{what: "its words", method: "PATCH", path: "/api/postures/2", body: obj{"words": "hinge forward 50"}, status: 200,
			postures: []apiPosture{{2, "hinge", "hinge forward 50"}, {1, "reach", "arms overhead"}}},
		{what: "a posture gone", method: "DELETE", path: "/api/postures/1", status: 200, postures: []apiPosture{{2, "hinge", "hinge forward 50"}}},
		{what: "an angle", method: "POST", path: "/api/marks/2/angles", body: obj{"at_ms": 4040, "joint": "knee_flexion_r", "angle_deg": 30, "points": knee}, status: 201,
			postures: []apiPosture{{2, "hinge", "hinge forward 50"}}, angles: []apiAngle{{1, 2, 4040, "knee_flexion_r", 30, knee}}},
		{what: "a fourth point", method: "PATCH", path: "/api/angles/1", body: obj{"angle_deg": -12.5, "points": append(knee, [2]float64{7, 7})}, status: 200,
			postures: []apiPosture{{2, "hinge", "hinge forward 50"}}, angles: []apiAngle{{1, 2, 4040, "knee_flexion_r", -12.5, append(knee, [2]float64{7, 7})}}},
		{what: "an angle gone", method: "DELETE", path: "/api/angles/1", status: 200, postures: []apiPosture{{2, "hinge", "hinge forward 50"}}},
	} {
		was := read[apiReport](t, x, "/api/report")
		status, body, _ := x.do(t, step.method, step.path, step.body)
		var answer apiChanged
		if err := json.Unmarshal([]byte(body), &answer); err != nil || status != step.status || answer.ID == 0 {
			t.Fatalf("%s: %d %s", step.what, status, body)
		}
		is := read[apiReport](t, x, "/api/report")
		for i := range is.Angles {
			is.Angles[i].AngleDeg = math.Round(is.Angles[i].AngleDeg*1e9) / 1e9
		}
		if is.Revision != was.Revision+1 {
			t.Errorf("%s: revision %d after %d", step.what, is.Revision, was.Revision)
		}
		same(t, step.what+": remarks", is.Remarks, step.remarks)
		same(t, step.what+": postures", is.Postures, step.postures)
		same(t, step.what+": angles", is.Angles, step.angles)
		if status, body, _ := x.do(t, "POST", "/api/undo", nil); status != http.StatusOK {
			t.Fatalf("%s: undo: %d %s", step.what, status, body)
		}
		back := read[apiReport](t, x, "/api/report")
		if !reflect.DeepEqual([]any{back.Remarks, back.Postures, back.Angles}, []any{was.Remarks, was.Postures, was.Angles}) {
			t.Errorf("%s: taken back it is %+v", step.what, back)
		}
		if status, body, _ := x.do(t, "POST", "/api/redo", nil); status != http.StatusOK {
			t.Fatalf("%s: redo: %d %s", step.what, status, body)
		}
	}
}

// same compares lists; a list of none is not null.
func same[T any](t *testing.T, what string, got, want []T) {
	t.Helper()
	if got == nil || len(got) != len(want) || len(want) > 0 && !reflect.DeepEqual(got, want) {
		t.Errorf("%s: %+v, want %+v", what, got, want)
	}
}

// TestFaultySayingsAreRefused with the status that says so and without a change.
func TestFaultySayingsAreRefused(t *testing.T) {
	x := serve(t, warmUp())
	if status, body, _ := x.do(t, "POST", "/api/postures", map[string]any{"name": "reach", "words": "arms overhead"}); status != http.StatusCreated {
		t.Fatal(body)
	}
	before := x.revision(t)
	angle := func(points int) string {
		list := make([][2]int, points)
		text, _ := json.Marshal(list)
		return fmt.Sprintf(`{"angle_deg":5,"points":%s}`, text)
	}
	for _, c := range []struct {
		what, method, path, body string
		status                   int
	}{
		{"a remark that says nothing", "POST", "/api/remarks", `{"at_ms":5}`, 422},
		{"a remark before zero", "POST", "/api/remarks", `{"at_ms":-5,"text":"?"}`, 422},
		{"a remark on a phase and at a moment", "POST", "/api/remarks", `{"at_ms":5,"mark":1,"text":"?"}`, 400},
		{"a remark on no phase", "POST", "/api/remarks", `{"mark":77,"text":"?"}`, 404},
		{"a remark with more", "POST", "/api/remarks", `{"text":"?","id":3}`, 400},
		{"a remark that is not there", "PATCH", "/api/remarks/77", `{"settled":true}`, 404},
		{"removal of none", "DELETE", "/api/remarks/77", ``, 404},
		{"a name twice", "POST", "/api/postures", `{"name":"reach","words":"standing"}`, 422},
		{"a posture without words", "POST", "/api/postures", `{"name":"empty"}`, 422},
		{"no posture", "PATCH", "/api/postures/9", `{"name":"x"}`, 404},
		{"no posture to remove", "DELETE", "/api/postures/9", ``, 404},
		{"two points", "POST", "/api/marks/1/angles", angle(2), 422},
		{"five points", "POST", "/api/marks/1/angles", angle(5), 400},
		{"an angle of no mark", "POST", "/api/marks/77/angles", angle(3), 404},
		{"an angle of a word", "POST", "/api/marks/first/angles", angle(3), 400},
		{"more than a turn", "POST", "/api/marks/1/angles", `{"angle_deg":361,"points":[[0,0],[0,0],[0,0]]}`, 422},
		{"no angle", "PATCH", "/api/angles/1", `{"angle_deg":3}`, 404},
		{"no angle to remove", "DELETE", "/api/angles/1", ``, 404},
	} {
		var body any
		if c.body != "" {
			body = c.body
		}
		if status, text, _ := x.do(t, c.method, c.path, body); status != c.status {
			t.Errorf("%s: %d, expected %d: %s", c.what, status, c.status, text)
		}
	}
	if x.revision(t) != before {
		t.Error("the study was changed")
	}
}
