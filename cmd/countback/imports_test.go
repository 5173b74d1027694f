package main

import (
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The import table: which packages of the project each package may import,
// and which modules besides the standard library. Whoever may import events may
// import the journal's contract, and only the command and the store itself the
// store. A package that is not listed may not exist: add it here on purpose.
var importTable = map[string]struct {
	project []string // of the project; a folder stands for itself and everything below it
	foreign []string // modules; nil: the standard library only
}{
	"events":                     {},
	"events/journal":             {project: []string{"events"}},
	"events/journal/conformance": {project: []string{"events"}, foreign: []string{testifyMod}},
	"events/stream":              {project: []string{"events", "events/stream"}, foreign: []string{natsMod, natsServerMod, systemMod}},
	"events/stream/vault":        {project: []string{"events"}, foreign: []string{highwayhashMod, systemMod}},

	"projections/fastener":          {},
	"projections/fastener/sequence": {},
	"projections/fastener/stretch":  {project: []string{"projections/fastener", "projections/gauge"}},
	"projections/fastener/torque":   {project: []string{"projections/fastener"}},
	"projections/fastener/stage":    {project: []string{"projections/fastener"}},
	"projections/index":             {},
	"projections/money":             {},
	"projections/ledger":            {project: []string{"events", "projections/index"}},
	"projections/ledger/acts":       {project: []string{"events", "projections/ledger"}},
	"projections/ledger/share":      {project: []string{"events", "projections/ledger"}},
	"projections/plan":              {project: []string{"events", "projections/fastener", "projections/money"}, foreign: []string{yamlMod}},
	"projections":                   {project: []string{"events", "projections"}},
	"projections/gauge":             {},
	"projections/tool":              {project: []string{"events"}},
	"projections/plan/sheet":        {project: []string{"events", "projections/plan", "projections/fastener"}, foreign: []string{yamlMod}},
	"projections/scope":             {project: []string{"events", "projections/plan"}},
	"projections/tightening":        {project: []string{"events", "projections/plan", "projections/fastener"}},
	"projections/engine":            {project: []string{"events", "projections/index", "projections/ledger", "projections/plan", "projections/fastener", "projections/scope", "projections/gauge", "projections/tightening", "projections/money"}},

	"labels/code":    {},
	"labels/symbol":  {project: []string{"labels/code"}, foreign: []string{barcodeMod, zxingMod}},
	"labels/page":    {project: []string{"labels/code", "labels/symbol"}, foreign: []string{pdfMod, dejavuMod, imageMod, textMod}},
	"labels/peer":    {},
	"labels":         {project: []string{"labels"}},
	"labels/sheet":   {project: []string{"labels"}},
	"labels/printer": {foreign: []string{systemMod}},
	"labels/spool":   {project: []string{"labels"}, foreign: []string{systemMod}},

	"kiosk/scan":  {project: append([]string{"events", "labels/code"}, rules...)},
	"kiosk":       {project: append([]string{"events", "labels/code", "kiosk/scan"}, rules...)},
	"kiosk/bench": {project: append([]string{"events", "labels/code", "kiosk", "kiosk/scan"}, rules...)},
	"kiosk/panel": {project: append([]string{"events", "labels/code", "kiosk", "kiosk/scan"}, rules...)},
	"kiosk/term":  {project: append([]string{"events", "labels/code", "kiosk"}, rules...), foreign: []string{tviewMod, tcellMod, unisegMod}},

	"cmd/countback": {project: []string{""}, foreign: []string{cobraMod, pflagMod, viperMod, xdgMod, yamlMod}},
}

// rules are the projections that screens ask.
var rules = []string{"projections/engine", "projections/plan", "projections/ledger", "projections/fastener", "projections/scope", "projections/gauge", "projections/tightening", "projections/tool"}

const (
	module         = "countback"
	testifyMod     = "github.com/stretchr/testify"
	natsMod        = "github.com/nats-io/nats.go"
	natsServerMod  = "github.com/nats-io/nats-server/v2"
	highwayhashMod = "github.com/minio/highwayhash"
	systemMod      = "golang.org/x/sys"
	yamlMod        = "go.yaml.in/yaml/v3"
	cobraMod       = "github.com/spf13/cobra"
	pflagMod       = "github.com/spf13/pflag"
	viperMod       = "github.com/spf13/viper"
	xdgMod         = "github.com/adrg/xdg"
	tviewMod       = "github.com/rivo/tview"
	tcellMod       = "github.com/gdamore/tcell/v2"
	unisegMod      = "github.com/rivo/uniseg"
	barcodeMod     = "github.com/boombuler/barcode"
	zxingMod       = "github.com/makiuchi-d/gozxing"
	pdfMod         = "codeberg.org/go-pdf/fpdf"
	dejavuMod      = "github.com/go-fonts/dejavu"
	imageMod       = "golang.org/x/image"
	textMod        = "golang.org/x/text"
)

// listed is what "go list -json" says of a package.
type listed struct {
	ImportPath, Name, Doc              string
	Imports, TestImports, XTestImports []string
	GoFiles, TestGoFiles, XTestGoFiles []string
}

func projectPackages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Name,Doc,Imports,TestImports,XTestImports,GoFiles,TestGoFiles,XTestGoFiles", "./...")
	cmd.Dir = root(t)
	out, err := cmd.Output()
	require.NoError(t, err)
	var packages []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		err := d.Decode(&p)
		if err == io.EOF {
			return packages
		}
		require.NoError(t, err)
		packages = append(packages, p)
	}
}

// root is the top of the tree.
func root(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs("../..")
	require.NoError(t, err)
	_, err = os.Stat(filepath.Join(dir, "go.mod"))
	require.NoError(t, err)
	return dir
}

func TestImportsFollowTheTable(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range projectPackages(t) {
		name := strings.TrimPrefix(strings.TrimPrefix(p.ImportPath, module), "/")
		row, ok := importTable[name]
		if seen[name] = true; !ok {
			t.Errorf("package %s is not in the import table", name)
			continue
		}
		for _, imported := range p.Imports {
			if why := forbidden(row.project, row.foreign, imported); why != "" {
				t.Errorf("package %s: %s", name, why)
			}
		}
	}
	for name := range importTable {
		require.True(t, seen[name], "the import table lists package %s, which is gone", name)
	}
}

// forbidden says why an import is not allowed; empty if it is.
func forbidden(project, foreign []string, imported string) string {
	if own, ok := strings.CutPrefix(imported, module+"/"); ok {
		for _, p := range project {
			below := strings.HasPrefix(own, p+"/") && !(p == "events" && strings.HasPrefix(own, "events/stream"))
			if p == "" || own == p || below {
				return ""
			}
		}
		return "imports " + own + " of the project; the table allows: " + strings.Join(project, ", ")
	}
	first, _, _ := strings.Cut(imported, "/")
	if !strings.Contains(first, ".") {
		return "" // the standard library
	}
	for _, f := range foreign {
		if imported == f || strings.HasPrefix(imported, f+"/") {
			return ""
		}
	}
	return "imports " + imported + "; the table allows: " + strings.Join(foreign, ", ")
}

func TestForbiddenFindsBadImports(t *testing.T) {
	for _, row := range []struct {
		imported string
		project  []string
		foreign  []string
		bad      bool
	}{
		{"fmt", nil, nil, false},
		{"encoding/json", nil, nil, false},
		{"countback/events", []string{"events"}, nil, false},
		{"countback/events/journal", []string{"events"}, nil, false},
		{"countback/events", nil, nil, true},
		{"countback/eventsmore", []string{"events"}, nil, true},
		{"countback/events/stream", []string{"events"}, nil, true},
		{"countback/events/stream", []string{"events/stream"}, nil, false},
		{"countback/kiosk", []string{"events"}, nil, true},
		{"github.com/nats-io/nats.go/jetstream", nil, []string{natsMod}, false},
		{"github.com/nats-io/nats.go", nil, []string{natsServerMod}, true},
		{"github.com/nats-io/nats.gopher", nil, []string{natsMod}, true},
	} {
		require.Equal(t, row.bad, forbidden(row.project, row.foreign, row.imported) != "", "%+v", row)
	}
}

// Two borders stand above the table, tests included: only events/stream talks
// to NATS, and only kiosk/term draws with tview.
func TestOnlyTheirOwnersImportNATSAndTview(t *testing.T) {
	owners := map[string]string{natsMod: "events/stream", natsServerMod: "events/stream", tviewMod: "kiosk/term"}
	for _, p := range projectPackages(t) {
		name := strings.TrimPrefix(strings.TrimPrefix(p.ImportPath, module), "/")
		for _, imported := range slices.Concat(p.Imports, p.TestImports, p.XTestImports) {
			for prefix, owner := range owners {
				if imported == prefix || strings.HasPrefix(imported, prefix+"/") {
					require.True(t, name == owner || strings.HasPrefix(name, owner+"/"), "package %s imports %s; only %s may", name, imported, owner)
				}
			}
		}
	}
}

func TestEveryPackageSaysWhatItKnows(t *testing.T) {
	for _, p := range projectPackages(t) {
		require.NotEmpty(t, p.Doc, "package %s has no doc", p.ImportPath)
		for _, bad := range []string{"util", "utils", "common", "helpers", "types", "manager", "service", "model"} {
			require.NotEqual(t, bad, p.Name, "package %s", p.ImportPath)
		}
	}
}

// The folders are the table of contents: nothing else stands at the top.
func TestTopLevelHoldsOnlyTheLayout(t *testing.T) {
	allowed := []string{
		"kiosk", "events", "projections", "labels", "cmd", "deploy", "testdata",
		"go.mod", "go.sum", "README.md", "DEVELOPERS.md", "LICENSE",
	}
	cmd := exec.Command("git", "ls-files", "--cached", "--others", "--exclude-standard")
	cmd.Dir = root(t)
	out, err := cmd.Output()
	require.NoError(t, err)
	var wrong []string
	found := map[string]bool{}
	for _, file := range strings.Fields(string(out)) {
		top, _, _ := strings.Cut(file, "/")
		found[top] = true
		if !slices.Contains(allowed, top) && !strings.HasPrefix(top, ".") && !slices.Contains(wrong, top) {
			wrong = append(wrong, top)
		}
	}
	require.Empty(t, wrong, "at the top of the tree")
	for _, name := range allowed {
		require.True(t, found[name], "%s is missing", name)
	}
}
