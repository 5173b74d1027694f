package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/projections/plan"
)

// lid is the sheets of a lid on a box, as a builder might keep them: names
// with blanks, semicolons and decimal commas in one, inches in another.
func lid() map[string]string {
	return map[string]string{
		"Parts.csv": "ID;Name;In;Root;Re-use;Under\nBox;;;yes;;\nOil pan;Oil pan, pressed;Box;;;\ngasket;;Box;;new;Oil pan\n",
		"holes.csv": "Joint;Holes;In;Clamps;Fastener;Grip (mm);Depth (mm);Thread in\n" +
			"pan;1..3;Box;gasket, Oil pan;M6x1,0x20 8.8 flange;8,5;16;aluminium\n" +
			"pan;4;Box;gasket, Oil pan;M6x1,0x20 8.8 flange;8,5;16;aluminium\n",
		"steps.csv": "section,id,when,takes out,removes,fits,fastens,minutes\n" +
			"off,pan off,,pan,\"Oil pan, gasket\",,,10\n" +
			"on,pan on,part Oil pan is off,,,\"gasket, Oil pan\",pan,15\n",
		"loans.csv": "id,count,stops\nrag,as-counted,pan on\n",
	}
}

func readText(files map[string]string) (*plan.Plan, []Fault) {
	raw := map[string][]byte{}
	for name, text := range files {
		raw[name] = []byte(text)
	}
	return Read(folder(raw), "Lid on a box")
}

func lines(list []Fault) []string {
	out := []string{}
	for _, f := range list {
		out = append(out, f.String())
	}
	return out
}

func TestBuildersSheets(t *testing.T) {
	p, faults := readText(lid())
	require.Empty(t, lines(faults))
	require.Equal(t, "lid-on-a-box", p.ID)
	require.Equal(t, "Lid on a box", p.Family)
	require.Equal(t, "lid-on-a-box.yaml", p.File)
	pan, ok := p.Part("oil-pan")
	require.True(t, ok, "Oil pan is oil-pan")
	require.Equal(t, "Oil pan, pressed", p.Parts[pan].Name)
	require.Len(t, p.Seats, 4)
	require.Equal(t, "M6x1.0x20 8.8 flange", string(p.Seats[0].Members[0].Kind))
	mm, _ := p.Seats[0].Grip.Mm()
	require.InDelta(t, 8.5, mm, 1e-12)
	step, _ := p.Step("pan-on")
	require.Equal(t, []plan.StepIndex{step}, p.Loans[0].Stops.Steps)
}

// TestFaults changes one thing of the sheets each time; what comes is every
// fault, by sheet, row and column.
func TestFaults(t *testing.T) {
	for _, x := range []struct {
		name, file, text string
		want             []string
	}{
		{"a column that no sheet has", "loans.csv", "id,cuont,stops\nrag,1,pan on\n", []string{`loans.csv row 1, column B "cuont": no column of loans has this name; did you mean "count"?`}},
		{"a column twice", "loans.csv", "id,count,Count,stops\nrag,1,1,pan on\n", []string{`loans.csv row 1, column C "Count": this column is there already`}},
		{"a column that is needed", "loans.csv", "name,count\nrag,1\n", []string{"loans.csv row 1: no column id"}},
		{"no unit", "holes.csv", "joint,holes,in,clamps,fastener,grip\npan,1,Box,Oil pan,M6x20,8\n", []string{`holes.csv row 1, column F "grip": say the unit: grip (mm)`}},
		{"a unit of something else", "holes.csv", "joint,holes,in,clamps,fastener,grip (N.m)\npan,1,Box,Oil pan,M6x20,8\n", []string{`holes.csv row 1, column F "grip (N.m)": the unit is N.m; mm, cm, in are lengths`}},
		{"a unit where none is", "loans.csv", "id,count (mm)\nrag,1\n", []string{`loans.csv row 1, column B "count (mm)": this column has no unit`}},
		{"a length that is none", "holes.csv", "joint,holes,in,clamps,fastener,grip (in),depth (in)\npan,1,Box,Oil pan,M6x20,3/0,1.000,5\n\npan,2,Box,Oil pan,M6x20,1 1/x,about 2\n", []string{
			`holes.csv row 2, column F "grip (in)": "3/0" is no length, and not unknown`,
			`holes.csv row 2, column H: this column has no name in the first row`,
			`holes.csv row 4, column F "grip (in)": "1 1/x" is no length, and not unknown`,
			`holes.csv row 4, column G "depth (in)": "about 2" is no length, and not unknown`,
		}},
		{"places of holes", "holes.csv", "joint,holes,x (mm),y (mm),in,clamps,fastener\npan,1..3,0; 40; 80,\"0; 0\",Box,Oil pan,M6x20\npan,4,12 left,0,Box,Oil pan,M6x20\npan,5,12,,Box,Oil pan,M6x20\npan,6,,12,Box,Oil pan,M6x20\n", []string{
			`holes.csv row 2, column D "y (mm)": 3 numbers under x and 2 under y; one of each is wanted for each hole`,
			`holes.csv row 3, column C "x (mm)": "left" is no length, and not unknown`,
			`holes.csv row 4, column C "x (mm)": x without y; both are wanted, or neither`,
			`holes.csv row 5, column D "y (mm)": y without x; both are wanted, or neither`,
		}},
		{"places of holes that the plan refuses", "holes.csv", "joint,holes,x (cm),y (cm),in,clamps,fastener\npan,1..2,\"0; 4; 8\",\"0; 0; 0\",Box,Oil pan,M6x20\npan,3,501,0,Box,Oil pan,M6x20\npan,4..5,1; 1,2; 2,Box,Oil pan,M6x20\n", []string{
			`holes.csv row 2, column C "x (cm)": joint pan: hole 1: xy has 3 places for 2 holes; one for each is wanted, or unknown`,
			`holes.csv row 3, column C "x (cm)": joint pan: hole 3: xy of hole 3: two numbers from -5000 to 5000 millimetres are wanted, or unknown`,
			`holes.csv row 4, column C "x (cm)": joint pan: xy: holes 4 and 5 are on the same spot, 10, 20`,
		}},
		{"ids that are not there", "steps.csv", "section,id,when,takes out,removes,fits,fastens\noff,pan off,,pna,\"oil-pna, gasket\",,\non,pan on,part oil-pan is offf,,,oil-pan,pan:1,5\n", []string{
			`steps.csv row 2, column D "takes out": step pan-off: takes-out: no joint "pna" in this plan; did you mean "pan"?`,
			`steps.csv row 2, column E "removes": step pan-off: removes: no part "oil-pna" in this plan; did you mean "oil-pan"?`,
			`steps.csv row 3, column C "when": step pan-on: when: is is "offf"; one of on, off, away, here is wanted; did you mean "off"?`,
			`steps.csv row 3, column H: this column has no name in the first row`,
		}},
		{"a hole that is not there", "steps.csv", "section,id,takes out,removes,fits,fastens\noff,pan off,\"pan:1..4\",oil-pan; gasket,,\non,pan on,,,oil-pan; gasket,\"pan:1, 55\"\n", []string{
			`steps.csv row 3, column F "fastens": step pan-on: fastens: pan: no hole "55"`,
		}},
		{"conditions that are none", "steps.csv", "section,id,when,takes out,removes,fits,fastens\noff,pan off,prt oil-pan is off,pan,oil-pan; gasket,,\non,pan on,(part oil-pan is off or,,,oil-pan; gasket,pan\noff,x,loan is in,,,,\non,y,pan-off pan-on,,,,\n", []string{
			`steps.csv row 2, column C "when": "prt oil-pan is off" is no condition: a step, or one of part, seats, some, loan, cavity, mark, step and what is asked of it; did you mean "part"?`,
			`steps.csv row 3, column C "when": a condition is missing`,
			`steps.csv row 4, column C "when": "loan in": which one, or what is asked of it, is missing`,
			`steps.csv row 5, column C "when": "pan-off pan-on" is no condition: a step, or one of part, seats, some, loan, cavity, mark, step and what is asked of it`,
		}},
		{"sections and flags", "steps.csv", "section,id,takes out,removes,fits,fastens,turns\nof,pan off,pan,oil-pan; gasket,,,\non,pan on,,,oil-pan; gasket,pan,perhaps\n,z,,,,,\n", []string{
			`steps.csv row 2, column A "section": section is of; off, bench or on is wanted; did you mean "off"?`,
			`steps.csv row 3, column G "turns": "perhaps" is neither yes nor no`,
			`steps.csv row 4, column A "section": section is missing`,
		}},
		{"a part twice", "Parts.csv", "id,in,root\nBox,,yes\noil-pan,Box,\ngasket,Box,\nOil pan,Box,\n", []string{
			`Parts.csv row 5: part oil-pan: this id is given already in Parts.csv row 3`,
		}},
		{"a stack that is none", "holes.csv", "joint,holes,in,stack,grip (in)\npan,1,Box,stdu 3/8-16x2 > nut 3/8-16,1\npan,2,Box,\"clamps oil-pan > bolt 3/8-16x2 [heigth 0,3]\",1\npan,3,Box,clamps oil-pan > bolt,1\npan,4,Box,bolt M6x20 [stays,1\npan,5,Box,bolt M6x20,1\n", []string{
			`holes.csv row 2, column D "stack": "stdu 3/8-16x2": one of clamps, stud, bolt, nut, washer is wanted first; did you mean "stud"?`,
			`holes.csv row 3, column D "stack": "heigth 0,3": one of stays, reuse, run-in, height, feature, way round is wanted; did you mean "height"?`,
			`holes.csv row 4, column D "stack": bolt: its spec is missing`,
			`holes.csv row 5, column D "stack": bolt: a square bracket is not closed`,
		}},
		{"a quotation mark", "loans.csv", "id,note\nrag,\"never closed\n", []string{"loans.csv row 2: a quotation mark that is never closed"}},
		{"another coding", "loans.csv", "id,note\nrag,gr\xfcn\n", []string{"loans.csv: not in UTF-8; save it as CSV UTF-8"}},
		{"empty", "loans.csv", "\n,,\n", []string{"loans.csv: empty; the first row names the columns"}},
		{"a sheet that no plan has", "lones.csv", "id\n", []string{`lones.csv: no sheet of a plan has this name; one of plan, parts, joints, holes, variants, cavities, marks, loans, gates, audit-points, tightening, measurements, run-readings, obligations, kits, prices, steps; did you mean "loans.csv"?`}},
		{"keys of the plan", "plan.csv", "key,value\nfamliy,Lid\nedition,one\nid,lid\nid,lid2\n", []string{
			`plan.csv row 2, column A "key": plan.csv has no key famliy; did you mean "family"?`,
			`plan.csv row 4: plan: edition is "one"; a whole number from 1 to 1000000 is wanted`,
			`plan.csv row 5, column A "key": id is there already`,
		}},
		{"tightening", "tightening.csv", "id,seats,member,torque (lbf.ft),angle (deg)\npan,pan,,15,90\npan,pan,nut,about 20,\nother,,,20,\n", []string{
			`tightening.csv row 2: tightening pan: group: stage: it is torque and angle; a stage is one of them`,
			`tightening.csv row 3, column C "member": member stands in the first row of pan, or is the same`,
			`tightening.csv row 3, column D "torque (lbf.ft)": "about 20" is no torque, and not unknown`,
			`tightening.csv row 4, column B "seats": seats is missing`,
		}},
	} {
		files := lid()
		if x.file != "Parts.csv" && x.file != "plan.csv" {
			delete(files, x.file)
		}
		files[x.file] = x.text
		t.Run(x.name, func(t *testing.T) {
			p, faults := readText(files)
			require.Nil(t, p)
			require.Equal(t, x.want, lines(faults))
		})
	}
}

func TestEmptyFolder(t *testing.T) {
	p, faults := Read(folder(nil), "x")
	require.Nil(t, p)
	require.Equal(t, []string{"no sheets here: parts.csv, holes.csv, steps.csv and loans.csv are wanted"}, lines(faults))
}

// TestCheck: what the plan's own check finds comes back to the rows.
func TestCheck(t *testing.T) {
	files := lid()
	raw := map[string][]byte{}
	for name, text := range files {
		raw[name] = []byte(text)
	}
	raw["steps.csv"] = []byte("section,id,when,takes out,removes,fits,fastens\noff,pan off,,pan,Oil pan,,\non,pan on,,,,\"gasket, Oil pan\",pan\n")
	p, faults := Check(folder(raw), "lid")
	require.NotNil(t, p)
	require.Equal(t, []string{
		"Parts.csv row 4: part gasket: no step takes it off; name it in removes, or say that it stays",
		"loans.csv row 2: loan rag: no step takes it out",
	}[:1], lines(faults)[:1])
	for _, f := range faults {
		require.Positive(t, f.Row, "%s", f)
	}
}

// TestPlacesInInches: fractions, decimal commas and what nobody measured.
func TestPlacesInInches(t *testing.T) {
	files := lid()
	files["holes.csv"] = "joint;holes;x (in);y (in);in;clamps;fastener\npan;1..3;\"0; 1-1/2; ?\";\"0,5; 1,25; ?\";Box;gasket, Oil pan;M6x20\npan;4;\"25,4 mm\";2;Box;gasket, Oil pan;M6x20\n"
	p, faults := readText(files)
	require.Empty(t, lines(faults))
	want := []plan.XY{{X: 0, Y: 12.7, Known: true}, {X: 38.1, Y: 31.75, Known: true}, {}, {X: 25.4, Y: 50.8, Known: true}}
	for i, xy := range want {
		require.Equal(t, xy, p.Seats[i].XY, "hole %d", i+1)
	}
}
