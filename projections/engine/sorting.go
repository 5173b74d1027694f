package engine

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/ledger/share"
	"countback/projections/plan"
)

// Sorted is how pieces that lie mixed in one place go back to the bags and
// joints that lack them.
type Sorted struct {
	From  events.Place
	Into  []Pile        // where they go, in the order of the steps that need them
	Stays []Pile        // that are right where they are, or that no bag and no joint lacks
	Lacks []Lacking     // what would still be missing
	Mixed []events.Kind // kinds of which old and new lie together, some of them missing: tell them apart by eye
}

// Pile is what goes to one place.
type Pile struct {
	To    events.Place // empty: it has no place; see Why
	Name  string       // of the joint or part that it is for; empty: a place that is for none
	Fresh bool         // the joint has no bag: To is loose on the bench
	Why   string       // of what stays
	Lines []events.Line
}

// Lacking is what a joint or part would still miss.
type Lacking struct {
	Name string
	To   events.Place
	Kind events.Kind
	Qty  int
	Or   []string // others that would do as well to go short, since the pieces are equal
}

// sorting is the work on one place.
type sorting struct {
	s      *State
	from   ledger.AccountID
	here   events.Terminal
	place  []int32 // by plan.StepIndex: its place in the order
	items  []ledger.ItemID
	have   []int32 // by item of items
	homes  []sortHome
	needs  []share.Need
	about  []sortNeed // by need
	kept   []string   // by account
	byPath map[string]int
}

// sortHome is one place that pieces can go to.
type sortHome struct {
	account ledger.AccountID // 0: a place that the book has not met
	path    events.Place
	name    string
	fresh   bool
}

type sortNeed struct {
	home int
	kind events.Kind
	tier int32
}

// The tiers of need: what the book says came from a place goes back there
// first; then holes that lack a piece get one; then pieces that are not to be
// used again go to those of their joint.
const (
	tierBack int32 = iota
	tierLack
	tierSpent
)

// Sort works out where the pieces in a place belong: all homes are satisfied if
// that is possible, the earliest step first if not. Condition, lot and own seat
// are kept; old and new of a kind never go into one place. here is the bench at
// which it is asked. Rule R61.
func (j *Job) Sort(from events.Place, here events.Terminal) Sorted {
	s := j.State()
	out := Sorted{From: from}
	a, ok := s.book.Lookup(from)
	if !ok {
		return out
	}
	w := &sorting{s: s, from: a, here: here, kept: s.keptFor(), byPath: map[string]int{}}
	w.ranks()
	w.collect()
	came := w.cameFrom()
	w.joints(came)
	w.parts(came)
	shares := w.share()
	w.piles(shares, &out)
	w.lacks(shares, &out)
	return out
}

// ranks numbers the steps in the order in which they need their pieces.
func (w *sorting) ranks() {
	w.place = make([]int32, len(w.s.lay.plan.Steps))
	for n, ix := range w.s.lay.order {
		w.place[ix] = int32(n)
	}
}

// collect lists what lies there.
func (w *sorting) collect() {
	for it, n := range w.s.book.At(w.from) {
		if n > 0 {
			w.items, w.have = append(w.items, it), append(w.have, n)
		}
	}
}

// accept lists the classes (indices of items) that a need takes, the gladdest
// first; 0 is not at all.
func (w *sorting) accept(k events.Kind, gladly func(ledger.Item) int) []share.Class {
	type graded struct {
		class share.Class
		grade int
	}
	var list []graded
	for i, it := range w.items {
		name := w.s.book.ItemName(it)
		if g := gladly(name); g > 0 && alike(k, name.Kind) {
			if name.Kind != k {
				g += 16
			}
			list = append(list, graded{share.Class(i), g})
		}
	}
	slices.SortStableFunc(list, func(a, b graded) int { return a.grade - b.grade })
	classes := make([]share.Class, len(list))
	for i := range list {
		classes[i] = list[i].class
	}
	return classes
}

// home numbers a place that pieces go to.
func (w *sorting) home(path events.Place, a ledger.AccountID, name string) int {
	if i, ok := w.byPath[string(path)]; ok {
		return i
	}
	w.homes = append(w.homes, sortHome{account: a, path: path, name: name})
	w.byPath[string(path)] = len(w.homes) - 1
	return len(w.homes) - 1
}

// homeOf is where the pieces of a joint or part go: into its own bag, where old
// and new of the kind do not come together in it, else loose on the bench.
func (w *sorting) homeOf(about, name string, fresh bool, k events.Kind) int {
	b := w.s.book
	for a := 1; a <= b.Accounts(); a++ {
		id := ledger.AccountID(a)
		if w.kept[a] != about || b.Class(id) != ledger.Bag || !w.s.stillHeld(b.Path(id)) {
			continue
		}
		if !w.otherInside(id, fresh, k) {
			return w.home(b.Path(id), id, name)
		}
	}
	path := events.Place("bench/" + string(w.here) + "/" + about)
	id, _ := b.Lookup(path)
	i := w.home(path, id, name)
	w.homes[i].fresh = true
	return i
}

// otherInside says that a bag holds, or gets back, the kind in the other
// condition.
func (w *sorting) otherInside(a ledger.AccountID, fresh bool, k events.Kind) bool {
	b := w.s.book
	if a != w.from {
		for it, n := range b.At(a) {
			if name := b.ItemName(it); n > 0 && alike(k, name.Kind) && (name.Cond == events.New) != fresh {
				return true
			}
		}
	}
	for i := range w.about {
		h := &w.homes[w.about[i].home]
		if h.account != a || !alike(k, w.about[i].kind) || len(w.needs[i].Accept) == 0 {
			continue
		}
		first := b.ItemName(w.items[w.needs[i].Accept[0]])
		if (first.Cond == events.New) != fresh {
			return true
		}
	}
	return false
}

// parts asks for the pieces of parts that are off.
func (w *sorting) parts(back []came) {
	s, p := w.s, w.s.lay.plan
	for i := range p.Parts {
		pt, pl := &p.Parts[i], &s.lay.parts[i]
		k := events.Kind(pt.ID)
		if st := s.now.Part(plan.PartIndex(i)); !w.any(k) || st == plan.PartAbsent || st == plan.PartAway {
			continue
		}
		n := int32(pt.Count) - s.book.Balance(s.group[pl.group], ledger.OfKind(s.kinds[pl.kind]))
		for a, q := range s.book.Where(ledger.OfKind(s.kinds[pl.kind])) {
			if a != w.from && q > 0 && usable(s.book.Class(a)) {
				n -= q
			}
		}
		for _, c := range back {
			if s.book.KindOf(c.item) == s.kinds[pl.kind] {
				n -= c.n
			}
		}
		about := noun("part", pt.ID)
		w.need(tierLack, w.rankOf(about), about, pt.Name, false, k, n, pt.OwnSeat != plan.AnySeat)
	}
}

func (w *sorting) share() []share.Share {
	supplies := make([]share.Supply, len(w.items))
	for i := range w.items {
		supplies[i] = share.Supply{Class: share.Class(i), Qty: w.have[i], Usable: true}
	}
	return share.Among(w.needs, supplies).Shares
}

// piles puts the shares into piles, in the order of the needs' steps.
func (w *sorting) piles(shares []share.Share, out *Sorted) {
	left := slices.Clone(w.have)
	at := make([]int, len(w.homes)) // 1 + index of the home's pile
	var piles []Pile
	for _, i := range w.inOrder() {
		for _, t := range shares[i].From {
			h := w.about[i].home
			if at[h] == 0 {
				piles = append(piles, Pile{To: w.homes[h].path, Name: w.homes[h].name, Fresh: w.homes[h].fresh})
				at[h] = len(piles)
			}
			pl := &piles[at[h]-1]
			pl.Lines = w.line(pl.Lines, t.Supply, t.Qty)
			left[t.Supply] -= t.Qty
		}
	}
	for i := range piles {
		if piles[i].To == out.From {
			piles[i].Why = "right where it is"
			out.Stays = append(out.Stays, piles[i])
		} else {
			out.Into = append(out.Into, piles[i])
		}
	}
	for i, n := range left {
		if n > 0 {
			out.Stays = append(out.Stays, Pile{Lines: w.line(nil, int32(i), n), Why: w.whyLeft(i)})
		}
	}
	w.mixed(shares, out)
}

// inOrder lists the needs as they are served.
func (w *sorting) inOrder() []int {
	order := make([]int, len(w.needs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(w.needs[a].Step&(1<<24-1)) - int(w.needs[b].Step&(1<<24-1)) })
	return order
}

func (w *sorting) line(lines []events.Line, item, n int32) []events.Line {
	name := w.s.book.ItemName(w.items[item])
	for i := range lines {
		if l := &lines[i]; l.Kind == name.Kind && l.Cond == name.Cond && l.Lot == name.Lot && l.Origin == name.Origin {
			l.Qty += int(n)
			return lines
		}
	}
	return append(lines, events.Line{Kind: name.Kind, Qty: int(n), Cond: name.Cond, Lot: name.Lot, Origin: name.Origin})
}

// whyLeft says why pieces have no place.
func (w *sorting) whyLeft(item int) string {
	name := w.s.book.ItemName(w.items[item])
	for i := range w.needs {
		if contains(w.needs[i].Accept, share.Class(item)) {
			return "more than its bags and joints lack"
		}
	}
	for i := range w.about {
		if alike(w.about[i].kind, name.Kind) {
			switch {
			case bad1(name.Cond):
				return conditionWords(name.Cond)
			case name.Origin != "":
				return "belongs in " + w.s.nounWords(noun("hole", name.Origin))
			}
			return "old and new are kept apart"
		}
	}
	return "no bag and no joint of this engine lacks it"
}

// mixed names the kinds of which old and new lie together while some are
// missing: the book cannot say which of them are.
func (w *sorting) mixed(shares []share.Share, out *Sorted) {
	for i := range w.about {
		k := w.about[i].kind
		if shares[i].Missing == 0 || w.about[i].tier != tierBack || contains(out.Mixed, k) {
			continue
		}
		fresh, old := false, false
		for n := range w.about {
			if w.about[n].tier == tierBack && alike(k, w.about[n].kind) && len(w.needs[n].Accept) > 0 {
				isNew := w.s.book.Cond(w.items[w.needs[n].Accept[0]]) == events.New
				fresh, old = fresh || isNew, old || !isNew
			}
		}
		if fresh && old {
			out.Mixed = append(out.Mixed, k)
		}
	}
}

// lacks lists what is still missing of the joints that the place has to do
// with, and who could go short instead.
func (w *sorting) lacks(shares []share.Share, out *Sorted) {
	for _, i := range w.inOrder() {
		sh := &shares[i]
		if sh.Missing == 0 || w.about[i].tier == tierSpent || w.about[i].tier == tierLack && len(w.needs[i].Accept) == 0 {
			continue
		}
		h := &w.homes[w.about[i].home]
		l := Lacking{Name: h.name, To: h.path, Kind: w.about[i].kind, Qty: int(sh.Missing)}
		if l.Name == "" {
			l.Name = w.s.placeWords(h.path)
		}
		for n := range w.needs {
			name := w.homes[w.about[n].home].name
			if contains(sh.Robs, w.needs[n].Step) && w.about[n].tier == w.about[i].tier && alike(l.Kind, w.about[n].kind) && name != l.Name && name != "" && !contains(l.Or, name) {
				l.Or = append(l.Or, name)
			}
		}
		at := slices.IndexFunc(out.Lacks, func(o Lacking) bool { return o.To == l.To && o.Kind == l.Kind })
		if at >= 0 {
			out.Lacks[at].Qty += l.Qty
			continue
		}
		out.Lacks = append(out.Lacks, l)
	}
}

// aboutWords names what pieces are kept for.
func (s *State) aboutWords(about string) string {
	if id, ok := strings.CutPrefix(about, "part "); ok {
		return s.partWords(id)
	}
	if about == "" {
		return ""
	}
	return s.jointWords(about)
}
