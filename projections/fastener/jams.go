package fastener

import "fmt"

// Jams reports whether the outside thread of a bolt of thread t catches in a
// hole of thread h, turns in for a turn or two and then binds, since the pitch is
// another: why M8 and 5/16, or a fine and a coarse thread of one size, are
// confused. It is so where the crests pass and reach behind those of the hole,
// both of one hand. Common practice at the bench; no standard says it. Pipe
// threads are left out: they seal by binding.
func (t Thread) Jams(h Thread) bool {
	const tight = 0.1 // mm above the nominal size that a tapped hole still lets in
	if !t.Known() || !h.Known() || t.Left != h.Left || t.PitchMm == h.PitchMm || t.System >= PipeR || h.System >= PipeR {
		return false
	}
	return t.DiameterMm <= h.DiameterMm+tight && t.DiameterMm > h.RootDiameterMm()
}

// pitchText is the pitch as the trade says it: of inch threads with the number
// of threads per inch.
func (t Thread) pitchText() string {
	if t.TPI > 0 {
		return fmt.Sprintf("%.4g mm (%g per inch)", t.PitchMm, t.TPI)
	}
	return fmt.Sprintf("%.4g mm", t.PitchMm)
}

// JamWords is "M8x1.25 starts in a 5/16-18 hole and jams: its pitch is 1.25 mm,
// the hole's 1.411 mm (18 per inch); by common practice".
func (t Thread) JamWords(words string, h Thread) string {
	return fmt.Sprintf("%s starts in %s hole and jams after a turn or two: its pitch is %s, the hole's %s; by common practice",
		words, WithArticle(h.String()), t.pitchText(), h.pitchText())
}

// WithArticle is a word with its a or an, as threads are read out: an M8, an 8-32.
func WithArticle(word string) string {
	if word != "" && (word[0] == 'M' || word[0] == '8') {
		return "an " + word
	}
	return "a " + word
}
