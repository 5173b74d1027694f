package engine

import (
	"strings"

	"countback/events"
	"countback/projections/fastener"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// Words for people. Days and hours are those of UTC: a fold knows no zone, and
// the same facts give the same words everywhere.

// day is the day of a fact, "12 May", with the year when it is not the year of
// the job's last fact. Fact 0 is the engine's arrival.
func (s *State) day(f ledger.Fact) string {
	r := s.Fact(f)
	if r == nil {
		return "the arrival"
	}
	return s.dayOf(r.At)
}

// clock is the day and the time of a fact: "12 May 10:20".
func (s *State) clock(f ledger.Fact) string {
	r := s.Fact(f)
	if r == nil {
		return "the arrival"
	}
	return s.moment(r.At)
}

// who is the person of a fact, or the bench where nobody had scanned a badge.
func who(r *events.Record) string {
	if r.Operator != "" {
		return string(r.Operator)
	}
	return "somebody at " + string(r.Terminal)
}

// placeWords names an account for people: "bag B2KCZ6EE", "bench b1", "the
// front cover's holes".
func (s *State) placeWords(p events.Place) string {
	word, rest, _ := strings.Cut(string(p), "/")
	switch word {
	case "fitted", "stub":
		host, name, _ := strings.Cut(rest, "/")
		where := s.jointWords(name)
		if host != "engine" && !strings.HasSuffix(host, " 1") {
			where += " on " + host
		}
		if word == "stub" {
			return "a stub in " + where
		}
		return where
	case "bench":
		bench, about, _ := strings.Cut(rest, "/")
		if about == "" {
			return "bench " + bench
		}
		if typ, id := cutNoun(about); typ == "part" {
			return "bench " + bench + ", loose of " + s.partWords(id)
		}
		return "bench " + bench + ", loose of " + s.jointWords(about)
	case "rack":
		code, pos, ok := strings.Cut(rest, "/")
		if ok {
			return "rack " + code + " position " + pos
		}
		return "rack " + code
	case "outside":
		return rest
	case "place":
		return PlaceName(rest)
	case "loan":
		return "in as a loan"
	case "unexplained":
		return "nowhere known"
	}
	if rest == "" {
		return word
	}
	return word + " " + rest
}

// PlaceWords names a place of the book for people: "bag B2KCZ6EE", "bench b1,
// loose of Oil pan", "in Front cover to block".
func (s *State) PlaceWords(p events.Place) string {
	word, rest, _ := strings.Cut(string(p), "/")
	switch word {
	case "fitted":
		return "in " + s.placeWords(p)
	case "outside":
		if typ, name, ok := strings.Cut(rest, "/"); ok {
			return typ + " " + name
		}
	}
	return s.placeWords(p)
}

// PlaceOfKind names the place of pieces of a kind for people: a part is on its
// host, a fastener in its joint.
func (s *State) PlaceOfKind(k events.Kind, p events.Place) string {
	if ix, ok := s.lay.partKind[k]; ok && strings.HasPrefix(string(p), "fitted/") && s.lay.plan.Parts[ix].In >= 0 {
		return "on " + s.lay.plan.Parts[s.lay.plan.Parts[ix].In].Name
	}
	return s.PlaceWords(p)
}

// partWords is the name of a part by its id.
func (s *State) partWords(id string) string {
	if p, ok := s.lay.plan.Part(events.Part(id)); ok {
		return s.lay.plan.Parts[p].Name
	}
	return s.jointWords(id)
}

// jointWords is the name of a joint or a part by its id, of a joint first.
func (s *State) jointWords(id string) string {
	if j, ok := s.lay.plan.Joint(events.Joint(id)); ok {
		return s.lay.plan.Joints[j].Name
	}
	if p, ok := s.lay.plan.Part(events.Part(id)); ok {
		return s.lay.plan.Parts[p].Name
	}
	for i := range s.learned.joints {
		if l := &s.learned.joints[i]; string(l.Joint) == id && l.Name != "" {
			return l.Name
		}
	}
	return id
}

// kindWords is a kind as one says it: the size of a fastener, with its feature
// where it has one, or the name of a part.
func (s *State) kindWords(k events.Kind) string {
	if p, ok := s.lay.partKind[k]; ok {
		return s.lay.plan.Parts[p].Name
	}
	if of, ok := strings.CutPrefix(string(k), "stub of "); ok {
		return "stub of " + s.kindWords(events.Kind(of))
	}
	if of, ok := strings.CutPrefix(string(k), "other end of "); ok {
		return "other end of an " + s.kindWords(events.Kind(of))
	}
	sp, ok := specOf(k)
	if !ok || !sp.Thread.Known() {
		return string(k)
	}
	words := sp.Size()
	if sp.Form != fastener.Bolt && sp.Form != fastener.AnyForm {
		words += " " + string(sp.Form)
	}
	if sp.Feature != "" {
		words += " (" + sp.Feature + ")"
	}
	return words
}

// nOf is a number and a kind: "2 M8x1.25x45".
func (s *State) nOf(n int, k events.Kind) string { return Several(n, s.kindWords(k)) }

// linesWords lists lines: "1 M6x1.0x25, 8 M8x1.25x30".
func (s *State) linesWords(lines []events.Line) string {
	var b strings.Builder
	for i := range lines {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(s.nOf(lines[i].Qty, lines[i].Kind))
		if c := lines[i].Cond; c != "" {
			b.WriteString(" " + string(c))
		}
	}
	if len(lines) == 0 {
		return "nothing"
	}
	return b.String()
}

// nounWords names a noun for people.
func (s *State) nounWords(n string) string {
	typ, id := cutNoun(n)
	p := s.lay.plan
	switch typ {
	case "joint":
		return s.jointWords(id)
	case "part":
		return s.partWords(id)
	case "measurement":
		name, at, _ := strings.Cut(id, ":")
		if at != "" {
			name += " at " + at
		}
		return name
	case "step":
		if ix, ok := p.Step(events.Step(id)); ok {
			return p.Steps[ix].Name
		}
	case "hole":
		j, h := events.Seat(id).Split()
		return s.jointWords(string(j)) + " hole " + string(h)
	case "loan":
		return s.loanWords(events.Loan(id))
	case "cavity":
		if ix, ok := p.Cavity(events.Cavity(id)); ok {
			return p.Cavities[ix].Name
		}
	case "mark":
		if ix, ok := p.Mark(events.Mark(id)); ok {
			return p.Marks[ix].Name
		}
	case "audit":
		return p.NameOf(events.AuditPoint(id))
	case "case", "slip", "bag", "rack":
		return n
	}
	if id == "" {
		return typ
	}
	return n
}

func (s *State) loanWords(l events.Loan) string { return s.lay.plan.NameOf(l) }

func (s *State) cavityWords(c plan.CavityIndex) string { return s.lay.plan.Cavities[c].Name }

// wordList joins words with commas and a last "and".
func wordList(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// plural is "1 hole", "3 holes".
func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return itoa(n) + " " + one + "s"
}

// cutPlace takes a place apart: the type word, which one, and what is in it.
func cutPlace(p events.Place) (word, which, rest string) {
	word, which, _ = strings.Cut(string(p), "/")
	which, rest, _ = strings.Cut(which, "/")
	return word, which, rest
}
