package engine

import (
	"reflect"

	"pgregory.net/rapid"

	"countback/events"
)

// anyText are words that facts hold as plain text: ids, nouns, decisions.
var anyText = []string{"", "x", "drop", "alter", "add", "holes", "steps", "parts", "front-cover:1", "cover-on", "oil-pan", "step cover-on", "part head", "hole oil-pan:3",
	"joint exhaust", "audit ready-to-start", "cavity sump", "h1", "f1", "use", "repair", "flange", "{id: cover-on, name: Cover}", "seller", "0.12", "2026-12-14"}

// anyWords has words for the types that name something.
var anyWords = map[reflect.Type][]string{
	reflect.TypeFor[events.Cavity]():     {"sump", "timing-case", "crankcase", "nowhere"},
	reflect.TypeFor[events.Loan]():       {"crank-pin", "rag", "plug"},
	reflect.TypeFor[events.Mark]():       {"two-turns", "pre-oiled", "x"},
	reflect.TypeFor[events.Step]():       {"cover-on", "pan-off", "head-on", "x"},
	reflect.TypeFor[events.AuditPoint](): {"ready-to-start", "released", "x"},
	reflect.TypeFor[events.Act]():        {"turning", "cranking", "heating", "x"},
	reflect.TypeFor[events.Ending]():     {"found", "miscount", "still-in", "written-off", "x"},
	reflect.TypeFor[events.JobEnd]():     {"released", "handed-back", "suspended"},
	reflect.TypeFor[events.HoleState]():  {"original", "insert", "oversize", "x"},
	reflect.TypeFor[events.Terminal]():   {"b1", "b2", "b3"},
	reflect.TypeFor[events.Host]():       {"head 1", "head 2", "block 1"},
	reflect.TypeFor[events.Seat]():       {"oil-pan:3", "buckets:1Ia", "exhaust:9", "x"},
	reflect.TypeFor[events.Joint]():      texts2(anyJoint),
	reflect.TypeFor[events.Hole]():       append(texts2(anyHole), texts2(anyPos)...),
	reflect.TypeFor[events.Part]():       texts2(anyPart),
	reflect.TypeFor[events.Place]():      texts2(anyPlace),
	reflect.TypeFor[events.Kind]():       texts2(anyKind),
	reflect.TypeFor[events.Condition]():  texts2(anyCond),
	reflect.TypeFor[events.Code]():       append(texts2(anyBag), texts2(anyCase)...),
}

func texts2[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = string(x)
	}
	return out
}

// anyOfCatalogue draws a fact of any kind that can be stored, also of one that
// is new today, with words that mean something here.
func anyOfCatalogue(d draw) events.Event {
	zero, _ := events.Zero(pick(d, events.Names(), "kind of all"))
	v := reflect.New(reflect.TypeOf(zero)).Elem()
	d.fill(v, 0)
	return v.Interface().(events.Event)
}

func (d draw) fill(v reflect.Value, depth int) {
	switch v.Kind() {
	case reflect.String:
		words := anyWords[v.Type()]
		if words == nil {
			words = anyText
		}
		v.SetString(pick(d, words, "word"))
	case reflect.Bool:
		v.SetBool(d.yes("flag"))
	case reflect.Int, reflect.Int64, reflect.Int32:
		v.SetInt(int64(pick(d, []int{0, 0, 1, 2, 4, 18, events.MaxQty}, "number")))
	case reflect.Uint8, reflect.Uint32, reflect.Uint64:
		v.SetUint(uint64(rapid.IntRange(0, 20).Draw(d.T, "n")))
	case reflect.Float64:
		v.SetFloat(pick(d, []float64{0, 0.34, 12, 1e6}, "real"))
	case reflect.Slice:
		n := rapid.IntRange(0, 2).Draw(d.T, "length")
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			d.fill(v.Index(i), depth)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			d.fill(v.Field(i), depth)
		}
	case reflect.Interface:
		if depth == 0 && d.yes("inner") {
			zero, _ := events.Zero(pick(d, events.Names(), "inner kind"))
			in := reflect.New(reflect.TypeOf(zero)).Elem()
			d.fill(in, depth+1)
			v.Set(in)
		}
	}
}
