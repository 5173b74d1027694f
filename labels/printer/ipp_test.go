package printer

import (
	"context"
	"net"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The bytes of a request, written by hand from RFC 8010 section 3.1.
func TestIPPRequest(t *testing.T) {
	want := "\x02\x00\x00\x09\x00\x00\x00\x01\x01" +
		"\x47\x00\x12attributes-charset\x00\x05utf-8" +
		"\x48\x00\x1battributes-natural-language\x00\x02en" +
		"\x45\x00\x07job-uri\x00\x17ipp://localhost/jobs/12" +
		"\x42\x00\x14requesting-user-name\x00\x09countback" +
		"\x44\x00\x14requested-attributes\x00\x09job-state" +
		"\x44\x00\x00\x00\x11job-state-reasons" +
		"\x44\x00\x00\x00\x19job-printer-state-message\x03"
	require.Equal(t, want, string(getJobAttributes(12)))
}

const answer = "\x02\x00\x00\x00\x00\x00\x00\x01\x01" +
	"\x47\x00\x12attributes-charset\x00\x05utf-8" +
	"\x02" +
	"\x23\x00\x09job-state\x00\x04\x00\x00\x00\x08" +
	"\x44\x00\x11job-state-reasons\x00\x04none" +
	"\x44\x00\x00\x00\x0faborted-by-user" +
	"\x41\x00\x19job-printer-state-message\x00\x0cOut of\npaper\x03"

func TestIPPAnswer(t *testing.T) {
	j, err := readJob([]byte(answer))
	require.NoError(t, err)
	require.Equal(t, jobWords{jobAborted, "Out of\npaper", []string{"none", "aborted-by-user"}}, j)
	reason, failed := j.failed()
	require.True(t, failed)
	require.Equal(t, "given up; Out of paper; aborted-by-user", reason)
	for n := range len(answer) {
		_, err := readJob([]byte(answer[:n]))
		require.ErrorContains(t, err, "IPP answer", n)
	}
	_, err = readJob([]byte("\x02\x00\x04\x06\x00\x00\x00\x01\x03"))
	require.EqualError(t, err, "IPP status 0x0406")
}

func FuzzIPPAnswer(f *testing.F) {
	f.Add([]byte(answer))
	f.Fuzz(func(t *testing.T, b []byte) {
		if j, err := readJob(b); err == nil {
			require.LessOrEqual(t, len(j.reasons), len(b))
		}
	})
}

func TestAskCUPS(t *testing.T) {
	handler := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Header.Get("Content-Type") != "application/ipp" {
			http.Error(w, "no", http.StatusUnsupportedMediaType)
			return
		}
		_, _ = w.Write([]byte(answer))
	})
	server := httptest.NewServer(handler)
	t.Cleanup(server.Close)
	t.Setenv("CUPS_SERVER", strings.TrimPrefix(server.URL, "http://")+"/version=1.1")
	j, err := askJob(context.Background(), 3)
	require.NoError(t, err)
	require.Equal(t, jobAborted, j.state)

	socket := filepath.Join(t.TempDir(), "cups.sock")
	l, err := net.Listen("unix", socket)
	require.NoError(t, err)
	local := &http.Server{Handler: handler}
	t.Cleanup(func() { local.Close() })
	go local.Serve(l)
	t.Setenv("CUPS_SERVER", socket)
	j, err = askJob(context.Background(), 3)
	require.NoError(t, err)
	require.Equal(t, jobAborted, j.state)

	broken := httptest.NewServer(http.NotFoundHandler())
	t.Cleanup(broken.Close)
	t.Setenv("CUPS_SERVER", strings.TrimPrefix(broken.URL, "http://"))
	_, err = askJob(context.Background(), 3)
	require.ErrorContains(t, err, "404")
}
