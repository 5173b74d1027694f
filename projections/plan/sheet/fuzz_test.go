package sheet

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

// FuzzRead puts any bytes in the place of one sheet. Either there are faults,
// each with words, or there is a plan that Write and Read take through
// unchanged.
func FuzzRead(f *testing.F) {
	base := lid()
	for i := range tables {
		for _, file := range []string{"sorrel-i4-20.yaml", "bramble-t2-42.yaml"} {
			p, err := plan.Load(filepath.Join(plansFolder, file))
			require.NoError(f, err)
			if src, ok := Write(p, Format{})[tables[i].file+".csv"]; ok {
				f.Add(byte(i), src)
			}
		}
	}
	for name, text := range base {
		f.Add(byte(len(name)), []byte(text))
	}
	f.Fuzz(func(t *testing.T, which byte, data []byte) {
		files := map[string][]byte{}
		for name, text := range base {
			files[name] = []byte(text)
		}
		file := tables[int(which)%len(tables)].file
		delete(files, map[string]string{"parts": "Parts.csv"}[file])
		files[file+".csv"] = data
		p, faults := Read(folder(files), "lid")
		if p == nil {
			require.NotEmpty(t, faults)
			for _, x := range faults {
				require.NotEmpty(t, x.Text)
			}
			return
		}
		require.Empty(t, faults)
		sheets := Write(p, Format{})
		q, faults := Read(folder(sheets), "lid")
		require.Empty(t, lines(faults))
		require.Equal(t, said(p), said(q))
		require.Equal(t, sheets, Write(q, Format{}))
	})
}

// FuzzConditions: any cell gives a list of a plan file or words why not.
func FuzzConditions(f *testing.F) {
	for _, s := range []string{"a or (b and c); part x is off", "seats a:1..4+b are out", "((", "some x", "or and", "\"; \\"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, cell string) {
		got, err := conditions(cell, true)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.Equal(t, byte('['), got[0])
	})
}

// TestBrambleSheets: the second demo plan as a builder's sheets in inches is
// the plan, and is what Write makes of it.
func TestBrambleSheets(t *testing.T) {
	p := load(t, "bramble-t2-42.yaml")
	q, faults := Check(os.DirFS(plansFolder+"bramble-t2-42"), "")
	require.NotNil(t, q, "%v", lines(faults))
	require.Equal(t, said(p), said(q))
	for _, x := range faults {
		require.Equal(t, plan.Unknown, x.Level, "%s", x)
	}
	for name, data := range Write(p, Format{Length: "in", Torque: "lbf.ft"}) {
		src, err := os.ReadFile(filepath.Join(plansFolder, "bramble-t2-42", name))
		require.NoError(t, err)
		require.Equal(t, string(data), string(src), name)
	}
}

// FuzzPlan takes plans of any bytes through sheets: what says nothing that
// sheets cannot hold comes back unchanged.
func FuzzPlan(f *testing.F) {
	for _, file := range []string{"small.yaml", "bramble-t2-42.yaml"} {
		src, err := os.ReadFile(filepath.Join(plansFolder, file))
		require.NoError(f, err)
		f.Add(src)
	}
	f.Add([]byte(tricky))
	f.Add([]byte("plan: {id: a}\nparts: [{id: b, seats: {at: [1, 2], set: 3}}]\nsteps: {on: [{id: c, fits: [b], when: [{any: [{part: b, is: off}, {all: [c, c]}]}]}]}\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		p, err := plan.Parse("fuzz", src)
		if err != nil {
			return
		}
		q, faults := Read(folder(Write(p, Format{})), "fuzz")
		require.Empty(t, lines(faults))
		require.Equal(t, said(p), said(q))
	})
}
