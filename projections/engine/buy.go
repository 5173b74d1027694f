package engine

import (
	"cmp"
	"slices"

	"countback/events"
	"countback/projections/plan"
)

// BuyList is what has to come from outside for the steps that put together,
// from the moment at which a need shows, by supplier.
type BuyList struct {
	Today  events.Day // from which days are seen
	Groups []BuyGroup // the one that has to be ordered first is first
}

// BuyGroup is what one supplier brings: to be ordered together.
type BuyGroup struct {
	Supplier string     // empty: nobody said who
	OrderBy  events.Day // the earliest of its lines; none: no start is planned, or nothing is to be ordered
	Overdue  bool       // that day is past
	Lines    []BuyLine
}

// BuyLine is one kind that is needed and not here. Need is Ordered and Buy
// together, and the sum of its causes.
type BuyLine struct {
	Kind     events.Kind
	Name     string
	Need     int           // pieces that no step gets from what is here
	Ordered  int           // of these on order, or in a kit that nobody opened yet
	Buy      int           // of these not on order
	Received int           // of the kind, with all orders of the job
	Returned int           // of the kind, sent back
	Causes   []BuyCause    // why, each with its count; the most pressing first
	Maybe    []string      // what may make it less: a short that may be found, pieces not measured yet
	Steps    []events.Step // that wait for it, in the order of the work
	NeededBy events.Day    // planned start of the first step that nothing on order serves, or else of the first
	OrderBy  events.Day    // NeededBy less Days; none where one of them is not known, or nothing is to be bought
	Overdue  bool          // OrderBy is past
	Coming   When          // when all that is ordered of it is here
	Late     bool          // some of that is promised for later than its step is to start
	Supplier string        // of whom it is bought; empty: nobody said
	Days     int           // that the supplier takes; -1: nobody said
	Kit      string        // the kit of the plan that has it; empty: none
}

// BuyCause is one reason of a need.
type BuyCause struct {
	Why string
	Qty int
}

// Buy is the buy list as it is now. A piece is asked for once, whatever the
// number of its reasons; what is expected to be left over of a kit is asked
// for by nobody. Rule R41.
func (j *Job) Buy() BuyList {
	s := j.State()
	b := &buyer{v: s.view(), s: s, of: map[events.Kind]int{}}
	b.h, b.c, b.starts = b.v.hardware(), b.v.coming(), b.v.plannedStarts()
	b.pools()
	for _, ix := range s.lay.order {
		for w := b.h.first[ix]; w < b.h.end[ix]; w++ {
			b.want(int(w))
		}
	}
	b.yetToCome()
	return b.list()
}

// buyer puts the list together.
type buyer struct {
	v      *view
	s      *State
	h      *hardware
	c      *coming
	starts []events.Day
	lines  []BuyLine
	of     map[events.Kind]int // line of a kind

	unmeasured map[events.Kind]int // at hand, and may yet be measured good
	shorts     map[events.Kind]int // open: they may yet be found
	kits       map[events.Kind]int // that kits came without
	reasons    map[events.Kind]*lossReasons
	free       map[events.Kind]int // new ones that no step takes
	freeToCome map[events.Kind]int // on order, or in a kit, for no step
}

// line is the line of a kind.
func (b *buyer) line(k events.Kind) *BuyLine {
	i, ok := b.of[k]
	if !ok {
		i = len(b.lines)
		b.of[k] = i
		b.lines = append(b.lines, BuyLine{Kind: k, Name: b.s.kindWords(k), Coming: now})
	}
	return &b.lines[i]
}

// want adds what one want lacks: less what may still be measured good or be
// found.
func (b *buyer) want(w int) {
	wt := &b.h.wants[w]
	lacks := int(wt.n - wt.got)
	if lacks == 0 {
		return
	}
	k := b.s.book.KindName(wt.kind)
	if wt.rule == measured {
		lacks -= b.maybe(k, b.unmeasured, lacks, " not measured yet")
	}
	if wt.rule != onlyNew && wt.rule != replaced {
		lacks -= b.maybe(k, b.shorts, lacks, " missing, and may be found")
	}
	if lacks == 0 {
		return
	}
	l := b.line(k)
	step := b.s.lay.plan.Steps[wt.step].ID
	if !contains(l.Steps, step) {
		l.Steps = append(l.Steps, step)
	}
	l.Need += lacks
	b.causes(l, wt, lacks)
	b.ordered(l, wt, w, lacks)
}

// maybe takes pieces from what may still turn out well, and says so on the
// line of the kind.
func (b *buyer) maybe(k events.Kind, pool map[events.Kind]int, n int, what string) int {
	n = min(n, pool[k])
	if n > 0 {
		pool[k] -= n
		l := b.line(k)
		l.Maybe = append(l.Maybe, itoa(n)+what)
	}
	return n
}

// ordered takes what is on order for a want, and says by when the rest is
// needed.
func (b *buyer) ordered(l *BuyLine, wt *want, w, lacks int) {
	start := b.starts[wt.step]
	left := lacks
	for _, t := range b.c.share[w].From {
		n := min(left, int(t.Qty))
		left -= n
		if over := int(t.Qty) - n; over > 0 {
			b.freeToCome[l.Kind] += over // what may still be found is on order too
		}
		if n == 0 {
			continue
		}
		l.Ordered += n
		when := b.c.lines[t.Supply].when()
		l.Coming = l.Coming.later(when)
		l.Late = l.Late || when.Day != "" && start != "" && when.Day > start
	}
	if left > 0 {
		l.Buy += left
		l.NeededBy = l.NeededBy.Earlier(start)
	}
}

// yetToCome adds what will be needed once it is out: what kits came without,
// and parts that are to be replaced and are still on.
func (b *buyer) yetToCome() {
	for _, k := range b.kindsInOrder() {
		still := b.stillIn(k)
		n := min(b.kits[k], still.single)
		why := "lacking in a kit"
		if still.replace > n {
			n, why = still.replace, still.why
		}
		spare := b.free[k] + b.freeToCome[k]
		if n > 0 {
			n = min(n, max(0, still.single+still.replace-spare))
		}
		if n <= 0 {
			continue
		}
		l := b.line(k)
		l.Need += n
		l.Buy += n
		l.Causes = append(l.Causes, BuyCause{why, n})
		for _, step := range still.steps {
			if !contains(l.Steps, b.s.lay.plan.Steps[step].ID) {
				l.Steps = append(l.Steps, b.s.lay.plan.Steps[step].ID)
			}
			l.NeededBy = l.NeededBy.Earlier(b.starts[step])
		}
	}
	for _, f := range b.s.findings {
		if len(f.Lines) > 0 && f.Done == 0 && !f.Open() {
			b.finding(f)
		}
	}
}

// finding adds what a decision needs from outside, where no step asks for it.
func (b *buyer) finding(f *Finding) {
	for _, need := range f.Lines {
		n := need.Qty
		if i, ok := b.of[need.Kind]; ok {
			n -= b.lines[i].Need
		}
		n -= take(b.free, need.Kind, n)
		onOrder := take(b.freeToCome, need.Kind, n)
		if n <= 0 {
			continue
		}
		l := b.line(need.Kind)
		l.Need += n
		l.Ordered += onOrder
		l.Buy += n - onOrder
		l.Causes = append(l.Causes, BuyCause{"finding " + f.ID, n})
		for i := range b.c.lines {
			if b.c.lines[i].kind == need.Kind && onOrder > 0 {
				l.Coming = l.Coming.later(b.c.lines[i].when())
			}
		}
		for _, ix := range b.s.lay.order {
			if step := b.s.lay.plan.Steps[ix].ID; !b.s.now.IsDone(ix) && b.s.concerns(ix, f.On) && !contains(l.Steps, step) {
				l.Steps = append(l.Steps, step)
				l.NeededBy = l.NeededBy.Earlier(b.starts[ix])
			}
		}
	}
}

// take takes up to so many pieces out of a pool.
func take(pool map[events.Kind]int, k events.Kind, n int) int {
	n = max(0, min(n, pool[k]))
	if n > 0 {
		pool[k] -= n
	}
	return n
}

// list sorts the lines by supplier and day.
func (b *buyer) list() BuyList {
	out := BuyList{Today: b.s.today()}
	for i := range b.lines {
		l := &b.lines[i]
		if l.Need == 0 && len(l.Maybe) == 0 {
			continue
		}
		b.finish(l, out.Today)
		g := slices.IndexFunc(out.Groups, func(g BuyGroup) bool { return g.Supplier == l.Supplier })
		if g < 0 {
			g = len(out.Groups)
			out.Groups = append(out.Groups, BuyGroup{Supplier: l.Supplier})
		}
		gr := &out.Groups[g]
		gr.Lines = append(gr.Lines, *l)
		gr.OrderBy = gr.OrderBy.Earlier(l.OrderBy)
		gr.Overdue = gr.Overdue || l.Overdue
	}
	for i := range out.Groups {
		slices.SortStableFunc(out.Groups[i].Lines, func(x, y BuyLine) int {
			return cmp.Or(dayOrder(x.OrderBy, y.OrderBy), dayOrder(x.NeededBy, y.NeededBy), cmp.Compare(x.Kit, y.Kit))
		})
	}
	slices.SortStableFunc(out.Groups, func(x, y BuyGroup) int {
		return cmp.Or(dayOrder(x.OrderBy, y.OrderBy), last(x.Supplier)-last(y.Supplier), cmp.Compare(x.Supplier, y.Supplier))
	})
	return out
}

// last puts what nobody named behind the rest.
func last(name string) int {
	if name == "" {
		return 1
	}
	return 0
}

// dayOrder puts the earlier day first, and none last.
func dayOrder(x, y events.Day) int {
	if x.Valid() != y.Valid() {
		return last(string(x)) - last(string(y))
	}
	return cmp.Compare(x, y)
}

// finish works out what follows from the numbers of a line.
func (b *buyer) finish(l *BuyLine, today events.Day) {
	for _, o := range b.s.ahead.orders {
		if i := o.line(l.Kind); i >= 0 {
			l.Received += o.Lines[i].Received
			l.Returned += o.Lines[i].Returned
		}
	}
	if l.Ordered == 0 {
		l.Coming = When{}
	}
	if l.Buy == 0 {
		for _, id := range l.Steps {
			if ix, ok := b.s.lay.plan.Step(id); ok {
				l.NeededBy = l.NeededBy.Earlier(b.starts[ix])
			}
		}
	}
	l.Kit = b.s.kitWith(l.Kind)
	l.Supplier, l.Days = b.s.supplierOf(l.Kind, l.Kit)
	if l.Days >= 0 && l.Buy > 0 {
		l.OrderBy = l.NeededBy.Plus(-l.Days)
		l.Overdue = l.OrderBy != "" && l.OrderBy < today
	}
}

// supplierOf is of whom a kind is bought and how many days that takes: as was
// said last of the kind, else of its kit, else of whom it was ordered last. -1
// day where nobody said.
func (s *State) supplierOf(k events.Kind, kit string) (supplier string, days int) {
	for _, what := range []events.Kind{k, kitKind(kit)} {
		if kit == "" && what != k {
			continue
		}
		for i := len(s.ahead.leads) - 1; i >= 0; i-- {
			if l := &s.ahead.leads[i]; l.Kind == what {
				return l.Supplier, l.Days
			}
		}
	}
	for i := len(s.ahead.orders) - 1; i >= 0 && supplier == ""; i-- {
		if o := s.ahead.orders[i]; o.line(k) >= 0 || kit != "" && o.line(kitKind(kit)) >= 0 {
			supplier = o.Supplier
		}
	}
	for i := range s.ahead.leads {
		if l := &s.ahead.leads[i]; l.Kind == "" && l.Supplier == supplier && supplier != "" {
			return supplier, l.Days
		}
	}
	return supplier, -1
}

// kindsInOrder are the kinds of the plan, in its order.
func (b *buyer) kindsInOrder() []events.Kind {
	if len(b.kits) == 0 && !b.s.replaces() {
		return nil
	}
	return b.s.lay.kinds
}

// still is what is in place and will have to be new.
type still struct {
	single  int // single-use pieces that are in as found
	replace int // pieces of parts that are to be replaced
	why     string
	steps   []plan.StepIndex // that put them in
}
