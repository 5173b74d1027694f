package main

import (
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/tool"
)

type toolsReport struct {
	Job   string     `json:"job"` // empty: of the whole shop
	Day   string     `json:"day"` // from which calibration is looked at
	Tools []toolLine `json:"tools"`
	head  string
}

type toolLine struct {
	Tool   string  `json:"tool"`
	Name   string  `json:"name"`
	Kind   string  `json:"kind"` // any other of it will do
	Label  string  `json:"label"`
	Issued bool    `json:"issued"` // it is on the register
	MinNm  float64 `json:"minnm"`  // of a torque tool
	MaxNm  float64 `json:"maxnm"`
	covers string
	Due    string   `json:"due"`  // of its calibration; empty: it needs none
	Late   bool     `json:"late"` // overdue: it must not be used
	Out    bool     `json:"out"`  // somebody has it
	By     string   `json:"by"`
	Job    string   `json:"job"`
	Step   string   `json:"step"`
	Since  string   `json:"since"`
	Inside string   `json:"inside"` // where in the engine it is; "somewhere" where that was not said
	Steps  []string `json:"steps"`  // of the job that want it and are not done
	Stops  bool     `json:"stops"`  // those steps cannot have it
	since  int64
	inside string // Inside, in words
}

func toolsCommand() *cobra.Command {
	return &cobra.Command{
		Use: "tools [JOB]", Short: "Tell who has which tool, and which steps wait for one", GroupID: "report",
		Long: `Lists the tools of the shop: who has each for which job, what a torque tool
covers and until when it is calibrated. With JOB it adds which steps of the job
want a tool, and leaves out those that have nothing to do with the job. Exit
status 1 if a tool of the job is in its engine, or a step cannot have its tool.`,
		Example:           "  countback tools\n  countback tools 4K7",
		Args:              arguments(cobra.MaximumNArgs(1)),
		ValidArgsFunction: completeJobThen(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			s, b, err := openBooks(cmd)
			if err != nil {
				return err
			}
			day := events.DayOf(now().UnixMicro())
			r := toolsReport{Day: string(day), Tools: []toolLine{}, head: "Tools of the shop"}
			var j *engine.Job
			var id events.Job
			if len(args) == 1 {
				if id, j, err = b.find(args[0]); err != nil {
					return err
				}
				r.Job, r.head = string(id), title(id, j)
			}
			bad := false
			for _, t := range b.tools.List() {
				l := newToolLine(t, day)
				if j != nil {
					aboutTool(&l, &t, id, j)
					bad = bad || l.Inside != "" || l.Stops
				}
				if j == nil || l.Job == string(id) || len(l.Steps) > 0 || l.Inside != "" {
					r.Tools = append(r.Tools, l)
				}
			}
			if err := write(cmd, s, r); err != nil {
				return err
			}
			if bad {
				return no()
			}
			return nil
		},
	}
}

func newToolLine(t tool.Tool, day events.Day) toolLine {
	days, timed := t.DueIn(day)
	return toolLine{Tool: string(t.Tool), Name: t.Words(), Kind: t.Kind, Label: string(t.Code), Issued: t.Issued, MinNm: t.MinNm, MaxNm: t.MaxNm, covers: t.Range(),
		Due: string(t.Due), Late: timed && days < 0, Out: t.Out, By: string(t.By), Job: string(t.Job), Step: string(t.Step),
		Since: stamp(t.Since), since: t.Since, Steps: []string{}}
}

// aboutTool adds what a job has to do with a tool.
func aboutTool(l *toolLine, t *tool.Tool, id events.Job, j *engine.Job) {
	st := j.State()
	if where, in := st.ToolInside(t.Tool); in {
		l.Inside, l.inside = where, st.InsideWords(where)
		if where == "" {
			l.Inside, l.inside = "somewhere", "somewhere"
		}
	}
	l.Steps = texts(st.ToolSteps(string(t.Tool), t.Kind))
	l.Stops = len(l.Steps) > 0 && (l.Late || t.Out && t.Job != id)
}

func (r toolsReport) text(w io.Writer) {
	if len(r.Tools) == 0 {
		fmt.Fprintf(w, "%s. No tool has to do with it.\n", r.head)
		return
	}
	fmt.Fprintf(w, "%s. %s:\n", r.head, many(len(r.Tools), "tool", "tools"))
	for _, l := range r.Tools {
		words := []string{l.Name}
		if l.Name == l.Tool {
			words = nil
		}
		if l.MaxNm > 0 {
			words = append(words, l.covers)
		}
		switch {
		case l.Late:
			words = append(words, "CALIBRATION OVERDUE since "+l.Due)
		case l.Due != "":
			words = append(words, "calibrated until "+l.Due)
		}
		switch {
		case l.Inside != "":
			words = append(words, "IN THE ENGINE, "+l.inside)
		case l.Out:
			words = append(words, "with "+l.By+" for job "+l.Job+" since "+time.UnixMicro(l.since).Format("2 Jan 15:04"))
		default:
			words = append(words, "in its place")
		}
		fmt.Fprintf(w, "  %-20s %s\n", l.Tool, strings.Join(words, "; "))
		if l.Stops {
			fmt.Fprintf(w, "  %-20s stops: %s\n", "", strings.Join(l.Steps, ", "))
		}
	}
}
