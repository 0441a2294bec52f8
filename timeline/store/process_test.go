package store

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"tautline/timeline"
)

// The tests of several programs at once start this test binary again in one of
// these parts. Its arguments are in the environment, its acknowledgements go to
// standard output one line each.
const (
	partVar = "STORE_TEST_PART"
	pathVar = "STORE_TEST_PATH"
	nameVar = "STORE_TEST_NAME"
)

// parts are what such a process can be asked to do.
var parts = map[string]func() error{"mark": withStore(addMarks), "count": withStore(countUp)}

func withStore(part func(s *Store, name string) error) func() error {
	return func() error {
		s, err := Open(context.Background(), os.Getenv(pathVar))
		if err != nil {
			return err
		}
		return errors.Join(part(s, os.Getenv(nameVar)), s.Close())
	}
}

func TestMain(m *testing.M) {
	part, ok := parts[os.Getenv(partVar)]
	if !ok {
		os.Exit(m.Run())
	}
	if err := part(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// addMarks adds marks until it is killed and prints each title once it is kept.
func addMarks(s *Store, name string) error {
	for i := 0; ; i++ {
		title := fmt.Sprintf("%s-%d", name, i)
		if _, err := s.AddMark(context.Background(), timeline.Mark{At: timeline.Instant(i), Title: title, Words: "standing"}); err != nil {
			return err
		}
		fmt.Println(title)
	}
}

const counts = 150

// countUp adds one to the number in mark 1's note, counts times.
func countUp(s *Store, _ string) error {
	for range counts {
		_, err := s.ChangeMark(context.Background(), 1, func(m *timeline.Mark) error {
			n, err := strconv.Atoi(m.Note)
			m.Note = strconv.Itoa(n + 1)
			return err
		})
		if err != nil {
			return err
		}
		fmt.Println()
	}
	return nil
}

// start runs a part in a process of its own.
func start(t *testing.T, part, path, name string) (*exec.Cmd, io.Reader) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), partVar+"="+part, pathVar+"="+path, nameVar+"="+name)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill() })
	return cmd, out
}

// Two programs add marks and are killed at random moments, again and again,
// until they have acknowledged 500. Every acknowledged mark is in the file each
// time, at most the one change under way is there besides, and the file is
// sound.
func TestNoAcknowledgedMarkIsLostToKilledPrograms(t *testing.T) {
	const wanted, seed = 500, 7
	r := rand.New(rand.NewPCG(seed, seed))
	s := made(t, timeline.Study{Person: orchard().Person})
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	acknowledged := map[string]bool{}
	kills, journals, both := 0, 0, 0
	for round := 0; len(acknowledged) < wanted; round++ {
		lines := make(chan []string)
		common := time.Duration(30+r.IntN(120)) * time.Millisecond
		for i := range 2 {
			wait := common + time.Duration(r.IntN(20))*time.Millisecond
			cmd, out := start(t, "mark", s.Path(), fmt.Sprintf("%d-%d", round, i))
			go func() {
				in := bufio.NewReader(out)
				var kept []string
				for {
					line, err := in.ReadString('\n')
					if err != nil { // a line without its end was not acknowledged
						break
					}
					if len(kept) == 0 {
						time.AfterFunc(wait, func() { cmd.Process.Kill() })
					}
					kept = append(kept, strings.TrimSuffix(line, "\n"))
				}
				if cmd.Wait(); cmd.ProcessState.Exited() {
					t.Errorf("seed %d: a writer ended by itself: %v", seed, cmd.ProcessState)
				}
				lines <- kept
			}()
		}
		first, second := <-lines, <-lines
		if len(first) > 0 && len(second) > 0 {
			both++
		}
		kills += 2
		for _, title := range append(first, second...) {
			acknowledged[title] = true
		}
		if _, err := os.Stat(s.Path() + "-journal"); err == nil {
			journals++
		}
		again, err := OpenReadOnly(t.Context(), s.Path()) // the command after a crash may well be one that reads
		if err != nil {
			t.Fatalf("seed %d, round %d: %v", seed, round, err)
		}
		sound(t, again)
		there := map[string]bool{}
		for _, m := range loaded(t, again).Marks {
			there[m.Title] = true
		}
		for title := range acknowledged {
			if !there[title] {
				t.Errorf("seed %d, round %d: acknowledged mark %q is lost", seed, round, title)
			}
		}
		if extra := len(there) - len(acknowledged); extra > kills {
			t.Errorf("seed %d: %d marks that nobody acknowledged, after %d kills", seed, extra, kills)
		}
		if err := again.Close(); err != nil {
			t.Error(err)
		}
		if again, err = Open(t.Context(), s.Path()); err != nil {
			t.Fatalf("seed %d, round %d: %v", seed, round, err)
		}
		if err := again.Close(); err != nil {
			t.Error(err)
		}
		alone(t, s.Path())
		if t.Failed() {
			return
		}
	}
	if both == 0 {
		t.Error("never did both programs write")
	}
	t.Logf("%d marks acknowledged, %d kills, %d of them in the middle of a change; both wrote in %d of %d rounds", len(acknowledged), kills, journals, both, kills/2)
}

func TestTwoProgramsCountingTogetherLoseNothing(t *testing.T) {
	st := orchard()
	st.Marks = []timeline.Mark{{Note: "0"}}
	s := made(t, st)
	began := time.Now()
	finished := make(chan time.Duration)
	for range 2 {
		cmd, out := start(t, "count", s.Path(), "")
		go func() {
			n, err := io.Copy(io.Discard, out)
			if err := errors.Join(err, cmd.Wait()); err != nil || n != counts {
				t.Errorf("a counter acknowledged %d: %v", n, err)
			}
			finished <- time.Since(began)
		}()
	}
	a, b := <-finished, <-finished
	got := loaded(t, s)
	if want := strconv.Itoa(2 * counts); got.Marks[0].Note != want || got.Revision != 1+2*counts {
		t.Errorf("the count is %s at revision %d, want %s", got.Marks[0].Note, got.Revision, want)
	}
	sound(t, s)
	t.Logf("one finished after %v, the other after %v", a, b)
}

func TestAFileOpenInOneProcessTwiceIsStillLocked(t *testing.T) {
	s := made(t, orchard())
	ctx := t.Context()
	other, err := open(ctx, s.Path(), writing, 100*time.Millisecond)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	_, err = s.ChangeMark(ctx, 1, func(m *timeline.Mark) error {
		// Opening and closing the file by other means must not free the lock.
		third, err := Open(ctx, s.Path())
		if err != nil {
			return err
		}
		if err := third.Close(); err != nil {
			return err
		}
		cmd, out := start(t, "mark", s.Path(), "elsewhere")
		said := make(chan bool, 1)
		go func() {
			n, _ := out.Read(make([]byte, 100))
			said <- n > 0
		}()
		if _, err := other.AddMark(ctx, timeline.Mark{}); !errors.Is(err, ErrBusy) {
			t.Errorf("another store of this process wrote meanwhile: %v", err)
		}
		select {
		case <-said:
			t.Error("another process wrote meanwhile")
		case <-time.After(300 * time.Millisecond):
		}
		cmd.Process.Kill()
		cmd.Wait()
		m.Title = "kept"
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := other.AddMark(ctx, timeline.Mark{}); err != nil {
		t.Errorf("after the change the other store writes: %v", err)
	}
}
