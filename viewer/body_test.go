package viewer

import (
	"os"
	"testing"

	"tautline/testdata/peer"
)

// onBody plays a story of webtest/body.mjs on a site.
func onBody(t *testing.T, story string, x *site, folder string) told {
	t.Helper()
	peer.Chromium(t)
	var found told
	peer.Read(t, &found, "../../viewer/webtest/body.mjs", story, x.URL(), folder)
	for _, p := range found.Problems {
		t.Errorf("%s: %s", story, p)
	}
	return found
}

// TestPostureByWordsAndByDial: one state, tried before it is kept.
func TestPostureByWordsAndByDial(t *testing.T) { onBody(t, "posture", serve(t, warmUp()), "") }

// TestPosturesAreCopiedAndKept by name, and undone like anything else.
func TestPosturesAreCopiedAndKept(t *testing.T) { onBody(t, "kept", serve(t, warmUp()), "") }

// slowestDial is how long a turned dial may take to show on the findings in 95
// of 100 cases, ms. 120 is what is promised of a machine with nothing else to
// do; one that runs other tests meanwhile gets three times that.
const slowestDial = 3 * 120

// TestDialsAnswerWhileTheyTurn measures it in the browser.
func TestDialsAnswerWhileTheyTurn(t *testing.T) {
	found := onBody(t, "quick", serve(t, warmUp()), "")
	t.Logf("measured: %v", found.Notes)
	for _, how := range []string{"turning", "steps"} {
		if ms, ok := found.Notes[how+"_p95_ms"].(float64); !ok || ms > slowestDial {
			t.Errorf("%s: %v ms in 95 of 100 cases", how, found.Notes[how+"_p95_ms"])
		}
	}
}

// TestWorkOnThePostureForEveryone: axe finds nothing while a posture is edited,
// measured or compared. With TAUTLINE_SHOTS naming a folder the pictures are
// kept there.
func TestWorkOnThePostureForEveryone(t *testing.T) {
	found := onBody(t, "axe", serve(t, warmUp()), os.Getenv("TAUTLINE_SHOTS"))
	t.Logf("measured: %v", found.Notes)
	if n, _ := found.Notes["passes"].(float64); n < 100 {
		t.Errorf("only %v rules applied", n)
	}
}
