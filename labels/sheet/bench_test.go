package sheet

import (
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/labels"
	"countback/labels/code"
	"countback/labels/peer"
)

// A sheet of 24 labels drawn, read back and made a PDF, against zint and
// zbarimg run 24 times each on the same codes.
func BenchmarkSheetOf24(b *testing.B) {
	if !peer.Has(b, "zint") || !peer.Has(b, "zbarimg") {
		return
	}
	var list []labels.Label
	var codes []code.Code
	for i := range 24 {
		c := issued(b, code.Part, uint32(i*2))
		codes = append(codes, c)
		list = append(list, labels.Tag{Code: c, Job: "4K7", Engine: "Sorrel I4-20", Position: "2 E", Name: "Graded bucket"})
	}
	for b.Loop() {
		d, err := Labels(A4Grid24, labels.Media{DPI: 300, MarginMm: 3}, list)
		require.NoError(b, err)
		_, err = d.PDF()
		require.NoError(b, err)
	}
	ours := b.Elapsed() / time.Duration(b.N)
	file := filepath.Join(b.TempDir(), "symbol.png")
	start := time.Now()
	for _, c := range codes {
		require.NoError(b, exec.Command("zint", "--barcode=CODE128", "--scale=2", "-o", file, "-d", string(c)).Run())
		out, err := exec.Command("zbarimg", "--nodbus", "-q", "--raw", "-Sdisable", "-Scode128.enable", file).Output()
		require.NoError(b, err)
		require.Equal(b, string(c)+"\n", string(out))
	}
	b.ReportMetric(float64(ours)/float64(time.Since(start)), "of-zint+zbarimg")
	b.ReportMetric(float64(ours.Microseconds())/1000, "ms/sheet")
}
