package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"countback/projections/fastener"
	"countback/projections/fastener/torque"
)

type torqueReport struct {
	Spec     string        `json:"spec"`
	Guidance []torqueGuess `json:"guidance"`
	Tables   []string      `json:"tables"` // what public tables print for it
	Note     string        `json:"note"`
}

type torqueGuess struct {
	Nm        float64  `json:"nm"`
	LbfFt     float64  `json:"lbfft"`
	LbfIn     float64  `json:"lbfin"`
	Method    string   `json:"method"`
	Lubricant string   `json:"lubricant"` // with its factor and source
	PreloadKN float64  `json:"preloadkn"`
	OfProof   float64  `json:"ofproof"` // preload as a part of the proof load; 0: not known
	Questions []string `json:"questions"`
}

// The two ways to work a torque out.
const (
	shortForm = "short"
	vdiForm   = "vdi"
)

func torqueCommand() *cobra.Command {
	var class, lubricant, method string
	cmd := &cobra.Command{
		Use: "torque SPEC", Short: "Work out what a torque could be, by thread, class and lubricant", GroupID: "report",
		Long: `Guidance for a fastener for which nobody has a value: T = K d F at three quarters
of its proof load, for each lubricant that public sources give a factor for, and
the form of VDI 2230 at 90 % of its yield strength. Each line says its lubricant,
its factor and where that is from; they disagree, and friction is never assumed.
What the engine's maker says comes first. It needs no store. Exit status 1 where
the strength of the fastener is not known.`,
		Example: `  countback torque "M8x1.25x30 8.8"
  countback torque M10x1.5x60 --class 10.9 --lubricant oil
  countback torque "3/8-16x1-1/2 grade 5" --method vdi --json`,
		Args: arguments(cobra.MinimumNArgs(1)), ValidArgsFunction: cobra.NoFileCompletions,
	}
	cmd.Flags().StringVar(&class, "class", "", "class or grade, where SPEC has none: 8.8, grade 5")
	cmd.Flags().StringVar(&lubricant, "lubricant", "", "what is on the threads and under the head: dry, oil, anti-seize ...")
	cmd.Flags().StringVar(&method, "method", "", "short (T = K d F) or vdi (VDI 2230); both where it is not said")
	completeFlag(cmd, "class", cobra.NoFileCompletions)
	completeFlag(cmd, "lubricant", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return lubricantNames(), noFiles
	})
	completeFlag(cmd, "method", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{shortForm, vdiForm}, noFiles
	})
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		s, err := readSettings(cmd)
		if err != nil {
			return err
		}
		text := strings.Join(args, " ")
		if class != "" {
			text += " " + class
		}
		spec, err := fastener.Parse(text)
		switch {
		case err != nil:
			return usage("%w", err)
		case !spec.Thread.Known():
			return usage("fastener %q: no thread that can be read; write it as in M8x1.25x30 8.8", text)
		case lubricant != "" && !slices.Contains(lubricantNames(), lubricant):
			return usage("--lubricant %q: no factor is cited for it; one of %s", lubricant, strings.Join(lubricantNames(), ", "))
		case method != "" && method != shortForm && method != vdiForm:
			return usage("--method %q: short or vdi", method)
		}
		r := newTorqueReport(spec, lubricant, method)
		if err := write(cmd, s, r); err != nil {
			return err
		}
		if len(r.Guidance) == 0 {
			return no()
		}
		return nil
	}
	return cmd
}

// lubricantNames are the lubricants that a factor is cited for, each once.
func lubricantNames() []string {
	var list []string
	for _, k := range torque.NutFactors() {
		if !slices.Contains(list, string(k.Of)) {
			list = append(list, string(k.Of))
		}
	}
	return list
}

func newTorqueReport(spec fastener.Spec, lubricant, method string) torqueReport {
	r := torqueReport{Spec: spec.String(), Guidance: []torqueGuess{}, Tables: []string{}, Note: torque.Deference}
	for _, g := range guidanceOf(spec, lubricant) {
		short := g.Method == "T = K d F"
		if short && method == vdiForm || !short && (method == shortForm || lubricant != "" && method == "") {
			continue
		}
		r.Guidance = append(r.Guidance, torqueGuess{Nm: g.Torque(torque.NewtonMetre).Float(), LbfFt: g.Torque(torque.PoundFoot).Float(),
			LbfIn: g.Torque(torque.PoundInch).Float(), Method: g.Method, Lubricant: g.Friction, PreloadKN: g.PreloadN / 1000, OfProof: g.OfProof,
			Questions: append([]string{}, g.Questions...)})
	}
	for _, t := range torque.Tables(spec) {
		r.Tables = append(r.Tables, t.String())
	}
	return r
}

// guidanceOf is the guidance for one lubricant by every cited factor, or for
// all.
func guidanceOf(spec fastener.Spec, lubricant string) []torque.Guidance {
	if lubricant == "" {
		return torque.All(spec)
	}
	var list []torque.Guidance
	for _, k := range torque.NutFactorsOf(torque.Lubricant(lubricant)) {
		if g, err := (torque.ShortForm{Spec: spec, Friction: k, OfProof: torque.Reusable}).Guide(); err == nil {
			list = append(list, g)
		}
	}
	for _, g := range torque.All(spec) {
		if g.Method != "T = K d F" {
			list = append(list, g)
		}
	}
	return list
}

func (r torqueReport) text(w io.Writer) {
	fmt.Fprintf(w, "%s\n", r.Spec)
	if len(r.Guidance) == 0 {
		fmt.Fprintln(w, "Its strength is not known: write its class or grade, or take the value from the maker.")
	}
	for _, g := range r.Guidance {
		fmt.Fprintf(w, "  %6.4g N.m  %6.4g lbf.ft  %6.4g lbf.in  %5.1f kN", g.Nm, g.LbfFt, g.LbfIn, g.PreloadKN)
		if g.OfProof > 0 {
			fmt.Fprintf(w, ", %.0f %% of proof", g.OfProof*100)
		}
		fmt.Fprintf(w, "  %s; %s\n", g.Method, g.Lubricant)
		for _, q := range g.Questions {
			fmt.Fprintf(w, "         %s\n", q)
		}
	}
	for _, t := range r.Tables {
		fmt.Fprintf(w, "  printed: %s\n", t)
	}
	fmt.Fprintf(w, "%s%s.\n", strings.ToUpper(r.Note[:1]), r.Note[1:])
}
