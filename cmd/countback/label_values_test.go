package main

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/labels"
	"countback/labels/code"
	"countback/labels/symbol"
)

// demoStore is the folder of a store that the built program played the demo
// into, once for all tests.
var demoStore = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp(filepath.Dir(program), "demo-")
	if err != nil {
		return "", err
	}
	s := &shop{dir: dir, env: os.Environ()}
	d, err := s.try("", "demo", "--plain", "--store", filepath.Join(dir, "store"))
	if err == nil && d.status != statusDone {
		return "", os.ErrInvalid
	}
	return filepath.Join(dir, "store"), err
})

// demoRecords are the facts of the demo in the order of the journal.
func demoRecords(t *testing.T) []events.Record {
	t.Helper()
	dir, err := demoStore()
	require.NoError(t, err)
	var list []events.Record
	var d events.Decoder
	err = readFacts(t.Context(), settings{Store: dir, Shop: demoShop}, journal.Filter{}, func(m journal.Message) error {
		var r events.Record
		if err := d.Decode(m.Data, &r); err != nil {
			return err
		}
		list = append(list, r)
		return nil
	})
	require.NoError(t, err)
	return list
}

// demoBooks is the demo up to the fact that first says something of a code.
func demoBooks(t *testing.T, list []events.Record, c events.Code) labelWords {
	t.Helper()
	for i := range list {
		if e, ok := list[i].Event.(events.PiecesOut); ok && e.To == events.Place("bag/"+string(c)) {
			list = list[:i+1]
			break
		}
	}
	b := &books{}
	b.Load(list, 0)
	j, ok := b.Job(demoJob)
	require.True(t, ok)
	return b.words(demoJob, j)
}

func TestBagLabelSaysWhatIsInTheBag(t *testing.T) {
	w := demoBooks(t, demoRecords(t), "BHTTG2Z5")
	l := w.bag("BHTTG2Z5", 0)
	require.Equal(t, "Front cover to block", l.Joint)
	require.Equal(t, "4K7", l.Job)
	require.Equal(t, []string{"Front", "timing end", "Cylinder block"}, []string{l.Side, l.End, l.Into})
	require.Empty(t, l.LeftRight, "nobody speaks of left and right")
	require.Equal(t, labels.Reuse, l.Condition)
	require.Equal(t, "M", l.Initials)
	require.Equal(t, "Mount bracket, then Front cover", l.Under)
	require.Contains(t, l.BackWith, "sealant")
	require.Equal(t, []labels.Line{
		{Spec: "M6x1.0x25 8.8 flange", Count: 1, Holes: []string{"1"}},
		{Spec: "M8x1.25x30 8.8 flange", Count: 8, Holes: []string{"3", "5", "9", "12", "14", "15", "16", "17"}},
		{Spec: "M8x1.25x45 8.8 flange", Count: 4, Holes: []string{"18", "19", "20", "22"}},
		{Spec: "M10x1.5x50 8.8 flange", Count: 4, Expected: 5, Holes: []string{"6", "7", "10", "13", "21"}},
	}, l.Lines)
	require.Len(t, l.Pattern.Spots, 22)
	require.True(t, l.Pattern.Placed)
	require.Equal(t, "exhaust side", l.Pattern.Front)
	require.Equal(t, "head", l.Pattern.Top)
	require.Contains(t, l.Pattern.Spots, labels.Spot{Hole: "18", XMm: 76, YMm: -14}, "up in the plan is up on the drawing")
	d, err := labels.Draw(l, labels.Media{WidthMm: 100, HeightMm: 60, DPI: symbol.DPI203})
	require.NoError(t, err)
	require.Equal(t, []code.Code{"BHTTG2Z5"}, d.Codes())
	if dir := os.Getenv("COUNTBACK_LOOK"); dir != "" {
		png, err := d.PNG(0)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "bag.png"), png, 0o600))
	}
}

func TestLeftAndRightSaySeenFromWhere(t *testing.T) {
	b := &books{}
	b.Load(demoRecords(t), 0)
	j, _ := b.Job(demoJob)
	w := b.words(demoJob, j)
	ix, ok := w.p.Joint("exhaust")
	require.True(t, ok)
	var l labels.Bag
	w.side(&l, ix)
	require.Equal(t, labels.Bag{Side: "Right", End: "exhaust side", LeftRight: "from the flywheel end, looking at the timing end"}, l)
}

// The bracket has holes 2 and 4 of its own, and others of the cover go through
// it: on the drawing each has its own name and shape.
func TestSharedHolesOnADrawing(t *testing.T) {
	b := &books{}
	b.Load(demoRecords(t), 0)
	j, _ := b.Job(demoJob)
	w := b.words(demoJob, j)
	ix, _ := w.p.Joint("mount-bracket")
	p := w.pattern(ix)
	require.Equal(t, "Front cover to block", p.Star)
	shapes := labels.Shapes(w.sizes("mount-bracket"))
	require.Len(t, shapes, len(p.Spots))
	require.NotEqual(t, shapes["2"], shapes["2*"])
	require.Equal(t, shapes["1"], shapes["2"])
	require.Equal(t, shapes["8"], shapes["2*"])
}

func TestAnEmptyBagSaysSo(t *testing.T) {
	b := &books{}
	b.Load(demoRecords(t), 0)
	w, c, err := b.bagWords("bhttg2z5")
	require.NoError(t, err)
	l := w.bag(c, 0)
	require.Empty(t, l.Lines)
	require.Equal(t, "EMPTY by the book", l.End)
	require.NotContains(t, strings.Join(l.GoesWith, " "), "M8x1.25x30", "bolts do not go with themselves")
}
