package scan

import (
	"strings"

	"countback/events"
	"countback/projections/engine"
)

// doubted are the facts whose numbers are numbers of pieces that are there.
var doubted = []string{"pieces-out", "pieces-fitted", "counted", "bag-closed", "bags-merged", "bag-split", "pieces-moved", "pieces-scrapped", "pieces-kept", "loss-reported",
	"condition-changed", "hardware-received", "hardware-sent-back", "kit-opened", "hardware-lent", "hardware-borrowed", "returned", "owner-brought", "owner-given",
	"batch-opened", "batch-closed", "disagreement-settled", "part-removed", "loan-in", "loan-out", "cavity-looked", "missing-on-arrival"}

// mostMasks is how many plugs and masks one batch has on it without a question.
const mostMasks = 200

// boxOf is how many pieces of a size come in without a question.
const boxOf = 100

// FarBeyond says why a number of pieces is hard to believe: it is far more than
// can be there. How many can be is not said, since it is counted blind. Empty:
// there is no doubt. An empty kind is that of the part or loan that the sentence
// is about. Rule R80.
func (s *Sentence) FarBeyond(said *Said, k events.Kind, n int) string {
	if !engine.FarBeyond(n, 1) || s == nil || said == nil || said.Job == nil || !hasText(doubted, s.Event) {
		return "" // most numbers are small: nothing is looked up for them
	}
	most, where := s.most(said, k)
	if !engine.FarBeyond(n, most) {
		return ""
	}
	return itoa(n) + " is far more than " + where
}

func hasText(list []string, text string) bool {
	for _, l := range list {
		for _, one := range strings.Split(text, " or ") {
			if one == l {
				return true
			}
		}
	}
	return false
}

// most is the most pieces that can be there, and of what, in words.
func (s *Sentence) most(said *Said, k events.Kind) (int, string) {
	st := said.State()
	switch {
	case s.Event == "batch-opened" || s.Event == "batch-closed":
		return mostMasks, "one batch has on it"
	case said.Has(Order):
		if n := st.MostOfOrder(said.At(0, Order).ID, k); n > 0 {
			return n, "was ordered"
		}
	case said.Has(Kit):
		return st.MostOfKit(said.At(0, Kit).ID, k), "such a kit holds"
	case said.Has(Slip):
		return said.Job.MostOfSlip(events.Code(said.At(0, Slip).ID), k), "went with the slip"
	case said.Has(Loan):
		if l, ok := st.Plan().Loan(events.Loan(said.At(0, Loan).ID)); ok {
			return st.Plan().Loans[l].Count, "go in"
		}
	case k == "" || k == events.Kind(said.Part()):
		if n := st.MostOfPart(said.Part()); n > 0 {
			return n, "the part has"
		}
	}
	if id := said.Joint(); id != "" && k != "" {
		if n := st.MostOfJoint(id, k); n > 0 {
			return n, "that joint holds"
		}
	}
	most := st.MostOfEngine(k)
	if s.Event == "hardware-received" { // a box of them is no mistake
		most = max(most, boxOf)
	}
	return most, "this engine has"
}
