package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/labels"
	"countback/labels/page"
	"countback/labels/peer"
	"countback/labels/sheet"
	"countback/labels/symbol"
	"countback/projections"
)

// demoDocuments draws everything of the demo's job for a resolution: the label
// of each bag as it was when the queue would have printed it, all tags, the job
// sheet, slip, hand-over, and the cards of the wall.
func demoDocuments(t *testing.T, dpi symbol.DPI) []page.Document {
	t.Helper()
	var list []page.Document
	add := func(d page.Document, err error) {
		require.NoError(t, err)
		list = append(list, d)
	}
	take := newTaker(settings{}, nil)
	seen := map[string]bool{}
	list2 := demoRecords(t)
	for i := range list2 {
		want, ok := take.wants(&list2[i])
		take.books.Apply(projections.Cursor(i+1), &list2[i])
		if !ok || seen[string(want.bag)] {
			continue
		}
		seen[string(want.bag)] = true
		w, c, err := take.books.bagWords(string(want.bag))
		require.NoError(t, err)
		add(labels.Draw(w.bag(c, 0), labels.Media{WidthMm: 100, HeightMm: 60, DPI: dpi}))
	}
	require.Greater(t, len(seen), 40)
	j, _ := take.books.Job(demoJob)
	w := take.books.words(demoJob, j)
	add(labels.Roll(w.tags([]string{"job", "parts", "positions", "loans", "sizes"}), labels.Media{WidthMm: 50, HeightMm: 30, DPI: dpi}))
	add(labels.Roll(w.tags([]string{"racks"}), labels.Media{WidthMm: 42, HeightMm: 30, DPI: dpi}))
	set := sheet.Settings{Paper: sheet.A4, DPI: dpi}
	add(drawCards(set, append(wallGroups(), w.sizeCards()...)))
	card, err := w.card()
	require.NoError(t, err)
	add(w.jobSheet(card).Draw(set))
	slip, err := w.slip("SHTBR6K7")
	require.NoError(t, err)
	add(slip.Draw(set))
	return list
}

// symbolsOf cuts the symbols of a kind out of documents, one file each, and
// lists their codes.
func symbolsOf(t *testing.T, kind symbol.Kind, list []page.Document) (files, codes []string) {
	t.Helper()
	dir := t.TempDir()
	for _, d := range list {
		for i := range d.Pages() {
			for _, s := range d.Page(i).Symbols() {
				if s.Kind != kind {
					continue
				}
				var b bytes.Buffer
				m := 4 * s.Module // some white around, as on paper
				require.NoError(t, d.Page(i).DrawPart(s.Zone.Inset(-m).Intersect(d.Page(i).Bounds())).WritePNG(&b, d.Page(i).DPI.PerMm()))
				file := filepath.Join(dir, fmt.Sprintf("%05d.png", len(files)))
				require.NoError(t, os.WriteFile(file, b.Bytes(), 0o600))
				files, codes = append(files, file), append(codes, string(s.Code))
			}
		}
	}
	return files, codes
}

// readBy lists what a program reads from files, in their order.
func readBy(t *testing.T, program string, args, files []string) []string {
	t.Helper()
	var texts []string
	for chunk := range slices.Chunk(files, 250) {
		out, err := exec.CommandContext(t.Context(), program, append(args, chunk...)...).Output()
		if err != nil && len(out) == 0 {
			require.NoError(t, err, program)
		}
		texts = append(texts, strings.Fields(string(out))...)
	}
	return texts
}

func TestEveryCodeOfTheDemoIsReadByOthers(t *testing.T) {
	for _, dpi := range []symbol.DPI{symbol.DPI203, symbol.DPI300, symbol.DPI600} {
		t.Run(fmt.Sprint(int(dpi)), func(t *testing.T) {
			t.Parallel()
			list := demoDocuments(t, dpi)
			bars, codes := symbolsOf(t, symbol.Linear, list)
			cells, same := symbolsOf(t, symbol.Matrix, list)
			require.Greater(t, len(codes), 800)
			require.ElementsMatch(t, codes, same, "every label has both symbols")
			start := time.Now()
			if peer.Has(t, "zbarimg") {
				require.Equal(t, codes, readBy(t, "zbarimg", []string{"--nodbus", "-q", "--raw", "-Sdisable", "-Scode128.enable"}, bars))
			}
			t.Log(len(codes), "codes; zbarimg", time.Since(start))
			start = time.Now()
			if peer.Has(t, "dmtxread") {
				require.Equal(t, same, readBy(t, "dmtxread", []string{"-n", "-N1", "-m2000"}, cells))
			}
			t.Log("dmtxread", time.Since(start))
			start = time.Now()
			if peer.Has(t, "ZXingReader") {
				require.Equal(t, same, zxing(t, cells))
			}
			t.Log("ZXingReader", time.Since(start))
		})
	}
}

// zxing lists what ZXingReader reads from files.
func zxing(t *testing.T, files []string) []string {
	var texts []string
	for _, line := range readBy(t, "ZXingReader", []string{"-1", "-format", "DataMatrix"}, files) {
		if len(line) >= 10 && strings.HasPrefix(line, `"`) && strings.HasSuffix(line, `"`) {
			texts = append(texts, strings.Trim(line, `"`))
		}
	}
	return texts
}
