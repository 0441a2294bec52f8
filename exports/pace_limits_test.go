package exports

import (
	"math"
	"strings"
	"testing"
)

// TestEveryReadingLimitIsAnOptionWithItsSource: each can be set alone and reaches
// the captions' pace.
func TestEveryReadingLimitIsAnOptionWithItsSource(t *testing.T) {
	names := map[string]bool{}
	for _, l := range PaceLimits() {
		if names[l.Name] || l.Help == "" || !strings.ContainsAny(l.Source, "0123456789o") {
			t.Errorf("%+v", l)
		}
		names[l.Name] = true
		p := DefaultPace
		value := l.Default() * 2
		if err := l.Set(&p, value); err != nil || l.get(p) != value {
			t.Errorf("%s: %v after %g (%v)", l.Name, l.get(p), value, err)
		}
		if p == DefaultPace {
			t.Errorf("%s: nothing was set", l.Name)
		}
		for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1), 1e9} {
			if l.Set(&p, bad) == nil {
				t.Errorf("%s takes %g", l.Name, bad)
			}
		}
		if l.Whole && l.Set(&p, 2.5) == nil {
			t.Errorf("%s takes parts", l.Name)
		}
	}
	if len(names) != 8 {
		t.Errorf("%d limits; a pace has 8", len(names))
	}
}
