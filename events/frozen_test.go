package events

import (
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	cloudevents "github.com/cloudevents/sdk-go/v2"
	"github.com/stretchr/testify/require"
)

const frozenDir = "../testdata/events"

var update = flag.Bool("update", false, "freeze samples that have no file yet; a frozen one is never written again")

// Each sample has its file, and the file says to this day what it said.
func TestSamplesAreFrozen(t *testing.T) {
	had := map[string]bool{}
	for _, s := range samples() {
		require.False(t, had[s.name], "two samples are called %s", s.name)
		had[s.name] = true
		require.Equal(t, NameOf(s.Event), kindOf(s.name))
		file := filepath.Join(frozenDir, s.name+".json")
		if _, err := os.Stat(file); os.IsNotExist(err) && *update {
			stored, err := Append(nil, &s.Record)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(file, append(stored, '\n'), 0o644))
		}
		data, err := os.ReadFile(file)
		require.NoError(t, err, "go test ./events -update freezes a new sample")
		var d Decoder
		var got Record
		require.NoError(t, d.Decode(data[:len(data)-1], &got))
		require.Equal(t, s.Record, got, "a frozen sample never changes: give the change a sample of its own")
	}
}

// KindOf gives the kind from the name of a sample or its file.
func kindOf(name string) string {
	kind, _, _ := strings.Cut(filepath.Base(name), ".")
	return kind
}

func frozen(t testing.TB) map[string][]byte {
	files, err := filepath.Glob(filepath.Join(frozenDir, "*.json"))
	require.NoError(t, err)
	all := make(map[string][]byte, len(files))
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		line, ok := strings.CutSuffix(string(data), "\n")
		require.True(t, ok, "%s ends without a line end", file)
		all[filepath.Base(file)] = []byte(line)
	}
	return all
}

// Whatever was stored once is read for ever, and is written again as it was.
func TestFrozenSamplesDecodeForEver(t *testing.T) {
	stored := map[string]bool{}
	for file, data := range frozen(t) {
		var d Decoder
		var fast, slow Record
		require.True(t, d.fast(data, &fast), "%s takes the slow road", file)
		require.NoError(t, slowDecode(data, &slow), file)
		require.Equal(t, slow, fast, file)
		require.NotNil(t, byName[kindOf(file)], "%s: its kind is gone from the catalogue", file)
		require.Equal(t, kindOf(file), NameOf(fast.Event))
		stored[kindOf(file)] = true
		again, err := Append(nil, &fast)
		require.NoError(t, err, file)
		require.Equal(t, string(data), string(again), file)
	}
	for _, name := range Names() {
		require.True(t, stored[name], "event %s: no frozen sample in %s", name, frozenDir)
	}
}

// Each member of each kind is in one sample of the kind at least: a member
// that is in none could change unseen.
func TestEveryMemberIsFrozen(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range samples() {
		noteFields(seen, NameOf(s.Event), byType[reflect.TypeOf(s.Event)].shape, reflect.ValueOf(s.Event))
	}
	for i := range catalogue {
		e := &catalogue[i]
		for _, f := range byName[e.name].shape.fields {
			require.True(t, seen[e.name+"."+f.name], "event %s: no sample has %s", e.name, f.name)
		}
	}
	for _, f := range shapeOf(reflect.TypeFor[Line]()).fields {
		require.True(t, seen["line."+f.name], "no sample has a line with %s", f.name)
	}
}

func noteFields(seen map[string]bool, name string, s *shape, v reflect.Value) {
	for i := range s.fields {
		f := &s.fields[i]
		fv := v.Field(f.index)
		if !fv.IsZero() {
			seen[name+"."+f.name] = true
		}
		if f.form == asList && f.elem.form == asGroup {
			for j := range fv.Len() {
				noteFields(seen, strings.ToLower(f.elem.typ.Name()), f.elem, fv.Index(j))
			}
		}
	}
}

// Every stored fact is an event of CloudEvents 1.0 to somebody else's reader,
// which finds each attribute and writes an event that we read as the same.
func TestStoredFactsAreCloudEvents(t *testing.T) {
	for _, s := range samples() {
		stored, err := Append(nil, &s.Record)
		require.NoError(t, err)
		var event cloudevents.Event
		require.NoError(t, event.UnmarshalJSON(stored), s.name)
		require.NoError(t, event.Validate(), s.name)
		require.Equal(t, "1.0", event.SpecVersion())
		require.Equal(t, string(s.Terminal)+"-"+itoa(int64(s.N)), event.ID())
		require.Equal(t, "/countback/"+string(s.Shop)+"/"+string(s.Terminal), event.Source())
		require.Equal(t, "countback."+NameOf(s.Event), event.Type())
		require.Equal(t, string(s.Job), event.Subject())
		require.Equal(t, s.Time, event.Time().UnixMicro())
		require.Equal(t, "application/json", event.DataContentType())
		want := map[string]any{"at": itoa(s.At), "n": int32(s.N)}
		for name, value := range map[string]string{
			"seen": string(s.Seen), "operator": string(s.Operator), "known": knownWords[s.Known],
		} {
			if value != "" {
				want[name] = value
			}
		}
		if s.From != 0 {
			want["happenedfrom"], want["happenedto"] = itoa(s.From), itoa(s.To)
		}
		require.Equal(t, want, event.Extensions(), s.name)

		theirs, err := event.MarshalJSON()
		require.NoError(t, err)
		var d Decoder
		var got Record
		require.NoError(t, d.Decode(theirs, &got), "%s", theirs)
		require.Equal(t, s.Record, got, s.name)
	}
}

// The fact shown in the package's documentation is one.
func TestDocumentedFact(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	require.NoError(t, err)
	_, shown, found := strings.Cut(string(doc), "//\t{\"specversion\"")
	require.True(t, found)
	shown, _, _ = strings.Cut(shown, "\n//\n")
	shown = "{\"specversion\"" + strings.ReplaceAll(shown, "\n//\t", "")
	var d Decoder
	var r Record
	require.True(t, d.fast([]byte(shown), &r), shown)
	require.Equal(t, Counted{Place: "bag/B2KCZ6EE", Lines: []Line{{Kind: "M6x1.0x25 8.8 flange", Qty: 1}}, All: true}, r.Event)
}

func itoa(v int64) string { return strconv.FormatInt(v, 10) }
