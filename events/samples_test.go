package events

import "slices"

// The samples show every kind with every member as the invented Sorrel I4-20
// could have it. Each is frozen in a file under its name: the kind, and where
// a kind has several, a number. A sample is only ever added.
type sample struct {
	name string
	Record
}

func samples() []sample {
	return slices.Concat(jobSamples, jointSamples, placeSamples, partSamples, lossSamples, stateSamples, scopeSamples, handSamples, measureSamples, supplySamples, tightenSamples)
}

// Fact is the n-th fact of bench 2, on job 4K7.
func fact(name string, n uint32, e Event, more ...func(*Record)) sample {
	const start = 1764054900123456 // 2025-11-25, a quarter past seven
	r := Record{
		Shop: "elm-street", Job: "4K7", Terminal: "b2", N: n,
		Time: start + int64(n)*97_000_000, At: start + int64(n)*97_000_000 + 2_184_000,
		Seen:     SeenOf(map[Terminal]uint32{"b1": 803, "b2": n - 1, "office": 12}),
		Operator: "Marit", Event: e,
	}
	for _, change := range more {
		change(&r)
	}
	return sample{name, r}
}

func known(k Known) func(*Record) { return func(r *Record) { r.Known = k } }

func by(b Badge) func(*Record) { return func(r *Record) { r.Operator = b } }

// Happened says that it was between so many minutes before it was recorded.
func happened(from, to int64) func(*Record) {
	return func(r *Record) { r.From, r.To = r.At-from*60_000_000, r.At-to*60_000_000 }
}

// FromOffice makes it a fact of the office about the whole shop, which nobody
// with a badge stated, from a terminal that had seen nothing.
func fromOffice(r *Record) {
	r.Job, r.Terminal, r.Seen, r.Operator = ShopJob, "office", "", ""
}
