package main

import (
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestNoticesOfThePrintQueue(t *testing.T) {
	one := []queueOrder{{N: 1, Title: "bag B2KCZ6EE"}}
	for _, row := range []struct {
		report queueReport
		want   []string
	}{
		{queueReport{Working: true, Printers: []queuePrinter{{Name: "a", State: "idle", Open: one}}}, nil},
		{queueReport{Working: true, Printers: []queuePrinter{{Name: "a", State: "printing", Open: one}}}, nil},
		{queueReport{Working: true, Printers: []queuePrinter{{Name: "a", State: "held"}}}, nil},
		{queueReport{Working: true, Printers: []queuePrinter{{Name: "a", State: "held", Open: one}}}, []string{"Printer a held, 1 label"}},
		{queueReport{Working: true, Printers: []queuePrinter{{Name: "a", State: "look at the printer", Open: append(one, one...)}}}, []string{"Printer a look at the printer, 2 labels"}},
		{queueReport{Printers: []queuePrinter{{Name: "a", State: "idle", Open: one}}}, []string{"Printer a nobody prints, 1 label"}},
		{queueReport{Trouble: []string{"bag B2KCZ6EE: too small"}}, []string{"1 label not drawn"}},
	} {
		require.Equal(t, row.want, row.report.notices())
	}
	s := settings{Store: t.TempDir() + "/store"}
	now := time.Now()
	notices := printNotices(s, func() time.Time { return now })
	require.Empty(t, notices())
	require.NoError(t, os.Mkdir(s.queueDir(), 0o700))
	require.NoError(t, queueReport{Printers: []queuePrinter{{Name: "a", State: "held", Open: one}}}.save(s))
	require.Equal(t, []string{"Printer a held, 1 label"}, notices())
	for _, state := range []string{"idle", "printing"} {
		require.NoError(t, queueReport{Working: true, Printers: []queuePrinter{{Name: "a", State: state, Open: one}}}.save(s))
		now = time.Now()
		require.Empty(t, notices(), "a program works it")
		now = now.Add(silentFor + 2*time.Second)
		require.Equal(t, []string{"Printer a nobody prints, 1 label"}, notices(), "it was killed while it was %s, and its last report says that it works", state)
	}
	require.NoError(t, os.WriteFile(statusFile(s), []byte("{"), 0o600))
	require.Empty(t, notices(), "a damaged report is none")
}

func TestLabelsOfATrainingStoreSaySo(t *testing.T) {
	s, bag := benchShop(t)
	s.fill(bag)
	require.NoError(t, os.WriteFile(trainingMark(settings{Store: s.store()}), []byte(trainingText), 0o600))
	for _, args := range [][]string{{"bag", bag}, {"job", "J1"}, {"handover", "J1"}, {"roll", "--terminal", "bench-1", "--count", "1"}, {"tags", "J1", "--only", "loans"}} {
		file := s.path("t-" + args[0] + ".pdf")
		s.run(append(append([]string{"label"}, args...), "--to", file)...).ends(statusDone)
		if text, ok := pdfText(t, file); ok {
			require.Contains(t, text, "TRAINING", args)
		}
	}
}
