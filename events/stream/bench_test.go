package stream

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream/vault"
)

// benchSize is how many messages a benchmark works on; the environment
// variable COUNTBACK_BENCH multiplies it.
func benchSize(b *testing.B, n int) int {
	if text := os.Getenv("COUNTBACK_BENCH"); text != "" {
		times, err := strconv.Atoi(text)
		require.NoError(b, err)
		n *= times
	}
	return n
}

func quantile(d []time.Duration, q float64) time.Duration {
	slices.Sort(d)
	return d[int(float64(len(d)-1)*q)]
}

// BenchmarkAppend compares an append with a bare publish that carries an id
// and an expectation, and with one that carries an id alone, in turns, to the
// same server.
func BenchmarkAppend(b *testing.B) {
	for _, kind := range []string{"recorded", "checked"} {
		b.Run(kind, func(b *testing.B) {
			s := opened(b, testConfig(b))
			body := make([]byte, 300)
			n := benchSize(b, 4000)
			for b.Loop() {
				ours, bare, alone := appendInTurns(b, s, kind == "checked", n, body)
				b.ReportMetric(float64(quantile(ours, .5).Microseconds()), "p50-µs")
				b.ReportMetric(float64(quantile(ours, .99).Microseconds()), "p99-µs")
				b.ReportMetric(float64(quantile(ours, .5))/float64(quantile(bare, .5)), "p50-ratio")
				b.ReportMetric(float64(quantile(ours, .99))/float64(quantile(bare, .99)), "p99-ratio")
				b.ReportMetric(float64(quantile(ours, .5))/float64(quantile(alone, .5)), "p50-ratio-to-id-alone")
			}
		})
	}
}

func appendInTurns(b *testing.B, s *Stream, checked bool, n int, body []byte) (ours, bare, alone []time.Duration) {
	ctx := b.Context()
	var last [3]journal.Message
	for i, t := range []events.Terminal{"a", "b", "c"} {
		var err error
		last[i], _, err = s.Last(ctx, t)
		require.NoError(b, err)
	}
	publish := func(i int, t events.Terminal, j events.Job, opts ...jetstream.PublishOpt) time.Duration {
		start := time.Now()
		ack, err := s.js.PublishMsg(ctx, &nats.Msg{Subject: events.Subject(s.shop, t, j), Data: body},
			append(opts, jetstream.WithMsgID(journal.ID(t, last[i].N+1)))...)
		took := time.Since(start)
		require.NoError(b, err)
		last[i].N, last[i].Seq = last[i].N+1, journal.Seq(ack.Sequence)
		return took
	}
	for range n {
		d := journal.Draft{Terminal: "a", N: last[0].N + 1, Job: "Ja", Data: body}
		e, filter := journal.Recorded(last[0].Seq), events.TerminalFilter(s.shop, "b")
		if checked {
			e, filter = journal.Checked(last[0].Seq), events.JobFilter(s.shop, "Jb")
		}
		start := time.Now()
		r, err := s.Append(ctx, d, e)
		ours = append(ours, time.Since(start))
		require.NoError(b, err)
		last[0].N, last[0].Seq = d.N, r.Seq
		bare = append(bare, publish(1, "b", "Jb", jetstream.WithExpectLastSequenceForSubject(uint64(last[1].Seq), filter)))
		alone = append(alone, publish(2, "c", "Jc"))
	}
	return ours, bare, alone
}

// benchStore makes a closed store of n events quickly: 300 bytes each, jobs of
// 200, from eight terminals in turn.
func benchStore(b *testing.B, n int) Config {
	body := make([]byte, 300)
	return filledStore(b, n, 200, func(i int) (events.Terminal, events.Job, uint32, []byte) {
		return events.Terminal(fmt.Sprint("b", i%8)), events.Job(fmt.Sprintf("J%05d", i/200)), uint32(i/8 + 1), body
	})
}

// spreadStore is such a store in which every job runs through all of it: jobs
// jobs of size events each, in turns.
func spreadStore(b *testing.B, jobs, size int) Config {
	body := make([]byte, 300)
	return laidStore(b, jobs*size, func(i int) int { return max(0, i-jobs+1) }, func(i int) (events.Terminal, events.Job, uint32, []byte) {
		return events.Terminal(fmt.Sprint("b", i%8)), events.Job(fmt.Sprintf("J%05d", i%jobs)), uint32(i/8 + 1), body
	})
}

// filledStore makes a closed store of n events; jobs follow each other, each of
// size events.
func filledStore(b *testing.B, n, size int, event func(i int) (events.Terminal, events.Job, uint32, []byte)) Config {
	return laidStore(b, n, func(i int) int {
		if i%size == 0 {
			return 0
		}
		return i
	}, event)
}

// laidStore makes a closed store of n events by a server that does not sync,
// with the headers that an append has. last is the sequence of the message of
// the same job before the i-th event, 0 if there is none.
func laidStore(b *testing.B, n int, last func(i int) int, event func(i int) (events.Terminal, events.Job, uint32, []byte)) Config {
	cfg := testConfig(b)
	cfg.MaxStoreBytes = 16 << 30
	cfg.Duplicate = 100 * time.Millisecond // as if the shop had been quiet for longer than the server's window
	require.NoError(b, opened(b, cfg).Close())
	srv := startServer(b, func(o *server.Options) {
		o.StoreDir, o.SyncAlways, o.JetStreamMaxStore = vault.Place{Dir: cfg.Dir}.ServerDir(), false, 16<<30
	})
	nc, err := nats.Connect(srv.ClientURL())
	require.NoError(b, err)
	js, err := jetstream.New(nc, jetstream.WithPublishAsyncMaxPending(4000))
	require.NoError(b, err)
	for i := range n {
		t, j, number, body := event(i)
		_, err := js.PublishMsgAsync(&nats.Msg{Subject: events.Subject("sorrel", t, j), Data: body, Header: nats.Header{
			idHeader: {journal.ID(t, number)}, expectHeader: {fmt.Sprint(last(i))}, filterHeader: {events.JobFilter("sorrel", j)},
		}}, jetstream.WithStallWait(time.Minute))
		require.NoError(b, err)
	}
	<-js.PublishAsyncComplete()
	nc.Close()
	stop(srv)
	return cfg
}

// BenchmarkRead compares reading the whole shop with raw ordered replays of
// the same stream, in the process and over the loopback.
func BenchmarkRead(b *testing.B) {
	n := benchSize(b, 200_000)
	cfg := benchStore(b, n)
	cfg.Listen = "127.0.0.1:0"
	s := opened(b, cfg)
	far := connected(b, Remote{URLs: []string{"nats://" + s.Addr()}, Shop: "sorrel"})
	b.Cleanup(func() { far.Close() })
	for b.Loop() {
		inside, loopback := replay(b, s, n), replay(b, far, n)
		ours, remote := timed(func() { require.Equal(b, n, count(b, s)) }), timed(func() { require.Equal(b, n, count(b, far)) })
		perSecond := func(d time.Duration) float64 { return float64(n) / d.Seconds() }
		b.ReportMetric(perSecond(ours), "events/s")
		b.ReportMetric(perSecond(remote), "remote-events/s")
		b.ReportMetric(perSecond(inside), "raw-inside/s")
		b.ReportMetric(perSecond(loopback), "raw-loopback/s")
		b.ReportMetric(ours.Seconds()/inside.Seconds(), "ratio-to-raw-inside")
		b.ReportMetric(ours.Seconds()/loopback.Seconds(), "ratio-to-raw-loopback")
		b.ReportMetric(remote.Seconds()/loopback.Seconds(), "remote-ratio-to-raw-loopback")
	}
}

func timed(f func()) time.Duration {
	start := time.Now()
	f()
	return time.Since(start)
}

// replay reads the stream with the library's ordered consumer and nothing
// else.
func replay(b *testing.B, s *Stream, n int) time.Duration {
	return timed(func() {
		c, err := s.js.OrderedConsumer(b.Context(), s.name, jetstream.OrderedConsumerConfig{})
		require.NoError(b, err)
		done, got := make(chan struct{}), 0
		cc, err := c.Consume(func(jetstream.Msg) {
			if got++; got == n {
				close(done)
			}
		}, jetstream.PullMaxMessages(5000))
		require.NoError(b, err)
		<-done
		cc.Stop()
		<-cc.Closed()
	})
}

// BenchmarkReadJob reads one job of 500 events out of a store of 500 such jobs:
// where its events lie together, and where every job runs through the whole
// store. That is what opening a cold job at a bench costs, but for its fold.
func BenchmarkReadJob(b *testing.B) {
	const jobs, size = 500, 500
	body := make([]byte, 300)
	for name, cfg := range map[string]func() Config{
		"together": func() Config {
			return filledStore(b, jobs*size, size, func(i int) (events.Terminal, events.Job, uint32, []byte) {
				return events.Terminal(fmt.Sprint("b", i%8)), events.Job(fmt.Sprintf("J%05d", i/size)), uint32(i/8 + 1), body
			})
		},
		"spread": func() Config { return spreadStore(b, jobs, size) },
	} {
		b.Run(name, func(b *testing.B) {
			s := opened(b, cfg())
			whole := timed(func() {
				require.NoError(b, s.Read(b.Context(), 0, journal.Filter{}, func(journal.Message) error { return nil }))
			})
			i := 0
			var took []time.Duration
			for b.Loop() {
				got := 0
				took = append(took, timed(func() {
					require.NoError(b, s.Read(b.Context(), 0, journal.Filter{Job: events.Job(fmt.Sprintf("J%05d", i%jobs))},
						func(journal.Message) error { got++; return nil }))
				}))
				require.Equal(b, size, got)
				i += 37
			}
			b.ReportMetric(float64(quantile(took, .5).Microseconds())/1000, "p50-ms")
			b.ReportMetric(float64(quantile(took, .99).Microseconds())/1000, "p99-ms")
			b.ReportMetric(float64(quantile(took, .5))/float64(whole), "ratio-to-whole-store")
		})
	}
}

// BenchmarkOpen compares opening a store, with everything verified, with the
// server's own start on the same store, and shows what the protected copy
// costs the first time. COUNTBACK_BENCH=5 makes a store of 450 MB.
func BenchmarkOpen(b *testing.B) {
	n := benchSize(b, 200_000)
	cfg := benchStore(b, n)
	var first, again, check time.Duration
	for b.Loop() {
		require.NoError(b, os.RemoveAll(cfg.Dir+".guard"))
		var report vault.Report
		var err error
		check = timed(func() { report, err = Check(cfg) })
		require.NoError(b, err)
		open := func() time.Duration {
			var s *Stream
			d := timed(func() { s, err = Open(cfg) })
			require.NoError(b, err)
			require.NoError(b, s.Close())
			return d
		}
		first, again = open(), open()
		bare := timed(func() {
			srv := startServer(b, func(o *server.Options) {
				o.StoreDir, o.JetStreamMaxStore = vault.Place{Dir: cfg.Dir}.ServerDir(), 16<<30
			})
			b.StopTimer()
			stop(srv)
			b.StartTimer()
		})
		b.ReportMetric(float64(report.Bytes>>20), "MiB")
		b.ReportMetric(check.Seconds()*1000, "verify-ms")
		b.ReportMetric(first.Seconds()*1000, "first-ms")
		b.ReportMetric(bare.Seconds()*1000, "bare-ms")
		b.ReportMetric(again.Seconds()*1000, "open-ms")
		b.ReportMetric(again.Seconds()/bare.Seconds(), "ratio-to-bare-start")
	}
}

// BenchmarkMark is the price of the high-water mark, which every append pays.
func BenchmarkMark(b *testing.B) {
	k, _, err := vault.OpenMarker(b.TempDir() + "/mark")
	require.NoError(b, err)
	seq, body := uint64(0), make([]byte, 300)
	for b.Loop() {
		seq++
		require.NoError(b, k.Advance(seq, "b2-42", body))
	}
	require.NoError(b, k.Close(true))
}

// BenchmarkKeep is what the keeper does every few seconds, after ten new
// events, compared with appending those.
func BenchmarkKeep(b *testing.B) {
	cfg := benchStore(b, benchSize(b, 200_000))
	s := opened(b, cfg)
	var keep, add time.Duration
	for b.Loop() {
		add += timed(func() { fill(b, s, "keeper", 10, 300) })
		keep += timed(func() { require.NoError(b, s.keepOnce(b.Context())) })
	}
	b.ReportMetric(float64(keep.Microseconds())/float64(b.N), "keep-µs")
	b.ReportMetric(keep.Seconds()/add.Seconds(), "ratio-to-ten-appends")
}
