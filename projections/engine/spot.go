package engine

import (
	"strings"

	"countback/events"
	"countback/projections/index"
	"countback/projections/ledger"
)

// spotNo numbers the places and bags that the facts of one job name, from 1,
// in the order in which they were met. 0 is no place, or one that means
// something else from fact to fact: loose on the bench, a joint, a difference.
type spotNo int32

// spots are the places and bags that the facts of a job name.
type spots struct {
	paths index.Table[events.Place]
	bags  index.Table[events.Code]
	loose map[benchKey]spotNo
	list  []events.Place // by spotNo
}

// ofPlace numbers a place. A bag has one number, by its path and by its code.
func (s *spots) ofPlace(p events.Place) spotNo {
	if p == "" {
		return 0
	}
	if code, ok := strings.CutPrefix(string(p), "bag/"); ok {
		return s.ofBag(events.Code(code))
	}
	if n, ok := s.paths.Get(p); ok {
		return spotNo(n)
	}
	if word, _, _ := strings.Cut(string(p), "/"); word == "joint" || ledger.ClassOf(p) == ledger.Unexplained {
		return 0
	}
	n := s.add(p)
	s.paths.Put(p, int32(n))
	return n
}

// ofBag numbers a bag.
func (s *spots) ofBag(c events.Code) spotNo {
	if n, ok := s.bags.Get(c); ok {
		return spotNo(n)
	}
	n := s.add("bag/" + events.Place(c))
	s.bags.Put(c, int32(n))
	return n
}

// ofBench numbers the place of what lies loose on a bench, of one joint or part.
func (s *spots) ofBench(t events.Terminal, about string) spotNo {
	k := benchKey{t, about}
	if n, ok := s.loose[k]; ok {
		return n
	}
	path := "bench/" + string(t)
	if about != "" {
		path += "/" + about
	}
	if s.loose == nil {
		s.loose = make(map[benchKey]spotNo)
	}
	n := s.add(events.Place(path))
	s.loose[k] = n
	return n
}

func (s *spots) add(p events.Place) spotNo {
	if len(s.list) == 0 {
		s.list = append(s.list, "")
	}
	s.list = append(s.list, p)
	return spotNo(len(s.list) - 1)
}

// spot is what a state knows of one of them, once it has met it.
type spot struct {
	account ledger.AccountID
	bag     *Bag

	joint     int16 // that the bag is kept for; see jointOfBag
	jointName events.Joint
	jointBy   *layout
}

// placeOf is place for a place of the fact in hand.
func (s *State) placeOf(n spotNo, p events.Place, about string) ledger.AccountID {
	if n == 0 {
		return s.place(p, about)
	}
	at := &s.spots[n]
	if at.account == 0 {
		at.account = s.place(p, about)
	}
	return at.account
}

// bagOf is bag for a bag of the fact in hand.
func (s *State) bagOf(n spotNo, c events.Code) *Bag {
	at := &s.spots[n]
	if at.bag == nil {
		b, ok := s.bags[c]
		if !ok {
			b = s.newBag(c, s.job.spots.list[n])
		}
		at.bag, at.account = b, b.account
	}
	return at.bag
}
