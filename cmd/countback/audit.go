package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
)

type auditReport struct {
	Job       string      `json:"job"`
	Point     string      `json:"point"`
	Name      string      `json:"name"`
	Green     bool        `json:"green"`
	Signs     int         `json:"signs"`     // persons that sign
	Red       []auditLine `json:"red"`       // must be green, or overridden, before it is signed
	Carried   []auditLine `json:"carried"`   // falls due at a later point
	Overrides []string    `json:"overrides"` // what second persons let pass
	Record    string      `json:"record"`    // the whole record as it is signed
	Hash      string      `json:"hash"`      // SHA-256 of the record
	Signed    *auditSign  `json:"signed"`    // null: nobody signed it, or the signature fell
	head      string
}

type auditLine struct {
	Code string `json:"code"` // which rule found it
	Text string `json:"text"`
	Scan string `json:"scan"` // what makes it green
	// Say are the sentences of it, each as its scans with commas between them; any
	// of them will do, unless the text says then.
	Say []string `json:"say"`
}

type auditSign struct {
	By     string `json:"by"`
	Second string `json:"second"`
	Hash   string `json:"hash"` // of the record that was signed
}

func auditCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "audit JOB [POINT]", Short: "Hold a job against an audit point; status 1 while it is red", GroupID: "report",
		Long: `Lists everything that must be settled before an audit point of the plan is
signed: each red line with the scan that makes it green. Without POINT it takes
the next one that is not signed. Exit status 1 while anything is red.`,
		Example: `  countback audit 4K7
  countback audit 4K7 ready-to-start --record > record.txt`,
		Args:              arguments(cobra.RangeArgs(1, 2)),
		ValidArgsFunction: completeJobThen(completeAuditPoints),
	}
	record := cmd.Flags().Bool("record", false, "write the whole record, as it is signed")
	cmd.RunE = aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, rest []string) error {
		a, err := auditOf(id, j, rest)
		if err != nil {
			return err
		}
		r := newAuditReport(id, j, a)
		if *record && !s.JSON {
			_, err = io.WriteString(cmd.OutOrStdout(), a.Record)
		} else {
			err = write(cmd, s, r)
		}
		if err == nil && !r.Green {
			return no()
		}
		return err
	})
	return cmd
}

func auditOf(id events.Job, j *engine.Job, rest []string) (engine.Audit, error) {
	if len(rest) == 0 {
		point, ok := j.NextAudit()
		if !ok {
			return engine.Audit{}, unknown("job %s has no audit point that is not signed; name one to see its record", id)
		}
		rest = []string{string(point)}
	}
	a, ok := j.Audit(events.AuditPoint(rest[0]))
	if !ok {
		return a, unknown("job %s has no audit point %s%s; its plan has: %s", id, rest[0], nearest(rest[0], texts(auditPoints(j))), joined(auditPoints(j)))
	}
	return a, nil
}

func auditPoints(j *engine.Job) []string {
	var points []string
	for _, a := range j.State().Plan().AuditPoints {
		points = append(points, string(a.ID))
	}
	return points
}

func newAuditReport(id events.Job, j *engine.Job, a engine.Audit) auditReport {
	r := auditReport{
		Job: string(id), Point: string(a.Point), Name: a.Name, Green: len(a.Red) == 0, Signs: a.Signs,
		Red: auditLines(a.Red), Carried: auditLines(a.Carried), Overrides: append([]string{}, a.Overrides...),
		Record: a.Record, Hash: a.Hash, head: title(id, j),
	}
	if a.Signed != nil {
		r.Signed = &auditSign{string(a.Signed.By), string(a.Signed.Second), a.Signed.Hash}
	}
	return r
}

func auditLines(list []engine.RedLine) []auditLine {
	out := []auditLine{}
	for _, l := range list {
		out = append(out, auditLine{l.Code, l.Text, l.Scan, engine.ScansOf(l.Scan)})
	}
	return out
}

func (r auditReport) text(w io.Writer) {
	state := "GREEN"
	if !r.Green {
		state = fmt.Sprintf("RED: %s", many(len(r.Red), "line", "lines"))
	}
	fmt.Fprintf(w, "%s. Audit %s: %s\n", r.head, r.Point, state)
	for _, l := range r.Red {
		fmt.Fprintf(w, "  red      %s\n", engine.Blocker{Text: l.Text, Clear: l.Scan})
	}
	for _, l := range r.Carried {
		fmt.Fprintf(w, "  later    %s\n", engine.Blocker{Text: l.Text, Clear: l.Scan})
	}
	for _, o := range r.Overrides {
		fmt.Fprintf(w, "  passed   %s\n", o)
	}
	if r.Signed != nil {
		fmt.Fprintf(w, "  signed   by %s", r.Signed.By)
		if r.Signed.Second != "" {
			fmt.Fprintf(w, " and %s", r.Signed.Second)
		}
		fmt.Fprintf(w, ", record %s\n", r.Signed.Hash)
	}
	if r.Signed == nil || r.Signed.Hash != r.Hash {
		fmt.Fprintf(w, "  now      record %s\n", r.Hash)
	}
}
