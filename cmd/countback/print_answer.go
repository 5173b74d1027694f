package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"countback/labels/spool"
)

// answer is what a person says of an order after a look at the printer. While
// a program works the queue, it lies as a file in the folder answers of the
// queue until that program has taken it.
type answer struct {
	N    uint64 `json:"n"`
	Word string `json:"word"` // printed, again, drop
	Why  string `json:"why"`  // of drop
}

var answerWords = []string{"printed", "again", "drop"}

func printAnswerCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "answer NUMBER printed|again|drop", Short: "Say what became of a label, after a look at the printer",
		Long: `Says of an order that waits for an answer whether its label came out: printed, or
again if it did not. drop gives up any order that is not printed, with the reason.
The number is that of: countback print --status`,
		Example: "  countback print answer 7 printed\n  countback print answer 8 drop --why \"bag is empty\"",
		Args:    arguments(cobra.ExactArgs(2)), ValidArgsFunction: cobra.NoFileCompletions,
	}
	why := cmd.Flags().String("why", "", "reason of drop")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		n, err := strconv.ParseUint(args[0], 10, 64)
		if err != nil || n == 0 {
			return usage("%q is no number of an order; see: countback print --status", args[0])
		}
		a := answer{n, args[1], *why}
		switch {
		case !slices.Contains(answerWords, a.Word):
			return usage("%q is no answer; say printed, again or drop", a.Word)
		case a.Word == "drop" && a.Why == "":
			return usage("say why it is dropped: --why \"bag is empty\"")
		}
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		q, err := openQueue(s)
		if errors.Is(err, spool.ErrInUse) {
			return a.leave(cmd, s)
		}
		if err != nil {
			return err
		}
		return q.ended(q.answer(a))
	}
	return cmd
}

// leave puts an answer where the program that works the queue finds it.
func (a answer) leave(cmd *cobra.Command, s settings) error {
	data, err := json.Marshal(a)
	if err != nil {
		return err
	}
	dir := filepath.Join(s.queueDir(), "answers")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return storeError(err)
	}
	if err := replaceFile(filepath.Join(dir, strconv.FormatUint(a.N, 10)+".json"), data); err != nil {
		return storeError(err)
	}
	fmt.Fprintln(cmd.OutOrStdout(), "Told the program that works the queue; see: countback print --status")
	return nil
}

// answers takes the answers that were left.
func (q *queue) answers() error {
	dir := filepath.Join(q.s.queueDir(), "answers")
	list, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, f := range list {
		if filepath.Ext(f.Name()) != ".json" {
			continue
		}
		file := filepath.Join(dir, f.Name())
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		var a answer
		if json.Unmarshal(data, &a) == nil {
			_ = q.answer(a) // about an order that has ended meanwhile
		}
		if err := os.Remove(file); err != nil {
			return err
		}
	}
	return nil
}

// answer does what a person said.
func (q *queue) answer(a answer) error {
	for _, p := range q.spool.Queues() {
		for _, e := range p.Open {
			if e.N != a.N {
				continue
			}
			var err error
			switch a.Word {
			case "printed":
				err = q.spool.Printed(e.Key, e.Reprint)
			case "again":
				err = q.spool.Again(e.Key, e.Reprint)
			default:
				err = q.spool.Drop(e.Key, e.Reprint, a.Why)
			}
			if err != nil {
				return &failure{statusNo, err}
			}
			return nil
		}
	}
	return unknown("no order %d waits; see: countback print --status", a.N)
}

func printMoveCommand() *cobra.Command {
	return &cobra.Command{
		Use: "move FROM TO", Short: "Give what waits for one printer to another",
		Long: `Gives every label that waits for a printer, also one that is not set up any more,
to another. Labels that may have been printed stay: they are about the printer
that may have printed them. The program that works the queue has to be stopped.`,
		Example: "  countback print move bench office",
		Args:    arguments(cobra.ExactArgs(2)), ValidArgsFunction: completePrinters,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := readSettings(cmd)
			if err != nil {
				return err
			}
			if _, err := s.printer(args[1]); err != nil {
				return err
			}
			q, err := openQueue(s)
			if err != nil {
				return err
			}
			n, err := q.spool.Move(args[0], args[1])
			if err == nil {
				fmt.Fprintf(cmd.OutOrStdout(), "%s moved from %s to %s.\n", many(n, "label", "labels"), args[0], args[1])
			}
			return q.ended(err)
		},
	}
}
