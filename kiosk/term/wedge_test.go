package term

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/labels/code"
)

var midnight = time.Date(2025, 5, 12, 0, 0, 0, 0, time.UTC)

// fingers press keys with pauses. In a script a plain character is a key of a
// burst, 2 ms after the one before; "~" is a pause of 200 ms, "|" one of a
// second, "\r", "\n" and "\t" end lines.
type fingers struct {
	w   *Wedge
	at  time.Time
	in  []Input
	gap time.Duration
}

func newFingers() *fingers {
	return &fingers{w: NewWedge(UsualTiming(), isCode), at: midnight, gap: 2 * time.Millisecond}
}

func (f *fingers) press(script string) {
	for _, r := range script {
		f.at = f.at.Add(f.gap)
		switch r {
		case '~':
			f.at = f.at.Add(200 * time.Millisecond)
		case '|':
			f.at = f.at.Add(time.Second)
		case '\r', '\n':
			f.in = append(f.in, f.w.End(f.at, false)...)
		case '\t':
			f.in = append(f.in, f.w.End(f.at, true)...)
		default:
			f.w.Key(r, f.at)
		}
	}
}

// typed puts a pause before every key.
func typed(text string) string {
	var b strings.Builder
	for _, r := range text {
		b.WriteString("~" + string(r))
	}
	return b.String()
}

func codeAt(typ code.Type, n uint32) string {
	issuer, err := code.NewIssuer("BC")
	if err != nil {
		panic(err)
	}
	c, _, _ := issuer.Next(typ, n)
	return string(c)
}

func scans(lines ...string) []Input {
	var list []Input
	for _, l := range lines {
		list = append(list, Input{l, true})
	}
	return list
}

func TestWedge(t *testing.T) {
	one, two := codeAt(code.Bag, 0), codeAt(code.Joint, 7)
	bad := one[:7] + map[bool]string{true: "2", false: "3"}[one[7] != '2']
	for _, row := range []struct {
		name string
		keys string
		want []Input
		left string // on the entry line after it
	}{
		{"a burst, CR", one + "\r", scans(one), ""},
		{"a burst, LF", one + "\n", scans(one), ""},
		{"a burst, CR LF", one + "\r\n", scans(one), ""},
		{"a burst, Tab", one + "\t", scans(one), ""},
		{"a burst in small letters", strings.ToLower(one) + "\r", scans(strings.ToLower(one)), ""},
		{"two bursts", one + "\r|" + two + "\r", scans(one, two), ""},
		{"the same twice, CR LF each", one + "\r\n" + one + "\r\n", scans(one, one), ""},
		{"cut in two", one[:4] + "~" + one[4:] + "\r", scans(one), ""},
		{"cut behind the first key", one[:1] + "~" + one[1:] + "\r", scans(one), ""},
		{"cut before the last key", one[:7] + "~" + one[7:] + "\r", scans(one), ""},
		{"cut in three", one[:2] + "~" + one[2:5] + "~" + one[5:] + "\r", scans(one), ""},
		{"cut before its end", one + "~\r", scans(one), ""},
		{"cut too long: the end alone is no code", one[:4] + "|" + one[4:] + "\r", scans(one[4:]), one[:4]},
		{"misread and cut: one line for the screen to refuse", bad[:4] + "~" + bad[4:] + "\r", scans(bad), ""},
		{"misread", bad + "\r", scans(bad), ""},
		{"a maker's code", "4006381333931\r", scans("4006381333931"), ""},
		{"two scanners, the end of the first is lost", one + two + "\r", scans(one, two), ""},
		{"two scanners, both ends behind", one + two + "\r\r", scans(one, two), ""},
		{"two scanners, the second begins before the first ends", one + two[:1] + "\r" + two[1:] + "\r", scans(one, two), ""},
		{"two scanners, the rest late", one + two[:3] + "\r~" + two[3:] + "\r", scans(one, two), ""},
		{"three at once", one + two + one + "\r", scans(one, two, one), ""},
		{"two scanners, key by key: nobody can tell", "BJBCBRRT66YQKKB5\r", scans("BJBCBRRT66YQKKB5"), ""},
		{"typing, Enter", typed("all out") + "~\r", []Input{{"all out", false}}, ""},
		{"typing a code, Enter", typed(one) + "~\r", []Input{{one, false}}, ""},
		{"typing, LF of a slow terminal", typed("8") + "~\n", []Input{{"8", false}}, ""},
		{"typing and a fast Enter", typed("8") + "\r", []Input{{"8", false}}, ""},
		{"Tab after typing ends nothing", typed("joint") + "~\t", nil, "joint"},
		{"Enter alone", "~\r", nil, ""},
		{"Enter many times", "~\r~\r~\r", nil, ""},
		{"a burst into a half-typed line", typed("joint fr") + "|" + one + "\r", scans(one), "joint fr"},
		{"its LF does not send the half-typed line", typed("joint fr") + "|" + one + "\r\n", scans(one), "joint fr"},
		{"and typing goes on", typed("joint fr") + "|" + one + "\r\n" + typed("ont") + "~\r", append(scans(one), Input{"joint front", false}), ""},
		{"a burst right behind a typed key", typed("jo") + one + "\r", scans(one), "jo"},
		{"a held key is typing", typed("a") + "aaaaaaaa|\r", []Input{{"aaaaaaaaa", false}}, ""},
		{"blanks around a typed line", typed("  ok ") + "~\r", []Input{{"ok", false}}, ""},
		{"a pasted line", "joint front-cover\r", scans("joint front-cover"), ""},
		{"letters of other alphabets", "Größe ÄÖ\r", scans("Größe ÄÖ"), ""},
	} {
		f := newFingers()
		f.press(row.keys)
		require.Equal(t, row.want, f.in, row.name)
		require.Equal(t, row.left, f.w.Text(), row.name)
	}
}

func TestWedgeEdits(t *testing.T) {
	f := newFingers()
	f.press(typed("okx"))
	f.w.Back()
	f.press("~\r")
	require.Equal(t, []Input{{"ok", false}}, f.in)
	f.w.Back() // nothing there
	f.press(typed("no"))
	f.w.Clear()
	require.Empty(t, f.w.Text())
	f.w.Put("joint head")
	f.press(typed("s") + "~\r")
	require.Equal(t, Input{"joint heads", false}, f.in[1])
}

func TestWedgeForgetsEndlessKeys(t *testing.T) {
	f := newFingers()
	f.press(strings.Repeat("x", 3*maxKeys))
	require.LessOrEqual(t, len(f.w.Text()), maxKeys)
	f.press("\r")
	require.Len(t, f.in, 1)
}

func TestWedgeSaysWhatBelongsToABurst(t *testing.T) {
	f := newFingers()
	require.False(t, f.w.Bursting(f.at))
	f.press("BC")
	require.True(t, f.w.Bursting(f.at.Add(10*time.Millisecond)))
	require.False(t, f.w.Bursting(f.at.Add(time.Second)))
}

// Whatever is typed, and wherever bursts are cut, every code that was scanned
// comes out once, in order, and what was typed stays as it was.
func TestWedgeKeepsScansAndTypingApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := newFingers()
		var want []Input
		left := ""
		for range rapid.IntRange(1, 12).Draw(t, "things") {
			if rapid.Bool().Draw(t, "typing") {
				text := rapid.StringMatching(`[a-z]{1,6}`).Draw(t, "text")
				f.press("|" + typed(text))
				left += text
				if rapid.Bool().Draw(t, "enter") {
					f.press("|\r")
					want = append(want, Input{left, false})
					left = ""
				}
				continue
			}
			c := codeAt(rapid.SampledFrom([]code.Type{code.Bag, code.Joint, code.Part, code.Number}).Draw(t, "type"), rapid.Uint32Range(0, 900).Draw(t, "n"))
			f.gap = time.Duration(rapid.IntRange(0, 40).Draw(t, "gap")) * time.Millisecond
			cut := rapid.IntRange(0, 8).Draw(t, "cut")
			f.press("|" + c[:cut])
			f.at = f.at.Add(time.Duration(rapid.IntRange(0, 400).Draw(t, "pause")) * time.Millisecond)
			f.press(c[cut:] + rapid.SampledFrom([]string{"\r", "\n", "\r\n", "\t"}).Draw(t, "end"))
			f.gap = 2 * time.Millisecond
			want = append(want, Input{c, true})
		}
		require.Equal(t, want, f.in)
		require.Equal(t, left, f.w.Text())
	})
}

func FuzzWedge(f *testing.F) {
	f.Add("BBCBR6KB\r\n~joint|\t")
	f.Fuzz(func(t *testing.T, script string) {
		p := newFingers()
		p.press(script)
		p.press("|\r")
		for _, in := range p.in {
			require.NotEmpty(t, in.Line)
		}
		require.Empty(t, p.w.Text(), "a slow Enter sends all that is left")
	})
}
