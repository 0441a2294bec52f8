package analysis

import (
	"strings"
	"testing"
)

// TestWhatIsMissingIsSaidAsPeopleSayIt: every joint once, both sides in one.
func TestWhatIsMissingIsSaidAsPeopleSayIt(t *testing.T) {
	for words, want := range map[string]string{
		"standing; arms straight in front; hands carry 12 kg":            " N·m at the shoulder on both sides",
		"standing; right arm straight in front; right hand carries 9 kg": " N·m at the shoulder on the right",
	} {
		f := say(t, words)
		found := false
		for _, d := range f.Doubts {
			if strings.Contains(d.Text, "they lack ") {
				found = true
				if strings.Count(d.Text, want) != 1 || strings.Contains(d.Text, "glenohumeral") {
					t.Errorf("%s: %q does not say once %q", words, d.Text, want)
				}
			}
		}
		if !found {
			t.Errorf("%s: nothing is said to be lacking: %+v", words, f.Doubts)
		}
	}
}
