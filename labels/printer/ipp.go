package printer

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"strings"
)

// The states of a job in IPP, RFC 8011 section 5.3.7.
const (
	jobCanceled  = 7
	jobAborted   = 8
	jobCompleted = 9
)

// jobWords is what CUPS says of a job.
type jobWords struct {
	state   int
	message string   // of the printer
	reasons []string // keywords
}

// failed reports whether the job came to an end without being printed, and why.
func (j jobWords) failed() (reason string, failed bool) {
	word := map[int]string{jobCanceled: "cancelled", jobAborted: "given up"}[j.state]
	if word == "" {
		return "", false
	}
	for _, more := range append([]string{j.message}, j.reasons...) {
		if more = oneLine(more); more != "" && more != "none" {
			word += "; " + more
		}
	}
	return word, true
}

// askJob asks CUPS for the state of a job: Get-Job-Attributes of RFC 8011.
func askJob(ctx context.Context, job int) (jobWords, error) {
	body := getJobAttributes(job)
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, "http://localhost/", bytes.NewReader(body))
	if err != nil {
		return jobWords{}, err
	}
	req.Header.Set("Content-Type", "application/ipp")
	transport := &http.Transport{DialContext: dialCUPS, DisableKeepAlives: true}
	resp, err := (&http.Client{Transport: transport}).Do(req)
	if err != nil {
		return jobWords{}, err
	}
	defer resp.Body.Close()
	answer, err := io.ReadAll(io.LimitReader(resp.Body, 1<<20))
	if err != nil {
		return jobWords{}, err
	}
	if resp.StatusCode != http.StatusOK {
		return jobWords{}, fmt.Errorf("CUPS answers %s", resp.Status)
	}
	return readJob(answer)
}

// dialCUPS reaches CUPS where lp does: at CUPS_SERVER, its socket, or port 631.
func dialCUPS(ctx context.Context, _, _ string) (net.Conn, error) {
	var d net.Dialer
	server, _, _ := strings.Cut(os.Getenv("CUPS_SERVER"), "/version")
	switch {
	case strings.HasPrefix(server, "/"):
		return d.DialContext(ctx, "unix", server)
	case server != "":
		if _, _, err := net.SplitHostPort(server); err != nil {
			server = net.JoinHostPort(server, "631")
		}
		return d.DialContext(ctx, "tcp", server)
	}
	if conn, err := d.DialContext(ctx, "unix", "/run/cups/cups.sock"); err == nil {
		return conn, nil
	}
	return d.DialContext(ctx, "tcp", "localhost:631")
}

// Tags and the operation, RFC 8010 section 3.5 and RFC 8011 section 5.4.15.
const (
	opGetJobAttributes = 0x0009
	tagOperation       = 0x01
	tagEnd             = 0x03
	tagFirstValue      = 0x10
	tagInteger         = 0x21
	tagEnum            = 0x23
	tagName            = 0x42
	tagKeyword         = 0x44
	tagURI             = 0x45
	tagCharset         = 0x47
	tagLanguage        = 0x48
)

// getJobAttributes is the request in the encoding of RFC 8010.
func getJobAttributes(job int) []byte {
	b := []byte{2, 0}
	b = binary.BigEndian.AppendUint16(b, opGetJobAttributes)
	b = binary.BigEndian.AppendUint32(b, 1)
	b = append(b, tagOperation)
	add := func(tag byte, name, value string) {
		b = append(b, tag)
		b = append(binary.BigEndian.AppendUint16(b, uint16(len(name))), name...)
		b = append(binary.BigEndian.AppendUint16(b, uint16(len(value))), value...)
	}
	add(tagCharset, "attributes-charset", "utf-8")
	add(tagLanguage, "attributes-natural-language", "en")
	add(tagURI, "job-uri", fmt.Sprintf("ipp://localhost/jobs/%d", job))
	add(tagName, "requesting-user-name", "countback")
	add(tagKeyword, "requested-attributes", "job-state")
	add(tagKeyword, "", "job-state-reasons")
	add(tagKeyword, "", "job-printer-state-message")
	return append(b, tagEnd)
}

// readJob reads the answer.
func readJob(b []byte) (jobWords, error) {
	if len(b) < 8 {
		return jobWords{}, errors.New("IPP answer too short")
	}
	if status := binary.BigEndian.Uint16(b[2:]); status >= 0x0100 {
		return jobWords{}, fmt.Errorf("IPP status %#04x", status)
	}
	var j jobWords
	name := ""
	for b = b[8:]; len(b) > 0; {
		tag := b[0]
		if tag == tagEnd {
			return j, nil
		}
		if b = b[1:]; tag < tagFirstValue {
			continue
		}
		field, rest, ok := cutField(b)
		value, after, ok2 := cutField(rest)
		if !ok || !ok2 {
			return jobWords{}, errors.New("IPP answer cut short")
		}
		if b = after; field != "" {
			name = field
		}
		j.take(tag, name, value)
	}
	return jobWords{}, errors.New("IPP answer without an end")
}

// take keeps one value.
func (j *jobWords) take(tag byte, name, value string) {
	switch name {
	case "job-state":
		if (tag == tagEnum || tag == tagInteger) && len(value) == 4 {
			j.state = int(binary.BigEndian.Uint32([]byte(value)))
		}
	case "job-state-reasons":
		j.reasons = append(j.reasons, value)
	case "job-printer-state-message":
		j.message = value
	}
}

// cutField takes a text with its length before it.
func cutField(b []byte) (text string, rest []byte, ok bool) {
	if len(b) < 2 {
		return "", nil, false
	}
	n := int(binary.BigEndian.Uint16(b))
	if len(b) < 2+n {
		return "", nil, false
	}
	return string(b[2 : 2+n]), b[2+n:], true
}
