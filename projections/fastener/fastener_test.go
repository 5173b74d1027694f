package fastener

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// spec reads a fastener that must be one.
func spec(t testing.TB, text string) Spec {
	t.Helper()
	s, err := Parse(text)
	require.NoError(t, err)
	return s
}

// thread reads a fastener and gives its thread.
func thread(t testing.TB, text string) Thread {
	t.Helper()
	return spec(t, text).Thread
}
