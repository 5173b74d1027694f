package main

import (
	"fmt"
	"reflect"
	"strings"

	"github.com/spf13/cobra"
)

// shapes are the answers that --json writes, by the command that gives them.
var shapes = []struct {
	command string
	shape   any
}{
	{"job open", openedReport{}},
	{"job list", jobsReport{}},
	{"scan (one line for each scan)", turn{}},
	{"codes", codesReport{}},
	{"label", labelReport{}},
	{"print --once, print --status", queueReport{}},
	{"now", nowReport{}},
	{"missing", missingReport{}},
	{"bolt", boltReport{}},
	{"measure", measureReport{}},
	{"findings", findingsReport{}},
	{"tools", toolsReport{}},
	{"trays", traysReport{}},
	{"batches", batchesReport{}},
	{"ageing", ageingReport{}},
	{"run", runReport{}},
	{"handover", handoverReport{}},
	{"where", whereReport{}},
	{"audit", auditReport{}},
	{"losses", lossesReport{}},
	{"history", historyReport{}},
	{"scope", scopeReport{}},
	{"slips", slipsReport{}},
	{"buy", buyReport{}},
	{"orders", ordersReport{}},
	{"tighten", tightenReport{}},
	{"torque", torqueReport{}},
	{"cores", coresReport{}},
	{"owner", ownerReport{}},
	{"plan check", planCheckReport{}},
	{"plan show", planReport{}},
	{"store check", storeReport{}},
	{"store backup", backupReport{}},
	{"store restore", restoreReport{}},
	{"sentences", sentencesReport{}},
	{"version", versionReport{}},
}

// shapesTopic is "countback help json".
func shapesTopic() *cobra.Command {
	var b strings.Builder
	b.WriteString(`With --json a command writes one JSON object. Members are added in later versions,
never renamed and never given another meaning; a program passes over those that
it does not know. Lists are never null. Times are RFC 3339 in UTC, and empty where
there is none. What each member means stands at its Go struct in cmd/countback.
`)
	for _, s := range shapes {
		fmt.Fprintf(&b, "\n%s\n", s.command)
		members(&b, reflect.TypeOf(s.shape), "  ")
	}
	return &cobra.Command{Use: "json", Short: "The shapes of what --json writes", Long: strings.TrimRight(b.String(), "\n")}
}

// members lists the members of an object, those of lists and objects in it
// below them.
func members(b *strings.Builder, t reflect.Type, indent string) {
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			members(b, f.Type, indent)
			continue
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "" || name == "-" {
			continue
		}
		word, below := wordOfShape(f.Type)
		fmt.Fprintf(b, "%s%-12s %s\n", indent, name, word)
		if below != nil {
			members(b, below, indent+"  ")
		}
	}
}

// wordOfShape is what a member holds, and the objects in it if there are any.
func wordOfShape(t reflect.Type) (word string, below reflect.Type) {
	switch t.Kind() {
	case reflect.Pointer:
		word, below = wordOfShape(t.Elem())
		return word + " or null", below
	case reflect.Slice:
		word, below = wordOfShape(t.Elem())
		return "list of " + word + "s", below
	case reflect.Struct:
		return "object", t
	case reflect.String:
		return "text", nil
	case reflect.Bool:
		return "true or false", nil
	}
	return "number", nil
}
