package index

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A table answers as a map does, whatever is put in, and so does its copy.
func TestTableIsAMap(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var table, other Table[string]
		plain := map[string]int32{}
		text := rapid.OneOf(rapid.StringN(0, 40, 60), rapid.SampledFrom([]string{"", "a", "bag/B2AAAAAA", "bag/B2AAAAAB", "fitted/head 1/exhaust", strings.Repeat("x", 300)}))
		for range rapid.IntRange(0, 120).Draw(rt, "steps") {
			switch rapid.IntRange(0, 9).Draw(rt, "step") {
			case 0:
				table.Reset()
				clear(plain)
			case 1:
				other.CopyFrom(&table)
				table, other = other, table
			case 4:
				table.Room(rapid.IntRange(0, 100).Draw(rt, "room"))
			case 2, 3:
				k, n := text.Draw(rt, "text"), rapid.Int32().Draw(rt, "number")
				was, had := plain[k]
				got, added := table.Add(k, n)
				require.Equal(rt, !had, added)
				if had {
					require.Equal(rt, was, got)
				} else {
					require.Equal(rt, n, got)
					plain[k] = n
				}
			default:
				k, n := text.Draw(rt, "text"), rapid.Int32().Draw(rt, "number")
				table.Put(k, n)
				plain[k] = n
			}
			require.Equal(rt, len(plain), table.Len())
			for k, n := range plain {
				got, ok := table.Get(k)
				require.True(rt, ok, k)
				require.Equal(rt, n, got)
			}
			k := text.Draw(rt, "text")
			_, is := plain[k]
			_, ok := table.Get(k)
			require.Equal(rt, is, ok)
		}
	})
}

// A copy is of its own: what is put into one is not in the other.
func TestCopyIsIndependent(t *testing.T) {
	var a, b Table[string]
	a.Put("one", 1)
	b.CopyFrom(&a)
	a.Put("two", 2)
	b.Put("one", 3)
	n, _ := a.Get("one")
	require.EqualValues(t, 1, n)
	_, ok := b.Get("two")
	require.False(t, ok)
}

// Texts that differ in one letter anywhere have sums that differ, as good as
// always: a job's labels and sizes are of that sort.
func TestSumsOfNearTexts(t *testing.T) {
	seen := map[uint32]int{}
	n := 0
	for i := range 60 {
		for c := range 26 {
			text := []byte(strings.Repeat("k", 60))
			text[i] = byte('A' + c)
			for _, size := range []int{i + 1, 60} {
				seen[sumOf(string(text[:size]))]++
				n++
			}
		}
	}
	require.Greater(t, len(seen), n-200, "the texts of 60 letters are met once for each letter")
}

// BenchmarkGet finds the names of a job, and compares with a Go map of the same.
func BenchmarkGet(b *testing.B) {
	var table Table[string]
	plain := map[string]int32{}
	var texts []string
	for i := range 256 {
		texts = append(texts, fmt.Sprintf("M%dx1.25x%d 8.8 flange", 6+i%7, i), fmt.Sprintf("bag/B2KCZ%03d", i))
	}
	for i, k := range texts {
		table.Put(k, int32(i))
		plain[k] = int32(i)
	}
	n := int32(0)
	b.ResetTimer()
	for i := range b.N {
		got, _ := table.Get(texts[i&511])
		n += got
	}
	mine := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
	start := time.Now()
	for i := range b.N {
		n += plain[texts[i&511]]
	}
	b.ReportMetric(float64(time.Since(start).Nanoseconds())/float64(b.N)/mine, "maps/table")
	_ = n
}
