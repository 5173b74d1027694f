package spool

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Cut the log anywhere: an order that was sent is never sent again by itself,
// and none that was accepted is lost.
func TestTheLogCutAnywhere(t *testing.T) {
	dir, p := t.TempDir(), &fake{name: "bench"}
	s := open(t, dir, p)
	for n := range 3 {
		add(t, s, order(t, n, 0))
	}
	next(t, s, Done)
	p.say(unclear("half-way"))
	next(t, s, Asking)
	p.say(nil)
	kill(s)
	log, err := os.ReadFile(filepath.Join(dir, "log"))
	require.NoError(t, err)
	files := map[string][]byte{}
	for n := range 3 {
		data, err := document(t, n, 0).PNG(0)
		require.NoError(t, err)
		files[fmt.Sprintf("%d.png", n+1)] = data
	}
	for cut := 0; cut <= len(log); cut += 7 {
		part := log[:cut]
		whole := string(part[:strings.LastIndex(string(part), "\n")+1])
		again := t.TempDir()
		require.NoError(t, os.MkdirAll(filepath.Join(again, "files"), 0o700))
		require.NoError(t, os.WriteFile(filepath.Join(again, "log"), part, 0o600))
		for name, data := range files {
			require.NoError(t, os.WriteFile(filepath.Join(again, "files", name), data, 0o600))
		}
		out := &fake{name: "bench"}
		s := open(t, again, out)
		accepted := strings.Count(whole, `"key"`)
		require.Len(t, s.entries, accepted)
		for {
			outcome, err := s.Next(context.Background(), "bench")
			require.NoError(t, err)
			if outcome == Asking {
				require.NoError(t, s.Printed(s.Queues()[0].Open[0].Key, 0))
				continue
			}
			if outcome == Nothing {
				break
			}
		}
		require.Len(t, out.out, accepted-strings.Count(whole, `"sending"`), "cut at %d", cut)
		for _, f := range out.out {
			e, ok := s.Find(strings.TrimSuffix(f.Name, "#0"), 0)
			require.True(t, ok)
			require.NotContains(t, whole, fmt.Sprintf(`{"n":%d,"state":"sending"`, e.N), "cut at %d", cut)
		}
		for n := range accepted {
			e, ok := s.Find(fmt.Sprintf("bench-2/%d/bag", n), 0)
			require.True(t, ok)
			require.Equal(t, Printed, e.State)
		}
		require.NoError(t, s.Close())
	}
}

func TestDamageIsNamed(t *testing.T) {
	for name, row := range map[string]struct{ file, content, why string }{
		"log":    {"log", "{\"n\":1\n", "log:1: "},
		"state":  {"log", `{"n":1,"key":"a","state":"lost"}` + "\n", `log:1: order 1: state "lost" is none`},
		"gap":    {"log", `{"n":4,"state":"printed"}` + "\n", "log:1: order 4 begins without a key; a line before it is missing"},
		"cursor": {"cursor", "17", `"17" is no cursor; write`},
		"number": {"cursor", cursorHead + "x\n", "is no cursor"},
	} {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, row.file), []byte(row.content), 0o600))
		_, err := Open(Settings{Dir: dir})
		require.ErrorContains(t, err, "print queue "+dir+": ", name)
		require.ErrorContains(t, err, row.why, name)
	}
	dir, p := t.TempDir(), &fake{name: "bench"}
	s := open(t, dir, p)
	add(t, s, order(t, 1, 0))
	add(t, s, order(t, 2, 0))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "files", "1.png"), []byte("garbage"), 0o600))
	next(t, s, Holding)
	require.Contains(t, s.Queues()[0].Reason, "is damaged; drop the order and reprint it")
	require.NoError(t, s.Drop("bench-2/1/bag", 0, "damaged"))
	require.NoError(t, os.Remove(filepath.Join(dir, "files", "2.png")))
	next(t, s, Holding)
	require.Contains(t, s.Queues()[0].Reason, "is gone: ")
	require.Zero(t, p.count())
	e, ok := s.Find("bench-2/1/bag", 0)
	require.True(t, ok)
	require.Equal(t, Dropped, e.State)
	require.Equal(t, "damaged", e.Why)
}

// When the log cannot be written, nothing is sent that could not be written
// down, and the screen says so.
func TestADiskThatIsFullStopsThePrinting(t *testing.T) {
	dir, p := t.TempDir(), &fake{name: "bench"}
	s := open(t, dir, p)
	add(t, s, order(t, 1, 0))
	readOnly, err := os.Open(filepath.Join(dir, "log"))
	require.NoError(t, err)
	good := s.log
	s.log = readOnly
	_, err = s.Next(context.Background(), "bench")
	require.ErrorContains(t, err, "nothing more is printed: make room and start again")
	require.Zero(t, p.count())
	_, err = s.Add(order(t, 2, 0))
	require.ErrorContains(t, err, "nothing more is printed")
	require.Equal(t, Stopped, s.Queues()[0].State)
	require.ErrorContains(t, s.Run(context.Background()), "nothing more is printed")
	require.NoError(t, good.Close())
	require.NoError(t, s.Close())
	s = open(t, dir, p)
	next(t, s, Done)
}

func FuzzReadLog(f *testing.F) {
	f.Add([]byte(`{"n":1,"state":"waiting","time":"2026-05-12T09:30:00Z","key":"a","printer":"p"}` + "\n" + `{"n":1,"state":"printed"}` + "\n"))
	f.Add([]byte(`{"n":1`))
	f.Fuzz(func(t *testing.T, b []byte) {
		file := filepath.Join(t.TempDir(), "log")
		require.NoError(t, os.WriteFile(file, b, 0o600))
		list, err := readLog(file)
		if err != nil {
			require.ErrorContains(t, err, "log:")
			return
		}
		for _, e := range list {
			require.NotEmpty(t, e.Key)
			require.NotEmpty(t, e.State)
		}
	})
}
