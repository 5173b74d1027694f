package main

import (
	"context"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"countback/labels/printer"
	"countback/labels/spool"
)

func printCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "print", Short: "Work the print queue: each bag's label, once", GroupID: "work",
		Long: `Prints the labels of bags by itself, beside a kiosk or a terminal that has the
store open, until it is stopped. A bag's label is ordered when the bag is first
labelled, filled with a count, or closed, on the printer whose setting names the
terminal; see: countback help printers. It is ordered once: no restart and no
replay prints it again. PRINT AGAIN at a terminal, or countback label bag CODE
--again, orders a reprint that says so.

A printer that is off or out of paper holds its queue. Where nobody knows whether
a label came out, the queue waits for a person who looked: countback print answer.

A new queue begins behind the last fact of the store. Exit status of --once and
--status is 1 while anything is held, or waits for an answer.`,
		Example: `  countback print
  countback print --once
  countback print --status
  countback print answer 7 again`,
		Args: arguments(cobra.NoArgs),
	}
	once := cmd.Flags().Bool("once", false, "take what is new, try each printer, and end")
	status := cmd.Flags().Bool("status", false, "say what waits, and end")
	cmd.AddCommand(printAnswerCommand(), printMoveCommand())
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		if *status {
			return printStatus(cmd, s)
		}
		if len(s.Printers) == 0 {
			return usage("no printer is set up; see: countback help printers")
		}
		q, err := openQueue(s)
		if err != nil {
			return err
		}
		if *once {
			return q.ended(q.once(cmd))
		}
		return q.ended(q.run(cmd.Context()))
	}
	return cmd
}

// queue is the print queue at work: it follows the store, and prints.
type queue struct {
	s     settings
	spool *spool.Spool
	taker *taker
}

// openQueue opens the queue's folder with the printers of the settings.
func openQueue(s settings) (*queue, error) {
	set := spool.Settings{Dir: s.queueDir()}
	fonts, err := s.fonts()
	if err != nil {
		return nil, err
	}
	var printers []printer.Printer
	for i, p := range s.Printers {
		s.Printers[i].fonts = fonts
		out, err := p.open()
		if err != nil {
			return nil, err
		}
		printers = append(printers, out)
	}
	set.Printers = printers
	sp, err := spool.Open(set)
	if err != nil {
		return nil, storeError(err)
	}
	return &queue{s, sp, newTaker(s, sp)}, nil
}

// ended closes the queue, and leaves its last state where others look.
func (q *queue) ended(err error) error {
	if saved := q.status(false).save(q.s); err == nil && saved != nil {
		err = saved
	}
	if closed := q.spool.Close(); err == nil && closed != nil {
		err = storeError(closed)
	}
	return err
}

// once takes what is new and tries each printer until it has nothing left, or
// takes nothing.
func (q *queue) once(cmd *cobra.Command) error {
	if err := q.taker.take(cmd.Context()); err != nil {
		return err
	}
	if err := q.answers(); err != nil {
		return storeError(err)
	}
	for _, p := range q.s.Printers {
		for outcome := spool.Done; outcome == spool.Done; {
			var err error
			if outcome, err = q.spool.Next(cmd.Context(), p.Name); err != nil {
				return storeError(err)
			}
		}
	}
	return q.status(false).report(cmd, q.s)
}

// followEvery is how often the store is looked at for new facts.
const followEvery = time.Second

// run prints until the context ends.
func (q *queue) run(ctx context.Context) error {
	if err := q.taker.take(ctx); err != nil {
		return err
	}
	done := make(chan error, 1)
	go func() { done <- q.spool.Run(ctx) }()
	tick := time.NewTicker(followEvery)
	defer tick.Stop()
	for {
		changed := q.spool.Changed()
		if err := q.status(true).save(q.s); err != nil {
			return err
		}
		select {
		case err := <-done:
			if err != nil {
				return storeError(err)
			}
			return ctx.Err()
		case <-changed:
		case <-tick.C:
			if err := q.taker.take(ctx); err != nil && ctx.Err() == nil {
				q.taker.trouble = err.Error()
			}
			if err := q.answers(); err != nil {
				return storeError(fmt.Errorf("print queue: %w", err))
			}
		}
	}
}
