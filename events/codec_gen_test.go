package events

import (
	"math"
	"reflect"

	"pgregory.net/rapid"
)

// Generators that fill any kind from its shape, within the limits.

var wordGen = rapid.StringMatching(`[A-Za-z0-9_-]{1,12}`)

// Texts are ordinary names most of the time, and odd ones often enough.
var textGen = rapid.OneOf(
	rapid.SampledFrom([]string{"", "M8x1.25x30 8.8 flange", "front-cover:18", "bag/B2KCZ6EE", "Marit", "1/4\" pipe plug", `C:\plans`, "größer als Ø 8", "\u2028"}),
	rapid.StringMatching(`[ -~]{0,70}`),
	rapid.StringMatching(`[ -~\x{a0}-\x{d7ff}\x{10000}-\x{10ffff}]{0,20}`),
)

var longGen = rapid.OneOf(textGen, rapid.StringMatching("[ -~\n\t]{0,40}"))

var realGen = rapid.OneOf(
	rapid.SampledFrom([]float64{0, -2.5, 0.05, 40, 1e-7, 1e21, 123456.789, math.MaxFloat64, math.SmallestNonzeroFloat64}),
	rapid.Float64().Filter(func(v float64) bool { return !math.IsInf(v, 0) && !math.IsNaN(v) && v != 0 }),
)

func recordGen(t *rapid.T) Record {
	r := Record{
		Shop:     Shop(wordGen.Draw(t, "shop")),
		Job:      Job(wordGen.Draw(t, "job")),
		Terminal: Terminal(wordGen.Draw(t, "terminal")),
		N:        rapid.Uint32Range(1, MaxN).Draw(t, "n"),
		Time:     timeGen.Draw(t, "time"),
		At:       timeGen.Draw(t, "at"),
		Seen:     SeenOf(rapid.MapOf(seenNameGen, rapid.Uint32Range(0, MaxN)).Draw(t, "seen")),
		Operator: Badge(textGen.Draw(t, "operator")),
		Known:    Known(rapid.IntRange(0, len(knownWords)-1).Draw(t, "known")),
		Event:    eventGen(t, rapid.SampledFrom(catalogue).Draw(t, "kind"), 0),
	}
	if rapid.Bool().Draw(t, "interval") {
		r.From = timeGen.Draw(t, "from")
		r.To = rapid.Int64Range(r.From, MaxTime).Draw(t, "to")
	}
	return r
}

var timeGen = rapid.OneOf(rapid.Int64Range(1, MaxTime), rapid.Int64Range(1764065700000000, 1764065799999999))

var seenNameGen = rapid.Custom(func(t *rapid.T) Terminal { return Terminal(wordGen.Draw(t, "word")) })

func eventGen(t *rapid.T, e entry, depth int) Event {
	if depth == MaxNest {
		return Unknown{"lamp-lit", `{"lamp": 3}`}
	}
	v := reflect.New(e.typ).Elem()
	fill(t, byName[e.name].shape, v, depth)
	return v.Interface().(Event)
}

func fill(t *rapid.T, s *shape, v reflect.Value, depth int) {
	switch s.form {
	case asText:
		v.SetString(textGen.Draw(t, "text"))
	case asWord:
		v.SetString(wordGen.Draw(t, "word"))
	case asLong:
		v.SetString(longGen.Draw(t, "long"))
	case asFlag:
		v.SetBool(rapid.Bool().Draw(t, "flag"))
	case asCount:
		v.SetInt(int64(rapid.IntRange(0, MaxQty).Draw(t, "count")))
	case asStamp:
		v.SetInt(rapid.Int64Range(0, MaxTime).Draw(t, "stamp"))
	case asTurn:
		v.SetUint(uint64(rapid.Uint32Range(0, MaxN).Draw(t, "turn")))
	case asReal:
		v.SetFloat(realGen.Draw(t, "real"))
	case asGroup:
		for i := range s.fields {
			f := &s.fields[i]
			if !f.omit || rapid.Bool().Draw(t, f.name) {
				fill(t, f.shape, v.Field(f.index), depth)
			}
		}
	case asList:
		n := rapid.SampledFrom([]int{0, 1, 2, 3, 4, shortList, shortList + 1, 40}).Draw(t, "length")
		if n > 0 { // an empty list comes back as none
			v.Set(reflect.MakeSlice(s.typ, n, n))
		}
		for i := range n {
			fill(t, s.elem, v.Index(i), depth)
		}
	case asEvent:
		v.Set(reflect.ValueOf(eventGen(t, rapid.SampledFrom(catalogue).Draw(t, "inner"), depth+1)))
	}
}
