package events

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
)

// Seen holds the highest n of each terminal, as "b1:12 b2:40": terminals in
// byte order, divided by one blank. As a string it compares and stores cheaply.
type Seen string

// N gives the highest n seen of a terminal, 0 if none.
func (s Seen) N(t Terminal) uint32 {
	rest := string(s)
	for rest != "" {
		var item string
		item, rest, _ = strings.Cut(rest, " ")
		name, n, _ := strings.Cut(item, ":")
		if name == string(t) {
			v, _ := strconv.ParseUint(n, 10, 32)
			return uint32(v)
		}
	}
	return 0
}

// Terminals lists the terminals seen, in byte order.
func (s Seen) Terminals() []Terminal {
	var ts []Terminal
	for _, item := range strings.Fields(string(s)) {
		name, _, _ := strings.Cut(item, ":")
		ts = append(ts, Terminal(name))
	}
	return ts
}

// SeenOf writes the canonical form.
func SeenOf(high map[Terminal]uint32) Seen {
	names := make([]string, 0, len(high))
	for t, n := range high {
		if n > 0 {
			names = append(names, string(t))
		}
	}
	sort.Strings(names)
	var b strings.Builder
	for i, t := range names {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(t)
		b.WriteByte(':')
		b.WriteString(strconv.FormatUint(uint64(high[Terminal(t)]), 10))
	}
	return Seen(b.String())
}

// Check reports what is wrong with the text of a Seen.
func (s Seen) Check() error {
	last := ""
	for i, item := range strings.Split(string(s), " ") {
		if s == "" {
			return nil
		}
		name, n, ok := strings.Cut(item, ":")
		v, err := strconv.ParseUint(n, 10, 32)
		switch {
		case !ok || err != nil || v == 0 || name == "" || strconv.FormatUint(v, 10) != n:
			return fmt.Errorf("seen %q: item %d %q is not terminal:n", s, i+1, item)
		case name <= last:
			return fmt.Errorf("seen %q: item %d %q is out of order", s, i+1, item)
		}
		last = name
	}
	return nil
}
