package main

import (
	"context"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream"
	"countback/labels"
	"countback/labels/code"
	"countback/labels/printer"
	"countback/labels/spool"
	"countback/projections"
)

// taker follows the store and puts orders into the queue. What it has read is
// the queue's cursor; a label that cannot be drawn holds the cursor before it,
// so that a restart tries it again.
type taker struct {
	s       settings
	spool   *spool.Spool
	books   *books
	again   map[events.Code]int // reprints told so far
	stamp   string              // of the store's files when they were read last
	undrawn []undrawn
	trouble string // why the store could not be read
}

// undrawn is a label that was ordered and cannot be drawn.
type undrawn struct {
	wanted wanted
	why    string
}

// wanted is a label that a fact asks for.
type wanted struct {
	at       journal.Seq
	bag      events.Code
	reprint  int // 0: first print
	terminal events.Terminal
}

func newTaker(s settings, sp *spool.Spool) *taker {
	return &taker{s: s, spool: sp, books: &books{training: isTraining(s)}, again: map[events.Code]int{}}
}

// take reads what is new in the store and orders its labels.
func (t *taker) take(ctx context.Context) error {
	stamp := t.stampNow()
	if stamp != "" && stamp == t.stamp {
		return nil
	}
	cursor, known := t.spool.Cursor()
	var list []wanted
	last, err := t.read(ctx, func(at journal.Seq, r *events.Record) {
		if w, ok := t.wants(r); ok && known && uint64(at) > cursor {
			w.at = at
			list = append(list, w)
		}
		t.books.Apply(projections.Cursor(at), r)
	})
	if err != nil {
		return err
	}
	if known && uint64(last) < cursor {
		return storeError(fmt.Errorf("print queue %s has read up to event %d, and the store ends at %d: it is another store, or one that was restored; move the queue's folder away, and a new one begins at the store's end", t.s.queueDir(), cursor, last))
	}
	t.trouble = ""
	if err := t.order(list, last); err != nil {
		return err
	}
	t.stamp = stamp
	return nil
}

// order puts labels into the queue, and moves the cursor behind all that are
// in it.
func (t *taker) order(list []wanted, last journal.Seq) error {
	tries := make([]wanted, 0, len(t.undrawn)+len(list))
	for _, u := range t.undrawn {
		tries = append(tries, u.wanted)
	}
	t.undrawn = nil
	upTo := last
	for _, w := range append(tries, list...) {
		if why, err := t.add(w); err != nil {
			return storeError(err)
		} else if why != "" {
			t.undrawn = append(t.undrawn, undrawn{w, why})
			upTo = min(upTo, w.at-1)
		}
	}
	return storeError(t.spool.Advance(uint64(upTo)))
}

// add puts one label into the queue; why says that it cannot be drawn.
func (t *taker) add(w wanted) (why string, err error) {
	p, ok := t.printerFor(w.terminal)
	if !ok {
		return "", nil
	}
	key := "bag/" + string(w.bag)
	if _, taken := t.spool.Find(key, w.reprint); taken {
		return "", nil
	}
	words, c, err := t.books.bagWords(string(w.bag))
	if err != nil {
		return err.Error(), nil
	}
	if b, ok := words.st.Bag(w.bag); !ok || b.Retired != 0 {
		return "", nil // its label is torn up
	}
	m, err := p.media()
	if err != nil {
		return err.Error(), nil
	}
	d, err := labels.Draw(words.bag(c, w.reprint), m)
	if err != nil {
		return err.Error(), nil
	}
	format, err := formatOf(or(p.Format, string(printer.PDF)))
	if err != nil {
		return err.Error(), nil
	}
	_, err = t.spool.Add(spool.Order{Key: key, Printer: p.Name, Format: format, Document: d})
	return "", err
}

// printerFor is the first printer that prints the labels of a terminal.
func (t *taker) printerFor(name events.Terminal) (printerSetting, bool) {
	for _, p := range t.s.Printers {
		if p.prints(string(name)) {
			return p, true
		}
	}
	return printerSetting{}, false
}

// wants says which label a fact asks for; it is asked of every fact once, in
// their order, since a reprint has its number from those before it. A bag's first label is printed when
// the bag is labelled, filled with a count or closed, whichever comes first.
func (t *taker) wants(r *events.Record) (w wanted, ok bool) {
	w.terminal = r.Terminal
	switch e := r.Event.(type) {
	case events.BagLabelled:
		w.bag = e.Bag
	case events.BagClosed:
		w.bag = e.Bag
	case events.PiecesOut:
		if len(e.Lines) > 0 {
			w.bag = bagAt(e.To)
		}
	case events.PartRemoved:
		if e.Counted > 0 {
			w.bag = bagAt(e.To)
		}
	case events.BagSplit:
		w.bag = e.Into
	case events.LabelReprinted:
		t.again[e.Code]++
		w.bag, w.reprint = e.Code, t.again[e.Code]
	}
	c, err := code.Parse(string(w.bag))
	return w, err == nil && c.Type() == code.Bag
}

// bagAt is the bag of a place; empty if it is none.
func bagAt(p events.Place) events.Code {
	c, _ := strings.CutPrefix(string(p), "bag/")
	if events.Place("bag/"+c) != p {
		return ""
	}
	return events.Code(c)
}

// read hands out what was not read before, and says where the store ends. A
// store that does not exist yet ends at 0.
func (t *taker) read(ctx context.Context, fn func(journal.Seq, *events.Record)) (journal.Seq, error) {
	last := journal.Seq(t.books.At())
	var d events.Decoder
	each := func(m journal.Message) error {
		if m.Seq <= journal.Seq(t.books.At()) {
			return nil
		}
		var r events.Record
		if err := d.Decode(m.Data, &r); err != nil {
			return storeError(fmt.Errorf("message %d (%s): %w", m.Seq, m.ID(), err))
		}
		last = m.Seq
		fn(m.Seq, &r)
		return nil
	}
	if t.s.Server != "" {
		return last, readServer(ctx, t.s, journal.Filter{}, each)
	}
	report, err := stream.Check(t.s.stream())
	if err == nil {
		err = report.Err()
	}
	if err != nil || report.Fresh {
		return last, storeError(err)
	}
	err = t.s.place().Read(ctx, last+1, journal.Seq(report.Events), each)
	return last, wrapStore(err)
}

// stampNow tells the state of the store's files apart by names, sizes and
// times; empty for a store that is read from a server, or that is not there.
func (t *taker) stampNow() string {
	if t.s.Server != "" {
		return ""
	}
	var b strings.Builder
	err := filepath.WalkDir(t.s.Store, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		info, err := e.Info()
		if err == nil {
			fmt.Fprintf(&b, "%s %d %d\n", path, info.Size(), info.ModTime().UnixNano())
		}
		return err
	})
	if err != nil {
		return ""
	}
	return b.String()
}
