package scan

import (
	"fmt"
	"strings"
)

// Table is the table of sentences as a page in Markdown: every sentence, what
// each pair of nouns offers, and the cards.
func Table() string {
	var b strings.Builder
	b.WriteString("# What can be said\n\nMade from the table in this package; the test of it writes this page with -update.\n\n" +
		"Nouns first, then a verb or numbers. The first noun is where pieces come from. `?` means perhaps, `*` any number of, `+` one or more, `|` or. " +
		"*container* is a bag, rack, place, bench or stock; *from* is a container or a position of a rack; *thing* is a joint, hole, part, step, audit, case, cavity or bag. " +
		"Sizes with numbers may stand before the verb where the table says *sizes*, a bare number where it says *n*. " +
		"What is in brackets can be passed over by OK. A *tell* is always stored; an *ask* may be refused; a *query* stores nothing.\n\n")
	b.WriteString("| nouns | verb | then | pieces come from | kind | stores | known as | meaning | example |\n|---|---|---|---|---|---|---|---|---|\n")
	for _, s := range Sentences {
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s | %s | %s | %s |\n", cell(s.subjectText()), cell(s.verbText()), cell(s.thenText()),
			s.Source, natures[s.Nature], s.Event, knowns[s.Known], cell(s.Does), cell(s.Try))
	}
	pairs(&b)
	cards(&b)
	return b.String()
}

var natures = map[Nature]string{Tell: "tell", AskFor: "ask", Query: "query", Self: "screen"}

var knowns = [...]string{"told", "presumed", "reconstructed", "claimed", "counted", "counted blind"}

func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }

func (s *Sentence) subjectText() string {
	text := s.Subject
	if s.Lines {
		text += " (sizes)"
	}
	if s.N {
		text += " (n)"
	}
	return strings.TrimSpace(text)
}

func (s *Sentence) verbText() string {
	switch {
	case s.Verb != "":
		return string(s.Verb)
	case len(s.Asks) == 0:
		return "none"
	}
	return "numbers"
}

func (s *Sentence) thenText() string {
	var list []string
	for i := range s.Asks {
		list = append(list, s.Asks[i].brief())
	}
	return strings.Join(list, ", ")
}

// pairs writes which verbs each pair of nouns can take.
func pairs(b *strings.Builder) {
	b.WriteString("\n## What a pair of nouns offers\n\nThe nouns in the order in which they are scanned; pairs that offer nothing are left out.\n\n| first | second | offers |\n|---|---|---|\n")
	for _, first := range Types {
		for _, second := range Types {
			offers := Offers([]Noun{{Type: first, ID: "a"}, {Type: second, ID: "b"}})
			var words []string
			for _, w := range offers {
				if w != Help && w != WhereIs {
					words = append(words, string(w))
				}
			}
			if len(words) > 0 {
				fmt.Fprintf(b, "| %s | %s | %s |\n", first, second, strings.Join(words, ", "))
			}
		}
	}
}

// cards writes the words with their codes.
func cards(b *strings.Builder) {
	b.WriteString("\n## The cards\n\nThe same in every shop, for ever; new ones are added at the end.\n\n| index | verb | code | answer | code |\n|---|---|---|---|---|\n")
	for i := range max(len(verbs), len(answers)) {
		row := [4]string{}
		for j, list := range [][]Word{verbs[:], answers[:]} {
			if i < len(list) {
				c, _ := list[i].Card()
				row[2*j], row[2*j+1] = string(list[i]), string(c)
			}
		}
		fmt.Fprintf(b, "| %d | %s | %s | %s | %s |\n", i, row[0], row[1], row[2], row[3])
	}
}
