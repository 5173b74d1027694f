package engine

import (
	"countback/events"
	"countback/projections/ledger"
)

// ownersLot marks pieces in the ledger that the owner brought.
const ownersLot events.Lot = "owner's"

// ownerLot is the lot of what comes in: what the owner brings is the owner's.
func ownerLot(from events.Place, lot events.Lot) events.Lot {
	if lot == "" && from == "outside/owner" {
		return ownersLot
	}
	return lot
}

// owners is the fold's side of the owner's property.
type owners struct {
	brought []broughtIn
	wishes  []*Wish // one for each part, the last word
}

type broughtIn struct {
	kind   events.Kind
	qty    int
	sealed events.Seal
	fact   ledger.Fact
}

// Wish is what the owner wants of an old part.
type Wish struct {
	events.OwnerAsked
	Asked ledger.Fact
	Shown ledger.Fact // 0: not yet
	Given ledger.Fact
	Gone  ledger.Fact // scrapped before that; 0: not
}

// Open says that what the owner wants of a part was not done, and can still be.
func (w *Wish) Open() bool {
	switch w.Wish {
	case events.WishShown:
		return w.Shown == 0 && w.Given == 0
	case events.WishBack:
		return w.Given == 0
	}
	return false
}

func (s *State) ownerBrought(e *events.OwnerBrought) {
	s.received("outside/owner", e.To, ownersLot, e.Lines, events.New)
	s.brought(e.Lines, e.Sealed)
}

func (s *State) brought(lines []events.Line, sealed events.Seal) {
	for _, l := range lines {
		s.owner.brought = append(s.owner.brought, broughtIn{l.Kind, l.Qty, sealed, s.fact})
	}
}

func (s *State) ownerAsked(e *events.OwnerAsked) {
	if _, ok := s.lay.plan.Part(e.Part); !ok {
		s.note(NoSuch, noun("part", e.Part), "asked for by the owner")
		return
	}
	if w := s.wish(e.Part); w != nil {
		w.OwnerAsked, w.Asked = *e, s.fact
		return
	}
	s.owner.wishes = append(s.owner.wishes, &Wish{OwnerAsked: *e, Asked: s.fact})
}

func (s *State) wish(id events.Part) *Wish {
	for _, w := range s.owner.wishes {
		if w.Part == id {
			return w
		}
	}
	return nil
}

func (s *State) ownerShown(e *events.OwnerShown) {
	w := s.wish(e.Part)
	if w == nil { // nobody had asked, and it was shown all the same
		w = &Wish{OwnerAsked: events.OwnerAsked{Part: e.Part, Wish: events.WishShown}, Asked: s.fact}
		s.owner.wishes = append(s.owner.wishes, w)
	}
	w.Shown = s.fact
}

func (s *State) ownerGiven(e *events.OwnerGiven) {
	s.partsGone(e.From, e.Lines)
	s.transfer(e.From, "outside/owner", e.Lines)
	if w := s.wish(e.Part); w != nil {
		w.Given = s.fact
	}
	if p, ok := s.lay.plan.Part(e.Part); ok && !s.onIt(p) {
		s.parts[p].at = 0
	}
}

// wishesScrapped notes old parts that were thrown away though the owner wants
// them.
func (s *State) wishesScrapped(lines []events.Line) {
	for _, l := range lines {
		if w := s.wish(events.Part(l.Kind)); w != nil && w.Open() && w.Gone == 0 {
			w.Gone = s.fact
		}
	}
}

// OwnerItem is pieces of one kind that the owner brought.
type OwnerItem struct {
	Kind     events.Kind
	Name     string
	Sealed   events.Seal // of what came last
	In       int
	Since    int64 // when the first came
	Fitted   int
	Consumed int // scrapped, lost, or gone to a supplier
	Out      int // given back
	Here     int // and not fitted: to be fitted or given back
	Places   []string
}

// OwnerWishView is an old part that the owner wants to see or have.
type OwnerWishView struct {
	*Wish
	Name   string
	Where  []string // where the old one is
	Off    bool     // the old one is off, or another is on in its place
	Return bool     // to be given back, not only shown
}

// Owner is the owner's property on a job.
type Owner struct {
	Name   string // as the job was opened
	Items  []OwnerItem
	Wishes []OwnerWishView
}

// Owner is what belongs to the owner besides the engine, and what is wanted of
// what is replaced: in, fitted, consumed, out, and what is to be settled. Rule
// R46.
func (j *Job) Owner() Owner {
	s := j.State()
	o := Owner{Name: s.Opened.Owner}
	for _, b := range s.owner.brought {
		at := -1
		for i := range o.Items {
			if o.Items[i].Kind == b.kind {
				at = i
			}
		}
		if at < 0 {
			item := OwnerItem{Kind: b.kind, Name: s.kindWords(b.kind)}
			if r := s.Fact(b.fact); r != nil {
				item.Since = r.At
			}
			o.Items = append(o.Items, item)
			at = len(o.Items) - 1
		}
		o.Items[at].In += b.qty
		o.Items[at].Sealed = b.sealed
	}
	for i := range o.Items {
		s.ownerBalance(&o.Items[i])
	}
	for _, w := range s.owner.wishes {
		o.Wishes = append(o.Wishes, s.wishView(w))
	}
	return o
}

// ownerBalance says by the book where the owner's pieces of a kind are.
func (s *State) ownerBalance(item *OwnerItem) {
	for a := 1; a <= s.book.Accounts(); a++ {
		id := ledger.AccountID(a)
		n := 0
		for it, m := range s.book.At(id) {
			if name := s.book.ItemName(it); name.Lot == ownersLot && name.Kind == item.Kind {
				n += int(m)
			}
		}
		switch c := s.book.Class(id); {
		case c == ledger.Outside && s.book.Path(id) == "outside/owner":
			item.Out = n + item.In // what came in left from there
		case n == 0:
		case c == ledger.Fitted, c == ledger.Parked:
			item.Fitted += n
		case c == ledger.Scrap, c == ledger.Lost, c == ledger.Outside, c == ledger.Stub:
			item.Consumed += n
		case n > 0:
			item.Here += n
			item.Places = append(item.Places, s.placeWords(s.book.Path(id)))
		}
	}
	item.Out = max(0, item.Out)
}

func (s *State) wishView(w *Wish) OwnerWishView {
	v := OwnerWishView{Wish: w, Name: s.partWords(string(w.Part)), Return: w.Wish == events.WishBack}
	p, ok := s.lay.plan.Part(w.Part)
	if !ok {
		return v
	}
	k := s.kinds[s.lay.parts[p].kind]
	for a, n := range s.book.Where(ledger.OfKind(k)) {
		c := s.book.Class(a)
		if n <= 0 || c == ledger.Outside || c == ledger.Unexplained || c == ledger.Fitted {
			continue
		}
		for it, m := range s.book.At(a) {
			if name := s.book.ItemName(it); m > 0 && s.book.KindOf(it) == k && name.Cond != events.New && name.Lot != ownersLot {
				v.Where, v.Off = append(v.Where, s.placeWords(s.book.Path(a))), true
			}
		}
	}
	v.Off = v.Off || w.Gone != 0 || s.inst[p] > 1
	return v
}

// What red lines of the owner's property are about.
const (
	RedOwner = "owner"
	RedWish  = "owner-wish"
)

func (r *redList) owner() {
	s := r.s
	if len(s.owner.brought)+len(s.owner.wishes) == 0 {
		return
	}
	o := s.job.Owner()
	for _, it := range o.Items {
		if it.Here > 0 {
			r.add(RedOwner, 0, itoa(it.Here)+" "+it.Name+" of the owner's, in "+wordList(it.Places)+": neither fitted nor given back", s.ownerPutAway(&it))
		}
	}
	for _, w := range o.Wishes {
		if !w.Wish.Open() || !w.Off || s.letPass(noun("part", w.Part), s.wishText(&w)) {
			continue
		}
		scan := "scan part " + string(w.Part) + ", SHOWN"
		if w.Return {
			scan = "scan part " + string(w.Part) + ", GIVEN BACK"
		}
		if w.Gone != 0 {
			scan = "tell the owner what became of it; then " + override(noun("part", w.Part))
		}
		r.add(RedWish, w.Asked, s.wishText(&w), scan)
	}
}

// ownerPutAway is how what the owner brought leaves where it lies: fitted, or
// given back.
func (s *State) ownerPutAway(it *OwnerItem) string {
	if p, ok := s.lay.partKind[it.Kind]; ok {
		id := noun("part", s.lay.plan.Parts[p].ID)
		if s.onIt(p) {
			return say(id, "GIVEN BACK")
		}
		return orSay(say(id, "ON"), say(id, "GIVEN BACK"))
	}
	for a := 1; a <= s.book.Accounts(); a++ {
		for item, n := range s.book.At(ledger.AccountID(a)) {
			if name := s.book.ItemName(item); n > 0 && name.Lot == ownersLot && name.Kind == it.Kind && usable(s.book.Class(ledger.AccountID(a))) {
				return "fit it; or " + say(append(placeNouns(s.book.Path(ledger.AccountID(a))), "GIVEN BACK")...)
			}
		}
	}
	return "fit it; or " + say("OWNER'S THINGS")
}

func (s *State) wishText(w *OwnerWishView) string {
	text := "The old " + w.Name + " is to be shown to the owner"
	if w.Return {
		text = "The old " + w.Name + " is to be given back to the owner"
	}
	if w.Gone != 0 {
		text += ", and was thrown away on " + s.day(w.Gone)
	}
	return text
}

// tellsOwner puts what happens to the owner's things into a sentence.
func (s *State) tellsOwner(ev events.Event) string {
	switch e := ev.(type) {
	case events.OwnerBrought:
		text := "The owner brought " + s.linesWords(e.Lines)
		if e.Sealed != "" {
			text += ", " + string(e.Sealed)
		}
		return text + ", " + s.toWords(e.To)
	case events.OwnerAsked:
		switch e.Wish {
		case events.WishShown:
			return "The owner wants to see the old " + s.partWords(string(e.Part))
		case events.WishBack:
			return "The owner wants the old " + s.partWords(string(e.Part)) + " back"
		}
		return "The owner does not want the old " + s.partWords(string(e.Part)) + " any more"
	case events.OwnerShown:
		return s.partWords(string(e.Part)) + " shown to the owner" + because(e.Note)
	case events.OwnerGiven:
		return s.linesWords(e.Lines) + " given back to the owner" + fromWords(s, e.From)
	}
	return ""
}

// partRed is what is red about a core or a wish on a part, for a second person
// to let pass.
func (s *State) partRed(on string) []string {
	var list []string
	for _, c := range s.cores {
		if c.Void != 0 && c.Open() && noun("part", c.Part) == on {
			list = append(list, s.voidText(c))
		}
	}
	for _, w := range s.owner.wishes {
		if v := s.wishView(w); noun("part", w.Part) == on && w.Open() && v.Off {
			list = append(list, s.wishText(&v))
		}
	}
	return list
}
