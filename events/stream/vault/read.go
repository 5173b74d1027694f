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
	return rd.blocks(ctx, p, indexes[start:])
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
	names    map[string]string // one string for each terminal and job
	prefix   []byte            // of every subject
	next, to journal.Seq
	fn       func(journal.Message) error
}

// content is what was read of one block: its records up to the last one that is
// wanted, or up to what is damaged.
type content struct {
	index   int
	buf     []byte
	records []record
	unread  error // the file could not be read
	damaged error // what follows the records
}

// blocks hands out the messages of several blocks. While one is handed out the
// next is read and verified; what is wrong with that is said when it is its turn.
func (rd *reader) blocks(ctx context.Context, p Place, indexes []int) error {
	ahead := make(chan *content, 1)
	read := func(c *content, i int) {
		c.read(p, indexes[i], uint64(rd.to))
		ahead <- c
	}
	if len(indexes) > 0 {
		go read(&content{}, 0)
	}
	spare := &content{}
	for i := range indexes {
		c := <-ahead
		more := i+1 < len(indexes) && c.unread == nil && c.damaged == nil && !c.reaches(uint64(rd.to))
		if more {
			go read(spare, i+1)
		}
		err := rd.block(ctx, c)
		if err != nil && more {
			<-ahead // nothing reads on when this returns
		}
		if err != nil || rd.next > rd.to {
			return err
		}
		spare = c
	}
	return &journal.Gap{After: rd.next - 1, Lost: uint64(rd.to-rd.next) + 1}
}

// read takes in one block, in the memory of the last one.
func (c *content) read(p Place, index int, to uint64) {
	c.index, c.records = index, c.records[:0]
	if c.unread = readFrom(blockPath(p.blockDir(), index), 0, &c.buf); c.unread != nil {
		return
	}
	h := blockHash(p.stream(), index)
	for rest := c.buf; len(rest) > 0 && !c.reaches(to); {
		var r record
		if r, c.damaged = parse(rest, h); c.damaged != nil {
			return
		}
		c.records = append(c.records, r)
		rest = rest[r.size:]
	}
}

// reaches reports whether a number was read, or one beyond it.
func (c *content) reaches(to uint64) bool {
	return len(c.records) > 0 && c.records[len(c.records)-1].seq >= to
}

// block hands out the messages of one block.
func (rd *reader) block(ctx context.Context, c *content) error {
	for i := range c.records {
		r := &c.records[i]
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
	switch {
	case c.unread != nil:
		return fmt.Errorf("read store: %w", c.unread)
	case c.damaged != nil:
		return fmt.Errorf("read store: block %d: event %d: %w; stop working and run: countback store check", c.index, rd.next, c.damaged)
	}
	return nil
}

// message makes a message of a record; N stays 0 if no terminal of the shop
// can have written it.
func (rd *reader) message(r *record) journal.Message {
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
