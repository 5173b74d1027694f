package engine

import (
	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Order is what was ordered outside, and what came of it.
type Order struct {
	ID       string
	Supplier string
	Lines    []OrderLine // in the order in which they were told
	Since    ledger.Fact
	Closed   ledger.Fact // nothing more will come; 0: it is open
	Why      string      // it was closed
}

// OrderLine is one kind of an order. A line that came though nobody had
// ordered it has Ordered 0.
type OrderLine struct {
	Kind     events.Kind
	Ordered  int
	Received int        // as counted when it came; more than ordered where more came
	Returned int        // of these sent back to the supplier: owed again
	Short    int        // of Ordered: delivered short, and come no more
	Promised events.Day // the last word; none: nobody said
}

// Due is how many pieces of a line are still to come.
func (l *OrderLine) Due() int { return max(0, l.Ordered-l.Short-max(0, l.Received-l.Returned)) }

// Due is how many pieces of the order are still to come, over all its lines; 0
// once it is closed.
func (o *Order) Due() int {
	n := 0
	for i := range o.Lines {
		n += o.due(i)
	}
	return n
}

func (o *Order) due(line int) int {
	if o.Closed != 0 {
		return 0
	}
	return o.Lines[line].Due()
}

// line finds the line of a kind, -1 if the order has none.
func (o *Order) line(k events.Kind) int {
	for i := range o.Lines {
		if o.Lines[i].Kind == k {
			return i
		}
	}
	return -1
}

// State is how an order stands, in a word: ordered, part received, received,
// closed.
func (o *Order) State() string {
	came := 0
	for i := range o.Lines {
		came += o.Lines[i].Received
	}
	switch {
	case o.Closed != 0:
		return "closed"
	case o.Due() == 0 && came > 0:
		return "received"
	case came > 0:
		return "part received"
	}
	return "ordered"
}

// Orders lists what was ordered for this job, oldest first.
func (s *State) Orders() []*Order { return s.ahead.orders }

// Order finds an order by its name; nil if nobody told of it.
func (s *State) Order(id string) *Order { return s.order(id) }

func (s *State) order(id string) *Order {
	for _, o := range s.ahead.orders {
		if o.ID == id {
			return o
		}
	}
	return nil
}

func (s *State) ordered(e *events.Ordered) {
	o := s.order(e.Order)
	if o == nil {
		o = &Order{ID: e.Order, Since: s.fact}
		s.ahead.orders = append(s.ahead.orders, o)
	}
	if e.Supplier != "" {
		o.Supplier = e.Supplier
	}
	o.Closed, o.Why = 0, "" // what is ordered more is to come
	for i := range e.Lines {
		l := o.lineOf(e.Lines[i].Kind)
		l.Ordered = min(l.Ordered+max(0, e.Lines[i].Qty), events.MaxQty)
		if e.Promised.Valid() {
			l.Promised = e.Promised
		}
	}
}

// lineOf is the line of a kind, a new one if there is none.
func (o *Order) lineOf(k events.Kind) *OrderLine {
	i := o.line(k)
	if i < 0 {
		o.Lines = append(o.Lines, OrderLine{Kind: k})
		i = len(o.Lines) - 1
	}
	return &o.Lines[i]
}

func (s *State) orderClosed(e *events.OrderClosed) {
	o := s.order(e.Order)
	if o == nil {
		s.note(NoSuch, "order "+e.Order, "closed"+because(e.Why))
		return
	}
	o.Closed, o.Why = s.fact, e.Why
}

// deliveredShort takes off an order what comes no more: it is to be bought again.
func (s *State) deliveredShort(id string, lines []events.Line) {
	o := s.order(id)
	if o == nil {
		return
	}
	for i := range lines {
		if at := o.line(lines[i].Kind); at >= 0 {
			l := &o.Lines[at]
			l.Short = min(l.Short+max(0, lines[i].Qty), l.Ordered)
		}
	}
}

// cameWith takes what was received to the order that it came with. An order that
// nobody told of is noted, and its lines are kept as not ordered.
func (s *State) cameWith(id string, lines []events.Line) {
	if id == "" {
		return
	}
	o := s.order(id)
	if o == nil {
		s.note(NoSuch, "order "+id, "received")
		o = &Order{ID: id, Since: s.fact}
		s.ahead.orders = append(s.ahead.orders, o)
	}
	for i := range lines {
		l := o.lineOf(lines[i].Kind)
		l.Received = min(l.Received+max(0, lines[i].Qty), events.MaxQty)
	}
}

// sentBack moves pieces to their supplier. What came with an order is owed
// again.
func (s *State) sentBack(e *events.HardwareSentBack) {
	if len(e.Lines) == 0 {
		return // nothing was named: never all of a place
	}
	s.transfer(e.From, events.Place("outside/supplier/"+e.Supplier), e.Lines)
	if e.Order == "" {
		return
	}
	o := s.order(e.Order)
	if o == nil {
		s.note(NoSuch, "order "+e.Order, "sent back")
		return
	}
	for i := range e.Lines {
		l := o.lineOf(e.Lines[i].Kind)
		l.Returned = min(l.Returned+max(0, e.Lines[i].Qty), events.MaxQty)
	}
}

// kitKind is how a kit is ordered and stored unopened: "kit gasket-set".
func kitKind(id string) events.Kind { return events.Kind(noun("kit", id)) }

// kitOf is the kit of the plan that a kind is; nil if it is none.
func (s *State) kitOf(k events.Kind) *plan.Kit {
	typ, id := cutNoun(string(k))
	if typ != "kit" {
		return nil
	}
	for i := range s.lay.plan.Kits {
		if s.lay.plan.Kits[i].ID == id {
			return &s.lay.plan.Kits[i]
		}
	}
	return nil
}

// kitLineKind is what one line of a kit is.
func (s *State) kitLineKind(l *plan.KitLine) events.Kind {
	if l.Part != plan.None {
		return events.Kind(s.lay.plan.Parts[l.Part].ID)
	}
	return l.Kind
}
