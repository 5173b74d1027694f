package events

import (
	"fmt"
	"strconv"
	"time"
	"unicode/utf8"
)

// The limits of the stored form. They are far above what a shop needs and
// keep one bad fact from harming every reader.
const (
	MaxSize = 1_000_000 // bytes of one stored fact; NATS carries 1 MiB by default
	MaxText = 500_000   // bytes of a text that is a whole file
	MaxName = 4096      // bytes of any other text
	MaxWord = 64        // bytes of a shop, terminal or job
	MaxList = 4096      // elements of one list
	MaxNest = 4         // events inside one another: a correction of a correction
	MaxN    = 1<<31 - 1 // the greatest n; an integer of CloudEvents has 32 bits
	// MaxTime is the last microsecond of the year 9999, the end of RFC 3339.
	MaxTime = 253402300799999999
)

// The fixed words of the envelope.
const (
	specVersion = "1.0"
	sourceRoot  = "/countback/"
	typeRoot    = "countback."
	contentType = "application/json"
)

// The stored words for how a fact is known; a told fact stores none.
var knownWords = [...]string{
	Told:          "",
	Presumed:      "presumed",
	Reconstructed: "reconstructed",
	Claimed:       "claimed",
	CountedOpen:   "counted",
	CountedBlind:  "counted-blind",
}

// Append adds the stored form of r to dst, as one canonical line of JSON
// without a line end. It refuses what no reader could take back: an id that
// is no word, a number, time or size out of its limits, a text that is not
// UTF-8 or has control characters. The error names the fact, the kind and the
// member ("event b2-42 counted: lines[0].qty -1: not 0 to 99999"); then dst
// comes back as it was.
func Append(dst []byte, r *Record) ([]byte, error) {
	out, err := appendRecord(dst, r)
	if err != nil {
		return dst, about(r, err)
	}
	return out, nil
}

func about(r *Record, err error) error {
	name := NameOf(r.Event)
	if name == "" {
		return fmt.Errorf("event %s-%d: %w", r.Terminal, r.N, err)
	}
	return fmt.Errorf("event %s-%d %s: %w", r.Terminal, r.N, name, err)
}

func appendRecord(dst []byte, r *Record) ([]byte, error) {
	if err := checkEnvelope(r); err != nil {
		return nil, err
	}
	out := append(dst, `{"specversion":"`+specVersion+`","id":"`...)
	out = append(out, r.Terminal...)
	out = append(out, '-')
	out = strconv.AppendUint(out, uint64(r.N), 10)
	out = append(out, `","source":"`+sourceRoot...)
	out = append(out, r.Shop...)
	out = append(out, '/')
	out = append(out, r.Terminal...)
	out = append(out, `","type":"`+typeRoot...)
	out = append(out, NameOf(r.Event)...)
	out = append(out, `","subject":"`...)
	out = append(out, r.Job...)
	out = append(out, `","time":"`...)
	out = time.UnixMicro(r.Time).UTC().AppendFormat(out, "2006-01-02T15:04:05.000000Z")
	out = append(out, `","datacontenttype":"`+contentType+`","at":"`...)
	out = strconv.AppendInt(out, r.At, 10)
	out = append(out, `","n":`...)
	out = strconv.AppendUint(out, uint64(r.N), 10)
	if r.Seen != "" {
		out = append(out, `,"seen":`...)
		out = appendText(out, string(r.Seen))
	}
	if r.Operator != "" {
		out = append(out, `,"operator":`...)
		out = appendText(out, string(r.Operator))
	}
	if r.Known != Told {
		out = append(out, `,"known":`...)
		out = appendText(out, knownWords[r.Known])
	}
	if r.From != 0 {
		out = append(out, `,"happenedfrom":"`...)
		out = strconv.AppendInt(out, r.From, 10)
		out = append(out, `","happenedto":"`...)
		out = strconv.AppendInt(out, r.To, 10)
		out = append(out, '"')
	}
	out, err := appendData(out, r.Event)
	if err != nil {
		return nil, err
	}
	out = append(out, '}')
	if size := len(out) - len(dst); size > MaxSize {
		return nil, fmt.Errorf("size %d: more than %d bytes", size, MaxSize)
	}
	return out, nil
}

func appendData(out []byte, e Event) ([]byte, error) {
	if u, ok := e.(Unknown); ok && u.Data == "" {
		return out, nil
	}
	out = append(out, `,"data":`...)
	return appendEvent(out, e, 0)
}

// CheckEnvelope reports the first thing wrong with what surrounds an event.
func checkEnvelope(r *Record) error {
	for _, w := range [...]struct{ what, word string }{
		{"shop", string(r.Shop)}, {"terminal", string(r.Terminal)}, {"job", string(r.Job)},
	} {
		if !isWord(w.word) {
			return fmt.Errorf("%s %q: not 1 to %d letters, digits, - or _", w.what, w.word, MaxWord)
		}
	}
	if r.N < 1 || r.N > MaxN {
		return fmt.Errorf("n %d: not 1 to %d", r.N, MaxN)
	}
	for _, t := range [...]struct {
		what string
		time int64
	}{{"time", r.Time}, {"at", r.At}} {
		if t.time < 1 || t.time > MaxTime {
			return fmt.Errorf("%s %d: not 1 to %d", t.what, t.time, int64(MaxTime))
		}
	}
	if (r.From != 0 || r.To != 0) && (r.From < 1 || r.To < r.From || r.To > MaxTime) {
		return fmt.Errorf("happened %d to %d: no interval", r.From, r.To)
	}
	if int(r.Known) >= len(knownWords) {
		return fmt.Errorf("known %d: not 0 to %d", r.Known, len(knownWords)-1)
	}
	if err := checkSeen(r.Seen); err != nil {
		return err
	}
	if err := checkText(string(r.Operator), MaxName, false); err != nil {
		return fmt.Errorf("operator %w", err)
	}
	return checkKind(r.Event)
}

func checkKind(e Event) error {
	if u, ok := e.(Unknown); ok {
		if !isKindName(u.Kind) {
			return fmt.Errorf("kind %q: not 1 to %d small letters, digits or -", u.Kind, MaxWord)
		}
		return nil
	}
	if NameOf(e) == "" {
		return fmt.Errorf("no event")
	}
	return nil
}

func checkSeen(s Seen) error {
	if s == "" {
		return nil
	}
	if len(s) > MaxName {
		return fmt.Errorf("seen: %d bytes, more than %d", len(s), MaxName)
	}
	d := Decoder{data: []byte(s + `"`)}
	if d.seen() && d.pos == len(d.data) {
		return nil
	}
	if err := s.Check(); err != nil {
		return err
	}
	return fmt.Errorf("seen %q: a terminal is no word, or its n not 1 to %d", s, MaxN)
}

// IsWord tells whether s can be a word of a subject and of a URI as it is.
func isWord[T string | []byte](s T) bool {
	if len(s) == 0 || len(s) > MaxWord {
		return false
	}
	for i := range len(s) {
		if !wordByte[s[i]] {
			return false
		}
	}
	return true
}

var wordByte = byteSet("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_")

var kindByte = byteSet("abcdefghijklmnopqrstuvwxyz0123456789-")

func byteSet(of string) (set [256]bool) {
	for i := range len(of) {
		set[of[i]] = true
	}
	return set
}

func isKindName(s string) bool {
	for i := range len(s) {
		if !kindByte[s[i]] {
			return false
		}
	}
	return s != "" && len(s) <= MaxWord
}

// CheckText reports what is wrong with a text. Its error starts with the text
// itself, cut to a readable length.
func checkText(s string, limit int, lines bool) error {
	if len(s) > limit {
		return fmt.Errorf("%s: %d bytes, more than %d", shown(s), len(s), limit)
	}
	if isPlain(s) {
		return nil
	}
	if !utf8.ValidString(s) {
		return fmt.Errorf("%s: not UTF-8", shown(s))
	}
	for _, c := range s {
		if isControl(c) && !(lines && (c == '\n' || c == '\t')) {
			return fmt.Errorf("%s: control character %U", shown(s), c)
		}
	}
	return nil
}

func isPlain(s string) bool {
	for i := range len(s) {
		if !plain[s[i]] {
			return false
		}
	}
	return true
}

// IsControl is Unicode's general category Cc.
func isControl(c rune) bool { return c < 0x20 || c >= 0x7f && c < 0xa0 }

func shown(s string) string {
	if len(s) > 40 {
		return fmt.Sprintf("%q...", s[:40])
	}
	return fmt.Sprintf("%q", s)
}
