package engine

import (
	"math/bits"
	"slices"
	"strings"

	"countback/events"
	"countback/projections/fastener"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Home is a joint that a found fastener may belong to, by one kind that its
// holes want.
type Home struct {
	Kind   events.Kind
	Joint  events.Joint
	Name   string // of the joint
	Want   []events.Hole
	Filled int              // holes of the joint that have one
	Have   int              // pieces that are kept for the joint and may stand in for the kind
	Short  int              // holes that want one, less what is kept for them
	Kept   []events.Place   // where pieces of the joint are kept
	Shorts []events.ShortID // open shorts of the kind, there
	Like   fastener.Likeness
	Own    bool // each piece has a hole of its own
	Equal  int  // homes with one number are equal, and any of them will do; 0: no other is
}

// Homes is the answer to a found fastener.
type Homes struct {
	Found fastener.Measured
	List  []Home // the likeliest first
	Near  []Home // no home for it: those that differ in one thing only
	Text  string // the answer in one line
	Next  string // what to do now
}

// Whose looks for the holes and bags that could want a fastener that somebody
// found: those of the nearest match before others, then those that are short,
// then those that are empty, in the order of the plan. Rule R60.
func (j *Job) Whose(m fastener.Measured) Homes {
	s := j.State()
	h := Homes{Found: m}
	all := s.homes(m)
	for i := range all {
		switch {
		case all[i].Like.Yes():
			h.List = append(h.List, all[i])
		case oneField(all[i].Like.Differ):
			h.Near = append(h.Near, all[i])
		}
	}
	rank(h.List, m.Asked())
	rank(h.Near, m.Asked())
	if len(h.List) > 0 {
		h.Near = nil
	}
	markEqual(h.List)
	s.answerWhose(&h)
	return h
}

func oneField(f fastener.Field) bool { return f != 0 && f&(f-1) == 0 && f != fastener.FieldForm }

// homes gathers, for every joint, the kinds of its holes in their order.
func (s *State) homes(m fastener.Measured) []Home {
	var list []Home
	p := s.lay.plan
	for ji := range p.Joints {
		from := len(list)
		for _, ix := range p.Joints[ji].Seats {
			if p.Seats[ix].Joint == plan.JointIndex(ji) && s.now.Seat(ix) != plan.SeatAbsent {
				list = s.homesIn(ix, m, list, from)
			}
		}
	}
	s.keep(list)
	return list
}

// homesIn adds what one hole wants or has.
func (s *State) homesIn(ix plan.SeatIndex, m fastener.Measured, list []Home, from int) []Home {
	st := &s.lay.plan.Seats[ix]
	for i := range st.Members {
		kind := s.wantedKind(ix, i)
		sp, ok := specOf(kind)
		if !ok {
			continue
		}
		at := slices.IndexFunc(list[from:], func(h Home) bool { return h.Kind == kind })
		if at < 0 {
			like := m.Like(sp)
			if !like.Yes() && !oneField(like.Differ) {
				continue
			}
			j := &s.lay.plan.Joints[st.Joint]
			list = append(list, Home{Kind: kind, Joint: j.ID, Name: j.Name, Like: like})
			at = len(list) - 1 - from
		}
		h := &list[from+at]
		h.Own = h.Own || st.OwnSeat != plan.AnySeat
		if s.seats[ix].in&(1<<i) != 0 {
			h.Filled++
		} else {
			h.Want = append(h.Want, st.Hole)
		}
	}
	return list
}

// keep adds to each home what is kept for it, and what is short there.
func (s *State) keep(list []Home) {
	about := s.keptFor()
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		if about[a] == "" || !usable(s.book.Class(id)) {
			continue
		}
		for i := range list {
			h := &list[i]
			if about[a] != string(h.Joint) && !s.sharedWith(h.Joint, about[a]) {
				continue
			}
			if path := s.book.Path(id); s.stillUsed(path) {
				h.Kept = append(h.Kept, path)
			}
			for it, n := range s.book.At(id) {
				if name := s.book.ItemName(it); n > 0 && name.Cond != events.Condemned && alike(h.Kind, name.Kind) {
					h.Have += int(n)
				}
			}
		}
	}
	for i := range list {
		list[i].Short = max(0, len(list[i].Want)-list[i].Have)
		list[i].Shorts = s.shortsAt(&list[i], about)
	}
}

// sharedWith says that a joint has a hole in common with another, of which
// pieces may be kept under that name.
func (s *State) sharedWith(id events.Joint, other string) bool {
	j, ok := s.lay.plan.Joint(id)
	o, has := s.lay.plan.Joint(events.Joint(other))
	if !ok || !has {
		return false
	}
	for _, ix := range s.lay.plan.Joints[j].Seats {
		if s.lay.plan.Seats[ix].Joint == j && contains(s.lay.plan.Seats[ix].SharedBy, o) {
			return true
		}
	}
	return false
}

func (s *State) stillUsed(p events.Place) bool {
	code, ok := strings.CutPrefix(string(p), "bag/")
	if !ok {
		return len(s.At(p)) > 0
	}
	b, ok := s.bags[events.Code(code)]
	return ok && b.Retired == 0
}

// shortsAt lists the open shorts of a home's kind, in its holes or in what is
// kept for it.
func (s *State) shortsAt(h *Home, about []string) []events.ShortID {
	var list []events.ShortID
	for k := 1; k <= s.book.Entries() && s.book.OpenEntries() > 0; k++ {
		en := s.book.Entry(ledger.EntryNo(k))
		if en.Open == 0 || en.Sign != ledger.Short || !alike(h.Kind, s.kindOf(&en)) {
			continue
		}
		_, _, name := cutPlace(s.book.Path(en.Place))
		if s.book.Class(en.Place) == ledger.Fitted && name == string(h.Joint) || int(en.Place) < len(about) && about[en.Place] == string(h.Joint) {
			list = append(list, s.ShortID(en.No))
		}
	}
	return list
}

// rank puts the homes into their order: a kind that leaves open what was looked
// at is a worse match. The order of the plan breaks ties.
func rank(list []Home, asked fastener.Field) {
	slices.SortStableFunc(list, func(a, b Home) int {
		for _, d := range [...]int{
			bits.OnesCount16(uint16(a.Like.Unknown&asked)) - bits.OnesCount16(uint16(b.Like.Unknown&asked)),
			int(a.Like.OffMm+0.5) - int(b.Like.OffMm+0.5),
			yes(b.Short > 0 || len(b.Shorts) > 0) - yes(a.Short > 0 || len(a.Shorts) > 0),
			yes(len(b.Want) > 0) - yes(len(a.Want) > 0),
		} {
			if d != 0 {
				return d
			}
		}
		return 0
	})
}

func yes(is bool) int {
	if is {
		return 1
	}
	return 0
}

// markEqual numbers the homes that want equal pieces now, where no piece has a
// hole of its own.
func markEqual(list []Home) {
	next := 0
	for i := range list {
		if list[i].Equal != 0 || list[i].Own || len(list[i].Want) == 0 {
			continue
		}
		for k := i + 1; k < len(list); k++ {
			if o := &list[k]; o.Kind == list[i].Kind && !o.Own && len(o.Want) > 0 && (o.Short > 0) == (list[i].Short > 0) {
				if list[i].Equal == 0 {
					next++
					list[i].Equal = next
				}
				o.Equal = next
			}
		}
	}
}

// answerWhose puts the answer into words.
func (s *State) answerWhose(h *Homes) {
	what := h.Found.String()
	switch {
	case len(h.List) == 0 && len(h.Near) == 0:
		h.Text, h.Next = "No hole of this engine takes "+what, "ask at the other benches; keep it apart"
		return
	case len(h.List) == 0:
		n := &h.Near[0]
		h.Text = "No hole of this engine takes " + what + "; nearest is " + s.kindWords(n.Kind) + " of " + n.Name + ", which differs in " + n.Like.Differ.String()
		h.Next = "measure it again; keep it apart"
		return
	}
	first := &h.List[0]
	same := 1
	for i := 1; i < len(h.List); i++ {
		if first.Equal != 0 && h.List[i].Equal == first.Equal {
			same++
		}
	}
	h.Text = capital(s.kindWords(first.Kind)) + ": " + first.Name
	switch {
	case same > 1:
		h.Text = capital(s.kindWords(first.Kind)) + ": any of these, they are equal"
	case first.Short > 0:
		h.Text += ", which is short of " + itoa(first.Short)
	case len(first.Want) == 0:
		h.Text += ", where none is missing"
	}
	switch {
	case first.Own:
		h.Next = "each has a hole of its own: look for its mark"
	case len(first.Kept) > 0:
		h.Next = "put it into " + s.placeWords(first.Kept[0])
	default:
		h.Next = "label a bag for " + first.Name
	}
	if first.Like.Unknown != 0 {
		h.Next += "; not known: " + first.Like.Unknown.String()
	}
}

// Sizes lists the fasteners of the plan, and of what the job has met beside.
func (s *State) Sizes() []events.Kind {
	kinds, _ := s.jobKinds()
	return kinds
}
