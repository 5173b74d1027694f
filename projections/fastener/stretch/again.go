package stretch

import (
	"fmt"
	"strings"

	"countback/projections/gauge"
)

// Rule says what a used fastener is measured for. Readings that are none are
// not asked for.
type Rule struct {
	MaxLength   gauge.Reading // greatest length, loose
	MaxGrowth   gauge.Reading // greatest length above its length when new
	MaxThinning gauge.Reading // greatest difference between its shank and its thinnest place
	MinDiameter gauge.Reading // least diameter at its thinnest place
	OneForAll   bool          // one that fails condemns the whole set
	Source      string
}

// Check says what is wrong with a rule: nothing is asked for.
func (r Rule) Check() error {
	if !r.MaxLength.Known() && !r.MaxGrowth.Known() && !r.MaxThinning.Known() && !r.MinDiameter.Known() {
		return fmt.Errorf("reuse by measurement: no limit is given")
	}
	return nil
}

// Bolt is what was read on one used fastener.
type Bolt struct {
	Name   string
	Length gauge.Reading // loose
	New    gauge.Reading // its length when new
	Shank  gauge.Reading // diameter where it was not stretched
	Thin   gauge.Reading // diameter at its thinnest place
	Necked bool          // threads that do not all touch a straight edge laid along them
}

// Use is whether a fastener may be used again.
type Use uint8

// The uses. The numbers are not stored.
const (
	NotMeasured Use = iota // something that the rule asks for was not read
	Look                   // a reading that has to be taken again
	Again                  // it may be used again
	Replace                // it may not
)

var useWords = [...]string{"measure it", "read it again", "it may be used again", "replace it"}

// String is the use in words.
func (u Use) String() string {
	if int(u) < len(useWords) {
		return useWords[u]
	}
	return fmt.Sprintf("use %d", uint8(u))
}

// Used is the verdict on one fastener.
type Used struct {
	Bolt    Bolt
	Use     Use
	Against []gauge.Verdict // one for each reading that was held against a limit
	Lacks   []string        // what the rule asks for and was not read
	Doubts  []string        // readings that cannot both be true
	With    string          // the one that condemned the set, where it was not this one
}

// String says whether it may be used again, and why.
func (u Used) String() string {
	var why []string
	if u.Bolt.Necked {
		why = append(why, "its threads are necked")
	}
	for _, v := range u.Against {
		if u.Use == Again || !v.Place.Good() {
			why = append(why, v.String())
		}
	}
	why = append(why, u.Doubts...)
	if len(u.Lacks) > 0 {
		why = append(why, "not read: "+strings.Join(u.Lacks, ", "))
	}
	if u.With != "" {
		why = append(why, u.With+" failed, and one condemns the set")
	}
	return fmt.Sprintf("%s: %s; %s", u.Bolt.Name, u.Use, strings.Join(why, "; "))
}

// Judge gives a verdict on each fastener of a set, in their order. The band is
// the guard band of the gauge; no reading is no band. A fastener fails by any
// one reading, also where others are missing.
func (r Rule) Judge(band gauge.Reading, bolts []Bolt) []Used {
	list := make([]Used, 0, len(bolts))
	failed := ""
	for _, b := range bolts {
		u := r.judge(band, b)
		if u.Use == Replace && failed == "" {
			failed = b.Name
		}
		list = append(list, u)
	}
	if !r.OneForAll || failed == "" {
		return list
	}
	for i := range list {
		if u := &list[i]; u.Use != Replace {
			u.Use, u.With = Replace, failed
		}
	}
	return list
}

func (r Rule) judge(band gauge.Reading, b Bolt) Used {
	u := Used{Bolt: b}
	twice := gauge.Reading{}
	if band.Known() {
		twice = band.Plus(band)
	}
	hold := func(of string, limit gauge.Range, band, size gauge.Reading) {
		switch {
		case !limit.Known():
		case !size.Known():
			u.Lacks = append(u.Lacks, of)
		default:
			u.Against = append(u.Against, gauge.Limits{Of: of, Service: limit, Source: r.Source}.Judge(band, size))
		}
	}
	hold("length", gauge.AtMost(r.MaxLength), band, b.Length)
	hold("growth", gauge.AtMost(r.MaxGrowth), twice, b.Length.Minus(b.New))
	hold("thinning", gauge.AtMost(r.MaxThinning), twice, b.Shank.Minus(b.Thin))
	hold("thinnest diameter", gauge.AtLeast(r.MinDiameter), band, b.Thin)
	doubt := func(less gauge.Reading, words string) {
		if less.Known() && less.Float() < 0 && (!twice.Known() || less.Abs().Compare(twice) > 0) {
			u.Doubts = append(u.Doubts, fmt.Sprintf(words, less.Abs()))
		}
	}
	doubt(b.Length.Minus(b.New), "it is %s shorter than when it was new")
	doubt(b.Shank.Minus(b.Thin), "it is %s thicker at its thinnest place than at its shank: are they the wrong way round?")
	u.Use = u.use()
	return u
}

// use is what the readings come to.
func (u Used) use() Use {
	use := Again
	if len(u.Doubts) > 0 {
		use = Look
	}
	if len(u.Lacks) > 0 || len(u.Against) == 0 {
		use = NotMeasured
	}
	for _, v := range u.Against {
		switch {
		case v.Place == gauge.Beyond:
			return Replace
		case !v.Place.Good() && use == Again:
			use = Look
		}
	}
	if u.Bolt.Necked {
		return Replace
	}
	return use
}
