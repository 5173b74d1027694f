package main

import (
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"countback/projections/plan"
)

type planCheckReport struct {
	Files []checkedPlan `json:"files"`
}

type checkedPlan struct {
	File     string      `json:"file"`
	Usable   bool        `json:"usable"` // no fault; warnings and unknown values do not matter here
	Faults   int         `json:"faults"`
	Warnings int         `json:"warnings"`
	Unknown  int         `json:"unknown"`
	Found    []planFault `json:"found"` // in the order of the file
}

type planFault struct {
	Level   string `json:"level"` // fault, warning, unknown
	Code    string `json:"code"`
	Line    int    `json:"line"` // 0: the whole file
	Text    string `json:"text"`
	Nearest string `json:"nearest,omitempty"` // the nearest right spelling
	line    string
}

func planCheckCommand() *cobra.Command {
	return &cobra.Command{
		Use: "check FILE...", Short: "Find every fault of plan files",
		Long: `Reads plan files and takes each engine apart and puts it together again, for
every layout. Each fault is placed: file, line, what is wrong, and the nearest
right spelling of a misspelled word. Exit status 1 if a plan cannot be used;
warnings and unknown values do not count.`,
		Example:           "  countback plan check my-engine.yaml\n  countback plan check --json plans/*.yaml",
		Args:              arguments(cobra.MinimumNArgs(1)),
		ValidArgsFunction: completePlanFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := readSettings(cmd)
			if err != nil {
				return err
			}
			report := planCheckReport{Files: []checkedPlan{}}
			usable := true
			for _, file := range args {
				checked, err := checkPlan(file)
				if err != nil {
					return err
				}
				usable = usable && checked.Usable
				report.Files = append(report.Files, checked)
			}
			if err := write(cmd, s, report); err != nil {
				return err
			}
			if !usable {
				return no()
			}
			return nil
		},
	}
}

func checkPlan(file string) (checkedPlan, error) {
	src, err := os.ReadFile(file)
	if err != nil {
		return checkedPlan{}, fmt.Errorf("plan: %w", err)
	}
	faults := plan.CheckSource(file, src)
	c := checkedPlan{File: file, Usable: !faults.Broken(), Found: []planFault{}}
	for _, f := range faults {
		switch f.Level {
		case plan.Broken:
			c.Faults++
		case plan.Warning:
			c.Warnings++
		default:
			c.Unknown++
		}
		c.Found = append(c.Found, planFault{
			Level: f.Level.String(), Code: string(f.Code), Line: f.Line,
			Text: f.Text, Nearest: f.Nearest, line: f.String(),
		})
	}
	return c, nil
}

func (r planCheckReport) text(w io.Writer) {
	for _, c := range r.Files {
		for _, f := range c.Found {
			fmt.Fprintln(w, f.line)
		}
		verdict := "can be used"
		if !c.Usable {
			verdict = "cannot be used"
		}
		fmt.Fprintf(w, "%s: %s: %s, %s, %s\n", c.File, verdict,
			many(c.Faults, "fault", "faults"), many(c.Warnings, "warning", "warnings"), many(c.Unknown, "unknown value", "unknown values"))
	}
}
