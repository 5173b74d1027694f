package bench

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/kiosk"
	"countback/kiosk/scan"
	"countback/labels/code"
	"countback/projections/engine"
)

// stage is a shop in which a script is played: one journal, some terminals, one
// clock.
type stage struct {
	t      testing.TB
	ctx    context.Context
	home   *journal.Memory
	now    int64
	pace   int64 // between two scans
	terms  map[events.Terminal]*bencher
	at     *bencher
	bound  map[string]events.Code // "bag A" and its label
	tagged map[string]events.Code // nouns and the tag that was last scanned for them
	out    strings.Builder
	plans  map[string]string

	file    string
	line    int
	sound   string
	scans   int // since the last @count
	counted []counted
	told    []events.Record
	used    map[*scan.Sentence]bool // sentences that were begun
	did     map[*scan.Sentence]bool // and that stored something
	each    func()                  // after each scan that stored something; nil: nothing
}

type bencher struct {
	*Terminal
	wire *Line
}

// counted is one @count of a script: how many scans an action took.
type counted struct {
	what         string
	scans, sizes int
}

var morning = time.Date(2025, 5, 12, 7, 0, 0, 0, time.UTC).UnixMicro()

// ranges of the terminals in the scripts.
var ranges = map[events.Terminal]string{"office": "AA", "b1": "BC", "b2": "HT", "b3": "NP"}

func sorrelText(t testing.TB) string { return planText(t, "sorrel-i4-20") }

func planText(t testing.TB, name string) string {
	b, err := os.ReadFile("../../testdata/plans/" + name + ".yaml")
	require.NoError(t, err)
	return string(b)
}

// newStage is a shop with three benches and two people who have badges.
func newStage(t testing.TB) *stage {
	s := &stage{t: t, ctx: context.Background(), home: journal.NewMemory(), now: morning, pace: 3_000_000, terms: map[events.Terminal]*bencher{},
		used: map[*scan.Sentence]bool{}, did: map[*scan.Sentence]bool{}, bound: map[string]events.Code{}, tagged: map[string]events.Code{}, plans: map[string]string{"sorrel-i4-20": sorrelText(t), "bramble-t2-42": planText(t, "bramble-t2-42")}}
	s.use("office")
	for _, name := range []events.Terminal{"office", "b1", "b2", "b3"} {
		s.hidden("range "+ranges[name], "bench "+string(name), "RESERVE")
	}
	for _, who := range []string{"Marit", "Ole", "Siri"} {
		c, ok := s.at.directory().Fresh(code.Badge)
		require.True(t, ok)
		s.hidden(string(c), "LABEL", "text "+who)
	}
	s.out.Reset()
	return s
}

func (t *Terminal) directory() *directory {
	return &directory{reg: t.reg, id: t.screen.Job(), job: t.Job(), here: t.Name}
}

// use goes to a terminal, and opens it when it was not open.
func (s *stage) use(name events.Terminal) {
	if b, ok := s.terms[name]; ok {
		s.at = b
		return
	}
	b := &bencher{wire: &Line{Journal: s.home.Again()}}
	s.at = b
	s.terms[name] = b
	s.start(name)
}

// start opens a terminal, as after a power cut: with what its journal and its
// outbox have.
func (s *stage) start(name events.Terminal) {
	b := s.terms[name]
	var box Outbox = &Tray{}
	if b.Terminal != nil {
		box = b.Outbox
	}
	term, err := Open(s.ctx, Config{Shop: "hill", Name: name, Home: b.wire, Outbox: box, Clock: func() int64 { return s.now },
		Plans: s.plans, Settings: kiosk.UsualSettings()})
	require.NoError(s.t, err)
	b.Terminal = term
}

// hidden scans without a transcript.
func (s *stage) hidden(lines ...string) {
	for _, l := range lines {
		s.now += 3_000_000
		line, _ := s.resolve(l)
		_, err := s.at.Scan(s.ctx, line)
		require.NoError(s.t, err, l)
		s.told = append(s.told, s.at.Told()...)
		for _, snd := range s.at.Heard() {
			require.NotEqual(s.t, kiosk.Refusing, snd, "%s:%d: %s: %v", s.file, s.line, l, s.at.View())
			require.NotEqual(s.t, kiosk.Misreading, snd, "%s:%d: %s: %v", s.file, s.line, l, s.at.View())
		}
	}
}

// say scans a line of the script: one scan, or several divided by commas. Of
// several only the last one shows what the screen says, unless one of the
// others was refused or stored something.
func (s *stage) say(text string) {
	scans := splitScans(text)
	for i, one := range scans {
		s.scan(one, i == len(scans)-1)
	}
}

// splitScans divides at commas, but not within a text that is typed.
func splitScans(text string) []string {
	var list []string
	for text != "" {
		if strings.HasPrefix(text, "text ") || strings.HasPrefix(text, "engine ") || strings.HasPrefix(text, "scan ") {
			return append(list, text)
		}
		one, rest, _ := strings.Cut(text, ", ")
		list, text = append(list, strings.TrimSpace(one)), strings.TrimSpace(rest)
	}
	return list
}

// note remembers which sentence a scan was part of.
func (s *stage) note(row *scan.Sentence, stored []events.Record) {
	s.used[row] = true
	for _, r := range stored {
		if row != nil && strings.Contains(row.Event, events.NameOf(r.Event)) {
			s.did[row] = true
		}
	}
}

// scan scans once and writes what came of it.
func (s *stage) scan(text string, last bool) {
	s.now += s.pace
	line, shown := s.resolve(text)
	s.scans++
	fmt.Fprintf(&s.out, "> %s\n", shown)
	view, err := s.at.Scan(s.ctx, line)
	require.NoError(s.t, err, "%s:%d: %s", s.file, s.line, text)
	s.note(s.at.screen.Latest(), s.at.stored)
	s.after(view, last)
}

// after writes the sounds, the screen and what was stored.
func (s *stage) after(v kiosk.View, last bool) {
	s.sound = ""
	for _, snd := range s.at.Heard() {
		s.sound = snd.String()
	}
	if len(s.at.stored) > 0 {
		s.verify()
		if s.each != nil {
			s.each()
		}
	}
	if !last && s.sound == "heard" {
		return
	}
	for _, l := range v.Lines {
		fmt.Fprintf(&s.out, "    %s\n", l)
	}
	if v.Big != "" && strings.Trim(v.Big, "0123456789") == "" && len(v.Big) > 1 {
		fmt.Fprintf(&s.out, "    [%s]\n", v.Big)
	}
	for _, l := range v.List {
		fmt.Fprintf(&s.out, "      - %s\n", l)
	}
	if v.Pages > 1 {
		fmt.Fprintf(&s.out, "      page %d of %d\n", v.Page, v.Pages)
	}
	if v.Ask != "" {
		fmt.Fprintf(&s.out, "    ? %s\n", v.Ask)
	}
	for _, r := range s.at.Told() {
		s.told = append(s.told, r)
		fmt.Fprintf(&s.out, "    = %s-%d %s\n", r.Terminal, r.N, events.NameOf(r.Event))
	}
	if s.sound != "" && s.sound != "heard" {
		fmt.Fprintf(&s.out, "    (%s)\n", s.sound)
	}
}

// verify holds the books of every terminal to their own rules.
func (s *stage) verify() {
	for _, b := range s.terms {
		for id, j := range b.jobs {
			require.NoError(s.t, j.State().Book().Verify(), "%s:%d: book of %s at %s", s.file, s.line, id, b.Name)
		}
	}
}

var letters = map[string]code.Type{"bag": code.Bag, "rack": code.Rack, "slip": code.Slip, "case": code.Case, "joint-tag": code.Joint, "job-card": code.Job,
	"part-tag": code.Part, "badge-card": code.Badge, "tool-tag": code.Loan}

// resolve replaces "bag A" by the label that stands for it in this script, and
// "tag joint front-cover" by the label of that tag.
func (s *stage) resolve(text string) (line, shown string) {
	kind, name, _ := strings.Cut(text, " ")
	switch kind {
	case "tag":
		c, ok := s.at.Job().State().CodeOf(name)
		if !ok { // torn off: the scrap is still there
			c, ok = s.tagged[name]
		}
		s.tagged[name] = c
		require.True(s.t, ok, "%s:%d: no tag for %s", s.file, s.line, name)
		return string(c), text + " = " + string(c)
	case "card":
		var n int
		_, err := fmt.Sscan(name, &n)
		require.NoError(s.t, err)
		c, _ := code.WholeNumber(n)
		return string(c), text
	case "misread":
		line, shown = s.resolve(name)
		b := []byte(line)
		b[7] = "23"[min(1, int('3'-b[7])&1)]
		if string(b) == line {
			b[7] = '4'
		}
		return string(b), "misread " + shown
	case "scan":
		return name, text
	}
	letter, ok := letters[kind]
	if !ok || len(name) != 1 || name[0] < 'A' || name[0] > 'Z' {
		return text, text
	}
	c, ok := s.bound[text]
	if !ok {
		c, ok = s.at.directory().Fresh(letter)
		require.True(s.t, ok, "%s:%d: no label left", s.file, s.line)
		for s.taken(c) {
			i, _ := code.NewIssuer(string(c[1:3]))
			next, _, _ := i.Next(letter, code.Code(c).Counter()+1)
			c = events.Code(next)
		}
		s.bound[text] = c
	}
	return string(c), text + " = " + string(c)
}

func (s *stage) taken(c events.Code) bool {
	for _, b := range s.bound {
		if b == c {
			return true
		}
	}
	return false
}

// play plays a script and returns its transcript.
func (s *stage) play(file, text string) string {
	s.file = file
	for i, line := range strings.Split(text, "\n") {
		s.line = i + 1
		line = strings.TrimSpace(line)
		switch {
		case line == "":
			s.out.WriteString("\n")
		case strings.HasPrefix(line, "#"):
			fmt.Fprintln(&s.out, line)
		case strings.HasPrefix(line, "@"):
			s.directive(line)
		default:
			s.say(line)
		}
	}
	s.verify()
	return strings.TrimRight(s.out.String(), "\n") + "\n"
}

func (s *stage) directive(line string) {
	word, rest, _ := strings.Cut(line, " ")
	if word != "@expect" && word != "@count" {
		fmt.Fprintln(&s.out, line)
	}
	switch word {
	case "@terminal":
		s.use(events.Terminal(rest))
	case "@badge":
		s.hidden("badge " + rest)
	case "@open":
		s.openJob(rest)
	case "@job":
		s.hidden("job " + rest)
	case "@clock":
		d, err := time.ParseDuration(strings.TrimPrefix(rest, "+"))
		require.NoError(s.t, err, "%s:%d", s.file, s.line)
		s.now += d.Microseconds() - 3_000_000
	case "@pace":
		d, err := time.ParseDuration(rest)
		require.NoError(s.t, err, "%s:%d", s.file, s.line)
		s.pace = d.Microseconds()
	case "@cut":
		s.terms[events.Terminal(rest)].wire.Cut()
	case "@join":
		s.terms[events.Terminal(rest)].wire.Join()
		require.NoError(s.t, s.terms[events.Terminal(rest)].Tick(s.ctx))
	case "@restart":
		s.start(events.Terminal(rest))
	case "@fault":
		s.home.Fail(map[string]journal.Fault{"lose-answer": journal.LoseAnswer, "lose-request": journal.LoseRequest, "full": journal.NoRoom}[rest])
	case "@tick":
		require.NoError(s.t, s.at.Tick(s.ctx))
		s.after(s.at.View(), true)
	case "@expect":
		if s.sound != rest {
			s.t.Errorf("%s:%d: sound %q, want %q, after:\n%s", s.file, s.line, s.sound, rest, tail(s.out.String()))
		}
	case "@undo":
		fmt.Fprintf(&s.out, "    %s\n", s.at.View().Undo)
	case "@hidden":
		s.hidden(strings.Split(rest, "; ")...)
	case "@count":
		s.count(rest)
	case "@hour":
		m, ok := engine.ParseMoney(rest)
		require.True(s.t, ok, "%s:%d", s.file, s.line)
		l := engine.UsualLimits()
		l.Currency, l.Hour = m.Currency, m
		s.at.Limits = &l
		if j := s.at.Job(); j != nil {
			j.Use(l)
		}
	case "@plan":
		require.NotEmpty(s.t, s.plans[rest])
	default:
		s.t.Fatalf("%s:%d: no directive %s", s.file, s.line, word)
	}
}

// openJob opens a job without a transcript: "4K7 sorrel-i4-20", or without a
// plan.
func (s *stage) openJob(text string) {
	id, plan, _ := strings.Cut(text, " ")
	lines := []string{"job " + id, "engine Sorrel I4-20"}
	if plan != "" {
		lines = append(lines, "plan "+plan)
	}
	s.hidden(append(lines, "OPEN JOB")...)
	require.Equal(s.t, events.Job(id), s.at.screen.Job(), "%s:%d: %v", s.file, s.line, s.at.View())
}

// count starts counting scans, or notes how many an action took: "begin", or
// "front cover out and bagged, 4 sizes".
func (s *stage) count(text string) {
	if text == "begin" {
		s.scans = 0
		return
	}
	c := counted{what: text, scans: s.scans}
	if i := strings.LastIndex(text, ", "); i >= 0 {
		_, err := fmt.Sscanf(text[i+2:], "%d size", &c.sizes)
		if err == nil {
			c.what = text[:i]
		}
	}
	s.counted = append(s.counted, c)
}

func tail(text string) string {
	lines := strings.Split(text, "\n")
	return strings.Join(lines[max(0, len(lines)-12):], "\n")
}
