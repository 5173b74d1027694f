package fastener

import (
	"fmt"
	"slices"
	"strings"
)

// boltClasses are the property classes of ISO 898-1.
var boltClasses = []string{"4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"}

// nutClasses are the property classes of ISO 898-2.
var nutClasses = []string{"04", "05", "4", "5", "6", "8", "9", "10", "12"}

// grades are the grades of SAE J429 and J995.
var grades = []string{"1", "2", "5", "5.2", "7", "8", "8.2"}

func boltClass(c string) bool { return slices.Contains(boltClasses, c) }
func nutClass(c string) bool  { return slices.Contains(nutClasses, c) }

// readClass reads a property class, a grade, a stainless class or a hardness.
// Materials come as words.
func (p *parser) readClass() (bool, error) {
	at := p.pos
	if m := p.take(pointsRE); m != nil {
		p.words = append(p.words, placed{"12pt", at})
		return true, nil
	}
	if p.take(toleranceRE) != nil {
		return true, nil
	}
	if m := p.take(gradeRE); m != nil {
		if !slices.Contains(grades, m[1]) {
			return true, p.fail(at, m[0], "no such grade", "write one of grade "+strings.Join(grades, ", "))
		}
		return true, p.setClass(at, "grade "+m[1])
	}
	if m := p.take(stainlessRE); m != nil {
		return true, p.setClass(at, strings.ToUpper(m[0]))
	}
	if m := p.take(hardnessRE); m != nil {
		return true, p.setClass(at, m[1]+"HV")
	}
	if m := boltClassRE.FindString(p.rest()); m != "" && !sizeNextRE.MatchString(p.rest()[len(m):]) {
		if !boltClass(m) && !p.spec.Thread.Known() {
			return false, nil
		}
		p.pos += len(m)
		if !boltClass(m) {
			return true, p.fail(at, m, "no such property class", "write one of "+strings.Join(boltClasses, ", "))
		}
		return true, p.setClass(at, m)
	}
	if !p.spec.Thread.Known() {
		return false, nil
	}
	if m := p.take(nutClassRE); m != nil {
		return true, p.setClass(at, m[0])
	}
	return false, nil
}

func (p *parser) setClass(at int, c string) error {
	old := p.spec.Class
	switch {
	case old == "" || old == c || old == "steel" && c == "stainless":
		p.spec.Class = c
	case old == "stainless" && c == "steel":
	default:
		return p.fail(at, c, fmt.Sprintf("a second class, after %s", old), "write one class, and a coating in brackets as a feature")
	}
	return nil
}

// checkClass holds a class to the form that it is made for.
func (p *parser) checkClass() error {
	c, f := p.spec.Class, p.spec.Form
	switch {
	case boltClass(c) && formRules[f].family != outside:
		return p.fail(0, c, fmt.Sprintf("a class of bolts on %s", f.withArticle()), "write the class of a nut, such as 8 or 10, or none")
	case nutClass(c) && f != Nut:
		return p.fail(0, c, "a class of nuts on something else", nearestBoltClass(c))
	}
	return nil
}

func nearestBoltClass(c string) string {
	for _, b := range boltClasses {
		if strings.HasPrefix(b, c+".") {
			return "write the class of a bolt in full, such as " + b
		}
	}
	return "write the class of a bolt, such as 8.8"
}
