package panel

import (
	"strconv"
	"strings"
	"time"

	"countback/events"
	"countback/kiosk"
	"countback/projections/engine"
	"countback/projections/ledger"
)

func itoa(n int) string { return strconv.Itoa(n) }

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// plural is "1 hole", "3 holes".
func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return itoa(n) + " " + one + "s"
}

// day is a time as a row shows it.
func day(at int64) string { return time.UnixMicro(at).UTC().Format("2 Jan 15:04") }

// since is the day of a fact; empty for none.
func since(st *engine.State, f ledger.Fact) string {
	if r := st.Fact(f); r != nil {
		return day(r.At)
	}
	return ""
}

// who is the person of a fact, or the bench where nobody had scanned a badge.
func who(r *events.Record) string {
	if r.Operator != "" {
		return string(r.Operator)
	}
	return "bench " + string(r.Terminal)
}

// sizes are the names of kinds at the bench: of fasteners the size, of parts
// their name.
func (n names) sizes(kinds []events.Kind) []string {
	list := kiosk.ShortNames(kinds)
	for i, k := range kinds {
		if _, ok := n.st.Plan().Part(events.Part(k)); ok {
			list[i] = n.part(events.Part(k))
		}
	}
	return list
}

// size is one kind by its full size.
func (n names) size(k events.Kind) string { return n.sizes([]events.Kind{k})[0] }

// last says when and how a place was seen last: "counted 12 May 10:20 by
// Marit", "by word ...", "never counted".
func (n names) last(a ledger.AccountID) (text string, counted bool) {
	look := n.st.Book().LastCount(a)
	r := n.st.Fact(look.Fact)
	if r == nil || !ledger.Bounds(look.Known) {
		return "never counted", false
	}
	at, _ := n.st.Happened(look.Fact)
	text = "counted " + day(at) + " by " + who(r)
	if !n.st.Book().Undisturbed(a, look.Fact) {
		return text + ", touched since", false
	}
	return text, true
}

func total(lines []events.Line) int {
	n := 0
	for _, l := range lines {
		n += l.Qty
	}
	return n
}

// clock is the hour of a time.
func clock(at int64) string { return time.UnixMicro(at).UTC().Format("15:04") }
