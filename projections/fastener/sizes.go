package fastener

import "math"

const mmPerInch = 25.4

// coarsePitchMm is the coarse pitch of each metric diameter, ISO 261 (from
// memory).
var coarsePitchMm = map[float64]float64{
	1: 0.25, 1.1: 0.25, 1.2: 0.25, 1.4: 0.3, 1.6: 0.35, 1.8: 0.35,
	2: 0.4, 2.2: 0.45, 2.5: 0.45, 3: 0.5, 3.5: 0.6, 4: 0.7, 4.5: 0.75,
	5: 0.8, 6: 1, 7: 1, 8: 1.25, 9: 1.25, 10: 1.5, 11: 1.5, 12: 1.75,
	14: 2, 16: 2, 18: 2.5, 20: 2.5, 22: 2.5, 24: 3, 27: 3, 30: 3.5,
	33: 3.5, 36: 4, 39: 4, 42: 4.5, 45: 4.5, 48: 5, 52: 5, 56: 5.5,
	60: 5.5, 64: 6,
}

// series is the threads per inch of one unified size, 0 where there is none.
type series struct{ coarse, fine, extra float64 }

// unifiedTPI is UNC, UNF and UNEF by size, ASME B1.1 (from memory).
var unifiedTPI = map[string]series{
	"#0": {0, 80, 0}, "#1": {64, 72, 0}, "#2": {56, 64, 0}, "#3": {48, 56, 0},
	"#4": {40, 48, 0}, "#5": {40, 44, 0}, "#6": {32, 40, 0}, "#8": {32, 36, 0},
	"#10": {24, 32, 0}, "#12": {24, 28, 32},
	"1/4": {20, 28, 32}, "5/16": {18, 24, 32}, "3/8": {16, 24, 32},
	"7/16": {14, 20, 28}, "1/2": {13, 20, 28}, "9/16": {12, 18, 24},
	"5/8": {11, 18, 24}, "3/4": {10, 16, 20}, "7/8": {9, 14, 20},
	"1": {8, 12, 20}, "1-1/8": {7, 12, 18}, "1-1/4": {7, 12, 18},
	"1-3/8": {6, 12, 18}, "1-1/2": {6, 12, 18}, "1-3/4": {5, 0, 0}, "2": {4.5, 0, 0},
}

// pipeSize is the outside diameter and threads per inch of one pipe thread.
type pipeSize struct{ diameterMm, tpi float64 }

// pipeISO is ISO 7-1 and ISO 228-1 by nominal size (from memory).
var pipeISO = map[string]pipeSize{
	"1/16": {7.723, 28}, "1/8": {9.728, 28}, "1/4": {13.157, 19}, "3/8": {16.662, 19},
	"1/2": {20.955, 14}, "3/4": {26.441, 14}, "1": {33.249, 11}, "1-1/4": {41.91, 11},
	"1-1/2": {47.803, 11}, "2": {59.614, 11},
}

// pipeNPT is ASME B1.20.1 by nominal size (from memory).
var pipeNPT = map[string]pipeSize{
	"1/16": {7.938, 27}, "1/8": {10.287, 27}, "1/4": {13.716, 18}, "3/8": {17.145, 18},
	"1/2": {21.336, 14}, "3/4": {26.67, 14}, "1": {33.401, 11.5}, "1-1/4": {42.164, 11.5},
	"1-1/2": {48.26, 11.5}, "2": {60.325, 11.5},
}

// pipe is the thread of one pipe system and nominal size.
func pipe(system System, size string) (Thread, bool) {
	table := pipeISO
	if system == PipeNPT || system == PipeNPTF {
		table = pipeNPT
	}
	row, ok := table[size]
	if !ok {
		return Thread{}, false
	}
	return Thread{System: system, DiameterMm: row.diameterMm, PitchMm: mmPerInch / row.tpi, TPI: row.tpi, Size: size}, true
}

// nano rounds millimetres to a millionth, so that equal texts give equal
// numbers: a 64th of an inch is 0.396875 mm exactly.
func nano(mm float64) float64 { return math.Round(mm*1e6) / 1e6 }
