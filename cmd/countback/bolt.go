package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/fastener"
)

type boltReport struct {
	Job    string     `json:"job"`
	Found  string     `json:"found"`  // what was read off it, in words
	Answer string     `json:"answer"` // in one line
	Next   string     `json:"next"`   // what to do now
	Homes  []boltHome `json:"homes"`  // the likeliest first
	Near   []boltHome `json:"near"`   // no home for it: those that differ in one thing
	head   string
}

type boltHome struct {
	Joint   string   `json:"joint"`
	Name    string   `json:"name"`
	Kind    string   `json:"kind"`
	Holes   []string `json:"holes"`   // that want one
	Filled  int      `json:"filled"`  // holes of the joint that have one
	Have    int      `json:"have"`    // pieces kept for the joint
	Short   int      `json:"short"`   // holes that want one, less those
	Kept    []string `json:"kept"`    // where the joint's pieces are
	OffMm   float64  `json:"offmm"`   // how far the sizes read are from the nominal ones
	Unknown string   `json:"unknown"` // what could not be compared
	Differ  string   `json:"differ"`
	Own     bool     `json:"own"`   // each piece has a hole of its own
	Equal   int      `json:"equal"` // homes with one number are equal; 0: none is
}

func boltCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "bolt JOB SIZE...", Short: "Tell which holes and bags could want a bolt that was found", GroupID: "report",
		Long: `From a fastener that nobody knows to the holes and bags of a job that could want
it: the best match first, then those that are short. SIZE is a size card's text,
with or without its length, or what a caliper and a thread gauge read: diameter
x pitch x length, ? for what is not known, in millimetres or with the unit. A
worn M8 that measures 7.85 is known as one. Exit status 1 if no hole takes it.`,
		Example: `  countback bolt 4K7 M8x1.25
  countback bolt 4K7 7.85x1.25 --length 30 --head flange
  countback bolt 4K7 "0.307in x 18tpi x 1-1/4in"`,
		Args:              arguments(cobra.MinimumNArgs(1)),
		ValidArgsFunction: completeJobThen(completeKinds),
	}
	var length, pitch, class, head, feature string
	cmd.Flags().StringVar(&length, "length", "", "length in mm, or with its unit as in 1-1/4in")
	cmd.Flags().StringVar(&pitch, "pitch", "", "pitch in mm, or threads per inch as in 18tpi")
	cmd.Flags().StringVar(&class, "class", "", "class or grade, as on its head: 8.8")
	cmd.Flags().StringVar(&head, "head", "", "head or form, as in flange, 12pt, stud")
	cmd.Flags().StringVar(&feature, "feature", "", "what sets it apart, as in hollow")
	for _, f := range []string{"length", "pitch", "class", "head", "feature"} {
		completeFlag(cmd, f, cobra.NoFileCompletions)
	}
	cmd.RunE = aboutJob(func(cmd *cobra.Command, s settings, id events.Job, j *engine.Job, rest []string) error {
		m, err := readBolt(rest, length, pitch, class, head, feature)
		if err != nil {
			return usage("%w", err)
		}
		h := j.Whose(m)
		r := boltReport{Job: string(id), head: title(id, j), Found: m.String(), Answer: h.Text, Next: h.Next, Homes: boltHomes(h.List), Near: boltHomes(h.Near)}
		if err := write(cmd, s, r); err != nil {
			return err
		}
		if len(h.List) == 0 {
			return no()
		}
		return nil
	})
	return cmd
}

// readBolt puts the size and the flags together; a flag adds what the size
// leaves open, and may not say something else.
func readBolt(size []string, length, pitch, class, head, feature string) (fastener.Measured, error) {
	text := strings.Join(size, " ")
	if text == "" {
		text = "?"
	}
	m, err := fastener.ParseMeasured(text)
	if err != nil {
		return m, err
	}
	or := func(s string) string {
		if s == "" {
			return "?"
		}
		return s
	}
	words := strings.TrimSpace("?x" + or(pitch) + "x" + or(length) + " " + class + " " + head)
	if feature != "" {
		words += " (" + feature + ")"
	}
	more, err := fastener.ParseMeasured(words)
	if err != nil {
		return m, err
	}
	named := m.Spec.Thread.Known()
	if more.PitchMm > 0 && (m.PitchMm > 0 || named && !m.Spec.Thread.PitchAssumed) {
		return m, fmt.Errorf("pitch twice: %s and --pitch %s", text, pitch)
	}
	if more.Spec.LengthMm > 0 && m.Spec.LengthMm > 0 {
		return m, fmt.Errorf("length twice: %s and --length %s", text, length)
	}
	if more.PitchMm > 0 && named {
		m.Spec.Thread.PitchMm, m.Spec.Thread.PitchAssumed = more.PitchMm, false
	} else if more.PitchMm > 0 {
		m.PitchMm = more.PitchMm
	}
	if more.Spec.LengthMm > 0 {
		m.Spec.LengthMm = more.Spec.LengthMm
	}
	for _, f := range []struct{ to, from *string }{{&m.Spec.Class, &more.Spec.Class}, {&m.Spec.Head, &more.Spec.Head}, {&m.Spec.Use, &more.Spec.Use}, {&m.Spec.Feature, &more.Spec.Feature}} {
		if *f.from != "" {
			*f.to = *f.from
		}
	}
	if more.Spec.Form != fastener.AnyForm {
		m.Spec.Form = more.Spec.Form
	}
	return m, nil
}

func boltHomes(list []engine.Home) []boltHome {
	out := []boltHome{}
	for _, h := range list {
		out = append(out, boltHome{Joint: string(h.Joint), Name: h.Name, Kind: string(h.Kind), Holes: texts(h.Want), Filled: h.Filled,
			Have: h.Have, Short: h.Short, Kept: texts(h.Kept), OffMm: h.Like.OffMm, Unknown: h.Like.Unknown.String(), Differ: h.Like.Differ.String(),
			Own: h.Own, Equal: h.Equal})
	}
	return out
}

func completeKinds(j *engine.Job) []string {
	var list []string
	for _, k := range j.State().Sizes() {
		list = append(list, string(k))
	}
	return list
}

func (r boltReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s. %s\n%s.\n%s.\n", r.head, upper(r.Found), r.Answer, upper(r.Next))
	for _, list := range [][]boltHome{r.Homes, r.Near} {
		for i, h := range list {
			fmt.Fprintf(w, "  %2d  %s: %s\n", i+1, h.Name, h.Kind)
			var words []string
			if h.Short > 0 {
				words = append(words, fmt.Sprintf("%d short", h.Short))
			}
			if len(h.Holes) > 0 {
				words = append(words, fmt.Sprintf("%d want one, %d kept for them", len(h.Holes), h.Have))
			} else {
				words = append(words, fmt.Sprintf("all %d are in", h.Filled))
			}
			if len(h.Kept) > 0 {
				words = append(words, strings.Join(h.Kept, " "))
			}
			if h.Own {
				words = append(words, "each has a hole of its own")
			}
			if h.Equal > 0 {
				words = append(words, fmt.Sprintf("equal to the others marked %c", 'A'+(h.Equal-1)%26))
			}
			if h.Differ != "" {
				words = append(words, "differs in "+h.Differ)
			}
			fmt.Fprintf(w, "      %s\n", strings.Join(words, "; "))
		}
	}
}
