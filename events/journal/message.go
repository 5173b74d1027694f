package journal

import (
	"fmt"
	"strconv"
	"strings"

	"countback/events"
)

// Limits of a draft. MaxData leaves room for a message's headers within the
// one MiB that a NATS server takes without further configuration.
const (
	MaxData = 1<<20 - 4<<10 // bytes of one message
	MaxName = 64            // bytes of a terminal's or a job's name
)

// Seq numbers the messages of a shop from 1 without gaps; 0 means none.
type Seq uint64

// Message is one stored message. Inside the callbacks of Read and Follow its
// Data is valid only until the callback returns. N is 0 only for a message
// that some other program put into the store, past the contract.
type Message struct {
	Seq      Seq
	Terminal events.Terminal
	N        uint32 // the terminal's own counter, from 1, without gaps
	Job      events.Job
	Data     []byte
}

// ID is the message's id, such as "b2-42".
func (m Message) ID() string { return ID(m.Terminal, m.N) }

// Draft is a message that has not been stored yet. The journal does not keep
// Data; the writer may reuse it after Append has returned.
type Draft struct {
	Terminal events.Terminal
	N        uint32
	Job      events.Job
	Data     []byte
}

// ID is the id that the draft will be stored under, such as "b2-42".
func (d Draft) ID() string { return ID(d.Terminal, d.N) }

// Check reports what is wrong with a draft: a name that is not a word (see
// CheckName), an n of 0, no data, or more than MaxData bytes of it.
func (d Draft) Check() error {
	if err := CheckName("terminal", string(d.Terminal)); err != nil {
		return err
	}
	if err := CheckName("job", string(d.Job)); err != nil {
		return fmt.Errorf("draft %s: %w", d.ID(), err)
	}
	switch {
	case d.N == 0:
		return fmt.Errorf("draft of terminal %s: n is 0; a terminal counts from 1", d.Terminal)
	case len(d.Data) == 0:
		return fmt.Errorf("draft %s: no data", d.ID())
	case len(d.Data) > MaxData:
		return fmt.Errorf("draft %s: %d bytes of data, %d at most", d.ID(), len(d.Data), MaxData)
	}
	return nil
}

// CheckName reports why name cannot stand as one word of a subject: it must
// have 1 to MaxName characters out of A-Z a-z 0-9 - and _. What tells which
// name it is, for the error.
func CheckName(what, name string) error {
	if name == "" {
		return fmt.Errorf("%s: name is empty", what)
	}
	if len(name) > MaxName {
		return fmt.Errorf("%s %.16q…: %d characters, %d at most", what, name, len(name), MaxName)
	}
	for _, c := range []byte(name) {
		if !nameByte(c) {
			return fmt.Errorf("%s %q: character %q; only A-Z a-z 0-9 - and _ are allowed", what, name, c)
		}
	}
	return nil
}

func nameByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_'
}

// ID writes the id of a terminal's n-th message.
func ID(t events.Terminal, n uint32) string {
	return string(AppendID(make([]byte, 0, len(t)+11), t, n))
}

// maxN is the largest n of a terminal.
const maxN = 1<<31 - 1

// AppendID appends the id of a terminal's n-th message to b.
func AppendID(b []byte, t events.Terminal, n uint32) []byte {
	b = append(b, t...)
	b = append(b, '-')
	return strconv.AppendUint(b, uint64(n), 10)
}

// ParseID takes an id apart. It accepts exactly what ID writes, so that one
// message has one id.
func ParseID(id string) (events.Terminal, uint32, error) {
	cut := strings.LastIndexByte(id, '-')
	if cut < 0 {
		return "", 0, fmt.Errorf("id %.80q: no hyphen between terminal and number", id)
	}
	name, digits := id[:cut], id[cut+1:]
	if err := CheckName("terminal", name); err != nil {
		return "", 0, fmt.Errorf("id %.80q: %w", id, err)
	}
	n, err := ParseN(digits)
	if err != nil {
		return "", 0, fmt.Errorf("id %.80q: %w", id, err)
	}
	return events.Terminal(name), n, nil
}

// ParseN reads the number of an id: digits without zeros in front, 1 to
// 2147483647, the largest integer of a CloudEvent.
func ParseN[T string | []byte](digits T) (uint32, error) {
	if len(digits) == 0 || len(digits) > 10 || digits[0] == '0' {
		return 0, fmt.Errorf("number %.20q: want digits without zeros in front, 1 to %d", digits, maxN)
	}
	n := uint64(0)
	for i := range len(digits) {
		if digits[i] < '0' || digits[i] > '9' {
			return 0, fmt.Errorf("number %.20q: %q is not a digit", digits, digits[i])
		}
		n = n*10 + uint64(digits[i]-'0')
	}
	if n > maxN {
		return 0, fmt.Errorf("number %.20q: want digits without zeros in front, 1 to %d", digits, maxN)
	}
	return uint32(n), nil
}
