package vault

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"

	"countback/events"
	"countback/events/journal"
)

// Read calls fn for the messages from number from to number to, which must
// have been acknowledged, straight from the blocks: it verifies each, and
// takes nothing from the server's memory. Data is valid only during the call.
// A message that is not where it must be is a *journal.Gap; one that cannot be
// read, an error that says why.
func (p Place) Read(ctx context.Context, from, to journal.Seq, fn func(journal.Message) error) error {
	from = max(from, 1)
	if from > to {
		return nil
	}
	p, err := p.full()
	if err != nil {
		return err
	}
	indexes, err := blockIndexes(p.blockDir())
	if err != nil {
		return fmt.Errorf("read store: %w", err)
	}
	start, err := firstBlock(p.blockDir(), indexes, uint64(from))
	if err != nil {
		return fmt.Errorf("read store: %w", err)
	}
	rd := reader{names: map[string]string{}, prefix: []byte("countback." + string(p.Shop) + "."), next: from, to: to, fn: fn}
	for _, index := range indexes[start:] {
		path := blockPath(p.blockDir(), index)
		if err := readFrom(path, 0, &rd.buf); err != nil {
			return fmt.Errorf("read store: %w", err)
		}
		if err := rd.block(ctx, p.stream(), index); err != nil {
			return err
		}
		if rd.next > to {
			return nil
		}
	}
	return &journal.Gap{After: rd.next - 1, Lost: uint64(to-rd.next) + 1}
}

// firstBlock finds the block that holds a sequence: the last one that does
// not begin after it.
func firstBlock(dir string, indexes []int, seq uint64) (int, error) {
	start := 0
	for i, index := range indexes {
		var head [headSize]byte
		f, err := os.Open(blockPath(dir, index))
		if err != nil {
			return 0, err
		}
		_, err = f.ReadAt(head[:], 0)
		f.Close()
		if errors.Is(err, io.EOF) {
			continue // empty: the last one, just begun
		}
		if err != nil {
			return 0, err
		}
		if binary.LittleEndian.Uint64(head[4:]) > seq {
			break
		}
		start = i
	}
	return start, nil
}

// reader hands out the messages of one block after the other.
type reader struct {
	buf      []byte
	names    map[string]string // one string for each terminal and job
	prefix   []byte            // of every subject
	next, to journal.Seq
	fn       func(journal.Message) error
}

// block hands out the messages of the block in buf.
func (rd *reader) block(ctx context.Context, stream string, index int) error {
	h := blockHash(stream, index)
	for rest := rd.buf; len(rest) > 0 && rd.next <= rd.to; {
		r, err := parse(rest, h)
		if err != nil {
			return fmt.Errorf("read store: block %d: event %d: %w; stop working and run: countback store check", index, rd.next, err)
		}
		rest = rest[r.size:]
		switch seq := journal.Seq(r.seq); {
		case seq < rd.next:
			continue
		case seq > rd.next:
			return &journal.Gap{After: rd.next - 1, Next: seq, Lost: uint64(seq - rd.next)}
		}
		select {
		case <-ctx.Done():
			return context.Cause(ctx)
		default:
		}
		if err := rd.fn(rd.message(r)); err != nil {
			return err
		}
		rd.next++
	}
	return nil
}

// message makes a message of a record; N stays 0 if no terminal of the shop
// can have written it.
func (rd *reader) message(r record) journal.Message {
	words, ours := bytes.CutPrefix(r.subject, rd.prefix)
	terminal, job, _ := bytes.Cut(words, []byte{'.'})
	m := journal.Message{
		Seq:      journal.Seq(r.seq),
		Terminal: events.Terminal(rd.name(terminal)),
		Job:      events.Job(rd.name(job)),
		Data:     r.data,
	}
	cut := bytes.LastIndexByte(r.id, '-')
	if ours && cut > 0 && bytes.Equal(r.id[:cut], terminal) {
		m.N, _ = journal.ParseN(r.id[cut+1:])
	}
	return m
}

func (rd *reader) name(b []byte) string {
	s, ok := rd.names[string(b)]
	if !ok {
		s = string(b)
		rd.names[s] = s
	}
	return s
}
