package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// piece is one indented piece of the README: what it is run by, and what it
// shows of the answer.
type piece struct {
	line    int
	command string
	shows   []string
}

// blocksOf are the indented pieces that begin with a command; those that show
// nothing of an answer are left out.
func blocksOf(text string) []piece {
	var list []piece
	var in *piece
	for n, line := range strings.Split(text, "\n") {
		row, indented := strings.CutPrefix(line, "    ")
		switch {
		case !indented && line != "":
			in = nil
		case strings.HasPrefix(row, "$ "):
			list = append(list, piece{line: n + 1, command: strings.TrimPrefix(row, "$ ")})
			in = &list[len(list)-1]
		case in != nil:
			in.shows = append(in.shows, row)
		}
	}
	var kept []piece
	for _, b := range list {
		for len(b.shows) > 0 && b.shows[len(b.shows)-1] == "" {
			b.shows = b.shows[:len(b.shows)-1]
		}
		if len(b.shows) > 0 {
			kept = append(kept, b)
		}
	}
	return kept
}

// What is another on each day and machine stands for itself.
var (
	daysOf   = regexp.MustCompile(`\b\d{1,2} (January|February|March|April|May|June|July|August|September|October|November|December)( \d{4})?\b`)
	bytesOf  = regexp.MustCompile(`\d+ blocks?, \d+ bytes`)
	storesOf = regexp.MustCompile(`/\S*/countback/store`)
)

func plainly(text string) string {
	text = daysOf.ReplaceAllString(text, "DAY")
	text = bytesOf.ReplaceAllString(text, "N blocks, N bytes")
	return storesOf.ReplaceAllString(text, "STORE")
}

// holds reports the first line of a block that an answer does not have: in
// their order, next to each other but for what "..." leaves out.
func (b *piece) holds(answer string) string {
	rows := strings.Split(strings.TrimRight(plainly(answer), "\n"), "\n")
	at, free := 0, false
	for _, want := range b.shows {
		if strings.TrimSpace(want) == "..." {
			free = true
			continue
		}
		want = strings.TrimRight(plainly(want), " ")
		found := -1
		for i := at; i < len(rows) && found < 0; i++ {
			if strings.TrimRight(rows[i], " ") == want {
				found = i
			} else if !free {
				break
			}
		}
		if found < 0 {
			return want
		}
		at, free = found+1, false
	}
	if at < len(rows) && !free {
		return "(nothing more): " + rows[at]
	}
	return ""
}

// The README's morning at a bench is what the program answers: its commands are
// run one after the other in a shop of their own, those of the demo in the
// demo's store.
func TestReadmeBlocksAreWhatTheProgramGives(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(root(t), "README.md"))
	require.NoError(t, err)
	s, ran := newShop(t), 0
	require.NoError(t, os.CopyFS(s.path("testdata", "plans"), os.DirFS(filepath.Join(root(t), "testdata", "plans"))))
	for _, b := range blocksOf(string(text)) {
		command, note, _ := strings.Cut(b.command, "#")
		args := words(command)
		if args[0] != "countback" || strings.Contains(b.command, "print --status") {
			continue // of the system, or of a printer that is broken
		}
		in := s
		if strings.Contains(note, "demo") || strings.Contains(command, "BHTTG2Z5") {
			in = demoShopOf(t)
		}
		if args[1] == "scan" { // the block shows the scans, then what was said to them
			n := 0
			for n < len(b.shows) && !strings.HasPrefix(b.shows[n], "LOOK") {
				n++
			}
			require.NoError(t, os.WriteFile(s.path(args[len(args)-1]), []byte(strings.Join(b.shows[:n], "\n")+"\n"), 0o644))
		}
		d := in.run(args[1:]...)
		answer := d.out + d.err
		if args[1] == "label" {
			answer, b.shows = strings.ReplaceAll(strings.TrimSpace(answer), "\n", " "), []string{strings.Join(b.shows, " ")}
		}
		require.Empty(t, b.holds(answer), "README.md:%d: %s: it answers:\n%s", b.line, b.command, answer)
		ran++
	}
	require.GreaterOrEqual(t, ran, 6)
}

// words divides a command line at blanks, but not within double quotes.
func words(line string) []string {
	var list []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			list = append(list, part)
		} else {
			list = append(list, strings.Fields(part)...)
		}
	}
	return list
}

// What the README quotes of the demo is in the demo's output, line by line.
func TestReadmeQuotesTheDemo(t *testing.T) {
	demoShopOf(t)
	text, err := os.ReadFile(filepath.Join(root(t), "README.md"))
	require.NoError(t, err)
	_, rest, ok := strings.Cut(string(text), "This is a piece of its real output:\n")
	require.True(t, ok)
	rest, _, ok = strings.Cut(rest, "The demo leaves its store behind")
	require.True(t, ok)
	quoted := 0
	for _, line := range strings.Split(rest, "\n") {
		if row, is := strings.CutPrefix(line, "    "); is {
			quoted++
			require.True(t, strings.Contains(played.out, "\n"+row+"\n"), "the demo does not say %q", row)
		}
	}
	require.Greater(t, quoted, 10)
}
