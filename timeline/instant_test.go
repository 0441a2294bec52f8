package timeline

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// twentyFive is a recording of ten seconds at 25 frames per second.
type twentyFive struct{}

func (twentyFive) FrameTime(n int) (Instant, bool) { return Instant(n) * 40, n >= 0 && n < 250 }

func TestTimesAreReadAsPeopleWriteThem(t *testing.T) {
	for text, want := range map[string]Instant{
		"0":                                    0,
		"83.4":                                 83_400,
		" 83.4\t":                              83_400,
		"1:23.4":                               83_400,
		"0:01:23.400":                          83_400,
		"01:02:03":                             3_723_000,
		"90:00":                                5_400_000,
		"7200":                                 7_200_000,
		"#0":                                   0,
		"#249":                                 9_960,
		"#007":                                 280,
		"0.0004":                               0,
		"0.0005":                               1,
		"0.9995":                               1_000,
		"83.0005":                              83_001, // no binary fraction on the way
		"0.00049999999999999999999999999":      0,
		"1.23400000000000000000000000000":      1_234,
		"0000000000000000000000000000000083.4": 83_400,
		"999:59:59.999":                        MaxInstant,
		"3599999.999":                          MaxInstant,
	} {
		if got, err := ParseInstant(text, twentyFive{}); err != nil || got != want {
			t.Errorf("ParseInstant(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
}

func TestWhatIsNoTimeIsRefusedWithTheReason(t *testing.T) {
	for text, why := range map[string]string{
		"":                          "empty",
		"  ":                        "empty",
		"-1":                        "write it as",
		"+1":                        "write it as",
		"1e3":                       "write it as",
		"83,4":                      "write it as",
		".5":                        "write it as",
		"1..5":                      "write it as",
		"NaN":                       "write it as",
		"0x10":                      "write it as",
		"٣":                         "write it as",
		"1 :23":                     "write it as",
		"5.":                        "after the point",
		"1:23.":                     "after the point",
		"1:5":                       "two digits",
		"1:60":                      "two digits",
		"1:2:03":                    "two digits",
		"1:00:000":                  "two digits",
		"1:1:1:1":                   "more than hours",
		"999:59:59.9995":            "later than",
		"1000:00:00":                "later than",
		"99999999999999999999999":   "later than",
		"999999999999999999:59:59":  "later than",
		"#":                         "whole number",
		"#-0":                       "whole number",
		"#+1":                       "whole number",
		"#1.5":                      "whole number",
		"# 1":                       "whole number",
		"#250":                      "no such frame",
		"#999999999999999999999999": "no such frame",
	} {
		got, err := ParseInstant(text, twentyFive{})
		var e *TimeError
		if !errors.As(err, &e) || !strings.Contains(err.Error(), why) || e.Text != text || got != 0 {
			t.Errorf("ParseInstant(%q) = %v, %v; want an error saying %q", text, got, err, why)
		}
	}
	if _, err := ParseInstant("#1", nil); err == nil || !strings.Contains(err.Error(), "with pictures") {
		t.Errorf("a frame without a recording: %v", err)
	}
}

func TestTimesPrintAsTheyAreRead(t *testing.T) {
	for at, want := range map[Instant][2]string{
		0:             {"0:00:00.000", "0:00"},
		5_000:         {"0:00:05.000", "0:05"},
		83_400:        {"0:01:23.400", "1:23.4"},
		83_040:        {"0:01:23.040", "1:23.04"},
		3_723_001:     {"1:02:03.001", "1:02:03.001"},
		-1_500:        {"-0:00:01.500", "-0:01.5"},
		MaxInstant:    {"999:59:59.999", "999:59:59.999"},
		math.MinInt64: {"-2562047788015:12:55.808", "-2562047788015:12:55.808"},
	} {
		if got := [2]string{at.String(), at.Short()}; got != want {
			t.Errorf("%d prints as %q, want %q", int64(at), got, want)
		}
	}
}

// Whatever is read prints to a text that reads as the same moment, and no text
// makes the reader panic.
func FuzzParseInstant(f *testing.F) {
	for _, s := range []string{"", "0", "83.4", "1:23.4", "0:01:23.400", "#2085", "#-0", "999:59:59.9995", "1:5", "0.00049999999999999999", "99999999999999999999:59", "٣:00", "1:23.\x00", "-0", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		at, err := ParseInstant(text, twentyFive{})
		if err != nil {
			var e *TimeError
			if !errors.As(err, &e) || at != 0 {
				t.Fatalf("ParseInstant(%q) = %v, %v", text, at, err)
			}
			return
		}
		if at < 0 || at > MaxInstant {
			t.Fatalf("ParseInstant(%q) = %d, out of range", text, int64(at))
		}
		for _, printed := range []string{at.String(), at.Short()} {
			if again, err := ParseInstant(printed, nil); err != nil || again != at {
				t.Fatalf("%q reads as %d, prints as %q, reads as %d (%v)", text, int64(at), printed, int64(again), err)
			}
		}
	})
}
