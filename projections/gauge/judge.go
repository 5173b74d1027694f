package gauge

import (
	"fmt"
	"slices"
	"strings"
)

// Place is where a size stands against its limits.
type Place uint8

// The places. The numbers are not stored.
const (
	NoLimits  Place = iota // nothing to hold it against, or nothing read
	AsNew                  // inside the limits for new parts
	InService              // outside those, inside the service limits
	Beyond                 // outside the limits that decide
	ReadAgain              // nearer to the deciding limit than the gauge can tell: a second reading is wanted
	Disagree               // two readings that the gauge cannot explain: a third is wanted
	NotAlike               // the reading and the limits measure different things
)

var placeWords = [...]string{"no limits", "as new", "in service", "beyond its limit", "read it again", "readings disagree", "not comparable"}

// String is the place in a few words.
func (p Place) String() string {
	if int(p) < len(placeWords) {
		return placeWords[p]
	}
	return fmt.Sprintf("place %d", uint8(p))
}

// Good reports whether the part may be used as far as this size goes.
func (p Place) Good() bool { return p == AsNew || p == InService }

// Open reports whether another reading has to be taken first.
func (p Place) Open() bool { return p == ReadAgain || p == Disagree }

// Verdict is how a size stands.
type Verdict struct {
	Place    Place
	Limits   Limits
	Readings []Reading
	Stray    []Reading // of three and more, those that the gauge cannot explain
	Size     Reading   // the one that counts: the reading, or the middle one
	Band     Reading
	Limit    Reading // the deciding limit that it is nearest to
	By       Reading // how far from Limit, without a sign
	Close    bool    // decided by several readings, and still inside the band
}

// Judge holds readings of one size at one place against limits. The band is
// the guard band of the gauge, to each side; no reading is no band.
//
// One reading inside the band of a limit that decides gives ReadAgain. Two that
// are farther apart than the band explains (twice the band) give Disagree. Of
// more, the middle one counts and those farther than twice the band from it are
// named. An even number has the mean of its middle two.
func (l Limits) Judge(band Reading, readings ...Reading) Verdict {
	v := Verdict{Limits: l, Readings: readings, Band: band.Abs()}
	decide := l.deciding()
	if len(readings) == 0 || !decide.Known() {
		return v
	}
	for _, r := range readings {
		if r.unit.Dimension() != decide.dimension() || band.Known() && !band.Alike(r) {
			v.Place = NotAlike
			return v
		}
	}
	v.settle()
	limit, inside := decide.nearest(v.Size.base())
	v.Limit = limit
	v.By = apart(max(inside, -inside), limit, v.Size)
	near := band.Known() && max(inside, -inside) <= v.Band.base() && v.Band.base() > 0
	switch {
	case len(readings) == 2 && len(v.Stray) > 0:
		v.Place = Disagree
	case near && len(readings) == 1:
		v.Place = ReadAgain
	default:
		v.Close = near
		v.Place = l.place(v.Size.base())
	}
	return v
}

// apart is how far a size is from a limit, in the unit of the limit with the
// digits that the size has there.
func apart(base int64, limit, size Reading) Reading {
	if d := sized(base, limit.unit, max(limit.decimals, size.Beside(limit.unit).decimals)); d.digits != 0 || base == 0 {
		return d
	}
	return shown(base, limit, size)
}

// shown is a difference of two readings in the unit of the first: exact where
// both are in it, otherwise with one decimal more than it has, and with as many
// as it takes to be more than nothing.
func shown(base int64, r, o Reading) Reading {
	if r.unit == o.unit {
		return sized(base, r.unit, max(r.decimals, o.decimals))
	}
	for n := r.decimals + 1; n < unitRows[r.unit].decimals; n++ {
		if d := sized(base, r.unit, n); d.digits != 0 {
			return d
		}
	}
	return exact(base, r.unit, r.decimals)
}

// place is where an undoubted size stands.
func (l Limits) place(base int64) Place {
	switch {
	case !l.deciding().holds(base):
		return Beyond
	case l.New.Known() && l.New.holds(base):
		return AsNew
	}
	return InService
}

// settle finds the size that counts, and the readings that the band cannot
// explain.
func (v *Verdict) settle() {
	sorted := slices.SortedStableFunc(slices.Values(v.Readings), Reading.Compare)
	n := len(sorted)
	v.Size = sorted[n/2]
	if n%2 == 0 {
		v.Size = mean(sorted[n/2-1], sorted[n/2])
	}
	if n < 2 || !v.Band.Known() {
		return
	}
	if n == 2 {
		if sorted[1].base()-sorted[0].base() > 2*v.Band.base() {
			v.Stray = v.Readings
		}
		return
	}
	for _, r := range v.Readings {
		if off := r.base() - v.Size.base(); max(off, -off) > 2*v.Band.base() {
			v.Stray = append(v.Stray, r)
		}
	}
}

// mean is the middle of two readings, exact but for half a base part.
func mean(a, b Reading) Reading {
	if a == b {
		return a
	}
	u := a.unit
	if b.unit != u {
		u = unitOf(u.Dimension())
	}
	return exact((a.base()+b.base())/2, u, max(a.decimals, b.decimals))
}

// String says how it stands, with the numbers and the next action.
func (v Verdict) String() string {
	what := v.Limits.Of
	if what != "" {
		what += ": "
	}
	if len(v.Readings) == 0 {
		return what + "not read"
	}
	return what + v.sizeWords() + ", " + v.limitWords() + ": " + v.outcomeWords()
}

func (v Verdict) sizeWords() string {
	if len(v.Readings) == 1 {
		return v.Readings[0].String()
	}
	var list []string
	for _, r := range v.Readings {
		list = append(list, r.String())
	}
	if !v.Size.Known() {
		return strings.Join(list, ", ")
	}
	return strings.Join(list, ", ") + " (" + v.Size.String() + " counts)"
}

func (v Verdict) limitWords() string {
	var list []string
	if v.Limits.New.Known() {
		list = append(list, "new "+v.Limits.New.String())
	}
	if v.Limits.Service.Known() {
		list = append(list, "service "+v.Limits.Service.String())
	}
	if len(list) == 0 {
		return "no limits known"
	}
	if v.Limits.Source != "" {
		list[len(list)-1] += " (" + v.Limits.Source + ")"
	}
	return strings.Join(list, ", ")
}

func (v Verdict) outcomeWords() string {
	switch v.Place {
	case NoLimits:
		return "recorded as found, nothing to hold it against"
	case NotAlike:
		return "these measure different things: look at the unit"
	case Disagree:
		return fmt.Sprintf("farther apart than a gauge good to %s explains; read it a third time", v.Band)
	case ReadAgain:
		return fmt.Sprintf("%s from %s, the gauge is good to %s; read it again", v.By, v.Limit, v.Band)
	}
	text := v.Place.String()
	if v.Place == Beyond {
		side := "above"
		if v.Size.Compare(v.Limit) < 0 {
			side = "below"
		}
		text = fmt.Sprintf("%s %s %s", v.By, side, v.Limit)
	}
	if v.Close {
		text += fmt.Sprintf(", by less than the %s of the gauge", v.Band)
	}
	if n := len(v.Stray); n > 0 {
		text += fmt.Sprintf("; %s does not fit the others", v.Stray[0])
	}
	return text
}
