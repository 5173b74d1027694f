package bench

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// says checks that what texts tell people to scan is something that the scanner
// takes: every scan is read, and nouns and verb are a sentence of the table.
type says struct {
	s     *stage
	read  map[string]bool
	lines map[string]int // of which code how many were read
}

// accepted is what is wrong with a sentence at the terminal in hand; nil: it is
// taken.
func (y *says) accepted(scans []string) error {
	dir := y.s.at.directory()
	var nouns []scan.Noun
	for i, one := range scans {
		if one == "numbers" {
			if scan.Find(nouns, "", false, false) == nil && !scan.TakesNumber(nouns) {
				return fmt.Errorf("no number goes with %v", nouns)
			}
			return nil
		}
		tok := scan.Read(one, dir)
		switch {
		case tok.Kind == scan.Saw && tok.Noun.Type == scan.Size:
			// a size waits for its number; the noun behind it begins the sentence
		case tok.Kind == scan.Saw:
			if tok.Noun.Type == scan.Hole && len(nouns) > 0 && nouns[0].Type == scan.Joint {
				if len(dir.Named(scan.Hole, nouns[0].ID+":"+tok.Noun.ID)) == 0 {
					return fmt.Errorf("%s is no hole of %s", one, nouns[0].ID)
				}
			}
			nouns = append(nouns, tok.Noun)
		case tok.Kind == scan.Said1 && i == len(scans)-1:
			if scan.Find(nouns, tok.Word, false, false) == nil {
				return fmt.Errorf("%s does not go with %v", tok.Word, nouns)
			}
			return nil
		default:
			return fmt.Errorf("%q is not read: %v %s", one, tok.Kind, tok.Why)
		}
	}
	return fmt.Errorf("%v is no whole sentence", scans)
}

func (y *says) text(code, text, what string, must bool) {
	if y.read[text+"|"+what] {
		return
	}
	y.read[text+"|"+what] = true
	y.lines[code]++
	list := engine.Sentences(what)
	if len(list) == 0 && must {
		y.s.t.Errorf("%s:%d: %s: %s: says nothing to scan: %q", y.s.file, y.s.line, code, text, what)
	}
	for _, one := range list {
		if err := y.accepted(one); err != nil {
			y.s.t.Errorf("%s:%d: %s: %s: %q: %v", y.s.file, y.s.line, code, text, what, err)
		}
	}
}

// look reads every red line and every carried one of every audit point, and
// every reason of every step.
func (y *says) look(steps bool) {
	j := y.s.at.Job()
	if j == nil {
		return
	}
	for _, p := range j.State().AuditPoints() {
		a, ok := j.Audit(p.ID)
		require.True(y.s.t, ok)
		for _, l := range a.Red {
			y.text(l.Code, l.Text, l.Scan, true)
		}
		for _, l := range a.Carried {
			y.text(l.Code, l.Text, l.Scan, true)
		}
	}
	if !steps {
		return
	}
	for _, n := range j.WhatNow() {
		for _, b := range n.Blockers {
			y.text("step", b.Text, b.Clear, false)
		}
	}
	for _, act := range []events.Act{events.Turning, events.Cranking, events.Heating} {
		for _, b := range j.MayDo(act) {
			y.text("act", b.Text, b.Clear, true)
		}
	}
}

// Every red line of every script, of the demo's story and of an engine in inch
// sizes says what to scan, in words that the scanner takes.
func TestWhatIsSaidCanBeScanned(t *testing.T) {
	all := map[string]int{}
	files, err := filepath.Glob(scripts + "/*.scan")
	require.NoError(t, err)
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".scan")
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(f)
			require.NoError(t, err)
			y := &says{s: newStage(t), read: map[string]bool{}, lines: all}
			y.s.each = func() { y.look(false) }
			y.s.play(name+".scan", string(text))
			y.look(true)
		})
	}
	t.Run("the demo", func(t *testing.T) { y := &says{newStage(t), map[string]bool{}, all}; y.story() })
	for _, plan := range []string{"sorrel-i4-20", "bramble-t2-42"} {
		t.Run("all off, "+plan, func(t *testing.T) { y := &says{newStage(t), map[string]bool{}, all}; y.apart(plan) })
	}
	for _, code := range []string{engine.RedPart, engine.RedSeat, engine.RedCavity, engine.RedInside, engine.RedDue, engine.RedCondition, engine.RedEdition,
		engine.RedShort, engine.RedOver, engine.RedUncounted, engine.RedReused, engine.RedTrial, engine.RedParked, engine.RedLeftOver,
		engine.RedOld, engine.RedLoan, engine.RedCase, engine.RedHold, engine.RedFinding, engine.RedGate, engine.RedSlip, engine.RedMeasure, engine.RedStage,
		engine.RedTool, engine.RedCore, engine.RedOwner, engine.RedWish, "step", "act"} {
		require.NotZero(t, all[code], "no line of %s was read", code)
	}
}

// story plays the demo's story, as it stands for the program.
func (y *says) story() {
	s := y.s
	text, err := os.ReadFile("../../cmd/countback/story.scan")
	require.NoError(s.t, err)
	s.file = "story.scan"
	stored := 0
	s.each = func() {
		stored++
		if stored%4 == 0 {
			y.look(stored%40 == 0)
		}
	}
	s.use("bench-1")
	for i, line := range strings.Split(string(text), "\n") {
		s.line = i + 1
		line = strings.TrimSpace(line)
		if name, ok := strings.CutPrefix(line, "#: bench "); ok {
			s.use(events.Terminal(name))
		}
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		s.now += 3_000_000
		view, err := s.at.Scan(s.ctx, line)
		require.NoError(s.t, err)
		s.after(view, true)
		s.at.Told()
	}
	y.look(true)
	require.Greater(s.t, stored, 200)
}

// apart takes every part off by its name, one after the other, and looks.
func (y *says) apart(plan string) {
	s := y.s
	s.use("b2")
	s.openJob("4K7 " + plan)
	y.look(true)
	p := s.at.Job().State().Plan()
	for i := range p.Parts {
		if p.Parts[i].Root || p.Parts[i].Stays {
			continue
		}
		for _, one := range []string{"part " + string(p.Parts[i].ID), "OFF", "CANCEL"} {
			s.now += 3_000_000
			_, err := s.at.Scan(s.ctx, one)
			require.NoError(s.t, err)
			s.at.Heard()
		}
		y.look(i%10 == 0)
	}
	y.look(true)
	for i := range p.Loans {
		for _, one := range []string{"loan " + string(p.Loans[i].ID), "IN", "1", "OK", "CANCEL"} {
			s.now += 3_000_000
			_, err := s.at.Scan(s.ctx, one)
			require.NoError(s.t, err)
			s.at.Heard()
		}
	}
	y.look(true)
}
