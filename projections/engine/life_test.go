package engine

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

var update = flag.Bool("update", false, "write what is computed over what was expected")

// A life is kept in its stored form, for measuring a rebuild of a whole shop
// from its stream. It must decode to what the generator makes today.
func TestKeptLife(t *testing.T) {
	const file = "../../testdata/life.jsonl"
	var now []byte
	for _, r := range life(t, 500) {
		line, err := events.Append(nil, &r)
		require.NoError(t, err)
		now = append(append(now, line...), '\n')
	}
	if *update {
		require.NoError(t, os.WriteFile(file, now, 0o644))
	}
	kept, err := os.ReadFile(file)
	require.NoError(t, err)
	require.True(t, bytes.Equal(kept, now), "the kept life differs: run this test with -update")
	var d events.Decoder
	job := &Job{}
	for _, line := range bytes.Split(bytes.TrimSpace(kept), []byte("\n")) {
		var r events.Record
		require.NoError(t, d.Decode(line, &r))
		job.Apply(&r)
	}
	require.NoError(t, job.State().Book().Verify())
	require.Len(t, job.Facts(), 500)
}
