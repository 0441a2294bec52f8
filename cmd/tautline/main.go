// Command tautline marks moments in a recording of movement, attaches a posture
// to each in ordinary clinical words, and computes what that means for the
// muscles: on a page while scrubbing, and as captions, chapters and notes.
//
// Every file here parses a command line, makes one call and prints. What goes
// wrong becomes an exit code and a hint in one place: outcome.go.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
