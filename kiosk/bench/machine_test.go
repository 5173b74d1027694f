package bench

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/events/journal"
	"countback/kiosk"
	"countback/kiosk/scan"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/ledger"
)

// Opening a Sorrel takes most of a round: fewer rounds, each longer. -rapid.checks
// asks for more.
func TestMain(m *testing.M) {
	flag.Parse()
	if f := flag.Lookup("rapid.checks"); f != nil && f.Value.String() == f.DefValue {
		_ = f.Value.Set("15")
	}
	os.Exit(m.Run())
}

// said are lines that mean something, some that do not, and whole sentences as
// the examples of the table have them.
func said(s *stage) *rapid.Generator[[]string] {
	one, mornings := line(s), spoken(s.t)
	return rapid.Custom(func(t *rapid.T) []string {
		switch rapid.IntRange(0, 9).Draw(t, "whole") {
		case 0, 1:
			return []string{one.Draw(t, "line")}
		case 2, 3, 4, 5, 6, 7, 8:
			var lines []string
			if rapid.IntRange(0, 3).Draw(t, "cancel") > 0 {
				lines = append(lines, string(scan.Cancel))
			}
			for _, w := range splitScans(rapid.SampledFrom(mornings).Draw(t, "spoken")) {
				if strings.HasPrefix(w, "tag ") || strings.HasPrefix(w, "misread ") || strings.HasPrefix(w, "card ") {
					w = strings.TrimPrefix(w, "tag ")
				} else {
					w, _ = s.resolve(w)
				}
				lines = append(lines, w)
			}
			return lines
		}
		row := scan.Sentences[rapid.IntRange(0, len(scan.Sentences)-1).Draw(t, "sentence")]
		var lines []string
		for _, w := range splitScans(row.Try) {
			switch w {
			case "bag", "rack", "slip", "case", "joint-tag":
				w, _ = s.resolve(w + " " + rapid.SampledFrom([]string{"A", "B"}).Draw(t, "which"))
			case "...":
				continue
			}
			lines = append(lines, w)
		}
		return lines
	})
}

// spoken are the lines of all scripts: sentences that mean something where they
// stand, and here come in any order.
func spoken(t testing.TB) []string {
	files, err := filepath.Glob("../../testdata/scripts/*.scan")
	require.NoError(t, err)
	var list []string
	for _, f := range files {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		for _, l := range strings.Split(string(text), "\n") {
			if l = strings.TrimSpace(l); l != "" && l[0] != '#' && l[0] != '@' && !strings.HasPrefix(l, "job ") {
				list = append(list, l)
			}
		}
	}
	require.NotEmpty(t, list)
	return list
}

func line(s *stage) *rapid.Generator[string] {
	var fixed []string
	for _, w := range append(scan.Verbs(), scan.Answers()...) {
		fixed = append(fixed, string(w))
	}
	nouns := []string{"joint front-cover", "joint coils", "joint exhaust", "joint oil-pan", "joint nowhere", "hole 1", "hole 9", "hole exhaust:9", "hole 18",
		"part head", "part buckets", "part oil-pan", "part front-cover", "position 2Ia", "position buckets:1Ea", "loan crank-pin", "loan rag", "mark two-turns",
		"cavity sump", "cavity timing-case", "step cover-on", "audit ready-to-start", "short 1", "short 2", "case 1", "kit bolt-set", "measurement clearance-intake",
		"place shelf", "bench b1", "stock kit-7", "supplier fjord", "badge Marit", "badge Ole", "job 4K7", "engine mower", "plan sorrel-i4-20", "layout flange",
		"size M6x1.0x25 8.8 flange", "size M8x1.25x30 8.8 flange", "size locks", "text a word or two", "range QQ", "act turning", "gate cover-on", "front-cover",
		"wibble", "4006381333931", "BHT7K2MX", "\x00\xff", "", "0.34", "-1"}
	return rapid.Custom(func(t *rapid.T) string {
		switch rapid.IntRange(0, 8).Draw(t, "what") {
		case 0, 1, 2:
			return rapid.SampledFrom(nouns).Draw(t, "noun")
		case 3, 4:
			return rapid.SampledFrom(fixed).Draw(t, "word")
		case 5, 6:
			return rapid.SampledFrom([]string{"0", "1", "2", "3", "4", "8", "16", "99"}).Draw(t, "number")
		case 7:
			kind := rapid.SampledFrom([]string{"bag", "bag", "rack", "slip", "case", "joint-tag"}).Draw(t, "label")
			line, _ := s.resolve(kind + " " + rapid.SampledFrom([]string{"A", "B", "C"}).Draw(t, "which"))
			return line
		}
		n := rapid.IntRange(0, 40).Draw(t, "card")
		c, _ := code.WholeNumber(n)
		return string(c)
	})
}

// Whatever is scanned, in whatever order, at benches that are cut off, started
// anew and left without answers: nothing panics, every book holds, every beep
// is a fact in the journal or in the outbox, and in the end all benches have
// the same job.
func TestAnythingCanBeScanned(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := newStage(t)
		s.use("b1")
		s.openJob("4K7 sorrel-i4-20")
		s.use("b2")
		s.hidden("job 4K7")
		acknowledged := len(s.told)
		for range rapid.IntRange(60, 120).Draw(rt, "scans") {
			s.at = s.terms[rapid.SampledFrom([]events.Terminal{"b1", "b2"}).Draw(rt, "bench")]
			s.trouble(rt)
			stored := 0
			for _, line := range said(s).Draw(rt, "said") {
				stored += s.anything(rt, line)
			}
			if acknowledged += stored; stored > 0 {
				s.verify()
				if j := s.at.jobs["4K7"]; rapid.IntRange(0, 9).Draw(rt, "replay") == 0 {
					var anew engine.Job
					anew.Load(j.Facts())
					same(rt, j, &anew)
				}
			}
		}
		for _, b := range s.terms {
			b.wire.Join()
			for range 80 { // more than there can be faults left
				require.NoError(rt, b.Tick(s.ctx))
			}
			acknowledged += len(b.Told())
		}
		for _, b := range s.terms {
			require.NoError(rt, b.Tick(s.ctx))
			require.Empty(rt, b.kept, "the outbox of %s is sent", b.Name)
		}
		head, err := s.home.Head(s.ctx)
		require.NoError(rt, err)
		require.EqualValues(rt, acknowledged, head, "facts that were acknowledged, and facts that are stored")
		require.Equal(rt, s.at.jobs["4K7"].Facts(), s.fresh().Facts())
		same(rt, s.at.jobs["4K7"], s.fresh())
		same(rt, s.terms["b1"].jobs["4K7"], s.terms["b2"].jobs["4K7"])
		require.Equal(rt, ids(s.terms["b1"].jobs["4K7"]), ids(s.terms["b2"].jobs["4K7"]))
	})
}

// log is every posting of a job's book.
func log(j *engine.Job) []ledger.Posting {
	return append([]ledger.Posting{}, j.State().Book().Log()...)
}

// same holds two foldings of the same facts to the same book, posting for
// posting, the same differences, and the same red lines.
func same(rt *rapid.T, one, other *engine.Job) {
	require.Equal(rt, log(one), log(other))
	require.Equal(rt, one.Differences(), other.Differences())
	require.Equal(rt, one.Red(), other.Red())
}

// anything scans a line and gives how many facts were acknowledged.
func (s *stage) anything(rt *rapid.T, line string) int {
	s.now += rapid.SampledFrom([]int64{100_000, 3_000_000, 3_000_000, 3_000_000, 3_000_000, 3_000_000, 3_000_000, 3_000_000, 3_000_000, 700_000_000}).Draw(rt, "pause")
	before := s.at.screen
	_, err := s.at.Scan(s.ctx, line)
	require.NoError(rt, err, "%q", line)
	told := s.at.Told()
	s.told = append(s.told, told...)
	require.Equal(rt, len(told), beeps(s.at.Heard()), "one receipt for each fact: %q", line)
	pure(rt, before, line, s.now)
	return len(told)
}

// trouble is what happens to a bench now and then.
func (s *stage) trouble(rt *rapid.T) {
	switch rapid.IntRange(0, 60).Draw(rt, "trouble") {
	case 0:
		s.at.wire.Cut()
	case 1, 2:
		s.at.wire.Join()
	case 3:
		s.home.Fail(journal.LoseAnswer)
	case 4:
		s.home.Fail(journal.LoseRequest)
	case 5:
		s.home.Fail(journal.NoRoom)
	default:
		if s.at.screen.Waits() && rapid.Bool().Draw(rt, "tick") {
			require.NoError(s.t, s.at.Tick(s.ctx))
		}
	}
}

// beeps is how many receipts were heard.
func beeps(sounds []kiosk.Sound) int {
	n := 0
	for _, snd := range sounds {
		if snd == kiosk.StoredWell || snd == kiosk.StoredLook {
			n++
		}
	}
	return n
}

// pure holds Update to its word: the same screen and the same message give the
// same, and the screen before stays as it was.
func pure(rt *rapid.T, before kiosk.Screen, line string, at int64) {
	view := before.View()
	one, first := before.Update(kiosk.Scanned{Line: line, At: at})
	two, second := before.Update(kiosk.Scanned{Line: line, At: at})
	require.Equal(rt, one.View(), two.View())
	require.Equal(rt, len(first), len(second))
	require.Equal(rt, view, before.View(), "%q changed the screen before it", line)
}

// fresh folds the job anew from the journal.
func (s *stage) fresh() *engine.Job {
	var records []events.Record
	var dec events.Decoder
	err := s.home.Read(context.Background(), 1, journal.Filter{Job: "4K7"}, func(m journal.Message) error {
		var r events.Record
		err := dec.Decode(m.Data, &r)
		records = append(records, r)
		return err
	})
	require.NoError(s.t, err)
	j := &engine.Job{}
	j.Load(records)
	return j
}

func ids(j *engine.Job) []events.FactID {
	var list []events.FactID
	for i := range j.Facts() {
		list = append(list, j.Facts()[i].ID())
	}
	return list
}
