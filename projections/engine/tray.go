package engine

import (
	"slices"
	"strings"

	"countback/events"
	"countback/projections/ledger"
)

// Tray is a container that is carried about, with what is in it.
type Tray struct {
	Place events.Place // "place/tray-7", or a bag
	Holds int          // pieces; 0: not said
	At    events.Place // where it stands; empty: With has it, or nobody said
	With  events.Badge
	Since ledger.Fact // 0: nobody said where it is
}

// trayPrefix begins the path of every tray.
const trayPrefix = "place/tray-"

// IsTray reports whether a place is a tray.
func IsTray(p events.Place) bool { return strings.HasPrefix(string(p), trayPrefix) }

// TrayPlace is the place of a tray by its name.
func TrayPlace(name string) events.Place { return events.Place(trayPrefix + name) }

// PlaceName is what people call a place by its name: "tray-7" is "tray 7".
func PlaceName(name string) string {
	if n, ok := strings.CutPrefix(name, trayPrefix[len("place/"):]); ok && n != "" {
		return "tray " + n
	}
	return name
}

func (s *State) carrier(p events.Place) *Tray {
	for i := range s.trays {
		if s.trays[i].Place == p {
			return &s.trays[i]
		}
	}
	s.trays = append(s.trays, Tray{Place: p})
	return &s.trays[len(s.trays)-1]
}

// carried notes where a tray is. A tray cannot be in itself: what says so says
// nothing.
func (s *State) carried(e *events.Carried) {
	if e.What == "" || e.What == e.To || s.insideOf(e.To, e.What) {
		return
	}
	t := s.carrier(e.What)
	t.At, t.With, t.Since = e.To, e.With, s.fact
}

// refuseRing stops a tray from being told to stand in itself, or in one that
// stands in it.
func (s *State) refuseRing(e *events.Carried) error {
	switch {
	case e.What == "" || e.To == "":
	case e.What == e.To:
		return refuse(Malformed, "scan the place where it stands", "%s cannot be in itself", s.placeWords(e.What))
	case s.insideOf(e.To, e.What):
		return refuse(Malformed, "if that has changed, say first where "+s.placeWords(e.To)+" is: scan it, then the place", "%s cannot go into %s: %s",
			s.placeWords(e.What), s.placeWords(e.To), strings.Join(s.Holder(e.To), ", "))
	}
	return nil
}

// insideOf says that a place is, directly or not, in another.
func (s *State) insideOf(p, in events.Place) bool {
	for range len(s.trays) {
		t, ok := s.Tray(p)
		if !ok || t.At == "" {
			return false
		}
		if p = t.At; p == in {
			return true
		}
	}
	return false
}

func (s *State) trayIssued(e *events.TrayIssued) { s.carrier(e.Tray).Holds = max(0, e.Holds) }

// Tray is what was said of a tray or a bag that is carried about; false:
// nothing was.
func (s *State) Tray(p events.Place) (Tray, bool) {
	i := slices.IndexFunc(s.trays, func(t Tray) bool { return t.Place == p })
	if i < 0 {
		return Tray{}, false
	}
	return s.trays[i], true
}

// Trays lists the trays of which the job knows where they are, or that hold
// pieces of it, in the order of their names.
func (s *State) Trays() []Tray {
	list := slices.DeleteFunc(slices.Clone(s.trays), func(t Tray) bool { return !IsTray(t.Place) })
	for a := 1; a <= s.book.Accounts(); a++ {
		p := s.book.Path(ledger.AccountID(a))
		if IsTray(p) && len(s.contents(ledger.AccountID(a))) > 0 && !slices.ContainsFunc(list, func(t Tray) bool { return t.Place == p }) {
			list = append(list, Tray{Place: p})
		}
	}
	slices.SortFunc(list, func(a, b Tray) int { return strings.Compare(string(a.Place), string(b.Place)) })
	return list
}

// Holder walks up from a place: "tray 7 on bench b2", "in tray 7", "with Ole
// since 12 May". Nothing: nobody carried it.
func (s *State) Holder(p events.Place) []string {
	var list []string
	for range len(s.trays) + 1 {
		t, ok := s.Tray(p)
		if !ok || t.Since == 0 {
			break
		}
		name := s.placeWords(p)
		if t.At == "" {
			list = append(list, name+" is with "+string(t.With)+" since "+s.day(t.Since))
			break
		}
		list = append(list, name+" is "+s.onWords(t.At)+" since "+s.day(t.Since))
		p = t.At
	}
	return list
}

// walkUp adds to a thing's whereabouts who has the trays that it is in.
func (s *State) walkUp(w *Whereabouts, typ, id string) {
	if len(s.trays) == 0 {
		return
	}
	var places []events.Place
	switch typ {
	case "bag", "rack", "place", "stock":
		places = []events.Place{events.Place(typ + "/" + id)}
	case "part":
		if at := s.PartAt(events.Part(id)); at != "" {
			places = []events.Place{at}
		}
	case "joint":
		for a, about := range s.keptFor() {
			if about == id && len(s.contents(ledger.AccountID(a))) > 0 {
				places = append(places, s.book.Path(ledger.AccountID(a)))
			}
		}
	case "kind":
		for i := range w.Sources {
			places = append(places, w.Sources[i].Place)
		}
	}
	for _, p := range places {
		for _, line := range s.Holder(p) {
			if line = capital(line); !contains(w.Now, line) {
				w.Now = append(w.Now, line)
			}
		}
	}
}

// TrayNow is what the shop knows of a tray beside the job that asks.
type TrayNow struct {
	Holds  int    // pieces; 0: not known
	Others string // what other jobs have in it, in words; empty: nothing
}

// refuseTray stops a second job's pieces from going into a tray (rule R64).
func (s *State) refuseTray(to events.Place, now TrayNow) error {
	if !IsTray(to) || now.Others == "" {
		return nil
	}
	return refuse(Conflict, "take another tray, or empty this one first", "%s holds %s: two jobs in one tray", s.placeWords(to), now.Others)
}

// TooMany says that a tray holds more pieces than it takes; empty: it does
// not. holds 0 goes by what this job was told.
func (s *State) TooMany(p events.Place, holds int) string {
	if t, ok := s.Tray(p); ok && holds == 0 {
		holds = t.Holds
	}
	n := 0
	for _, l := range s.At(p) {
		n += l.Qty
	}
	if holds == 0 || n <= holds {
		return ""
	}
	return s.placeWords(p) + " holds " + itoa(n) + ", and takes " + itoa(holds)
}

// onWords is "on bench b2", "in tray-7", "in as a loan".
func (s *State) onWords(p events.Place) string {
	switch word, _, _ := strings.Cut(string(p), "/"); word {
	case "bench":
		return "on " + s.placeWords(p)
	case "loan":
		return s.placeWords(p)
	}
	return "in " + s.placeWords(p)
}

// carriedWords tells where something was carried; empty for other facts.
func (s *State) carriedWords(ev events.Event) string {
	switch e := ev.(type) {
	case events.Carried:
		if e.To == "" {
			return capital(s.placeWords(e.What)) + " is with " + string(e.With) + " now"
		}
		return capital(s.placeWords(e.What)) + " is " + s.onWords(e.To) + " now"
	case events.TrayIssued:
		return capital(s.placeWords(e.Tray)) + " takes " + plural(e.Holds, "piece")
	}
	return ""
}
