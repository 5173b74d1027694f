package scan

import "strings"

// HelpFor lists what nouns can do, a line for each sentence: its verb, what it
// asks and what it means. Without nouns it lists what can be said without one,
// then what asks about nouns.
func HelpFor(nouns []Noun) []string {
	var list, wantNouns []string
	for _, s := range Sentences {
		if len(nouns) > 0 && !s.subject.match(nouns, false) || len(nouns) == 0 && s.Nature != Self && s.Nature != Query {
			continue
		}
		if len(nouns) > 0 && len(s.subject) == 0 {
			continue
		}
		usage := s.usage()
		if len(nouns) == 0 && s.Subject != "" {
			wantNouns = append(wantNouns, s.Subject+", "+usage+": "+s.Does)
			continue
		}
		list = append(list, usage+": "+s.Does)
	}
	if len(nouns) == 0 {
		list = append(list, wantNouns...)
		list = append(list, "Then what is there to scan: "+strings.Join(typeNames(), ", "))
	}
	return list
}

func typeNames() []string {
	list := make([]string, len(Types))
	for i, t := range Types {
		list[i] = string(t)
	}
	return list
}

// usage is the verb and what follows it.
func (s *Sentence) usage() string {
	var words []string
	if s.Verb != "" {
		words = append(words, string(s.Verb))
	}
	for i := range s.Asks {
		words = append(words, s.Asks[i].brief())
	}
	if len(words) == 0 {
		return "(no verb)"
	}
	return strings.Join(words, ", ")
}

// brief is what answers a question, for the table.
func (a *Ask) brief() string {
	text := askText[a.Kind]
	if len(a.Words) > 0 && a.Kind == AskWord {
		list := make([]string, len(a.Words))
		for i, w := range a.Words {
			list[i] = string(w)
		}
		text = strings.Join(list, " / ")
	}
	if a.Kind == AskNoun {
		text = "a " + string(a.Types[0])
	}
	if a.Skip {
		return "[" + text + "]"
	}
	return text
}
