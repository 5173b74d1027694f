package kiosk

import (
	"strconv"
	"strings"
	"time"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
	"countback/projections/fastener"
	"countback/projections/plan"
)

func itoa(n int) string { return strconv.Itoa(n) }

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// lower makes a name fit into the middle of a sentence: "Front cover to
// block" becomes "front cover to block"; what is all capitals stays.
func lower(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

func joinComma(list []string) string { return strings.Join(list, ", ") }

// joinAnd lists words with commas and a last "and".
func joinAnd(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

func shorten(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return string(r[:n]) + "…"
}

// plural is "1 piece", "3 pieces".
func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return itoa(n) + " " + one + "s"
}

// clockText is a time as the bench shows it, in UTC.
func clockText(at int64) string { return time.UnixMicro(at).UTC().Format("2 January 15:04") }

func wordsText(words []scan.Word) string {
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = string(w)
	}
	return "(" + strings.Join(list, ", ") + ")"
}

func tokenText(t scan.Token) string {
	switch t.Kind {
	case scan.Saw:
		return t.Noun.Text()
	case scan.Said1:
		return string(t.Word)
	case scan.Number, scan.Digit:
		if t.Whole {
			return itoa(t.N)
		}
	}
	return strconv.Quote(shorten(t.Line, 30))
}

func nounsText(nouns []scan.Noun) string {
	list := make([]string, len(nouns))
	for i, n := range nouns {
		list[i] = n.Text()
	}
	return joinComma(list)
}

// saidText is the sentence on the screen as far as it was scanned.
func (s *Screen) saidText() string {
	var list []string
	for _, n := range s.nouns {
		list = append(list, n.Text())
	}
	for _, l := range s.lines {
		list = append(list, itoa(l.Qty)+" "+string(l.Kind))
	}
	for _, k := range s.sizes {
		list = append(list, "size "+string(k))
	}
	if s.hasN {
		list = append(list, itoa(s.number))
	}
	if s.row != nil && s.row.Verb != "" {
		list = append(list, string(s.row.Verb))
	}
	return joinComma(list)
}

// bar is the line that says where, who and what job.
func (s *Screen) bar() string {
	who := "nobody"
	if s.badge != "" {
		who = string(s.badge)
	}
	text := "bench " + string(s.here) + " | " + who
	if s.id != "" {
		text += " | job " + string(s.id) + " " + s.engineName()
	}
	return text
}

func (s *Screen) engineName() string {
	if s.job == nil {
		return ""
	}
	return s.job.State().Opened.Engine
}

// ShortNames are the names of sizes as one calls them at the bench, as short
// as they can be told apart: "M6, M8 short, M8 long, M10".
func ShortNames(kinds []events.Kind) []string {
	specs := make([]fastener.Spec, len(kinds))
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = string(k)
		if sp, err := fastener.Parse(string(k)); err == nil && sp.Thread.Known() {
			specs[i], names[i] = sp, baseName(sp)
		}
	}
	for i := range names {
		names[i] = apart(i, specs, baseNames(specs, names))
	}
	return unique(names, kinds)
}

func baseNames(specs []fastener.Spec, names []string) []string {
	out := make([]string, len(names))
	for i := range names {
		out[i] = names[i]
		if specs[i].Thread.Known() {
			out[i] = baseName(specs[i])
		}
	}
	return out
}

// baseName is the thread's diameter, with the form where it is no bolt.
func baseName(sp fastener.Spec) string {
	d, _, _ := strings.Cut(sp.Thread.String(), "x")
	if sp.Form == fastener.Bolt || sp.Form == fastener.AnyForm {
		return d
	}
	if sp.Use != "" {
		return sp.Use + " " + string(sp.Form)
	}
	return d + " " + string(sp.Form)
}

// apart tells a size from those with the same base name: by two lengths short
// and long, by more its length, else by its whole text.
func apart(i int, specs []fastener.Spec, base []string) string {
	var lengths []float64
	for j := range base {
		if base[j] == base[i] {
			lengths = append(lengths, specs[j].LengthMm)
		}
	}
	switch {
	case len(lengths) == 1:
		return base[i]
	case len(lengths) == 2 && lengths[0] != lengths[1]:
		if specs[i].LengthMm == min(lengths[0], lengths[1]) {
			return base[i] + " short"
		}
		return base[i] + " long"
	}
	return specs[i].Size()
}

// unique falls back to the whole text where two names came out equal.
func unique(names []string, kinds []events.Kind) []string {
	seen := map[string]int{}
	for _, n := range names {
		seen[n]++
	}
	for i, n := range names {
		if seen[n] > 1 || n == "" {
			names[i] = string(kinds[i])
		}
	}
	return names
}

// names gives people's words for the ids of a job: those of its plan, and of
// the joints that it named itself.
type names struct {
	p       *plan.Plan
	learned []engine.Learned
}

func namesOf(st *engine.State) names { return names{st.Plan(), st.LearnedJoints()} }

func (n names) joint(id events.Joint) string {
	if j, ok := n.p.Joint(id); ok {
		return n.p.Joints[j].Name
	}
	for i := range n.learned {
		if n.learned[i].Joint == id && n.learned[i].Name != "" {
			return capital(n.learned[i].Name) + " (" + string(id) + ")"
		}
	}
	return "Joint " + string(id)
}

func (n names) part(id events.Part) string {
	if p, ok := n.p.Part(id); ok {
		return n.p.Parts[p].Name
	}
	return string(id)
}

func (n names) step(id events.Step) string {
	if s, ok := n.p.Step(id); ok {
		return n.p.Steps[s].Name
	}
	return string(id)
}

func (n names) cavity(id events.Cavity) string {
	if c, ok := n.p.Cavity(id); ok {
		return n.p.Cavities[c].Name
	}
	return string(id)
}

func (n names) loan(id events.Loan) string {
	if l, ok := n.p.Loan(id); ok {
		return n.p.Loans[l].Name
	}
	return string(id)
}

func (n names) mark(id events.Mark) string {
	if m, ok := n.p.Mark(id); ok {
		return n.p.Marks[m].Name
	}
	return string(id)
}

// kind is a size without class and head, as it is written on a bag, or the
// name of a part.
func (n names) kind(k events.Kind) string {
	if p, ok := n.p.Part(events.Part(k)); ok {
		return lower(n.p.Parts[p].Name)
	}
	if of, ok := strings.CutPrefix(string(k), "other end of "); ok {
		return "other end of " + n.kind(events.Kind(of))
	}
	sp, err := fastener.Parse(string(k))
	if err != nil || !sp.Thread.Known() {
		return string(k)
	}
	text := sp.Size()
	if sp.Form != fastener.Bolt && sp.Form != fastener.AnyForm {
		text += " " + string(sp.Form)
	}
	return text
}

// lines lists pieces: "8 M8x1.25x30, 4 M8x1.25x45".
func (n names) lines(lines []events.Line) string {
	var list []string
	for _, l := range lines {
		list = append(list, itoa(l.Qty)+" "+n.kind(l.Kind))
	}
	if len(list) == 0 {
		return "nothing"
	}
	return joinComma(list)
}

// place says where: "bag B2KCZ6EE", "shelf", "this bench".
func (n names) place(p events.Place) string {
	word, rest, _ := strings.Cut(string(p), "/")
	switch word {
	case "":
		return "this bench"
	case "place":
		return rest
	case "bench":
		b, _, _ := strings.Cut(rest, "/")
		return "bench " + b
	case "rack":
		r, pos, ok := strings.Cut(rest, "/")
		if ok {
			return "rack " + r + ", position " + pos
		}
		return "rack " + r
	case "fitted":
		return lower(n.joint(events.Joint(rest[strings.LastIndexByte(rest, '/')+1:])))
	case "joint":
		return lower(n.joint(events.Joint(rest)))
	case "outside":
		_, who, ok := strings.Cut(rest, "/")
		if ok {
			return who
		}
		return "the " + rest
	}
	if rest == "" {
		return word
	}
	return word + " " + rest
}

func total(lines []events.Line) int {
	n := 0
	for _, l := range lines {
		n += l.Qty
	}
	return n
}
