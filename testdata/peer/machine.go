package peer

import "testing"

// Lacks skips the test, by name, because this machine cannot do something that
// the test needs: make symbolic links, refuse a file to its owner.
func Lacks(t testing.TB, what string, why error) {
	t.Helper()
	t.Skipf("peer: this machine has no %s (%v)", what, why)
}

// Long skips a test that takes long under -short, and says how long.
func Long(t testing.TB, takes string) {
	t.Helper()
	if testing.Short() {
		t.Skipf("peer: takes %s", takes)
	}
}
