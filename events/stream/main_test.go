package stream

import (
	"context"
	"os"
	"testing"
)

// sampleDir is what the damage tests share; testCtx is for what outlives one
// test.
var (
	sampleDir string
	testCtx   = context.Background()
)

func TestMain(m *testing.M) {
	if child := os.Getenv(childEnv); child != "" {
		os.Exit(runChild(child))
	}
	code := m.Run()
	if sampleDir != "" {
		os.RemoveAll(sampleDir)
	}
	os.Exit(code)
}
