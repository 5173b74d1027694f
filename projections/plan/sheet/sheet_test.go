package sheet

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"countback/projections/fastener"
	"countback/projections/plan"
)

const plansFolder = "../../../testdata/plans/"

func load(t testing.TB, file string) *plan.Plan {
	t.Helper()
	p, err := plan.Load(plansFolder + file)
	require.NoError(t, err)
	return p
}

func folder(files map[string][]byte) fstest.MapFS {
	out := fstest.MapFS{}
	for name, data := range files {
		out[name] = &fstest.MapFile{Data: data}
	}
	return out
}

// said is all that a plan says, as text in its order: lines of the file, and
// how a number was spelled, left out; a condition of one condition is that
// one.
func said(p *plan.Plan) string {
	var b strings.Builder
	say(&b, "", reflect.ValueOf(*p))
	return b.String()
}

var unsaid = map[string]bool{"Line": true, "File": true, "Source": true, "Hash": true, "Units": true}

func say(b *strings.Builder, path string, v reflect.Value) {
	switch x := v.Interface().(type) {
	case fastener.Length:
		mm, ok := x.Mm()
		fmt.Fprintln(b, path, plain(mm), ok)
		return
	case plan.Condition:
		for (x.Op == plan.AnyOf || x.Op == plan.AllOf) && len(x.Kids) == 1 && strings.HasSuffix(path, "]") {
			x = x.Kids[0]
		}
		v = reflect.ValueOf(x)
	case plan.Stage:
		if x.Known { // in whichever unit it is written; to a millionth, as sheets are
			x.Text, x.Said, x.Unit = "", "", ""
			x.Min, x.Max = math.Round(x.Min*1e6)/1e6, math.Round(x.Max*1e6)/1e6
		}
		v = reflect.ValueOf(x)
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if f.IsExported() && !unsaid[f.Name] {
				say(b, path+"."+f.Name, v.Field(i))
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			say(b, fmt.Sprintf("%s[%d]", path, i), v.Index(i))
		}
	default:
		fmt.Fprintln(b, path, v.Interface())
	}
}

var formats = map[string]Format{
	"as it is":                    {},
	"inches and pounds":           {Length: "in", Torque: "lbf.ft"},
	"semicolons and commas":       {Separator: ';', DecimalComma: true},
	"tabs, kilogram-force metres": {Separator: '\t', Torque: "kgf.m", Length: "cm"},
}

// TestThereAndBack: what Write writes, Read reads to a plan that says the same,
// and Write of that is the same again.
func TestThereAndBack(t *testing.T) {
	for _, file := range []string{"sorrel-i4-20.yaml", "bramble-t2-42.yaml", "small.yaml"} {
		p := load(t, file)
		for name, format := range formats {
			sheets := Write(p, format)
			q, faults := Read(folder(sheets), "engine")
			require.Empty(t, faults, "%s, %s", file, name)
			require.Equal(t, said(p), said(q), "%s, %s", file, name)
			require.Equal(t, sheets, Write(q, format), "%s, %s", file, name)
			require.Equal(t, string(plan.Write(q)), string(q.Source), "the plan's text is in the house layout")
			require.Equal(t, plan.Check(p).Broken(), plan.Check(q).Broken())
			require.Equal(t, len(plan.Check(p)), len(plan.Check(q)))
		}
	}
}
