package events

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Each day until 2101, and the month ends of every later year, against the
// calendar of package time.
func TestDayOf(t *testing.T) {
	for day := range 131 * 366 {
		date := time.Unix(int64(day)*86400, 0).UTC()
		got, ok := dayOf(date.Year(), int(date.Month()), date.Day())
		require.True(t, ok, date)
		require.Equal(t, day, got, date)
	}
	for year := 2101; year < 10000; year++ {
		for month := time.January; month <= time.December; month++ {
			last := time.Date(year, month+1, 0, 0, 0, 0, 0, time.UTC)
			got, ok := dayOf(year, int(month), last.Day())
			require.True(t, ok, last)
			require.Equal(t, int(last.Unix()/86400), got, last)
			_, ok = dayOf(year, int(month), last.Day()+1)
			require.False(t, ok, last)
		}
	}
	for _, bad := range [][3]int{{1969, 12, 31}, {10000, 1, 1}, {2025, 0, 1}, {2025, 13, 1}, {2025, 1, 0}, {2100, 2, 29}} {
		_, ok := dayOf(bad[0], bad[1], bad[2])
		require.False(t, ok, bad)
	}
}

func TestTimeAgainstPackageTime(t *testing.T) {
	const layout = "2006-01-02T15:04:05.000000Z"
	rapid.Check(t, func(t *rapid.T) {
		micros := timeGen.Draw(t, "micros")
		text := time.UnixMicro(micros).UTC().Format(layout)
		d := Decoder{data: []byte(text)}
		var got int64
		require.True(t, d.time(&got))
		require.Equal(t, micros, got)
		require.Equal(t, len(text), d.pos)

		// One byte changed is a time to both, or to neither.
		i := rapid.IntRange(0, len(text)-1).Draw(t, "at")
		c := rapid.ByteRange(' ', '~').Draw(t, "byte")
		changed := text[:i] + string(c) + text[i+1:]
		want, err := time.Parse(layout, changed)
		d = Decoder{data: []byte(changed)}
		ok := d.time(&got)
		require.Equal(t, err == nil && rfc3339.MatchString(changed) && want.UnixMicro() > 0, ok, changed)
		if ok {
			require.Equal(t, want.UnixMicro(), got, changed)
		}
	})
}

func TestNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.StringMatching(`[0-9]{0,19}[0-9x"/:]{0,9}`).Draw(t, "digits")
		limit := rapid.SampledFrom([]int64{MaxQty, MaxN, MaxTime}).Draw(t, "limit")
		n := 0
		for n < len(digits) && n < 18 && digits[n] >= '0' && digits[n] <= '9' {
			n++
		}
		want, err := strconv.ParseInt(digits[:n], 10, 64)
		wantOK := err == nil && want <= limit && strconv.FormatInt(want, 10) == digits[:n]
		d := Decoder{data: []byte(digits)}
		got, ok := d.number(limit)
		require.Equal(t, wantOK, ok, digits)
		if ok {
			require.Equal(t, want, got)
			require.Equal(t, n, d.pos)
		}
	})
}

func TestEightDigits(t *testing.T) {
	for c := range 256 { // every byte in every place
		for i := range 8 {
			b := []byte("12345678")
			b[i] = byte(c)
			want, err := strconv.ParseUint(string(b), 10, 64)
			got, ok := eightDigits(binary.LittleEndian.Uint64(b))
			require.Equal(t, err == nil, ok, "%q", b)
			if ok {
				require.Equal(t, int64(want), got)
			}
		}
	}
}

func TestPlainRun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := []byte(strings.Repeat("x", rapid.IntRange(0, 20).Draw(t, "before")))
		b = append(b, rapid.SliceOfN(rapid.Byte(), 0, 20).Draw(t, "bytes")...)
		want := 0
		for want < len(b) && b[want] >= ' ' && b[want] < 0x7f && b[want] != '"' && b[want] != '\\' {
			want++
		}
		require.Equal(t, want, plainRun(b), "%q", b)
	})
	for c := range 256 { // every byte in every place of a step of eight
		for i := range 16 {
			b := []byte("abcdefghijklmnop")
			b[i] = byte(c)
			want := i
			if plain[c] {
				want = len(b)
			}
			require.Equal(t, want, plainRun(b), "%q", b)
		}
	}
}

func TestRealsAreWrittenAsEncodingJSONDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.OneOf(realGen, rapid.Map(rapid.Uint64(), math.Float64frombits)).Draw(t, "v")
		got, err := appendReal(nil, v)
		want, jsonErr := json.Marshal(v)
		require.Equal(t, jsonErr == nil, err == nil, v)
		if v != 0 { // the negative zero is written as zero
			require.Equal(t, string(want), string(got))
		}
	})
	got, err := appendReal(nil, math.Copysign(0, -1))
	require.NoError(t, err)
	require.Equal(t, "0", string(got))
}

func TestTextsAreWrittenAsJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := longGen.Draw(t, "s")
		require.NoError(t, checkText(s, MaxText, true))
		var back string
		stored := appendText(nil, s)
		require.NoError(t, json.Unmarshal(stored, &back))
		require.Equal(t, s, back)
		var d Decoder
		d.texts = make([]string, sharedCount)
		d.data, d.pos = stored, 1
		got, ok := d.text(asLong, "")
		require.True(t, ok)
		require.Equal(t, s, got)
	})
}

// Texts that meet in the table of shared ones push each other out and are
// right all the same.
func TestSharedTexts(t *testing.T) {
	d := Decoder{texts: make([]string, sharedCount)}
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SliceOfN(rapid.ByteRange('a', 'c'), 0, sharedLen+8).Draw(t, "b")
		require.Equal(t, string(b), d.share(b))
	})
	require.Len(t, d.texts, sharedCount, "it never grows")
	for _, s := range d.texts {
		require.LessOrEqual(t, len(s), sharedLen)
	}
}

// The kinds of a plan differ in their middle; they must not crowd one place.
func TestSharedTextsSpread(t *testing.T) {
	places := map[uint64]int{}
	n := 0
	for _, thread := range []string{"M6x1.0", "M8x1.25", "M10x1.5", "M12x1.25"} {
		for length := 12; length < 92; length++ {
			n++
			places[hash([]byte(thread+"x"+itoa(int64(length))+" 8.8 flange"))>>(64-sharedBits)]++
		}
	}
	for _, crowd := range places {
		require.LessOrEqual(t, crowd, 4)
	}
	require.Greater(t, len(places), n*4/5, "by chance 93 of 100 have a place of their own")
}

// A long text that comes again is known by its stored form. What only begins
// like it, or ends earlier, is read for itself.
func TestLongTextsComeAgain(t *testing.T) {
	plan := strings.Repeat("bolt: \"M8\"\n", 200)
	var d Decoder
	for _, text := range []string{plan, plan, plan + "x", plan, plan[:len(plan)-1], plan + "\n", plan[1:], plan, "short", plan} {
		r := Record{Shop: "s", Job: "J1", Terminal: "b1", N: 1, Time: 1, At: 1, Known: Told, Event: JobOpened{Engine: "E", Plan: text}}
		stored, err := Append(nil, &r)
		require.NoError(t, err)
		var back Record
		require.NoError(t, d.Decode(stored, &back))
		require.Equal(t, JobOpened{Engine: "E", Plan: text}, back.Event)
		clear(stored) // nothing keeps the data
		require.Equal(t, text, back.Event.(JobOpened).Plan)
	}
}
