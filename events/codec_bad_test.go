package events

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAppendRefuses(t *testing.T) {
	line := func(l Line) Event { return Counted{Place: "shelf", Lines: []Line{{Kind: "M8", Qty: 1}, l}} }
	for name, tt := range map[string]struct {
		change func(*Record)
		want   string
	}{
		"no shop":           {func(r *Record) { r.Shop = "" }, `event b2-1042 counted: shop ""`},
		"shop with a dot":   {func(r *Record) { r.Shop = "elm.street" }, `shop "elm.street": not 1 to 64 letters`},
		"no job":            {func(r *Record) { r.Job = "" }, `job ""`},
		"job with a star":   {func(r *Record) { r.Job = "4K*" }, `job "4K*"`},
		"job with a blank":  {func(r *Record) { r.Job = "4 K" }, `job "4 K"`},
		"terminal with >":   {func(r *Record) { r.Terminal = "b>" }, `event b>-1042 counted: terminal "b>"`},
		"terminal with :":   {func(r *Record) { r.Terminal = "b:2" }, `terminal "b:2"`},
		"long terminal":     {func(r *Record) { r.Terminal = Terminal(strings.Repeat("b", 65)) }, "not 1 to 64"},
		"n 0":               {func(r *Record) { r.N = 0 }, "event b2-0 counted: n 0: not 1 to 2147483647"},
		"n of 32 bits":      {func(r *Record) { r.N = 1 << 31 }, "n 2147483648"},
		"no time":           {func(r *Record) { r.Time = 0 }, "time 0: not 1 to"},
		"time before 1970":  {func(r *Record) { r.Time = -1 }, "time -1"},
		"time in 10000":     {func(r *Record) { r.Time = MaxTime + 1 }, "time 253402300800000000"},
		"no at":             {func(r *Record) { r.At = 0 }, "at 0: not 1 to"},
		"half an interval":  {func(r *Record) { r.From = 5 }, "happened 5 to 0: no interval"},
		"other half":        {func(r *Record) { r.To = 5 }, "happened 0 to 5: no interval"},
		"interval backward": {func(r *Record) { r.From, r.To = 6, 5 }, "happened 6 to 5: no interval"},
		"known 6":           {func(r *Record) { r.Known = 6 }, "known 6: not 0 to 5"},
		"seen disorder":     {func(r *Record) { r.Seen = "b2:1 b1:1" }, `"b1:1" is out of order`},
		"seen no word":      {func(r *Record) { r.Seen = "b.1:1" }, `seen "b.1:1": a terminal is no word`},
		"seen great n":      {func(r *Record) { r.Seen = "b1:2147483648" }, `seen "b1:2147483648": a terminal is no word, or its n not 1 to 2147483647`},
		"operator bell":     {func(r *Record) { r.Operator = "\a" }, `operator "\a": control character U+0007`},
		"operator latin1":   {func(r *Record) { r.Operator = "M\xe5rit" }, `operator "M\xe5rit": not UTF-8`},
		"no event":          {func(r *Record) { r.Event = nil }, "event b2-1042: no event"},
		"quantity -1":       {func(r *Record) { r.Event = line(Line{Qty: -1}) }, "event b2-1042 counted: lines[1].qty -1: not 0 to 99999"},
		"quantity 100000":   {func(r *Record) { r.Event = line(Line{Qty: 100000}) }, "lines[1].qty 100000: not 0 to 99999"},
		"expected -3":       {func(r *Record) { r.Event = line(Line{Expected: -3}) }, "lines[1].expected -3"},
		"kind line end":     {func(r *Record) { r.Event = line(Line{Kind: "M8\n"}) }, `lines[1].kind "M8\n": control character U+000A`},
		"kind C1":           {func(r *Record) { r.Event = line(Line{Kind: "M8\u0085"}) }, `control character U+0085`},
		"long kind":         {func(r *Record) { r.Event = line(Line{Kind: Kind(strings.Repeat("M", 4097))}) }, `lines[1].kind "MMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMM"...: 4097 bytes`},
		"many lines":        {func(r *Record) { r.Event = Counted{Lines: make([]Line, MaxList+1)} }, "lines of 4097: more than 4096"},
		"bench no word":     {func(r *Record) { r.Event = BenchSwept{Bench: "b 2"} }, `bench "b 2": not letters`},
		"fact great n":      {func(r *Record) { r.Event = Corrected{Wrong: FactID{"b1", 1 << 31}} }, "corrected: wrong.n 2147483648"},
		"measured NaN":      {func(r *Record) { r.Event = Measured{Value: math.NaN()} }, "value NaN: no number"},
		"infinite litres":   {func(r *Record) { r.Event = FluidChanged{Litres: math.Inf(1)} }, "litres +Inf: no number"},
		"nested count":      {func(r *Record) { r.Event = Corrected{Instead: line(Line{Qty: -1})} }, "corrected: instead.lines[1].qty -1"},
		"nested too deep": {func(r *Record) {
			for range MaxNest + 1 {
				r.Event = Corrected{Instead: r.Event}
			}
		}, "instead more than 4 events inside one another"},
		"plan too long": {func(r *Record) { r.Event = JobOpened{Plan: strings.Repeat("x", MaxText+1)} }, "job-opened: plan"},
		"plan with NUL": {func(r *Record) { r.Event = JobOpened{Plan: "a\x00"} }, "control character U+0000"},
		"fact too long": {func(r *Record) {
			r.Event = HandedOver{Open: slicesOf(300, strings.Repeat("x", MaxName))}
		}, "more than 1000000 bytes"},
		"unknown bad name": {func(r *Record) { r.Event = Unknown{"Lamp", "1"} }, `kind "Lamp"`},
		"unknown no name":  {func(r *Record) { r.Event = Unknown{"", "1"} }, `kind ""`},
		"unknown no JSON":  {func(r *Record) { r.Event = Unknown{"lamp-lit", "{"} }, `event b2-1042 lamp-lit: data "{": not JSON`},
		"unknown breakout": {func(r *Record) { r.Event = Unknown{"lamp-lit", `1},"n":2,"x":{`} }, "not JSON"},
		"unknown inside":   {func(r *Record) { r.Event = Corrected{Instead: Unknown{"lamp-lit", ""}} }, `instead data "": not JSON`},
	} {
		t.Run(name, func(t *testing.T) {
			r := typical()
			tt.change(&r)
			dst, err := Append([]byte("before"), &r)
			require.ErrorContains(t, err, tt.want)
			require.Equal(t, "before", string(dst))
		})
	}
}

func slicesOf(n int, s string) []string {
	all := make([]string, n)
	for i := range all {
		all[i] = s
	}
	return all
}

func TestDecodeRefuses(t *testing.T) {
	r := typical()
	stored, err := Append(nil, &r)
	require.NoError(t, err)
	for _, tt := range []struct{ old, new, want string }{
		{`{"specversion"`, ``, "event: "},
		{`{"specversion"`, `["specversion"`, "not JSON"},
		{`"1.0"`, `"0.3"`, `event: specversion "0.3": not 1.0`},
		{`"1.0"`, `1.0`, `event: specversion "1.0": not a string`},
		{`"id":"b2-1042"`, `"id":"b2-1043"`, `event: id "b2-1043": not b2-1042 by its source and n`},
		{`"id":"b2-1042",`, ``, `event: id "": not b2-1042`},
		{`"n":1042`, `"n":1043`, "not b2-1043 by its source and n"},
		{`"n":1042`, `"n":"1042"`, "event: n"},
		{`"n":1042`, `"n":01042`, "not JSON"},
		{`"n":1042`, `"n":0`, "event: n"},
		{`"n":1042`, `"n":1042,"n":1042`, `event: "n": twice in one object`},
		{`/countback/elm-street/b2`, `/elsewhere/elm-street/b2`, "event: source"},
		{`/countback/elm-street/b2`, `/countback/b2`, "event: source"},
		{`/countback/elm-street/b2`, `/countback/elm-street/b2/c`, "event: source"},
		{`countback.counted`, `counted`, `event b2-1042: type "counted": not countback.name`},
		{`countback.counted`, `countback.Counted`, "event b2-1042: type"},
		{`"subject":"4K7"`, `"subject":"4.7"`, `event b2-1042 counted: job "4.7"`},
		{`2025-11-25T10:15:00.123456Z`, `2025-11-25 10:15`, "event b2-1042: time"},
		{`2025-11-25T10:15:00.123456Z`, `2025-11-25T10:15:00,123456Z`, "event b2-1042: time"},
		{`2025-11-25T10:15:00.123456Z`, `2025-02-29T10:15:00.123456Z`, "event b2-1042: time"},
		{`2025-11-25T10:15:00.123456Z`, `2025-11-25T10:15:60.123456Z`, "event b2-1042: time"},
		{`2025-11-25T10:15:00.123456Z`, `2025-11-25T10:15:00.1234567Z`, "not RFC 3339 in microseconds"},
		{`2025-11-25T10:15:00.123456Z`, `1969-11-25T10:15:00.123456Z`, "time -"},
		{`application/json`, `text/plain`, `datacontenttype "text/plain"`},
		{`"at":"1764065700123456"`, `"at":"-5"`, `event b2-1042: at "-5": not microseconds`},
		{`"at":"1764065700123456"`, `"at":"1764065700123456.5"`, "event b2-1042: at"},
		{`"at":"1764065700123456",`, ``, "at 0"},
		{`b1:803 b2:1041`, `b2:1041 b1:803`, "out of order"},
		{`counted-blind`, `sure`, `event b2-1042: known "sure": not one of`},
		{`,"data":{`, `,"happenedfrom":"7","data":{`, "happened 7 to 0: no interval"},
		{`"data":{`, `"data":null,"other":{`, `event b2-1042 counted: "null": not an object`},
		{`,"data":{`, `,"other":{`, "event b2-1042 counted: "},
		{`"data":{`, `"data_base64":"AA==","other":{`, "data_base64"},
		{`"qty":8`, `"qty":-8`, "event b2-1042 counted: lines[1].qty -8: not 0 to 99999"},
		{`"qty":8`, `"qty":8.0`, "lines[1].qty"},
		{`"qty":8`, `"qty":"8"`, "lines[1].qty"},
		{`"qty":8`, `"qty":100000`, "lines[1].qty 100000"},
		{`"qty":8`, `"qty":8,"qty":9`, `lines[1] "qty": twice`},
		{`"all":true`, `"all":1`, "event b2-1042 counted: all"},
		{`bag/B2KCZ6EE`, `bag/\u0007`, `place "bag/\a": control character`},
		{`bag/B2KCZ6EE`, "bag/\xff", "event: "},
		{`true}}`, `true}}}`, "not JSON"},
		{`true}}`, `true}`, "not JSON"},
	} {
		t.Run(tt.new, func(t *testing.T) {
			bad := strings.Replace(string(stored), tt.old, tt.new, 1)
			require.NotEqual(t, string(stored), bad)
			var d Decoder
			got := typical()
			require.ErrorContains(t, d.Decode([]byte(bad), &got), tt.want)
			require.Equal(t, Record{}, got, "after an error nothing is left")
		})
	}
	var d Decoder
	require.ErrorContains(t, d.Decode(make([]byte, MaxSize+1), &r), "more than 1000000")
}

// Every byte cut from a fact and every byte changed in it is noticed, or reads
// as a fact that is written as it was read.
func TestDamageIsNoticed(t *testing.T) {
	r := typical()
	stored, err := Append(nil, &r)
	require.NoError(t, err)
	var d Decoder
	for i := range stored {
		var got Record
		require.Error(t, d.Decode(stored[:i], &got), "cut at %d", i)
		for _, c := range []byte{0, ' ', '"', '0', '9', '}', 'x', 0x80, stored[i] ^ 0x20} {
			damaged := append([]byte{}, stored...)
			damaged[i] = c
			var fast, slow Record
			taken := d.fast(damaged, &fast)
			if !taken {
				continue
			}
			require.NoError(t, slowDecode(damaged, &slow), "%s", damaged)
			require.Equal(t, slow, fast)
			again, err := Append(nil, &fast)
			require.NoError(t, err)
			require.Equal(t, string(damaged), string(again))
		}
	}
}

// An unknown kind, or a known one with a member that is not known, is kept as
// it was stored.
func TestUnknownIsKept(t *testing.T) {
	r := typical()
	stored, err := Append(nil, &r)
	require.NoError(t, err)
	whole := string(stored)
	data := whole[strings.Index(whole, `"data":`)+len(`"data":`) : len(whole)-1]
	for name, tt := range map[string]struct{ old, new, kind, data string }{
		"kind":             {"countback.counted", "countback.counted-twice", "counted-twice", data},
		"data of any form": {"countback.counted\"", "countback.lamp-lit\"", "lamp-lit", data},
		"member":           {`"all":true`, `"all":true, "mood": "good"`, "counted", strings.Replace(data, `"all":true`, `"all":true, "mood": "good"`, 1)},
		"member of a line": {`"qty":8`, `"qty":8,"shade":{"a":[1,2]}`, "counted", strings.Replace(data, `"qty":8`, `"qty":8,"shade":{"a":[1,2]}`, 1)},
		"member by case":   {`"all":true`, `"All":true`, "counted", strings.Replace(data, `"all":true`, `"All":true`, 1)},
	} {
		t.Run(name, func(t *testing.T) {
			newer := strings.Replace(whole, tt.old, tt.new, 1)
			var d Decoder
			var got Record
			require.NoError(t, d.Decode([]byte(newer), &got))
			require.Equal(t, Unknown{tt.kind, tt.data}, got.Event)
			again, err := Append(nil, &got)
			require.NoError(t, err)
			require.Equal(t, newer, string(again))
		})
	}
	for _, data := range []string{``, `null`, `3`, `[ 1,	2 ]`, `{"a": {"a": "\u00e5"}}`} {
		r.Event = Unknown{"lamp-lit", data}
		stored, err := Append(nil, &r)
		require.NoError(t, err)
		require.True(t, json.Valid(stored))
		var d Decoder
		var got Record
		require.NoError(t, d.Decode(stored, &got))
		require.Equal(t, r, got)
		r.Event = Corrected{Wrong: FactID{"b1", 3}, Instead: r.Event, Why: "lamp"}
		if stored, err = Append(nil, &r); data != "" {
			require.NoError(t, err)
			require.NoError(t, d.Decode(stored, &got))
			require.Equal(t, r, got)
		}
	}
}

func TestInsteadNeedsBothMembers(t *testing.T) {
	r := typical()
	r.Event = Corrected{Wrong: FactID{"b1", 3}, Instead: BagOpened{"B2KCZ6EE"}, Why: "x"}
	stored, err := Append(nil, &r)
	require.NoError(t, err)
	for _, part := range []string{`"insteadkind":"bag-opened",`, `"instead":{"bag":"B2KCZ6EE"},`} {
		var d Decoder
		err := d.Decode([]byte(strings.Replace(string(stored), part, "", 1)), &r)
		require.EqualError(t, err, "event b2-1042 corrected: instead and insteadkind: one without the other")
	}
}
