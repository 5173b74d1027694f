package journal_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events/journal"
	"countback/events/journal/conformance"
)

func TestMemoryConforms(t *testing.T) {
	conformance.Run(t, func(testing.TB) conformance.Store {
		m := journal.NewMemory()
		return conformance.Store{
			Open: func(testing.TB) journal.Journal { return m.Again() },
			Break: func(_ testing.TB, j journal.Journal, f journal.Fault) func() {
				j.(*journal.Memory).Fail(f)
				return func() {}
			},
			Behead: func(_ testing.TB, j journal.Journal) { j.(*journal.Memory).Tear(1) },
		}
	})
}

func TestMemoryFails(t *testing.T) {
	m := journal.NewMemory()
	d := journal.Draft{Terminal: "b1", N: 1, Job: "J1", Data: []byte("{}")}
	m.Fail(journal.Unreachable, journal.NoRoom)
	_, err := m.Append(t.Context(), d, journal.Recorded(0))
	require.ErrorIs(t, err, journal.ErrOffline)
	_, err = m.Append(t.Context(), d, journal.Recorded(0))
	require.ErrorIs(t, err, journal.ErrFull)
	r, err := m.Append(t.Context(), d, journal.Recorded(0))
	require.NoError(t, err)
	require.Equal(t, journal.Receipt{Seq: 1}, r)
}

// A reader that keeps Data beyond its callback must notice here, since it
// would read other messages' bytes from a journal on disk.
func TestMemoryOverwritesWhatReadersKeep(t *testing.T) {
	m := journal.NewMemory()
	d := journal.Draft{Terminal: "b1", N: 1, Job: "J1", Data: []byte("{}")}
	_, err := m.Append(t.Context(), d, journal.Recorded(0))
	require.NoError(t, err)
	var kept []byte
	require.NoError(t, m.Read(t.Context(), 0, journal.Filter{}, func(msg journal.Message) error {
		require.Equal(t, "{}", string(msg.Data))
		kept = msg.Data
		return nil
	}))
	require.NotEqual(t, "{}", string(kept))
	last, _, err := m.Last(t.Context(), "b1")
	require.NoError(t, err)
	require.Equal(t, "{}", string(last.Data))
}

func TestMemoryAgreesWithOracle(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m, o := journal.NewMemory(), conformance.Oracle{}
		for range rapid.IntRange(1, 40).Draw(rt, "appends") {
			d, e := o.Draw(func(n int) int { return rapid.IntRange(0, n-1).Draw(rt, "choice") })
			want, verdict := o.Judge(d, e)
			got, err := m.Append(t.Context(), d, e)
			require.Equal(rt, verdict, conformance.VerdictOf(err))
			require.Equal(rt, want, got)
		}
	})
}
