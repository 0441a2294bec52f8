package media

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
	"time"
)

func ms(v ...int) []time.Duration {
	out := make([]time.Duration, len(v))
	for i := range v {
		out[i] = time.Duration(v[i]) * time.Millisecond
	}
	return out
}

func TestFramesAreFoundByNumberAndByTime(t *testing.T) {
	rec := &Recording{Frames: ms(100, 140, 180, 400), FramesEnd: 440 * time.Millisecond, Duration: 340 * time.Millisecond}
	for _, c := range []struct{ at, near, shown int }{
		{-5, 0, 0}, {0, 0, 0}, {100, 0, 0}, {119, 0, 0}, {120, 0, 0}, {121, 1, 0}, {140, 1, 1},
		{289, 2, 2}, {290, 2, 2}, {291, 3, 2}, {399, 3, 2}, {400, 3, 3}, {9999, 3, 3},
	} {
		at := time.Duration(c.at) * time.Millisecond
		if near, shown := rec.FrameNear(at), rec.FrameShown(at); near != c.near || shown != c.shown {
			t.Errorf("at %v: near %d, shown %d; want %d, %d", at, near, shown, c.near, c.shown)
		}
	}
	for n, want := range ms(120, 160, 290, 420) {
		if got, ok := rec.SeekTime(n); !ok || got != want {
			t.Errorf("seek for frame %d: %v, want %v", n, got, want)
		}
		if got, ok := rec.FrameAt(n); !ok || rec.FrameNear(got) != n {
			t.Errorf("frame %d is at %v, near which is %d", n, got, rec.FrameNear(got))
		}
	}
	for _, n := range []int{-1, 4} {
		if _, ok := rec.FrameAt(n); ok {
			t.Errorf("frame %d is there", n)
		}
		if _, ok := rec.SeekTime(n); ok {
			t.Errorf("frame %d can be sought", n)
		}
	}
	if rec.End() != 440*time.Millisecond {
		t.Errorf("ends at %v", rec.End())
	}
	if empty := (&Recording{}); empty.FrameNear(0) != -1 || empty.FrameShown(0) != -1 {
		t.Error("a recording without frames shows one")
	}
}

func TestSeekTimeFallsWhereItsFrameIsShown(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	rec := &Recording{}
	at := time.Duration(0)
	for range 500 {
		rec.Frames = append(rec.Frames, at)
		at += 1 + time.Duration(rng.IntN(50_000_000))
	}
	rec.FramesEnd = at
	for n := range rec.Frames {
		if mid, ok := rec.SeekTime(n); !ok || rec.FrameShown(mid) != n {
			t.Fatalf("frame %d: seek to %v shows %d", n, mid, rec.FrameShown(mid))
		}
	}
}

// Frame times of an even rate, rounded to whatever clock, must be called
// constant and given that rate; one frame left out makes them variable.
func TestRatesSurviveRoundingToCoarseClocks(t *testing.T) {
	for _, tick := range []time.Duration{1, time.Second / 90000, time.Millisecond} {
		for _, r := range common {
			times := make([]time.Duration, 2000)
			for i := range times {
				exact := float64(i) * 1e9 * float64(r.Den) / float64(r.Num)
				times[i] = time.Duration(math.Round(exact/float64(tick)) * float64(tick))
			}
			if got, variable := pace(times, tick, Rate{}); got != r || variable {
				t.Errorf("%v on a clock of %v: %v, variable %v", r, tick, got, variable)
			}
			missing := append(append([]time.Duration{}, times[:900]...), times[901:]...)
			if got, variable := pace(missing, tick, r); !variable || math.Abs(got.PerSecond()/r.PerSecond()-1) > 0.002 {
				t.Errorf("%v without a frame on a clock of %v: %v, variable %v", r, tick, got, variable)
			}
		}
	}
}

func TestRatesThatNobodyUsesAreKept(t *testing.T) {
	times := make([]time.Duration, 300)
	for i := range times {
		times[i] = time.Duration(i) * 77 * time.Millisecond
	}
	if r, variable := pace(times, time.Millisecond, Rate{}); variable || math.Abs(r.PerSecond()-1/0.077) > 1e-6 {
		t.Errorf("%v, %v", r.PerSecond(), variable)
	}
	if r, _ := pace(ms(0), time.Millisecond, Rate{25, 1}); r != (Rate{25, 1}) {
		t.Errorf("one frame: %v", r)
	}
}

func TestTicksAreRoundedExactly(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		a := int64(rng.Uint64()) >> rng.IntN(63)
		b := int64(rng.Uint64()>>1) >> rng.IntN(62)
		c := 1 + int64(rng.Uint64()>>2)>>rng.IntN(62)
		// round half away from zero, in big numbers: (2|a|b + c) / 2c
		x := new(big.Int).Mul(big.NewInt(a), big.NewInt(b))
		negative := x.Sign() < 0
		x.Abs(x).Lsh(x, 1).Add(x, big.NewInt(c)).Quo(x, new(big.Int).Lsh(big.NewInt(c), 1))
		if x.Cmp(big.NewInt(math.MaxInt64)) > 0 {
			x.SetInt64(math.MaxInt64)
		}
		if negative {
			x.Neg(x)
		}
		if got := mulDiv(a, b, c); got != x.Int64() {
			t.Fatalf("%d*%d/%d = %d, want %v", a, b, c, got, x)
		}
	}
}
