package term

import (
	"context"
	"testing"
	"time"

	"github.com/gdamore/tcell/v2"
	"github.com/stretchr/testify/require"

	"countback/events/journal"
	"countback/events/stream"
	"countback/kiosk"
	"countback/kiosk/bench"
	"countback/testdata/plans"
)

// timed is a journal that notes how long it takes.
type timed struct {
	journal.Journal
	appends int
	append  time.Duration
	read    time.Duration
}

func (j *timed) Append(ctx context.Context, d journal.Draft, e journal.Expect) (journal.Receipt, error) {
	start := time.Now()
	defer func() { j.append += time.Since(start); j.appends++ }()
	return j.Journal.Append(ctx, d, e)
}

func (j *timed) Read(ctx context.Context, from journal.Seq, f journal.Filter, fn func(journal.Message) error) error {
	start := time.Now()
	defer func() { j.read += time.Since(start) }()
	return j.Journal.Read(ctx, from, f, fn)
}

// BenchmarkScanToScreen is one scan, from its line to the drawn screen, over a
// store on disk: every third one stores a fact. What the journal takes is
// taken off; the rest is reported in milliseconds, and as a ratio to the time
// of one append in the same run.
func BenchmarkScanToScreen(b *testing.B) {
	for _, size := range []struct {
		name string
		w, h int
	}{{"80x24", 80, 24}, {"120x40", 120, 40}} {
		b.Run(size.name, func(b *testing.B) { scanToScreen(b, size.w, size.h) })
	}
}

func scanToScreen(b *testing.B, w, h int) {
	store, err := stream.Open(stream.Config{Shop: "hill", Dir: b.TempDir() + "/store", Terminal: "b1"})
	require.NoError(b, err)
	defer store.Close()
	home := &timed{Journal: store}
	now := morning
	term, err := bench.Open(context.Background(), bench.Config{Shop: "hill", Name: "b1", Home: home, Clock: func() int64 { now += 1_000_000; return now },
		Plans: map[string]string{"sorrel": plans.Sorrel}, Settings: kiosk.UsualSettings()})
	require.NoError(b, err)
	hand, undo := newHand(Config{Terminal: term}.whole())
	defer undo()
	screen := tcell.NewSimulationScreen("UTF-8")
	require.NoError(b, screen.Init())
	screen.SetSize(w, h)
	scan := func(line string) {
		f := hand.take(context.Background(), line)
		draw(screen, &f, keyboard{}, look{blocks: true})
		screen.Show()
	}
	for _, l := range []string{"range BC", "bench b1", "RESERVE", "job 4K7", "engine Sorrel I4-20", "plan sorrel", "OPEN JOB",
		"joint mount-bracket", "ALL OUT", "joint front-cover", "ALL OUT", "joint oil-pan", "ALL OUT"} {
		scan(l)
	}
	cycle := []string{"joint coils", "ALL OUT", "WHAT NOW", "joint coils", "ALL IN", "joint front-cover"}
	home.append, home.read, home.appends = 0, 0, 0
	facts := len(term.Job().Facts())
	b.ResetTimer()
	for i := range b.N {
		scan(cycle[i%len(cycle)])
	}
	b.StopTimer()
	require.LessOrEqual(b, b.N/3, len(term.Job().Facts())-facts+1, "the facts of the cycle are stored")
	beyond := b.Elapsed() - home.append - home.read
	b.ReportMetric(float64(beyond.Microseconds())/float64(b.N)/1000, "ms-beyond/scan")
	if home.appends > 0 {
		each := home.append / time.Duration(home.appends)
		b.ReportMetric(float64(each.Microseconds())/1000, "ms/append")
		b.ReportMetric(float64(beyond)/float64(b.N)/float64(each), "x-append")
	}
}
