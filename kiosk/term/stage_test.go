package term

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/kiosk"
	"countback/kiosk/bench"
	"countback/labels/code"
	"countback/testdata/plans"
)

// stage is one bench of a shop, with a clock that only scans move.
type stage struct {
	t    testing.TB
	home *faulty
	term *bench.Terminal
	hand *hand
	now  int64
}

var morning = time.Date(2025, 5, 12, 7, 0, 0, 0, time.UTC).UnixMicro()

// faulty is a journal that can be made to fail.
type faulty struct {
	*journal.Memory
	sick error
}

var errDisk = errors.New("disk: no space left on device")

func (f *faulty) Append(ctx context.Context, d journal.Draft, e journal.Expect) (journal.Receipt, error) {
	if f.sick != nil {
		return journal.Receipt{}, f.sick
	}
	return f.Memory.Append(ctx, d, e)
}

func (f *faulty) Health(context.Context) error { return f.sick }

// newShop is a bench without a job: two people have badges.
func newShop(t testing.TB, c Config) *stage {
	s := &stage{t: t, home: &faulty{Memory: journal.NewMemory()}, now: morning}
	term, err := bench.Open(context.Background(), bench.Config{Shop: "hill", Name: "b1", Home: s.home,
		Clock: func() int64 { return s.now }, Plans: map[string]string{"sorrel": plans.Sorrel}, Settings: kiosk.UsualSettings()})
	require.NoError(t, err)
	s.term = term
	for _, l := range []string{"range BC", "bench b1", "RESERVE", labelOf(t, code.Badge, 0), "LABEL", "text Marit", labelOf(t, code.Badge, 1), "LABEL", "text Ole"} {
		_, err := term.Scan(context.Background(), l)
		require.NoError(t, err)
	}
	term.Heard()
	term.Told()
	c.Terminal = term
	h, undo := newHand(c.whole())
	t.Cleanup(undo)
	s.hand = h
	return s
}

// newStage is the bench with a job on the Sorrel and Marit at it.
func newStage(t testing.TB, lines ...string) *stage {
	s := newShop(t, Config{})
	s.scan("badge Marit", "job 4K7", "engine Sorrel I4-20", "plan sorrel", "OPEN JOB")
	require.Equal(t, events.Job("4K7"), s.term.Screen().Job())
	s.scan(lines...)
	return s
}

// scan gives lines to the hand, a second apart, and gives the last frame.
func (s *stage) scan(lines ...string) Frame {
	s.t.Helper()
	var f Frame
	for _, l := range lines {
		s.now += 1_000_000
		f = s.hand.take(context.Background(), l)
	}
	return f
}

func (s *stage) tick(after time.Duration) Frame {
	s.now += after.Microseconds()
	return s.hand.tick(context.Background())
}

// labelOf is the nth label of a type in the bench's range.
func labelOf(t testing.TB, typ code.Type, n int) string {
	issuer, err := code.NewIssuer("BC")
	require.NoError(t, err)
	var c code.Code
	from := uint32(0)
	for range n + 1 {
		next, at, ok := issuer.Next(typ, from)
		require.True(t, ok)
		c, from = next, at+1
	}
	return string(c)
}
