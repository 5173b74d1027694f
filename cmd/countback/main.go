// Command countback is the whole program: a kiosk that reads scans line by
// line, the reports, and the care of the store.
//
// It knows every other package and has no rule of its own: a command reads
// settings and the store, asks, and writes the answer as text for people or
// as JSON for programs. Each command has a file named after it; the exit
// statuses are in exit.go, and the settings in settings.go.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	status := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(int(status))
}
