package stream

import (
	"strconv"
	"strings"

	"github.com/nats-io/nats.go"

	"countback/events"
	"countback/events/journal"
)

// message makes a message of what the server delivers, except for its number.
// N stays 0 if no terminal of the shop can have written it.
func message(shop events.Shop, subject string, header nats.Header, data []byte) journal.Message {
	words, ours := strings.CutPrefix(subject, "countback."+string(shop)+".")
	terminal, job, _ := strings.Cut(words, ".")
	m := journal.Message{Terminal: events.Terminal(terminal), Job: events.Job(job), Data: data}
	ids := header[idHeader]
	if !ours || len(ids) != 1 {
		return m
	}
	cut := len(terminal)
	if id := ids[0]; len(id) > cut && id[cut] == '-' && id[:cut] == terminal {
		m.N, _ = journal.ParseN(id[cut+1:])
	}
	return m
}

func formatSeq(seq journal.Seq) string { return strconv.FormatUint(uint64(seq), 10) }

// place is where a delivered message stands, from its reply subject:
// $JS.ACK.<stream>.<consumer>.<tries>.<seq>.<delivered>.<time>.<pending>,
// with <domain>.<account> after ACK in some set-ups.
type place struct {
	seq       journal.Seq
	delivered uint64 // counted by the server for this reader, from 1
	pending   uint64 // still to come
}

func parsePlace(reply string) (place, bool) {
	var ends [13]int
	words := 0
	for i := 0; i <= len(reply); i++ {
		if i == len(reply) || reply[i] == '.' {
			if words == len(ends) {
				return place{}, false
			}
			ends[words] = i
			words++
		}
	}
	at := 5
	if words >= 11 {
		at = 7
	} else if words != 9 {
		return place{}, false
	}
	number := func(word int) (uint64, bool) {
		n, err := strconv.ParseUint(reply[ends[word-1]+1:ends[word]], 10, 64)
		return n, err == nil
	}
	seq, ok1 := number(at)
	delivered, ok2 := number(at + 1)
	pending, ok3 := number(at + 3)
	return place{journal.Seq(seq), delivered, pending}, ok1 && ok2 && ok3 && strings.HasPrefix(reply, "$JS.ACK.")
}
