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
	require.Equal(t, "into Cylinder block", l.Side)
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
	d, err := labels.Draw(l, labels.Media{WidthMm: 100, HeightMm: 60, DPI: symbol.DPI203})
	require.NoError(t, err)
	require.Equal(t, []code.Code{"BHTTG2Z5"}, d.Codes())
	if dir := os.Getenv("COUNTBACK_LOOK"); dir != "" {
		png, err := d.PNG(0)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "bag.png"), png, 0o600))
	}
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
