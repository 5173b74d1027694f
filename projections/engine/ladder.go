package engine

import (
	"slices"

	"countback/events"
	"countback/projections/plan"
)

// Method is one way to get a broken fastener out. The order, the tries and the
// stops are common practice, without a source.
type Method struct {
	ID    string // as stored with an attempt
	Name  string
	When  string // when it is the one to take
	Tries int    // after so many the next one; 0: once it is clear
	Stop  string // the sign to stop at
	Care  string // what to take care of
	Hot   bool   // flame or weld: the cautions must be confirmed first
	Drill bool   // needs a drill in line with the hole
}

// The methods, from the gentlest.
const (
	Soak       = "soak"
	Grip       = "grip"
	Heat       = "heat"
	WeldNut    = "weld-nut"
	DrillLeft  = "drill-left"
	ScrewOut   = "screw-extractor"
	DrillOut   = "drill-out"
	FitInsert  = "insert"
	HandOut    = "hand-out"
	Remachined = "re-machine"
)

var methods = [...]Method{
	{ID: Soak, Name: "penetrant, several times, overnight; then back and forth", When: "first, wherever there is time", Tries: 1,
		Stop: "it twists or feels springy", Care: "six-point socket; no impact on small ones"},
	{ID: Grip, Name: "grips, a collet extractor or two nuts on what stands proud", When: "a diameter or more stands proud", Tries: 2,
		Stop: "it starts to round or twist"},
	{ID: Heat, Name: "heat the casting round it, wax or penetrant while hot, rock it", When: "cast iron; with care in aluminium", Tries: 3, Hot: true,
		Stop: "aluminium glows or colours: never so far", Care: "iron may be brought near red, aluminium to a few hundred degrees Fahrenheit"},
	{ID: WeldNut, Name: "weld a bulb, then a nut on the stub; let it cool, rock, repeat", When: "proud, flush, or sunk a little", Tries: 6, Hot: true,
		Stop: "the stub gets shorter each time, or the edge of the hole melts", Care: "a bronze or copper sleeve protects the bore of a sunk one"},
	{ID: DrillLeft, Name: "grind flat, centre punch, drill guide, left-hand drill in growing steps", When: "flush or below", Tries: 1, Drill: true,
		Stop: "the drill is off centre by more than 0.5 mm", Care: "a guide keeps the bit off the soft casting; mark the depth"},
	{ID: ScrewOut, Name: "screw extractor", When: "only when the stub is loose already", Tries: 1,
		Stop: "any feeling of spring", Care: "it is brittle: a broken one is worse than the bolt"},
	{ID: DrillOut, Name: "drill to the tap drill size, pick the thread out, chase it", When: "a centred hole", Tries: 1, Drill: true,
		Stop: "the thread is eaten on one side", Care: "the depth of a blind hole; water or oil behind it"},
	{ID: FitInsert, Name: "thread insert", When: "the thread is gone", Tries: 1, Drill: true,
		Stop: "the wall is too thin", Care: "write down the new depth: the length window goes by it"},
	{ID: HandOut, Name: "hand it out: mill or spark removal at the machine shop", When: "a hard piece in the hole, the part off anyway, a second failure"},
	{ID: Remachined, Name: "weld up and re-machine, or another casting", When: "the boss is cracked", Hot: true,
		Care: "aluminium stays soft where it was heated unless it is heat treated again"},
}

// Methods lists the ways to get a broken fastener out, the gentlest first.
func Methods() []Method { return append([]Method(nil), methods[:]...) }

// MethodOf finds a method by its stored name.
func MethodOf(id string) (Method, bool) {
	for i := range methods {
		if methods[i].ID == id {
			return methods[i], true
		}
	}
	return Method{}, false
}

// MethodWords names a method for people; an unknown one by its stored name.
func MethodWords(id string) string {
	if m, ok := MethodOf(id); ok {
		return m.Name
	}
	return id
}

// Access says whether a drill gets in line with the hole.
type Access uint8

// The kinds of access to a hole.
const (
	AccessUnknown Access = iota
	InLine
	NotInLine
)

// Advice is what to do next about one broken fastener.
type Advice struct {
	Case   events.Code
	Stop   bool     // ask the second person before anything else
	Next   Method   // what to try; handing it out when stopped
	Sleeve bool     // weld through a sleeve
	Why    []string // what speaks for it
	Then   []Method // what comes after it
}

// Ladder is the next method for a broken fastener: by how much of it stands
// out, in diameters, by the casting, by the access, by where the part is, and
// by what was tried. Rule R22. false: the job has no such open case.
func (j *Job) Ladder(c events.Code, access Access) (Advice, bool) {
	s := j.State()
	k, ok := s.Case(c)
	if !ok || !k.Open() {
		return Advice{}, false
	}
	a := Advice{Case: c}
	rungs := s.rungs(k, access, &a)
	if why := s.stopped(k); why != "" {
		a.Stop = true
		a.Why = append([]string{why + ": stop, and ask a second person"}, a.Why...)
		a.Next, _ = MethodOf(HandOut)
		return a, true
	}
	for _, id := range rungs {
		m, _ := MethodOf(id)
		if k.tried(id) >= max(1, m.Tries) {
			continue
		}
		if a.Next.ID == "" {
			a.Next = m
		} else {
			a.Then = append(a.Then, m)
		}
	}
	return a, true
}

func (c *Case) tried(method string) int {
	n := 0
	for i := range c.Tries {
		if c.Tries[i].Method == method {
			n++
		}
	}
	return n
}

// stopped says why no more may be tried without a second person; empty: it may.
func (s *State) stopped(c *Case) string {
	limits := s.job.Limits()
	failed, minutes := c.Failed()
	switch {
	case c.HardPiece():
		return "a hard piece is in the hole"
	case limits.FailedMethods > 0 && failed >= limits.FailedMethods:
		return plural(failed, "method") + " failed"
	case limits.Minutes > 0 && minutes >= limits.Minutes:
		return itoa(minutes) + " minutes of work"
	}
	return ""
}

// rungs lists the methods that come into question, in their order.
func (s *State) rungs(c *Case, access Access, a *Advice) []string {
	list := []string{Soak}
	height, known := s.stubHeight(c)
	switch {
	case c.Stub == events.Below || height < 0:
		a.Sleeve = true
		a.Why = append(a.Why, "it ends below the face")
		list = append(list, WeldNut, DrillLeft, DrillOut, FitInsert)
	case c.Stub == events.Proud && known && height >= 1:
		a.Why = append(a.Why, "a diameter or more stands proud")
		list = append(list, Grip, WeldNut)
	case c.Stub == events.Proud:
		a.Why = append(a.Why, "less than a diameter stands proud, or it is not known how much")
		list = append(list, WeldNut, DrillLeft)
	default:
		a.Why = append(a.Why, "it is flush with the face")
		list = append(list, WeldNut, DrillLeft)
	}
	list = s.byCasting(c, list, a)
	if access == NotInLine {
		a.Why = append(a.Why, "no drill gets in line with the hole")
		list = slices.DeleteFunc(list, func(id string) bool { m, _ := MethodOf(id); return m.Drill })
	}
	if s.hostOff(c) {
		a.Why = append(a.Why, "the part is off: on the bench, upright, and the machine shop can have it")
		if c.Stub == events.Below {
			list = []string{Soak}
		}
	}
	return append(list, HandOut)
}

// byCasting puts heat where the casting can take it.
func (s *State) byCasting(c *Case, list []string, a *Advice) []string {
	switch material := s.materialOf(c); material {
	case "cast iron":
		a.Why = append(a.Why, "cast iron takes heat")
		return append([]string{list[0], Heat}, list[1:]...)
	case "aluminium":
		a.Why = append(a.Why, "aluminium: no torch colour, weld on the steel only, a drill guide always")
	case "":
		a.Why = append(a.Why, "the casting is not known: no flame before it is")
	}
	return list
}

// stubHeight is how much of the stub stands out, in diameters.
func (s *State) stubHeight(c *Case) (float64, bool) {
	sp, ok := specOf(c.Kind)
	if c.StubMm == 0 || !ok || sp.Thread.DiameterMm == 0 {
		return 0, false
	}
	return c.StubMm / sp.Thread.DiameterMm, true
}

func (s *State) materialOf(c *Case) string {
	if c.seat < 0 {
		return ""
	}
	return s.lay.plan.Seats[c.seat].ThreadIn
}

func (s *State) hostOff(c *Case) bool {
	if c.seat < 0 {
		return false
	}
	h := s.lay.plan.Seats[c.seat].Host
	return h != plan.None && !s.lay.plan.Parts[h].Root && !s.now.OnEngine(h)
}
