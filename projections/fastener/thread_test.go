package fastener

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Stress areas of metric threads in mm², to the three figures printed. Coarse:
// ISO 898-1:2013 Tables 4 and 5, in four agreeing reproductions; fine: Table 6,
// from memory.
func TestStressAreaMetric(t *testing.T) {
	for _, row := range []struct {
		thread         string
		d2, d3, area   float64
		printed, digit float64
	}{
		{"M5x0.8", 4.480, 4.019, 14.1825, 14.2, 0.05},
		{"M6x1", 5.350, 4.773, 20.1234, 20.1, 0.05},
		{"M7x1", 6.350, 5.773, 28.8598, 28.9, 0.05},
		{"M8x1.25", 7.188, 6.466, 36.6085, 36.6, 0.05},
		{"M10x1.5", 9.026, 8.160, 57.9896, 58.0, 0.05},
		{"M12x1.75", 10.863, 9.853, 84.2665, 84.3, 0.05},
		{"M14x2", 12.701, 11.546, 115.4394, 115, 0.5},
		{"M16x2", 14.701, 13.546, 156.6684, 157, 0.5},
		{"M8x1", 7.350, 6.773, 39.1671, 39.2, 0.05},
		{"M10x1.25", 9.188, 8.466, 61.1986, 61.2, 0.05},
		{"M10x1", 9.350, 8.773, 64.4940, 64.5, 0.05},
		{"M12x1.25", 11.188, 10.466, 92.0718, 92.1, 0.05},
		{"M12x1.5", 11.026, 10.160, 88.1260, 88.1, 0.05},
		{"M14x1.5", 13.026, 12.160, 124.5456, 125, 0.5},
		{"M16x1.5", 15.026, 14.160, 167.2483, 167, 0.5},
	} {
		th := thread(t, row.thread)
		area, ok := th.StressAreaMm2()
		require.True(t, ok)
		require.InDelta(t, row.printed, area, row.digit, row.thread)
		require.InDelta(t, row.area, area, 0.0002, row.thread)
		require.InDelta(t, row.d2, th.PitchDiameterMm(), 0.0006, row.thread)
		require.InDelta(t, row.d3, th.RootDiameterMm(), 0.0006, row.thread)
	}
}

// Stress areas of inch threads in in², as reproduced from ASME B1.1 by three
// reference tables. 5/16-24 is printed as .0580 and .0581.
func TestStressAreaInch(t *testing.T) {
	for _, row := range []struct {
		thread         string
		printed, digit float64
	}{
		{"1/4-20", .0318, .00006}, {"1/4-28", .0364, .00006},
		{"5/16-18", .0524, .00006}, {"5/16-24", .0581, .00006},
		{"3/8-16", .0775, .00006}, {"3/8-24", .0878, .00006},
		{"7/16-14", .1063, .00006}, {"7/16-20", .1187, .00006},
		{"1/2-13", .1419, .00006}, {"1/2-20", .1599, .00006},
		{"9/16-12", .182, .0006}, {"9/16-18", .203, .0006},
		{"5/8-11", .226, .0006}, {"5/8-18", .256, .0006},
	} {
		area, ok := thread(t, row.thread).StressAreaIn2()
		require.True(t, ok)
		require.InDelta(t, row.printed, area, row.digit, row.thread)
	}
}

// The metric coefficient on an inch thread is the usual mistake: 1.8 % high.
func TestStressAreaInchIsNotMetric(t *testing.T) {
	inch := thread(t, "1/4-20")
	metric := inch
	metric.System = Metric
	right, _ := inch.StressAreaIn2()
	wrong, _ := metric.StressAreaIn2()
	require.InDelta(t, 0.03239, wrong, 0.00001)
	require.InDelta(t, 1.018, wrong/right, 0.001)
}

func TestStressAreaUnknown(t *testing.T) {
	for _, th := range []Thread{{}, thread(t, "R1/8"), thread(t, "3/8 NPT"), {System: Metric, DiameterMm: 1, PitchMm: 2}} {
		_, ok := th.StressAreaMm2()
		require.False(t, ok, th.String())
	}
}

// Any diameter and pitch has its area between the root circle and the full one.
func TestStressAreaAnyThread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(1, 100).Draw(t, "d")
		p := rapid.Float64Range(0.05, 0.25).Draw(t, "p") * d
		th := Thread{System: Metric, DiameterMm: d, PitchMm: p}
		area, ok := th.StressAreaMm2()
		require.True(t, ok)
		mean := (th.PitchDiameterMm() + th.RootDiameterMm()) / 2
		require.InEpsilon(t, 0.7853981634*mean*mean, area, 1e-6)
		finer := th
		finer.PitchMm = p * 0.9
		more, _ := finer.StressAreaMm2()
		require.Greater(t, more, area)
	})
}

func TestCoarseAndUnifiedTablesAgreeWithTheirSizes(t *testing.T) {
	for d, p := range coarsePitchMm {
		require.LessOrEqual(t, p, d/4, "M%v", d)
	}
	for size, row := range unifiedTPI {
		for _, tpi := range []float64{row.coarse, row.fine, row.extra} {
			if tpi > 0 {
				th := thread(t, size+"-"+decimal(tpi))
				require.Equal(t, size, th.Size)
				require.Equal(t, size+"-"+decimal(tpi), th.String())
			}
		}
	}
	for size := range pipeISO {
		require.Equal(t, "G"+size, thread(t, "G"+size).String())
		require.Equal(t, size+" NPT", thread(t, size+" NPT").String())
	}
}
