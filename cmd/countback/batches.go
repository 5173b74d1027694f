package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type batchesReport struct {
	Job     string      `json:"job"`
	Batches []batchLine `json:"batches"` // in the order in which they were opened
	head    string
}

type batchLine struct {
	Batch  string          `json:"batch"`
	What   string          `json:"what"` // wash, paint
	Parts  []string        `json:"parts"`
	Masks  []missingSource `json:"masks"` // plugs and masks that were counted on
	Opened string          `json:"opened"`
	Closed string          `json:"closed"` // empty: they are not counted off yet
	Cured  string          `json:"cured"`  // nothing may touch the parts before; empty: no matter
	Curing bool            `json:"curing"`
	Off    []missingSource `json:"off"` // fasteners on the parts of an open coat of paint, to be masked or taken off
	opened int64
	closed int64
	cured  int64
}

func batchesCommand() *cobra.Command {
	return &cobra.Command{
		Use: "batches JOB", Short: "Tell which parts are in a wash or coat of paint", GroupID: "report",
		Long: `Lists the washes and coats of paint of a job: the parts in each, the plugs and
masks that were counted on, whether they were counted off, and until when it
cures. A plug that did not come off is a short: countback missing tells where to
look. Exit status 1 while a batch is open.`,
		Example:           "  countback batches 4K7",
		Args:              arguments(cobra.ExactArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, _ []string) error {
			r := batchesReport{Job: string(id), head: title(id, j), Batches: []batchLine{}}
			open := false
			for _, b := range j.State().Batches() {
				open = open || b.Closed == 0
				r.Batches = append(r.Batches, newBatchLine(j, b))
			}
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if open {
				return no()
			}
			return nil
		}),
	}
}

func newBatchLine(j *engine.Job, b *engine.Batch) batchLine {
	st := j.State()
	l := batchLine{Batch: b.Name, What: b.What, Parts: texts(b.Parts), Masks: pieceLines(b.Masks), Off: pieceLines(st.NotPainted(b)), cured: b.Cured,
		Cured: stamp(b.Cured), Curing: b.Cured > now().UnixMicro()}
	if f := st.Fact(b.Opened); f != nil {
		l.opened, l.Opened = f.At, stamp(f.At)
	}
	if f := st.Fact(b.Closed); f != nil {
		l.closed, l.Closed = f.At, stamp(f.At)
	}
	return l
}

func (r batchesReport) text(w io.Writer) {
	if len(r.Batches) == 0 {
		fmt.Fprintf(w, "%s. Nothing was washed or painted.\n", r.head)
		return
	}
	fmt.Fprintf(w, "%s. %s:\n", r.head, many(len(r.Batches), "batch", "batches"))
	for _, l := range r.Batches {
		var masks []string
		for _, m := range l.Masks {
			masks = append(masks, fmt.Sprintf("%d %s", m.Qty, m.Kind))
		}
		fmt.Fprintf(w, "  %-10s %s: %s; on %s, since %s\n", l.Batch, l.What, strings.Join(l.Parts, ", "), strings.Join(masks, ", "), when(l.opened))
		switch {
		case l.closed == 0:
			fmt.Fprintf(w, "  %-10s OPEN: count the plugs and masks off\n", "")
		case l.Curing:
			fmt.Fprintf(w, "  %-10s closed %s, CURES until %s\n", "", when(l.closed), when(l.cured))
		default:
			fmt.Fprintf(w, "  %-10s closed %s\n", "", when(l.closed))
		}
		for _, o := range l.Off {
			fmt.Fprintf(w, "  %-10s mask or take off: %d %s\n", "", o.Qty, o.Kind)
		}
	}
}
