package plan

import (
	"fmt"
	"slices"
	"strings"
)

// Level says how much a fault matters.
type Level uint8

// The levels.
const (
	Broken  Level = iota // the plan cannot be used
	Warning              // look at it
	Unknown              // a value that the plan does not know; as found here is then the reference
)

// String is the level as a word.
func (l Level) String() string { return [...]string{"fault", "warning", "unknown"}[l] }

// Fault is one thing that is wrong with a plan, or worth a look.
type Fault struct {
	Level   Level
	Code    Code
	File    string
	Line    int    // 0: the whole file
	Text    string // lower case, the thing first
	Nearest string // the nearest right spelling; empty: none is near
}

// String is the fault in one line: file:line: text; did you mean ...?
func (f Fault) String() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
	}
	b.WriteString(": ")
	if f.Level != Broken {
		b.WriteString(f.Level.String() + ": ")
	}
	b.WriteString(f.Text)
	if f.Nearest != "" {
		fmt.Fprintf(&b, "; did you mean %q?", f.Nearest)
	}
	return b.String()
}

// Code names a kind of fault.
type Code string

// The kinds of fault.
const (
	CodeYAML       Code = "yaml"        // the text is no YAML, or uses what a plan does not use
	CodeLimit      Code = "limit"       // larger than any plan
	CodeKey        Code = "key"         // a key that this entry does not have
	CodeMissing    Code = "missing"     // a key that this entry needs
	CodeValue      Code = "value"       // a value of the wrong kind
	CodeDuplicate  Code = "duplicate"   // a name given twice
	CodeID         Code = "id"          // an id that the plan does not have
	CodeFastener   Code = "fastener"    // a spec that cannot be read
	CodeLoop       Code = "loop"        // steps that only hold each other up
	CodeStuck      Code = "stuck"       // a step that can never be done
	CodeNoRemoval  Code = "no-removal"  // a part that nothing takes off
	CodeNoFitting  Code = "no-fitting"  // a part that nothing puts on
	CodeClamped    Code = "clamped"     // a part that cannot leave while a hole clamps it
	CodeEarly      Code = "early"       // a fastener that goes in before what it clamps
	CodePinned     Code = "pinned"      // a turn with a pin in
	CodeNoEmptying Code = "no-emptying" // a seat that no step empties
	CodeNoFilling  Code = "no-filling"  // a seat that no step fills
	CodeLoanIdle   Code = "loan-idle"   // a loan that need not be out for anything
	CodeLoanLeft   Code = "loan-left"   // a loan that goes in and never out, or out and never in
	CodeMark       Code = "mark"        // a mark that is asked for and never set
	CodeCavity     Code = "cavity"      // a step that says it opens or closes a cavity and does not
	CodeBottoms    Code = "bottoms"     // a piece that does not fit its own hole
	CodeEngages    Code = "engagement"  // a piece that engages less than the rule of thumb
	CodeCount      Code = "count"       // quantities that disagree
	CodeNoTrace    Code = "no-trace"    // a step that leaves nothing to be seen
	CodeOrder      Code = "order"       // an order of tightening that misses a hole, or has one twice
	CodeProof      Code = "proof-load"  // a torque that passes the proof load of its fastener
	CodeFar        Code = "far"         // a depth or a guard band beyond reason
	CodeUnknown    Code = "unknown"     // a value that is not known
)

// Faults are all faults of one plan, in the order of the file.
type Faults []Fault

// Error is every fault on a line of its own.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i := range f {
		lines[i] = f[i].String()
	}
	return strings.Join(lines, "\n")
}

// Broken reports whether one of them makes the plan unusable.
func (f Faults) Broken() bool {
	return slices.ContainsFunc(f, func(x Fault) bool { return x.Level == Broken })
}

// sortFaults puts faults in the order of the file, the worst first on a line.
func sortFaults(f []Fault) {
	slices.SortStableFunc(f, func(a, b Fault) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return int(a.Level) - int(b.Level)
	})
}
