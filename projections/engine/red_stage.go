package engine

import (
	"strings"

	"countback/projections/fastener/stage"
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
		r.add(RedStage, since, r.s.jointWords(string(spots[why][0].Joint))+" "+holeNames(spots[why])+": "+fact, next)
	}
}
