package kiosk

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/engine"
)

var update = flag.Bool("update", false, "write testdata/sentences.txt anew")

func sorrel(t testing.TB) *engine.Job {
	text, err := os.ReadFile("../testdata/plans/sorrel-i4-20.yaml")
	require.NoError(t, err)
	j := &engine.Job{}
	ev, err := j.Decide(engine.OpenJob{Engine: "Sorrel I4-20", Plan: string(text)})
	require.NoError(t, err)
	j.Apply(&events.Record{Shop: "hill", Job: "4K7", Terminal: "office", N: 1, Time: 1, At: 1, Event: ev})
	return j
}

// Every kind of fact that was ever stored has a sentence, here that of its
// frozen samples on an engine that nobody has touched.
func TestEveryFactHasASentence(t *testing.T) {
	files, err := filepath.Glob("../testdata/events/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), len(events.Names()))
	var dec events.Decoder
	var b strings.Builder
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		var r events.Record
		require.NoError(t, dec.Decode([]byte(strings.TrimSpace(string(data))), &r), f)
		j := sorrel(t)
		was := snapshot(j, nil)
		told := tell(j, r, j.Apply(&r), was)
		require.NotEmpty(t, told.Sentence(), f)
		lines := told.Lines()
		for _, l := range lines {
			require.NotContains(t, l, "%!", f)
			require.NotContains(t, l, "  ", f)
		}
		fmt.Fprintf(&b, "%s\n    %s\n", strings.TrimSuffix(filepath.Base(f), ".json"), strings.Join(lines, "\n    "))
	}
	const golden = "testdata/sentences.txt"
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(golden, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err, "run the test with -update to write it")
	require.Equal(t, string(want), b.String())
}

func TestShortNames(t *testing.T) {
	for _, row := range []struct {
		kinds []events.Kind
		want  string
	}{
		{[]events.Kind{"M6x1.0x25 8.8 flange", "M8x1.25x30 8.8 flange", "M8x1.25x45 8.8 flange", "M10x1.5x50 8.8 flange"}, "M6, M8 short, M8 long, M10"},
		{[]events.Kind{"M6x1.0x12", "M6x1.0x16", "M6x1.0x20"}, "M6x1.0x12, M6x1.0x16, M6x1.0x20"},
		{[]events.Kind{"M8x1.25 copper nut", "M8x1.25x45 8.8 stud"}, "M8 nut, M8 stud"},
		{[]events.Kind{"M12x1.25x45 10.9 12pt (hollow)", "M12x1.25x45 10.9 12pt (solid)"}, "M12x1.25x45 10.9 12pt (hollow), M12x1.25x45 10.9 12pt (solid)"},
		{[]events.Kind{"seal ring 14x20", "M14x1.5 plug"}, "seal ring 14x20, M14 plug"},
		{[]events.Kind{"locks", "buckets"}, "locks, buckets"},
		{[]events.Kind{"R1/8 oil pressure switch"}, "oil pressure switch"},
		{nil, ""},
	} {
		require.Equal(t, row.want, joinComma(ShortNames(row.kinds)))
	}
}

func TestCorrectedCountsAndBags(t *testing.T) {
	lines := []events.Line{{Kind: "M6x1.0x25", Qty: 3}}
	for _, ev := range []events.Event{
		events.PiecesOut{Joint: "coils", Lines: []events.Line{{Kind: "M6x1.0x25", Qty: 4}}}, events.PiecesFitted{Joint: "coils", Lines: lines},
		events.Counted{Place: "bag/B1", Lines: lines}, events.BagClosed{Bag: "B1", Lines: lines}, events.BagSplit{From: "B1", Into: "B2", Lines: lines},
		events.PiecesMoved{From: "bag/B1", To: "bag/B2", Lines: lines}, events.PiecesScrapped{From: "bag/B1", Lines: lines}, events.PiecesKept{From: "bag/B1", Lines: lines},
		events.HardwareReceived{To: "stock/k", Lines: lines}, events.KitOpened{Kit: "k", Lines: lines}, events.LossReported{From: "bag/B1", Lines: lines},
	} {
		name := events.NameOf(ev)
		require.Equal(t, []events.Kind{"M6x1.0x25"}, kindsOf(ev), name)
		again := recount(ev, []events.Line{{Kind: "M6x1.0x25", Qty: 7}})
		require.Equal(t, name, events.NameOf(again))
		require.Equal(t, 7, engine.LinesOf(again)[0].Qty, name)
	}
	off := recount(events.PartRemoved{Part: "buckets", Counted: 16}, []events.Line{{Kind: "buckets", Qty: 15}})
	require.Equal(t, events.PartRemoved{Part: "buckets", Counted: 15}, off)
	require.Empty(t, kindsOf(events.MarkMade{Mark: "two-turns"}), "a mark counts nothing")
	require.Nil(t, recount(events.MarkMade{}, lines))

	for _, row := range []struct{ was, want events.Event }{
		{events.PiecesOut{To: "bag/B1"}, events.PiecesOut{To: "bag/B9"}},
		{events.PiecesFitted{From: "bag/B1"}, events.PiecesFitted{From: "bag/B9"}},
		{events.Counted{Place: "bag/B1"}, events.Counted{Place: "bag/B9"}},
		{events.PartRemoved{To: "bag/B1"}, events.PartRemoved{To: "bag/B9"}},
		{events.PiecesMoved{To: "bag/B1"}, events.PiecesMoved{To: "bag/B9"}},
		{events.BagClosed{Bag: "B1"}, events.BagClosed{Bag: "B9"}},
		{events.BagOpened{Bag: "B1"}, events.BagOpened{Bag: "B9"}},
		{events.BagsMerged{Into: "B1"}, events.BagsMerged{Into: "B9"}},
	} {
		require.Equal(t, row.want, rebag(row.was, "bag/B9"))
	}
	require.Nil(t, rebag(events.BagClosed{Bag: "B1"}, "place/shelf"), "a shelf is closed by nobody")
	require.Nil(t, rebag(events.MarkMade{}, "bag/B9"))
}
