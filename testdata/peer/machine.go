package peer

import "testing"

// Lacks skips the test, by name, because this machine cannot do something that
// the test needs: make symbolic links, refuse a file to its owner.
func Lacks(t testing.TB, what string, why error) {
	t.Helper()
	t.Skipf("peer: this machine has no %s (%v)", what, why)
}
