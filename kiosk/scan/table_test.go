package scan

import (
	"flag"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"countback/events"
	"countback/labels/code"
)

var update = flag.Bool("update", false, "write SENTENCES.md anew and add new cards to the frozen list")

func TestTheTableIsThePage(t *testing.T) {
	if *update {
		require.NoError(t, os.WriteFile("SENTENCES.md", []byte(Table()), 0o644))
	}
	page, err := os.ReadFile("SENTENCES.md")
	require.NoError(t, err)
	require.Equal(t, Table(), string(page), "run the test with -update")
}

// A card that hangs on a wall keeps its meaning: the lists only grow.
func TestCardsKeepTheirIndex(t *testing.T) {
	const file = "testdata/cards.txt"
	frozen, err := os.ReadFile(file)
	require.NoError(t, err)
	list := strings.Split(strings.TrimSpace(string(frozen)), "\n")
	verbList, answerList, _ := strings.Cut(strings.Join(list, "\n"), "\n---\n")
	for name, pair := range map[string]struct {
		frozen []string
		now    []Word
	}{"verbs": {strings.Split(verbList, "\n"), Verbs()}, "answers": {strings.Split(answerList, "\n"), Answers()}} {
		require.LessOrEqual(t, len(pair.frozen), len(pair.now), name)
		for i, w := range pair.frozen {
			require.Equal(t, w, string(pair.now[i]), "%s: index %d", name, i)
		}
		if !*update {
			require.Len(t, pair.now, len(pair.frozen), "%s: run the test with -update to freeze the new ones", name)
		}
	}
	if *update {
		text := joinWords(Verbs()) + "\n---\n" + joinWords(Answers()) + "\n"
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	}
}

func joinWords(words []Word) string {
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = string(w)
	}
	return strings.Join(list, "\n")
}

func TestCards(t *testing.T) {
	seen := map[Word]bool{}
	for _, w := range append(Verbs(), Answers()...) {
		require.False(t, seen[w], "%s twice", w)
		seen[w] = true
		c, ok := w.Card()
		require.True(t, ok, w)
		back, ok := wordOfCode(c)
		require.True(t, ok)
		require.Equal(t, w, back)
		typed, ok := WordOf(" " + strings.ToLower(string(w)) + " ")
		require.True(t, ok, w)
		require.Equal(t, w, typed)
		_, err := code.Parse(string(w))
		require.Error(t, err, "%s could be a label", w)
	}
	for d := range 10 {
		w, ok := WordOf("digit " + itoa(d))
		require.True(t, ok)
		n, ok := w.Digit()
		require.True(t, ok)
		require.Equal(t, d, n)
	}
	_, ok := Word("nothing like a card").Card()
	require.False(t, ok)
}

func TestEverySentenceIsWhole(t *testing.T) {
	kinds := events.Names()
	words := append(Verbs(), Answers()...)
	for _, s := range Sentences {
		name := s.Subject + " " + string(s.Verb)
		require.NotEmpty(t, s.Does, name)
		require.NotEmpty(t, s.Try, name)
		if s.Verb != "" {
			require.Contains(t, words, s.Verb, name)
		}
		for _, kind := range strings.Split(s.Event, " or ") {
			if s.Nature == Query || s.Nature == Self && s.Event == "" {
				require.Empty(t, s.Event, name)
				continue
			}
			require.Contains(t, kinds, kind, name)
		}
		require.Equal(t, s.Nature == Tell || s.Nature == AskFor, s.Build != nil, name)
		for _, sl := range s.subject {
			for _, typ := range sl.types {
				require.True(t, isType(typ) || typ == Beside, "%s: no type %s", name, typ)
			}
		}
		for _, a := range s.Asks {
			require.NotEmpty(t, a.Key, name)
			require.True(t, a.Prompt != "" || a.Prompts != nil || a.Items != nil, "%s: %s asks nothing", name, a.Key)
			for _, w := range a.Words {
				require.Contains(t, words, w, name)
			}
		}
	}
}

// Where two sentences have one verb, no nouns fit both, unless the first one is
// meant to stand before the other.
func TestNoTwoSentencesAreTheSame(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range Sentences {
		key := s.Subject + "/" + string(s.Verb)
		require.False(t, seen[key], key)
		seen[key] = true
	}
}

// Every kind of fact that a terminal states can be said.
func TestEveryKindCanBeSaid(t *testing.T) {
	said := map[string]bool{}
	for _, s := range Sentences {
		for _, kind := range strings.Split(s.Event, " or ") {
			said[kind] = true
		}
	}
	for _, kind := range events.Names() {
		require.True(t, said[kind], "no sentence stores %s", kind)
	}
}

// The oracle writes nouns as letters and a subject as a regular expression.
func TestSubjectsMatchLikeRegularExpressions(t *testing.T) {
	letter := map[Type]string{}
	for i, typ := range append(slices.Clone(Types), Beside) {
		letter[typ] = string(rune('a' + i))
	}
	rapid.Check(t, func(t *rapid.T) {
		s := Sentences[rapid.IntRange(0, len(Sentences)-1).Draw(t, "sentence")]
		types := rapid.SliceOfN(rapid.SampledFrom(Types), 0, 6).Draw(t, "types")
		if rapid.Bool().Draw(t, "near") {
			types = near(t, s.subject)
		}
		var nouns []Noun
		text := ""
		for _, typ := range types {
			nouns = append(nouns, Noun{Type: typ, ID: "x"})
			text += letter[typ]
		}
		whole, ends := expression(s.Subject, letter)
		begins := slices.ContainsFunc(ends, func(end string) bool { return whole.MatchString(text + end) })
		require.Equal(t, whole.MatchString(text), s.subject.match(nouns, false), "%q %v", s.Subject, types)
		require.Equal(t, begins, s.subject.match(nouns, true), "beginning of %q %v", s.Subject, types)
	})
}

// near draws nouns that fit a subject, and spoils one of them now and then.
func near(t *rapid.T, s subject) []Type {
	var types []Type
	for _, sl := range s {
		for range rapid.IntRange(sl.min, min(sl.max, 3)).Draw(t, "times") {
			types = append(types, rapid.SampledFrom(sl.types).Draw(t, "type"))
		}
	}
	if len(types) > 0 && rapid.Bool().Draw(t, "spoil") {
		i := rapid.IntRange(0, len(types)-1).Draw(t, "which")
		types[i] = rapid.SampledFrom(Types).Draw(t, "by")
	}
	return types
}

// expression is the regular expression for a subject, made from its text, and
// the ends that complete a beginning of it: one noun of each slot that is left.
func expression(text string, letter map[Type]string) (whole *regexp.Regexp, ends []string) {
	var list, firsts []string
	for _, w := range strings.Fields(text) {
		quant := ""
		if strings.ContainsAny(w[len(w)-1:], "?*+") {
			quant, w = w[len(w)-1:], w[:len(w)-1]
		}
		set := ""
		for _, name := range strings.Split(w, "|") {
			types, ok := classes[name]
			if !ok {
				types = []Type{Type(name)}
			}
			for _, typ := range types {
				if !strings.Contains(set, letter[typ]) {
					set += letter[typ]
				}
			}
		}
		list = append(list, "["+regexp.QuoteMeta(set)+"]"+quant)
		firsts = append(firsts, string([]rune(set)[0]))
	}
	for i := range len(firsts) + 1 {
		ends = append(ends, strings.Join(firsts[i:], ""))
	}
	return regexp.MustCompile("^" + strings.Join(list, "") + "$"), ends
}
