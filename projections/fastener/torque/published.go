package torque

import (
	"fmt"
	"strings"

	"countback/projections/fastener"
)

// Published is one line of a public torque table: a range for a thread, the
// state of the threads that it holds for, and where it stands.
type Published struct {
	Thread   string // 1/4-28, or 1/4 where the table has one value for all threads of a size
	Class    string // grade 5; empty where the table does not say
	Low      Value
	High     Value
	State    Lubricant
	Kind     string // what the line is for, in words
	Source   string
	MaxKnown bool  // Max is in the table
	Max      Value // never to be passed
}

const (
	faa      = "FAA AC 43.13-1B table 7-1"
	armyF1   = "TM 9-2320-362-14&P table F-1"
	armyTen  = "TM 5-3810-294-34 table 1-2"
	dryLubed = "a machine maker's manual, m-752-02r1 p. 8, at manualshive.com"
)

// Nuts of the FAA's table.
const (
	InTension = "aircraft bolt, nut in tension"
	InShear   = "aircraft bolt, nut in shear"
)

// faaRow is a thread with the recommended torque of tension and shear nuts and
// the most for each, in lbf.in on cadmium plate without oil.
type faaRow struct {
	thread        string
	tension       [2]int64
	shear         [2]int64
	maxTen, maxSh int64
}

// The shear range of 5/8-18 is printed 600 to 780; all other rows have 0.6 of
// the tension range, so 660 is what is meant.
var faaRows = []faaRow{
	{"#8-36", [2]int64{12, 15}, [2]int64{7, 9}, 20, 12}, {"#10-32", [2]int64{20, 25}, [2]int64{12, 15}, 40, 25},
	{"1/4-28", [2]int64{50, 70}, [2]int64{30, 40}, 100, 60}, {"5/16-24", [2]int64{100, 140}, [2]int64{60, 85}, 225, 140},
	{"3/8-24", [2]int64{160, 190}, [2]int64{95, 110}, 390, 240}, {"7/16-20", [2]int64{450, 500}, [2]int64{270, 300}, 840, 500},
	{"1/2-20", [2]int64{480, 690}, [2]int64{290, 410}, 1100, 660}, {"9/16-18", [2]int64{800, 1000}, [2]int64{480, 600}, 1600, 960},
	{"5/8-18", [2]int64{1100, 1300}, [2]int64{660, 780}, 2400, 1400}, {"3/4-16", [2]int64{2300, 2500}, [2]int64{1300, 1500}, 5000, 3000},
	{"#8-32", [2]int64{12, 15}, [2]int64{7, 9}, 20, 12}, {"#10-24", [2]int64{20, 25}, [2]int64{12, 15}, 35, 21},
	{"1/4-20", [2]int64{40, 50}, [2]int64{25, 30}, 75, 45}, {"5/16-18", [2]int64{80, 90}, [2]int64{48, 55}, 160, 100},
	{"3/8-16", [2]int64{160, 185}, [2]int64{95, 100}, 275, 170}, {"7/16-14", [2]int64{235, 255}, [2]int64{140, 155}, 475, 280},
	{"1/2-13", [2]int64{400, 480}, [2]int64{240, 290}, 880, 520}, {"9/16-12", [2]int64{500, 700}, [2]int64{300, 420}, 1100, 650},
	{"5/8-11", [2]int64{700, 900}, [2]int64{420, 540}, 1500, 900},
}

// sizeRow is a size or thread with ranges in lbf.ft by grade 5 and grade 8.
type sizeRow struct {
	thread string
	g5, g8 [2]int64
}

// f1Rows are for clean dry threads, within 10 % unless stated.
var f1Rows = []sizeRow{
	{"1/4", [2]int64{6, 6}, [2]int64{10, 10}}, {"5/16", [2]int64{15, 15}, [2]int64{21, 21}},
	{"3/8", [2]int64{26, 26}, [2]int64{37, 37}}, {"7/16", [2]int64{43, 43}, [2]int64{60, 60}},
	{"1/2", [2]int64{65, 65}, [2]int64{90, 90}}, {"9/16", [2]int64{90, 90}, [2]int64{130, 130}},
	{"5/8", [2]int64{130, 130}, [2]int64{178, 178}}, {"3/4", [2]int64{185, 185}, [2]int64{260, 260}},
	{"7/8", [2]int64{300, 300}, [2]int64{420, 420}}, {"1", [2]int64{440, 440}, [2]int64{635, 635}},
}

// oiledRows are for oiled threads; the least is used for bolts and nuts that
// have been in service.
var oiledRows = []sizeRow{
	{"1/4", [2]int64{9, 10}, [2]int64{12, 14}}, {"5/16", [2]int64{19, 21}, [2]int64{27, 30}},
	{"3/8", [2]int64{33, 37}, [2]int64{45, 50}}, {"7/16", [2]int64{53, 60}, [2]int64{75, 85}},
	{"1/2", [2]int64{80, 90}, [2]int64{115, 130}}, {"9/16", [2]int64{115, 130}, [2]int64{160, 180}},
	{"5/8", [2]int64{160, 180}, [2]int64{220, 250}},
}

// pairRow is a thread with the torque of grade 5 dry and lubricated in lbf.ft.
type pairRow struct {
	thread     string
	dry, lubed int64
}

var pairRows = []pairRow{{"1/4-20", 8, 6}, {"3/8-16", 31, 23}, {"1/2-13", 75, 57}, {"5/8-11", 150, 115}}

var published = publish()

func publish() []Published {
	var list []Published
	inch := func(n int64) Value { return Value{digits: n, unit: PoundInch} }
	foot := func(n int64) Value { return Value{digits: n, unit: PoundFoot} }
	for _, r := range faaRows {
		list = append(list,
			Published{Thread: r.thread, Low: inch(r.tension[0]), High: inch(r.tension[1]), State: Cadmium, Kind: InTension, Source: faa, MaxKnown: true, Max: inch(r.maxTen)},
			Published{Thread: r.thread, Low: inch(r.shear[0]), High: inch(r.shear[1]), State: Cadmium, Kind: InShear, Source: faa, MaxKnown: true, Max: inch(r.maxSh)})
	}
	bySize := func(rows []sizeRow, state Lubricant, kind, source string) {
		for _, r := range rows {
			list = append(list,
				Published{Thread: r.thread, Class: "grade 5", Low: foot(r.g5[0]), High: foot(r.g5[1]), State: state, Kind: kind, Source: source},
				Published{Thread: r.thread, Class: "grade 8", Low: foot(r.g8[0]), High: foot(r.g8[1]), State: state, Kind: kind, Source: source})
		}
	}
	bySize(f1Rows, Dry, "bolts and nuts in general, within 10 %", armyF1)
	bySize(oiledRows, Oil, "bolts and nuts in general; the least where they have been in service", armyTen)
	for _, r := range pairRows {
		list = append(list,
			Published{Thread: r.thread, Class: "grade 5", Low: foot(r.dry), High: foot(r.dry), State: Dry, Kind: "bolts in general", Source: dryLubed},
			Published{Thread: r.thread, Class: "grade 5", Low: foot(r.lubed), High: foot(r.lubed), State: Lubricated, Kind: "bolts in general", Source: dryLubed})
	}
	return list
}

// Tables are the lines of public tables for a kind of fastener, in a fixed
// order: those for its thread or its size, of its grade. A line that does not
// say a grade is for aircraft bolts, which have none of the grades; it is
// given where the fastener's class is not known. None where no table has it.
func Tables(s fastener.Spec) []Published {
	var list []Published
	if s.Thread.System != fastener.Inch {
		return nil
	}
	thread := s.Thread.String()
	for _, p := range published {
		if p.Class != s.Class || p.Thread != thread && p.Thread != s.Thread.Size {
			continue
		}
		list = append(list, p)
	}
	return list
}

// String is the line with its state and its source.
func (p Published) String() string {
	text := p.Low.String()
	if p.High != p.Low {
		text = p.Low.number() + " to " + p.High.String()
	}
	if p.MaxKnown {
		text += ", never above " + p.Max.String()
	}
	return fmt.Sprintf("%s: %s, %s, %s (%s); %s", strings.TrimSpace(p.Thread+" "+p.Class), text, p.State, p.Kind, p.Source, Deference)
}

// breakaway is the least torque that a self-locking nut must need to start
// turning back on its own thread, in tenths of a lbf.in.
var breakaway = map[string]int64{
	"#10-32": 20, "1/4-28": 35, "5/16-24": 65, "3/8-24": 95, "7/16-20": 140, "1/2-20": 180,
	"9/16-18": 240, "5/8-18": 320, "3/4-16": 500,
}

// Breakaway is the least torque at which a self-locking nut of this thread may
// start to turn back and still be used again; false where no table has it (TM
// 10-4320-346-12&P table H-2, TM 5-4310-384-13 table G-1).
func Breakaway(t fastener.Thread) (Value, bool) {
	n, ok := breakaway[t.String()]
	return Value{digits: n, decimals: 1, unit: PoundInch}, ok && t.System == fastener.Inch
}

// NutVerdict is whether a self-locking nut may be used again.
type NutVerdict struct {
	Known    bool // a least torque is known for its thread
	Again    bool
	Thread   fastener.Thread
	Measured Value
	Least    Value
}

// NutAgain holds the measured breakaway torque of a self-locking nut against
// the least one. Where that is not known it says so.
func NutAgain(t fastener.Thread, measured Value) NutVerdict {
	least, ok := Breakaway(t)
	return NutVerdict{Known: ok, Again: ok && measured.Nm() >= least.Nm(), Thread: t, Measured: measured, Least: least}
}

// String says whether it may be used again, with both torques.
func (v NutVerdict) String() string {
	switch {
	case !v.Known:
		return fmt.Sprintf("%s nut, breaks away at %s: no least torque known for this thread; take a new one, or ask the maker", v.Thread, v.Measured)
	case v.Again:
		return fmt.Sprintf("%s nut, breaks away at %s, %s wanted: it may be used again", v.Thread, v.Measured, v.Least)
	}
	return fmt.Sprintf("%s nut, breaks away at %s, %s wanted: do not use it again", v.Thread, v.Measured, v.Least)
}
