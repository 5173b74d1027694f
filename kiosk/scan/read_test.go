package scan

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/tool"
)

// shelf is a directory made of lists.
type shelf struct {
	labels map[code.Code]Found
	names  []Noun
}

func (s shelf) Label(c code.Code) Found { return s.labels[c] }

func (s shelf) Named(t Type, name string) []Noun {
	var found []Noun
	for _, n := range s.names {
		if (t == "" || n.Type == t) && n.ID == name {
			found = append(found, n)
		}
	}
	return found
}

func (s shelf) Fresh(code.Type) (events.Code, bool) { return "", false }
func (s shelf) PlanText(string) string              { return "" }
func (shelf) Near(t Type, name string) string {
	if t == Joint && name == "coilz" {
		return "coils"
	}
	return ""
}
func (shelf) InTray(events.Place) engine.TrayNow { return engine.TrayNow{} }
func (shelf) Tool(events.Tool) (tool.Tool, bool) { return tool.Tool{}, false }
func (shelf) Tools() []tool.Tool                 { return nil }
func (s shelf) Untagged() []events.Tag           { return nil }

func issued(t testing.TB, typ code.Type, n uint32) code.Code {
	i, err := code.NewIssuer("HT")
	require.NoError(t, err)
	c, _, ok := i.Next(typ, n)
	require.True(t, ok)
	return c
}

func number7(t testing.TB) string {
	c, ok := code.WholeNumber(7)
	require.True(t, ok)
	return string(c)
}

func desk(t testing.TB) shelf {
	return shelf{
		labels: map[code.Code]Found{
			issued(t, code.Bag, 0):   {State: Ours, Noun: Noun{Type: Bag, ID: "one"}},
			issued(t, code.Bag, 40):  {State: Blank, Noun: Noun{Type: Bag, ID: "new"}},
			issued(t, code.Bag, 80):  {State: Retired, Since: 5, By: "BHT"},
			issued(t, code.Bag, 120): {State: OtherJob, Noun: Noun{Type: Bag, ID: "other"}, Job: "4K9", Name: "the twin"},
		},
		names: []Noun{{Type: Joint, ID: "front-cover"}, {Type: Part, ID: "front-cover"}, {Type: Part, ID: "chain"}, {Type: Hole, ID: "front-cover:18"},
			{Type: Short, ID: "1"}, {Type: Badge, ID: "Marit"}, {Type: Size, ID: "locks"}},
	}
}

func TestRead(t *testing.T) {
	d := desk(t)
	undo, ok := Undo.Card()
	require.True(t, ok)
	for _, row := range []struct {
		name, line string
		want       Token
	}{
		{"an empty line of CR and LF", "\r\n", Token{}},
		{"a Tab", "\t", Token{}},
		{"a label", string(issued(t, code.Bag, 0)), Token{Kind: Saw, Noun: Noun{Type: Bag, ID: "one"}, Scan: true}},
		{"a label in small letters, blanks around it", " " + strings.ToLower(string(issued(t, code.Bag, 0))) + " ", Token{Kind: Saw, Noun: Noun{Type: Bag, ID: "one"}, Scan: true}},
		{"a label that is on nothing yet", string(issued(t, code.Bag, 40)), Token{Kind: Saw, Noun: Noun{Type: Bag, ID: "new", Blank: true}, Scan: true}},
		{"a bag by its code, typed with its type word", "bag " + string(issued(t, code.Bag, 0)), Token{Kind: Saw, Noun: Noun{Type: Bag, ID: "one"}, Scan: true}},
		{"a card", string(undo), Token{Kind: Said1, Word: Undo, Scan: true}},
		{"a card, typed", "all  out", Token{Kind: Said1, Word: AllOut}},
		{"a card with its question mark left out", "turn over", Token{Kind: Said1, Word: TurnOver}},
		{"a number card", number7(t), Token{Kind: Number, N: 7, Real: 7, Whole: true, Scan: true}},
		{"a number", "42", Token{Kind: Number, N: 42, Real: 42, Whole: true, Digits: "42"}},
		{"a reading with a comma", "0,34", Token{Kind: Number, Real: 0.34, Digits: "0.34"}},
		{"below the face", "-1.5", Token{Kind: Number, Real: -1.5, Digits: "-1.5"}},
		{"digits that end in naughts", "51.980", Token{Kind: Number, Real: 51.98, Digits: "51.980"}},
		{"a reading in inches", "2.0470 in", Token{Kind: Number, Real: 2.047, Digits: "2.0470", Unit: "in"}},
		{"a reading in thousandths of an inch", "2thou", Token{Kind: Number, Real: 2, Digits: "2", Unit: "thou"}},
		{"a reading of a warm part", "51,98 mm at 35 C", Token{Kind: Number, Real: 51.98, Digits: "51.98", Unit: "mm", Warm: 35}},
		{"a warm part in the usual unit", "51.98 at 35", Token{Kind: Number, Real: 51.98, Digits: "51.98", Warm: 35}},
		{"a pressure", "3.4 bar", Token{Kind: Number, Real: 3.4, Digits: "3.4", Unit: "bar"}},
		{"a number of what nobody measures in", "4 bananas", Token{Kind: Words}},
		{"hotter than any part is read", "51.98 mm at 900 C", Token{Kind: Words}},
		{"a digit", "DIGIT 4", Token{Kind: Digit, N: 4, Real: 4, Whole: true, Word: Digit4}},
		{"a joint", "joint front-cover", Token{Kind: Saw, Noun: Noun{Type: Joint, ID: "front-cover"}}},
		{"a part by its bare name", "chain", Token{Kind: Saw, Noun: Noun{Type: Part, ID: "chain"}}},
		{"a hole of the joint before it", "hole 18", Token{Kind: Saw, Noun: Noun{Type: Hole, ID: "18"}}},
		{"a hole with its joint", "hole front-cover 18", Token{Kind: Saw, Noun: Noun{Type: Hole, ID: "front-cover:18"}}},
		{"a short", "short 1", Token{Kind: Saw, Noun: Noun{Type: Short, ID: "1"}}},
		{"a badge", "badge Marit", Token{Kind: Saw, Noun: Noun{Type: Badge, ID: "Marit"}}},
		{"any place", "place third shelf", Token{Kind: Saw, Noun: Noun{Type: Place, ID: "third shelf"}}},
		{"a new job", "job 5A1", Token{Kind: Saw, Noun: Noun{Type: JobNoun, ID: "5A1", Blank: true}}},
		{"a size as people write it", "size m8 x 1.25 x 30 8.8 flange", Token{Kind: Saw, Noun: Noun{Type: Size, ID: "M8x1.25x30 8.8 flange"}}},
		{"a size without its type word", "M8x1.25x30", Token{Kind: Saw, Noun: Noun{Type: Size, ID: "M8x1.25x30"}}},
		{"a size that is a part", "size locks", Token{Kind: Saw, Noun: Noun{Type: Size, ID: "locks"}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := Read(row.line, d)
			got.Line, got.Letter, got.Noun.Code = "", "", ""
			require.Equal(t, row.want, got)
		})
	}
}

func TestReadWhatIsNoLabelOfThisJob(t *testing.T) {
	d := desk(t)
	broken := []byte(issued(t, code.Bag, 0))
	for broken[7]++; code.Check(string(broken[:7])) == broken[7] || strings.ContainsRune("0O1IL:", rune(broken[7])); broken[7]++ {
	}
	for _, row := range []struct {
		name, line string
		want       Kind
		why        string
	}{
		{"a wrong check character", string(broken), Misread, "check"},
		{"a good check that nobody issued", string(issued(t, code.Bag, 400)), NotOurs, "issued"},
		{"a label out of use", string(issued(t, code.Bag, 80)), Gone, ""},
		{"a label of another job", string(issued(t, code.Bag, 120)), AnotherJob, ""},
		{"a part maker's code", "4006381333931", Words, ""},
		{"a number that no shop counts", "123456", Words, ""},
		{"a joint that the plan has not", "joint backdoor", Foreign, "no joint here is called backdoor"},
		{"a joint misspelled", "joint coilz", Foreign, "no joint here is called coilz; the nearest is coils"},
		{"a hole that the joint has not", "hole front-cover:99", Foreign, "no hole here"},
		{"a type letter and a code of another type", "bag " + string(issued(t, code.Rack, 0)), Foreign, "no bag"},
		{"a job with a blank in its name", "job 5 A1", Foreign, "no job"},
		{"a name that two things have", "front-cover", Several, ""},
		{"anything else", "the bolt fell down", Words, ""},
		{"more than a line", strings.Repeat("x", MaxLine+1), Foreign, "too long"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := Read(row.line, d)
			require.Equal(t, row.want, got.Kind)
			require.Contains(t, got.Why, row.why)
		})
	}
	gone := Read(string(issued(t, code.Bag, 80)), d)
	require.EqualValues(t, 5, gone.Since)
	require.EqualValues(t, "BHT", gone.By)
	other := Read(string(issued(t, code.Bag, 120)), d)
	require.EqualValues(t, "4K9", other.Job)
	require.Equal(t, "the twin", other.Name)
}

// Any text is taken without a panic, and only printable text comes out.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"", "joint front-cover", "hole :", "hole  front-cover  18", "size M8x", "DIGIT ", "digit 9", "0,0", "-", "-,", "1e9", "\x00\xff", "bag ", "badge ", "é",
		string(issued(f, code.Bag, 0)), "BHT7K2MX", "position a:b:c", "range 0O", "short 999999999999"} {
		f.Add(seed)
	}
	d := desk(f)
	f.Fuzz(func(t *testing.T, line string) {
		tok := Read(line, d)
		require.True(t, utf8.ValidString(tok.Line))
		require.False(t, strings.ContainsAny(tok.Line, "\x00\n\r\x1b"))
		if tok.Whole {
			require.True(t, tok.N >= 0 && tok.N <= events.MaxQty)
			require.EqualValues(t, tok.N, tok.Real)
		}
		require.Equal(t, tok, Read(line, d), "the same line reads the same")
		if tok.Kind == Saw {
			require.NotEmpty(t, tok.Noun.Type)
			require.NotEmpty(t, tok.Noun.ID)
		}
	})
}
