package term

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events/journal"
	"countback/kiosk"
	"countback/kiosk/panel"
	"countback/labels/code"
)

var update = flag.Bool("update", false, "write the screens anew")

// screen is one golden screen: what was scanned, and what the keys show.
type screen struct {
	name string
	show func(t *testing.T) Frame
	keys keyboard
	look look
}

func scanned(lines ...string) func(t *testing.T) Frame {
	return func(t *testing.T) Frame { return newStage(t).scan(append(lines, "")...) }
}

func screens(t *testing.T) []screen {
	slip := labelOf(t, code.Slip, 0)
	bag, one, rack, tag := labelOf(t, code.Bag, 0), labelOf(t, code.Bag, 1), labelOf(t, code.Rack, 0), labelOf(t, code.Case, 0)
	cover := []string{"joint mount-bracket", "ALL OUT", "joint front-cover", bag, "1", "8", "4", "4"}
	after := func(lines ...string) func(*testing.T) Frame {
		return scanned(append(append([]string{}, cover...), lines...)...)
	}
	dear := []string{"joint heat-shield", "ALL OUT", "joint exhaust", bag, "9", "supplier Fjord", "6", "LEAD TIME",
		"supplier Fjord", "part exhaust-gasket", "4", "LEAD TIME", "step exhaust-on", "PLANNED", "19.5."}
	dear = dear[:len(dear):len(dear)]
	return append(handScreens(t), []screen{
		{name: "start", show: func(t *testing.T) Frame { return newShop(t, Config{}).scan("") }},
		{name: "bench", show: after("DO NOT KNOW", "joint coils", one, "4", "CANCEL")},
		{name: "joint", show: scanned("joint front-cover")},
		{name: "joint-hole", show: scanned("joint oil-pan", "PARKED", "joint oil-pan", "hole 3", "OUT", "joint oil-pan", "hole 7")},
		{name: "joint-stages", show: scanned("joint exhaust", "ALL OUT", "joint exhaust", "ALL IN", "joint exhaust", "STAGE", "joint exhaust", "hole 1", "hole 2", "STAGE", "joint exhaust")},
		{name: "joint-blind", show: scanned("joint front-cover", bag)},
		{name: "count", show: scanned("joint front-cover", bag, "1", "8")},
		{name: "count-falls", show: func(t *testing.T) Frame {
			s := newStage(t, "joint front-cover", bag, "1", "8")
			return s.tick(140 * time.Second)
		}},
		{name: "short", show: after()},
		{name: "bag", show: after("DO NOT KNOW", bag)},
		{name: "bag-counted", show: after("DO NOT KNOW", bag, "COUNT", "4", "1", "8", "4")},
		{name: "rack", show: scanned("part buckets", "OFF", "part buckets", rack, "position 2Ia")},
		{name: "steps", show: after("DO NOT KNOW", "WHAT NOW")},
		{name: "missing", show: after("DO NOT KNOW", "MISSING")},
		{name: "case", show: scanned("joint exhaust", "hole 9", "BROKEN", "BELOW", tag)},
		{name: "case-stop", show: scanned("joint exhaust", "hole 9", "BROKEN", "BELOW", tag, "YES", tag, "TRIED", "SOAK", "NOT MOVED", "20",
			tag, "TRIED", "LEFT-HAND DRILL", "NOT MOVED", "20", tag)},
		{name: "audit", show: after("DO NOT KNOW", "AUDIT")},
		{name: "where", show: after("DO NOT KNOW", "joint front-cover", "hole 18", "WHERE IS")},
		{name: "measure", show: scanned("measurement main-journal", "position 1", "51.990", "measurement main-journal", "position 4", "51.950",
			"measurement bore", "position 1", "86.012", "86.010", "86.051", "86.011", "measurement bore", "WORKSHEET")},
		{name: "hand-over", show: after("DO NOT KNOW", "loan rag", "IN", "1", "HAND OVER")},
		{name: "slips", show: scanned("part buckets", "CATCH UP", "part head", "CATCH UP", "part head", slip, "supplier Bakke", "SEND", "text skim 0.1 mm", "SLIPS")},
		{name: "slip", show: scanned("part buckets", "CATCH UP", "part head", "CATCH UP", "part head", slip, "SEND", slip, "BACK", "size M14x1.5 plug (hexagon socket)", "0", "OK", "DO NOT KNOW", slip)},
		{name: "cores", show: scanned("part buckets", "CATCH UP", "part head", "CATCH UP", "part head", "supplier fjord", "CORE", "text 1200.50 EUR", "2.6.", "DO NOT STRIP", "part springs", "OFF", "CORES")},
		{name: "owner", show: scanned("place shelf", "part water-pump", "OWNER BROUGHT", "NOT SEALED", "part water-pump", "OWNER WANTS", "SHOW IT", "part water-pump", "place shelf", "OFF", "OWNER'S THINGS")},
		{name: "must-come-off", show: scanned("part cam-intake", "step cam-cover-on", "MUST COME OFF?")},
		{name: "compare", show: scanned("part cam-intake", "AGAINST", "part head")},
		{name: "compare-decided", show: scanned("part cam-intake", "AGAINST", "part head", "DECIDED", "2", "text the valves are to be seen")},
		{name: "catch-up", show: scanned("part cam-cover", "CATCH UP", "CANCEL", "part front-cover", "CATCH UP")},
		{name: "buy-list", show: scanned(append(dear, "BUY LIST")...)},
		{name: "orders", show: scanned(append(dear, "supplier Fjord", "ORDERED", "16.5.", "order 1", "PROMISED", "20.5.", "order 1", "ORDERS")...)},
		{name: "step-dated", show: scanned(append(dear, "supplier Fjord", "ORDERED", "16.5.", "step exhaust-on", "CAN I?")...)},
		{name: "sealant", show: func(t *testing.T) Frame {
			s := newStage(t, "joint oil-pan", "ALL OUT", "joint oil-pan", "SEALANT ON", "OK")
			return s.tick(100 * time.Second)
		}},
		{name: "sealant-over", show: func(t *testing.T) Frame {
			s := newStage(t, "joint oil-pan", "ALL OUT", "joint mount-bracket", "ALL OUT", "joint front-cover", "ALL OUT", "joint oil-pan", "SEALANT ON", "OK")
			s.now += 250_000_000
			s.scan("joint front-cover", "SEALANT ON", "OK", "joint oil-pan")
			return s.tick(70 * time.Second)
		}},
		{name: "help", show: scanned("HELP")},
		{name: "keys", show: scanned(), keys: keyboard{keys: true}},
		{name: "typing", show: scanned(), keys: keyboard{typed: "joint front-co", waiting: 2}},
		{name: "leaving", show: scanned(), keys: keyboard{leaving: true}},
		{name: "misread", show: scanned("BBCBR6K2")},
		{name: "refused", show: scanned("step cover-off", "CAN I?")},
		{name: "unclear", show: func(t *testing.T) Frame {
			s := newStage(t, "joint coils")
			s.home.Fail(journal.LoseAnswer)
			return s.scan("ALL OUT", "joint oil-pan")
		}},
		{name: "stopped", show: func(t *testing.T) Frame {
			s := newStage(t, "joint coils")
			s.home.sick = errDisk
			return s.scan("ALL OUT", "joint oil-pan")
		}},
		{name: "training", show: func(t *testing.T) Frame {
			return newShop(t, Config{Training: true, Notices: func() []string { return []string{"PRINTER: 3 labels wait"} }}).scan("badge Marit")
		}},
		{name: "plain-light", show: after(), look: look{theme: Light, blocks: false}},
	}...)
}

// picture is a screen as text, at a size.
func picture(t *testing.T, f Frame, k keyboard, l look, w, h int) string {
	s := simulation(t, "UTF-8", w, h)
	draw(s, &f, k, l)
	s.Show()
	return screenText(s)
}

func TestScreens(t *testing.T) {
	known := map[string]bool{}
	for _, sc := range screens(t) {
		l := sc.look
		if l == (look{}) {
			l.blocks = true
		}
		frame := sc.show(t)
		for _, size := range [][2]int{{80, 24}, {120, 40}} {
			name := fmt.Sprintf("%s-%dx%d.txt", sc.name, size[0], size[1])
			known[name] = true
			t.Run(name, func(t *testing.T) {
				got := picture(t, frame, sc.keys, l, size[0], size[1])
				file := filepath.Join("testdata", name)
				if *update {
					require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
					return
				}
				want, err := os.ReadFile(file)
				require.NoError(t, err, "run the test with -update to write it")
				require.Equal(t, string(want), got)
			})
		}
	}
	files, err := filepath.Glob("testdata/*x*.txt")
	require.NoError(t, err)
	for _, f := range files {
		require.True(t, known[filepath.Base(f)], "%s is no screen any more", f)
	}
}

// At any size a screen is drawn, and what it says first is there.
func TestScreensAtAnySize(t *testing.T) {
	sizes := [][2]int{{1, 1}, {20, 5}, {59, 15}, {60, 16}}
	if !testing.Short() {
		sizes = append(sizes, [][2]int{{10, 40}, {200, 3}, {79, 24}, {160, 50}}...)
	}
	for _, sc := range screens(t) {
		frame := sc.show(t)
		for _, size := range sizes {
			for _, blocks := range []bool{true, false} {
				text := picture(t, frame, sc.keys, look{blocks: blocks}, size[0], size[1])
				for _, row := range strings.Split(text, "\n") {
					require.LessOrEqual(t, width(row), size[0], "%s at %v", sc.name, size)
				}
			}
		}
	}
}

// The next thing to do is the largest thing on the screen: no other letters
// are drawn as large.
func TestHeadlineIsTheLargest(t *testing.T) {
	for _, sc := range screens(t) {
		if sc.keys.keys {
			continue
		}
		f := sc.show(t)
		for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
			text := picture(t, f, sc.keys, look{blocks: true}, size[0], size[1])
			rows := strings.Split(text, "\n")[1 : 1+headHigh(size[1], true)]
			require.Contains(t, strings.Join(rows, ""), "█", "%s at %v:\n%s", sc.name, size, text)
			rest := strings.Split(text, "\n")[1+headHigh(size[1], true):]
			require.NotContains(t, strings.Join(rest, ""), "█", "%s at %v:\n%s", sc.name, size, text)
		}
	}
}

// Names of 300 characters, with control characters, with letters that are two
// columns wide: the screen shows what it can, and nothing of it reaches the
// terminal as a command.
func TestScreensOfHostileNames(t *testing.T) {
	for _, name := range []string{
		strings.Repeat("Steuergehäusedeckel ", 15),
		strings.Repeat("x", 300),
		"red \x1b[31m\x1b]0;title\a end",
		strings.Repeat("正時齒輪蓋", 60),
		"a\u0301\u0302\u0303\u0304 \u202e right to left \u200b",
		"\xff\xfe broken \xc3",
		"[red]tags[white] and \"[\"",
		"",
	} {
		rows := []panel.Row{{Mark: panel.Look, Text: name, More: name}, {Mark: panel.Plain, Text: "the row below"}}
		f := Frame{View: kiosk.View{Bar: name, Said: name, Sign: kiosk.Short, Ask: name, Lines: []string{name, name}, Undo: name, Mode: name, Big: name},
			Next: []string{name}, Log: []panel.Line{{Time: name, Who: name, Text: name}}, Notices: []string{name}, NotTaken: name,
			Panel: panel.Panel{Title: name, Stand: name, Note: name, Cells: []panel.Cell{{Name: name}, {Name: "2"}}, Key: []panel.Key{{Text: name}}, Groups: []panel.Group{{Head: name, Rows: rows}}}}
		for _, size := range [][2]int{{80, 24}, {120, 40}, {61, 17}, {20, 5}} {
			for _, stopped := range []string{"", name} {
				f.Stopped = stopped
				text := picture(t, f, keyboard{typed: name}, look{blocks: true}, size[0], size[1])
				require.NotContains(t, text, "\x1b", name)
				require.NotContains(t, text, "\u202e", name)
				require.Equal(t, size[1], strings.Count(text, "\n"))
				for _, row := range strings.Split(text, "\n") {
					require.LessOrEqual(t, width(row), size[0], "%q at %v: %q", name, size, row)
				}
			}
		}
	}
}
