package main

import (
	"io"
	"net"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/labels/peer"
)

// benchShop makes a shop with a job of the invented engine, and a bag of its coils
// that bench-1 filled; it returns the bag's code.
func benchShop(t *testing.T) (*shop, string) {
	t.Helper()
	s := newShop(t)
	s.run("job", "open", "--plan", sorrel(t), "--engine", "Sorrel, green estate").ends(statusDone)
	s.feed("job J1\n", "scan", "--terminal", "bench-1").ends(statusDone)
	roll := s.run("label", "roll", "--terminal", "bench-1", "--count", "4", "--to", "roll.pdf").ends(statusDone)
	bag := regexp.MustCompile(`(?m)^(B\w{7}) to`).FindStringSubmatch(roll.out)
	require.Len(t, bag, 2, roll.out)
	return s, bag[1]
}

func (s *shop) fill(bag string) {
	s.t.Helper()
	s.feed("joint coils\n"+bag+"\n4\n", "scan", "--terminal", "bench-1", "--job", "J1").ends(statusDone).says("Coils out and bagged")
}

// printers writes the settings file.
func (s *shop) printers(lines ...string) {
	s.t.Helper()
	require.NoError(s.t, os.MkdirAll(s.path("config", "countback"), 0o755))
	text := "printers:\n  - " + strings.Join(lines, "\n  - ") + "\n"
	require.NoError(s.t, os.WriteFile(s.path("config", "countback", "settings.yaml"), []byte(text), 0o600))
}

func TestLabelOfABagIsReadByOthers(t *testing.T) {
	s, bag := benchShop(t)
	s.fill(bag)
	for _, dpi := range []string{"203", "300", "600"} {
		s.run("label", "bag", bag, "--dpi", dpi, "--to", dpi+".png").ends(statusDone).says("1 code drawn and read back")
		if texts, ok := peer.Bars(t, s.path(dpi+".png")); ok {
			require.Equal(t, []string{bag}, texts)
		}
		if texts, ok := peer.Cells(t, s.path(dpi+".png"), 1, 1); ok {
			require.Equal(t, []string{bag}, texts)
		}
		if texts, ok := peer.ZXing(t, s.path(dpi+".png"), "Code128"); ok {
			require.Contains(t, strings.Join(texts, " "), bag)
		}
	}
	s.run("label", "bag", bag, "--to", "label.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("label.pdf")); ok {
		require.Contains(t, text, "M6x1.0x25")
		require.Contains(t, text, "4 pieces")
		require.NotContains(t, text, "REPRINT")
	}
}

// pdfText is what pdftotext finds in a file; ok is false if it is not installed.
func pdfText(t *testing.T, file string) (text string, ok bool) {
	t.Helper()
	if !peer.Has(t, "pdftotext") {
		return "", false
	}
	out, err := exec.CommandContext(t.Context(), "pdftotext", "-layout", file, "-").Output()
	require.NoError(t, err)
	return string(out), true
}

func TestJobSheetHasEveryStepAndJoint(t *testing.T) {
	s, _ := benchShop(t)
	s.run("label", "job", "J1", "--to", "job.pdf").ends(statusDone).says("codes drawn and read back")
	codes := s.run("codes", "J1").ends(statusDone).out
	text, ok := pdfText(t, s.path("job.pdf"))
	if !ok {
		return
	}
	n := 0
	for _, line := range strings.Split(codes, "\n") {
		if f := strings.Fields(line); len(f) > 2 && (f[1] == "step" || f[1] == "joint") {
			require.Contains(t, text, f[0], line)
			n++
		}
	}
	require.Greater(t, n, 150)
	require.Contains(t, strings.Join(strings.Fields(text), " "), "Front cover to", "names wrap between words")
	require.Contains(t, text, "Sorrel, green estate")
}

func TestSheetsOfAJob(t *testing.T) {
	s, _ := benchShop(t)
	for _, args := range [][]string{
		{"cards", "--to", "cards.pdf"},
		{"cards", "--job", "J1", "--paper", "Letter", "--dpi", "203", "--to", "letter.pdf"},
		{"tags", "J1", "--only", "loans", "--to", "loans.pdf"},
		{"tags", "J1", "--only", "parts", "--grid", "a4-24", "--offset", "0.4x-0.6", "--used", "5", "--to", "parts.pdf"},
		{"positions", "J1", "front-cover", "RHTBR6KU", "--to", "positions.pdf"},
		{"handover", "J1", "--to", "handover.pdf"},
		{"joint-tags", "--terminal", "bench-1", "--count", "3", "--to", "blank"},
		{"blank", "badges", "--terminal", "bench-1", "--count", "3", "--to", "badges.pdf"},
		{"blank", "racks", "--terminal", "bench-1", "--count", "2", "--to", "racks"},
		{"blank", "slips", "--terminal", "bench-1", "--count", "2", "--to", "slips"},
		{"blank", "places", "--terminal", "bench-1", "--count", "2", "--to", "places"},
		{"blank", "loans", "--terminal", "bench-1", "--count", "2", "--to", "tools"},
		{"blank", "engines", "--terminal", "bench-1", "--count", "2", "--to", "engines"},
		{"cards", "--format", "png", "--dpi", "300", "--to", "pictures/"},
	} {
		s.run(append([]string{"label"}, args...)...).ends(statusDone).says("drawn and read back")
	}
	require.FileExists(t, s.path("pictures", "wall-cards-1.png"))
}

// A new shop: the badge that was printed blank is a person's after one sentence.
func TestABlankBadgeBecomesAPersons(t *testing.T) {
	s, _ := benchShop(t)
	out := s.run("label", "blank", "badges", "--terminal", "bench-1", "--count", "2", "--to", "badges.pdf").ends(statusDone).out
	badge := regexp.MustCompile(`\bN[A-Z0-9]{7}\b`).FindString(out)
	require.NotEmpty(t, badge, out)
	s.feed("badge Marit\n", "scan", "--terminal", "bench-1", "--all").says("a blank badge, LABEL and the name make it one")
	s.feed(badge+"\nLABEL\ntext Marit\nbadge Marit\n", "scan", "--terminal", "bench-1", "--all").ends(statusDone).says("is Marit's", "Marit at bench bench-1")
}

func TestRollsNeverRepeat(t *testing.T) {
	s, bag := benchShop(t)
	second := s.run("label", "roll", "--terminal", "bench-1", "--count", "4", "--to", "second.pdf").ends(statusDone).out
	require.NotContains(t, second, bag)
	from := regexp.MustCompile(`--from (\d+)`).FindStringSubmatch(second)
	require.Len(t, from, 2)
	s.run("label", "roll", "--terminal", "bench-1", "--count", "4", "--from", "0", "--to", "again.pdf").ends(statusDone).says(bag)
	s.run("label", "roll", "--terminal", "bench-1", "--count", "2", "--to", "third.pdf").ends(statusDone).says("begins at --from")
	s.run("label", "roll", "--terminal", "nowhere", "--to", "x.pdf").ends(statusUnknown).warns("has no labels of its own yet")
	s.run("label", "roll", "--terminal", "bench-1", "--count", "0", "--to", "x.pdf").ends(statusUsage).warns("want 1 to 5000")
}

func TestBadLabels(t *testing.T) {
	s, bag := benchShop(t)
	s.fill(bag)
	free, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	require.NoError(t, free.Close()) // nobody listens there now
	s.printers("{name: off, socket: "+free.Addr().String()+"}", "{name: gone, folder: "+s.path("nowhere")+"}")
	for _, row := range []struct {
		args string
		want status
		why  string
	}{
		{"bag " + bag, statusUsage, "--to FILE or FOLDER, or --printer with one of: off, gone"},
		{"bag " + bag + " --to a.png --printer off", statusUsage, "say one place"},
		{"bag " + bag + " --printer nix", statusUnknown, "there is no printer nix; there are: off, gone"},
		{"bag " + bag + " --printer off", statusFailed, "refused"},
		{"bag " + bag + " --printer gone", statusUsage, "nowhere"},
		{"bag " + bag + " --size 20x10 --to a.png", statusUsage, "this would fit: a label of 39 x 25 mm"},
		{"bag " + bag + " --size 30x40 --to a.png", statusUsage, "the Data Matrix alone"},
		{"bag " + bag + " --size wide --to a.png", statusUsage, "want two numbers in mm, as in 100x60"},
		{"bag " + bag + " --size -5x60 --to a.png", statusFailed, "-5"},
		{"bag " + bag + " --dpi 96 --to a.png", statusUsage, "want 203, 300 or 600"},
		{"bag " + bag + " --format bmp --to a/", statusUsage, "want png or pdf"},
		{"bag " + bag + " --format png --to a.pdf", statusUsage, "named as a pdf file"},
		{"bag " + bag + " --symbols none --to a.png", statusUsage, "both, linear or matrix"},
		{"bag " + bag + " --paper A5 --to a.pdf", statusUsage, "A5"},
		{"bag " + bag + " --grid a4-7 --to a.pdf", statusUsage, "there are: a4-24"},
		{"bag " + bag + " --offset 1x1 --to a.pdf", statusUsage, "sheets of labels"},
		{"bag " + bag + " --grid a4-24 --used 24 --to a.pdf", statusUsage, "the sheet has 24"},
		{"bag " + bag + " --why torn --to a.pdf", statusUsage, "--why is the reason of --again"},
		{"bag BAAAAAAA --to a.png", statusUnknown, "BAAAAAAA"},
		{"bag JAABR6KJ --to a.png", statusUsage, "code of a job, not of a bag"},
		{"bag BHT9QN9M --to a.png", statusUnknown, "no job has met bag BHT9QN9M"},
		{"job J9 --to a.pdf", statusUnknown, "there is no job J9"},
		{"tags J1 --only hats --to a.pdf", statusUsage, "there are no tags of"},
		{"slip SHTBR6K7 --to a.pdf", statusUnknown, "SHTBR6K7"},
		{"positions J1 nothing RHTBR6KU --to a.pdf", statusUnknown, "no joint nothing"},
		{"cards --paper A7 --to a.pdf", statusUsage, "A7"},
		{"stickers", statusUsage, "there is no command"},
	} {
		s.run(append([]string{"label"}, strings.Fields(row.args)...)...).ends(row.want).warns(row.why)
	}
	s.run("label", "bag", bag, "--to", "a.png").ends(statusDone)
	s.run("label", "bag", bag, "--to", "a.png").ends(statusUsage).warns("is there already")
}

func TestBadPrinterSettings(t *testing.T) {
	s := newShop(t)
	for line, why := range map[string]string{
		"{socket: 'a:1'}":                                 "it has no name",
		"{name: a}":                                       "name one way to reach it",
		"{name: a, socket: 'a:1', cups: b}":               "name one way to reach it",
		"{name: a, socket: 'a:1', dpi: 96}":               "want 203, 300 or 600",
		"{name: a, socket: 'a:1', size: big}":             "want two numbers",
		"{name: a, socket: 'a:1', colour: red}":           `there is no key "colour"`,
		"{name: a, cups: b}\n  - {name: a, folder: /tmp}": "taken by another",
		"a": "want keys and values",
	} {
		s.printers(line)
		s.run("label", "cards", "--to", "x.pdf").ends(statusUsage).warns(why)
	}
}

// fakePrinter listens on a raw socket and hands out the documents that it got.
func fakePrinter(t *testing.T, address string) (string, <-chan []byte) {
	t.Helper()
	l, err := net.Listen("tcp", address)
	require.NoError(t, err)
	t.Cleanup(func() { l.Close() })
	got := make(chan []byte, 10)
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			data, _ := io.ReadAll(c)
			c.Close()
			got <- data
		}
	}()
	return l.Addr().String(), got
}

func TestSocketGetsTheBytesOfTheFile(t *testing.T) {
	s, bag := benchShop(t)
	s.fill(bag)
	address, got := fakePrinter(t, "127.0.0.1:0")
	s.printers("{name: raw, socket: '" + address + "', size: 80x50, dpi: 300, format: png}")
	s.run("label", "bag", bag, "--printer", "raw").ends(statusDone).says("Printed on raw")
	s.run("label", "bag", bag, "--size", "80x50", "--dpi", "300", "--to", "same.png").ends(statusDone)
	file, err := os.ReadFile(s.path("same.png"))
	require.NoError(t, err)
	require.Equal(t, file, <-got)
}

func TestNamesOfAllSorts(t *testing.T) {
	s := newShop(t)
	s.run("job", "open", "--plan", sorrel(t), "--engine", strings.Repeat("Långe Motor Ωμέγα ", 8)).ends(statusDone)
	s.run("label", "job", "J1", "--to", "job.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("job.pdf")); ok {
		require.Contains(t, text, "Ωμέγα")
		require.Contains(t, text, "…", "what does not fit is cut visibly")
	}
}
