package engine

import (
	"strings"

	"countback/projections/fastener/stage"
	"countback/projections/ledger"
	"countback/projections/plan"
	"countback/projections/tightening"
)

// stages lists what is doubtful or too far in a stage (rule R49), each with what
// clears it.
func (r *redList) stages() {
	s := r.s
	for li := range s.tight.lists {
		if !s.tight.lists[li].hard {
			continue
		}
		t := s.tightened(int32(li))
		for _, row := range t.Rows {
			r.stagesOf(&t, &row)
		}
	}
}

// stagesOf gathers cells of one stage that are wrong for one reason.
func (r *redList) stagesOf(t *Tightened, row *StageRow) {
	var whys []string
	spots := map[string][]Turn{}
	for i, c := range row.Cells {
		if c.State != stage.Doubtful && c.State != stage.Over {
			continue
		}
		if spots[c.Why] == nil {
			whys = append(whys, c.Why)
		}
		spots[c.Why] = append(spots[c.Why], Turn{Spot: t.Spots[i]})
	}
	for _, why := range whys {
		fact, next := why, ""
		if at := strings.LastIndex(why, ": "); at > 0 {
			fact, next = why[:at], why[at+2:]
		}
		since := r.s.spotSince(spots[why][0].Spot)
		r.add(RedStage, since, r.s.spotsWords(spots[why][0].Spot)+" "+holeNames(spots[why])+": "+fact, r.s.sayStages(spots[why], next, row))
	}
}

// editions lists the orders of turning that work was done on here and for which
// the plan has sources that disagree, as long as nobody has chosen one (rule R52).
func (c *auditList) editions() {
	s := c.s
	said := "" // a list of the plan stands there once for each of its joints, side by side
	for li := range s.lay.lists {
		l := &s.lay.lists[li]
		if len(l.Editions) < 2 || s.tight.lists[li].choice > 0 || l.ID == said {
			continue
		}
		since := s.firstPutIn(l)
		if since == 0 {
			continue // as it came: no source was worked by here
		}
		said = l.ID
		list := make([]string, len(l.Editions))
		for i := range l.Editions {
			list[i] = itoa(i+1) + " (" + l.Editions[i].Label() + ")"
		}
		joint := string(s.lay.plan.Joints[l.Joints[0]].ID)
		c.add(c.due(plan.SeatsFinished), RedEdition, since, s.jointWords(joint)+": its editions disagree, and nobody has chosen: "+strings.Join(list, " or "),
			say("joint "+joint, "EDITION"))
	}
}

// firstPutIn is the first fact that put a piece into a hole of a list here; 0:
// none did.
func (s *State) firstPutIn(l *tightening.List) ledger.Fact {
	var first ledger.Fact
	for _, ix := range l.Seats {
		if f := s.seats[ix].changed; s.putInHere(ix) && (first == 0 || f < first) {
			first = f
		}
	}
	return first
}

// spotsWords is the joint or the part of a position.
func (s *State) spotsWords(at Spot) string {
	if at.Part != "" {
		return s.partWords(string(at.Part))
	}
	return s.jointWords(string(at.Joint))
}
