package labels

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
	"countback/labels/peer"
	"countback/labels/symbol"
)

// One bag label drawn, encoded as PNG and read back, against the zint program
// drawing the same Code 128 and zbarimg reading it: two processes for one of
// the two symbols.
func BenchmarkBag(b *testing.B) {
	if !peer.Has(b, "zint") || !peer.Has(b, "zbarimg") {
		return
	}
	bag := frontCover(b)
	for _, dpi := range resolutions {
		b.Run(dpiName(dpi), func(b *testing.B) {
			m := Media{WidthMm: 100, HeightMm: 60, DPI: dpi}
			for b.Loop() {
				d, err := Draw(bag, m)
				require.NoError(b, err)
				_, err = d.PNG(0)
				require.NoError(b, err)
			}
			ours := b.Elapsed() / time.Duration(b.N)
			others := zintThenZbar(b, bag.Code)
			b.ReportMetric(float64(ours)/float64(others), "of-zint+zbarimg")
			b.ReportMetric(float64(ours.Microseconds())/1000, "ms/label")
		})
	}
}

func dpiName(d symbol.DPI) string {
	return map[symbol.DPI]string{203: "203dpi", 300: "300dpi", 600: "600dpi"}[d]
}

// zintThenZbar is how long the two programs take for one symbol, the shortest
// of a few times.
func zintThenZbar(b *testing.B, c code.Code) time.Duration {
	file := filepath.Join(b.TempDir(), "symbol.png")
	least := time.Hour
	for range 5 {
		start := time.Now()
		require.NoError(b, exec.Command("zint", "--barcode=CODE128", "--scale=2", "-o", file, "-d", string(c)).Run())
		out, err := exec.Command("zbarimg", "--nodbus", "-q", "--raw", "-Sdisable", "-Scode128.enable", file).Output()
		require.NoError(b, err)
		least = min(least, time.Since(start))
		require.Equal(b, string(c)+"\n", string(out))
		require.NoError(b, os.Remove(file))
	}
	return least
}
