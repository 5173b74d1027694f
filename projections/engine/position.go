package engine

import (
	"countback/events"
	"countback/projections/plan"
)

// PositionRow is one position of a part and the piece that sits in it.
type PositionRow struct {
	Position events.Hole
	Piece    events.Seat // where the piece belongs now; empty: not known
	Own      bool        // it sits in its own seat
}

// PositionMap lays the positions of a part side by side with the pieces in
// them, for parts whose pieces have a seat of their own; nil for others, and
// while nothing is known of them.
func (s *State) PositionMap(id events.Part) []PositionRow {
	p, ok := s.lay.plan.Part(id)
	if !ok {
		return nil
	}
	pt, in := &s.lay.plan.Parts[p], s.parts[p].in
	if pt.OwnSeat == plan.AnySeat || in == nil {
		return nil
	}
	rows := make([]PositionRow, len(pt.Positions))
	for i := range pt.Positions {
		rows[i].Position = pt.Positions[i].Name
		if i < len(in) && in[i] != "" {
			rows[i].Piece = s.Own(in[i])
			rows[i].Own = rows[i].Piece == pt.Seat(pt.Positions[i])
		}
	}
	return rows
}

// misplaced says how the pieces of a part sit in each other's seats: the whole
// row reversed end for end, all shifted by one, two of them swapped, or single
// pieces in wrong seats. Rule R26.
func (s *State) misplaced(p plan.PartIndex) []string {
	if on := s.now.Part(p); on != plan.PartOn && on != plan.PartPartly {
		return nil
	}
	pt := &s.lay.plan.Parts[p]
	rows := s.PositionMap(pt.ID)
	at := seatNumbers(pt, rows)
	wrong := 0
	for i, own := range at {
		if own >= 0 && own != i {
			wrong++
		}
	}
	if wrong == 0 {
		return nil
	}
	n := len(at)
	if by, ok := shift(at); ok {
		if by > n/2 {
			by -= n
		}
		return []string{pt.Name + ": all sit " + plural(abs(by), "place") + " too far " + direction(by)}
	}
	if reversed(at) {
		return []string{pt.Name + ": the whole row is reversed end for end"}
	}
	var list []string
	for i, own := range at {
		switch {
		case own < 0 || own == i:
		case at[own] == i && own > i:
			list = append(list, pt.Name+": "+string(rows[i].Position)+" and "+string(rows[own].Position)+" are swapped")
		case at[own] != i:
			list = append(list, pt.Name+": "+string(rows[i].Position)+" holds the piece of "+string(rows[own].Position))
		}
	}
	return list
}

func direction(by int) string {
	if by > 0 {
		return "towards the end"
	}
	return "towards the start"
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// seatNumbers gives for each position the number of the position that its piece
// belongs in; -1 where the piece or its seat is not known.
func seatNumbers(pt *plan.Part, rows []PositionRow) []int {
	at := make([]int, len(rows))
	for i := range rows {
		at[i] = -1
		for k := range pt.Positions {
			if rows[i].Piece != "" && pt.Seat(pt.Positions[k]) == rows[i].Piece {
				at[i] = k
			}
		}
	}
	return at
}

// fewest is how many pieces must be known to speak of a whole row.
const fewest = 3

// reversed says that every known piece sits where the row mirrored would put
// it, and that enough are known.
func reversed(at []int) bool {
	known := 0
	for i, own := range at {
		if own < 0 {
			continue
		}
		if own != len(at)-1-i {
			return false
		}
		known++
	}
	return known >= fewest
}

// shift says that every known piece sits the same number of places too far,
// the last ones at the start again or missing, and that enough are known.
func shift(at []int) (int, bool) {
	by, known := 0, 0
	for i, own := range at {
		if own < 0 {
			continue
		}
		d := ((i-own)%len(at) + len(at)) % len(at)
		if known > 0 && d != by {
			return 0, false
		}
		by = d
		known++
	}
	return by, known >= fewest && by != 0
}
