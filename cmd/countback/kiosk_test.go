package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/kiosk/scan"
	"countback/labels/code"
)

// A whole joint comes off and goes on again, by scans alone, on the built
// program in a real terminal.
func TestKioskTakesAJointOffAndPutsItOn(t *testing.T) {
	s := newShop(t)
	s.run("job", "open", "--plan", sorrel(t), "--engine", "Sorrel I4-20", "--id", "4K7").ends(statusDone)
	c := cardsOf(t, s, "4K7")
	badge, bag, pan := c.label(code.Badge), c.label(code.Bag), c.tag("joint oil-pan")
	s.feed(badge+"\nLABEL\ntext Marit\n", "scan").ends(statusDone)
	p := openPane(t, s, "80", "24", "kiosk", "--terminal", "bench-1")
	if p == nil {
		return
	}
	p.sees("No job on the screen", "bench bench-1 | nobody")
	for _, row := range []struct {
		scan string
		sees []string
	}{
		{badge, []string{"| Marit", "Scan a job card"}},
		{c.tag("job 4K7"), []string{"job 4K7 Sorrel I4-20", "Nothing is loose here"}},
		{pan, []string{"Oil pan   in and tight", "( ) M6   [ ] M8"}},
		{bag, []string{"Count each size"}},
		{c.number(14), []string{"COUNT", "= counted 14 M6"}},
		{c.number(4), []string{"Oil pan out and bagged in " + bag + ", 18 counted", "Oil pan   out", "UNDO takes back"}},
		{bag, []string{"Bag " + bag + ", Oil pan   open", "□ count it M6"}},
		{c.word(scan.Count), []string{"COUNT"}},
		{c.number(14), []string{"= counted 14 M6"}},
		{c.number(4), []string{"18 of 18", "= counted 4 M8"}},
		{bag, []string{"□ count it M6"}},
		{pan, []string{"Oil pan   out", "(14 ○)", "[15 ○]"}},
		{c.word(scan.AllIn), []string{"18 in by your word", "in, not tightened to the end", "EMPTY, or COUNT"}},
		{bag, []string{"Bag " + bag}},
		{c.word(scan.Empty), []string{"is empty. Oil pan: 18 fitted"}},
		{pan, []string{"Oil pan   in, not tightened to the end"}},
		{c.word(scan.Stage), []string{"stage 1 of 2", "UNDO takes back: Oil pan, holes 1"}},
		{pan, []string{"| joint oil-pan"}},
		{c.word(scan.Stage), []string{"UNDO takes back: Oil pan, holes 15"}},
		{pan, []string{"| joint oil-pan"}},
		{c.word(scan.Stage), []string{"stage 2 of 2"}},
		{pan, []string{"| joint oil-pan"}},
		{c.word(scan.Stage), []string{"finished", "Oil pan   in and tight"}},
		{c.word(scan.Undo), []string{"REDO puts back", "not tightened to the end"}},
		{c.word(scan.Redo), []string{"UNDO takes back", "in and tight"}},
	} {
		p.scan(row.scan)
		p.sees(row.sees...)
	}
	require.Equal(t, "0", p.leave())
	facts := s.run("store", "export").ends(statusDone)
	for _, kind := range []string{"pieces-out", "counted", "pieces-fitted", "stage-recorded", "corrected"} {
		facts.says(kind)
	}
	s.run("missing", "4K7").ends(statusDone)
}

// While the screen is up the store is in use, others can look, and a terminal
// that goes away loses nothing.
func TestTheKioskFillsATerminal(t *testing.T) {
	s := sorrelShop(t)
	p := openPane(t, s, "110", "40", append(s.args, "kiosk", "--job", "J1", "--letters", "plain")...)
	if p == nil {
		return
	}
	p.sees("job J1 Sorrel, blue van")
	s.run("scan").ends(statusStore).warns("in use by b1")
	p.scan("joint flywheel")
	p.sees("Flywheel: in")
	p.scan("8")
	p.sees("8 counted")
	s.run("where", "joint", "flywheel").ends(statusDone).says("counted")
	p.tmux("kill-server")
	<-p.over
	s.until("the store is free again", func() bool { return s.feed("WHAT NOW\n", "scan", "--job", "J1").status == statusDone })
}

// until tries something again until it comes true.
func (s *shop) until(what string, true func() bool) {
	s.t.Helper()
	tick := time.NewTicker(50 * time.Millisecond)
	defer tick.Stop()
	late := time.After(30 * time.Second)
	for !true() {
		select {
		case <-tick.C:
		case <-late:
			require.FailNow(s.t, "it never came true that "+what)
		}
	}
}

// Training has a store and labels of its own, and says so.
func TestKioskTrainsOnAStoreOfItsOwn(t *testing.T) {
	s := newShop(t)
	p := openPane(t, s, "120", "40", "kiosk", "--training", "--plan", sorrel(t), "--job", practiceJob)
	if p == nil {
		return
	}
	p.sees("TRAINING", "job "+practiceJob)
	require.Equal(t, "0", p.leave())
	require.NoDirExists(t, s.store(), "the real store is not touched")
	real := newSettingsFor(s)
	training := forTraining(real)
	require.DirExists(t, training.Store)
	require.FileExists(t, trainingMark(training))
	s.args = []string{"--store", training.Store}
	c := cardsOf(t, s, practiceJob)
	ranges := code.Ranges()
	require.Equal(t, ranges[len(ranges)-1], c.from.Range(), "its labels are from the end of the list")
	s.run("kiosk").ends(statusUsage).warns("is a training store")
}

func newSettingsFor(s *shop) settings {
	return settings{Store: s.store(), Shop: "workshop", Terminal: "office"}
}

// No store that may hold real jobs is ever opened for training.
func TestTrainingRefusesARealStore(t *testing.T) {
	s := newShop(t)
	real := filepath.Join(s.dir, "shop"+trainingEnd)
	s.run("--store", real, "job", "open", "--engine", "Sorrel I4-20").ends(statusDone)
	s.run("--store", strings.TrimSuffix(real, trainingEnd), "kiosk", "--training").ends(statusUsage).warns("was not made for training and may hold real jobs")
	require.NoFileExists(t, real+".txt")
}

func TestTrainingTouchesNoPathOfTheRealStore(t *testing.T) {
	for _, real := range []settings{
		{Store: "/srv/store"},
		{Store: "/srv/store", Guard: "/mnt/guard", Mark: "/mnt/mark"},
	} {
		training := forTraining(real)
		require.Equal(t, real.Store+".training", training.Store)
		for _, path := range [][2]string{{real.Guard, training.Guard}, {real.Mark, training.Mark}} {
			if path[0] != "" {
				require.Equal(t, path[0]+".training", path[1])
			} else {
				require.Empty(t, path[1], "it follows from the store's own path")
			}
		}
	}
}

func TestKioskRefusesFlagsThatMakeNoSense(t *testing.T) {
	s := newShop(t)
	for _, row := range []struct {
		args []string
		why  string
	}{
		{[]string{"--theme", "blue"}, `theme "blue": want dark or light`},
		{[]string{"--letters", "runes"}, `letters "runes": want auto, blocks or plain`},
		{[]string{"--plan", "x.yaml"}, "--plan goes with --training"},
		{[]string{"--training", "--server", "nats://127.0.0.1:1"}, "training needs a store of its own"},
		{[]string{"extra"}, "kiosk"},
	} {
		s.run(append([]string{"kiosk"}, row.args...)...).ends(statusUsage).warns(row.why)
	}
	s.run("kiosk").ends(statusUsage).warns("no terminal here to fill", "countback scan")
}

func TestKioskSaysThatThereIsNoSuchJob(t *testing.T) {
	s := sorrelShop(t)
	p := openPane(t, s, "80", "24", "kiosk", "--job", "9Z9")
	if p == nil {
		return
	}
	<-p.over
	require.Equal(t, "4", p.ended())
}

// The demo ends where a shop begins: at a bench, on the store that it left.
func TestDemoEndsAtABench(t *testing.T) {
	s := newShop(t)
	p := openPane(t, s, "100", "30", "demo", "--store", s.path("demo"))
	if p == nil {
		return
	}
	p.sees("Press Enter to sit down at bench-1")
	p.tmux("send-keys", "-t", "kiosk", "Enter")
	p.sees("bench bench-1", "job 4K7", "WHAT NOW")
	require.Equal(t, "0", p.leave())
}
