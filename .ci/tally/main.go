// Command tally reads what go test -json prints and says how it is going: a line
// for each package as it ends, what a failed test printed, and every half minute
// what is still running. A skipped test counts as failed, and so does a package
// that ran none. The sums are added to a file as "PASSED FAILED".
package main

import (
	"bufio"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"sort"
	"strings"
	"time"
)

// event is one line of go test -json.
type event struct {
	Action, Package, ImportPath, Test, Output string
	Elapsed                                   float64
}

// tally is what is known so far.
type tally struct {
	passed, failed, skipped int
	running                 map[string]time.Time // packages
	tests                   map[string]int       // of a package, that ran
	bad                     map[string]int       // of a package, that failed
	said                    map[string][]string  // by package and test
}

func main() {
	sums := flag.String("sums", "", "file to add the sums to")
	flag.Parse()
	t := &tally{running: map[string]time.Time{}, tests: map[string]int{}, bad: map[string]int{}, said: map[string][]string{}}
	lines, done := make(chan string), time.NewTicker(30*time.Second)
	go func() {
		s := bufio.NewScanner(os.Stdin)
		s.Buffer(nil, 64<<20)
		for s.Scan() {
			lines <- s.Text()
		}
		close(lines)
	}()
	for open := true; open; {
		select {
		case line, ok := <-lines:
			if open = ok; ok {
				t.line(line)
			}
		case <-done.C:
			t.still()
		}
	}
	for p := range t.running {
		t.failed++
		fmt.Printf("FAIL  %s never ended\n", p)
	}
	fmt.Printf("tests: %d passed, %d failed, %d skipped\n", t.passed, t.failed, t.skipped)
	if *sums != "" {
		f, err := os.OpenFile(*sums, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
		if err == nil {
			_, err = fmt.Fprintf(f, "%d %d\n", t.passed, t.failed+t.skipped)
		}
		if err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
	}
	if t.failed+t.skipped > 0 {
		os.Exit(1)
	}
}

// line takes in one line; what is no event is passed on.
func (t *tally) line(line string) {
	var e event
	if json.Unmarshal([]byte(line), &e) != nil {
		fmt.Println(line)
		return
	}
	switch key := e.Package + " " + e.Test; {
	case e.Action == "build-output":
		fmt.Print(e.Output)
	case e.Action == "start":
		t.running[e.Package] = time.Now()
	case e.Action == "output":
		t.said[key] = append(t.said[key], e.Output)
	case e.Test != "":
		t.test(e, key)
	case e.Action == "pass" || e.Action == "fail" || e.Action == "skip":
		t.ended(e, key)
	}
}

// test counts a test that ended.
func (t *tally) test(e event, key string) {
	if e.Action != "pass" && e.Action != "fail" && e.Action != "skip" {
		return
	}
	t.tests[e.Package]++
	switch e.Action {
	case "pass":
		t.passed++
	case "fail":
		t.failed++
		t.bad[e.Package]++
		fmt.Printf("FAIL  %s\n%s", key, last(t.said[key]))
	case "skip":
		t.skipped++
		fmt.Printf("SKIP  %s\n%s", key, last(t.said[key]))
	}
	delete(t.said, key)
}

// ended tells how a package ended.
func (t *tally) ended(e event, key string) {
	delete(t.running, e.Package)
	n := t.tests[e.Package]
	switch {
	case e.Action == "fail" && n == 0:
		t.failed++
		fmt.Printf("FAIL  %s did not run\n%s", e.Package, last(t.said[key]))
	case n == 0:
		t.failed++
		fmt.Printf("FAIL  %s has no tests\n", e.Package)
	case e.Action == "fail":
		said := last(t.said[key])
		if t.bad[e.Package] > 0 && (strings.Contains(said, "panic:") || strings.Contains(said, "DATA RACE") || strings.Contains(said, "timed out")) {
			fmt.Print(said)
		}
		if t.bad[e.Package] == 0 { // it failed between its tests
			t.failed++
			fmt.Print(said)
		}
		fmt.Printf("fail  %s: %d tests in %.0f s\n", e.Package, n, e.Elapsed)
	default:
		fmt.Printf("ok    %s: %d tests in %.0f s\n", e.Package, n, e.Elapsed)
	}
}

// still tells what is running.
func (t *tally) still() {
	var names []string
	for p, since := range t.running {
		names = append(names, fmt.Sprintf("%s (%.0f s)", p, time.Since(since).Seconds()))
	}
	sort.Strings(names)
	if len(names) > 0 {
		fmt.Printf("...   %d passed so far; running: %s\n", t.passed, strings.Join(names, ", "))
	}
}

// last keeps the end of a long output.
func last(lines []string) string {
	const most = 60
	if len(lines) > most {
		lines = append([]string{"...\n"}, lines[len(lines)-most:]...)
	}
	for i, l := range lines {
		if len(l) > 2000 {
			lines[i] = l[:2000] + "...\n"
		}
	}
	return strings.Join(lines, "")
}
