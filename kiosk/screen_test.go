package kiosk

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/kiosk/scan"
	"countback/labels/code"
	"countback/projections/engine"
	"countback/projections/tool"
)

// rig is a screen without a journal: what the rules answer is folded at once.
type rig struct {
	t      testing.TB
	screen Screen
	job    *engine.Job
	n      uint32
	now    int64
	sounds []Sound
	woken  []int64
	fate   func(events.Event) Msg // what becomes of a fact instead; nil: it is stored
}

const second = 1_000_000

func newRig(t testing.TB) *rig {
	r := &rig{t: t, job: sorrel(t), now: 1_000 * second}
	r.screen = New("b2", UsualSettings(), book{})
	r.update(Opened{ID: "4K7", Job: r.job, Dir: book{r.job}, NextN: 1})
	return r
}

// book is a directory of names only.
type book struct{ job *engine.Job }

func (book) Label(code.Code) scan.Found          { return scan.Found{} }
func (book) PlanText(string) string              { return "" }
func (book) Near(scan.Type, string) string       { return "" }
func (book) InTray(events.Place) engine.TrayNow  { return engine.TrayNow{} }
func (book) Tool(events.Tool) (tool.Tool, bool)  { return tool.Tool{}, false }
func (book) Tools() []tool.Tool                  { return nil }
func (book) Untagged() []events.Tag              { return nil }
func (book) Fresh(code.Type) (events.Code, bool) { return "CHTBR6KW", true }
func (b book) Named(t scan.Type, name string) []scan.Noun {
	n := scan.Noun{Type: t, ID: name}
	ok := false
	switch t {
	case scan.Badge, scan.Bench:
		ok = name == "Marit" || name == "Ole" || name == "b2"
	case scan.Short:
		if b.job != nil && len(b.job.State().OpenShorts()) > 0 {
			n.Short, ok = b.job.State().ShortID(b.job.State().OpenShorts()[0]), true
		}
	case scan.Joint, scan.Part, scan.Loan:
		if b.job == nil {
			return nil
		}
		p := b.job.State().Plan()
		_, j := p.Joint(events.Joint(name))
		_, pt := p.Part(events.Part(name))
		_, l := p.Loan(events.Loan(name))
		ok = t == scan.Joint && j || t == scan.Part && pt || t == scan.Loan && l
	case scan.Bag:
		ok = strings.HasPrefix(name, "B")
	}
	if !ok {
		return nil
	}
	return []scan.Noun{n}
}

func (r *rig) update(m Msg) {
	queue := []Msg{m}
	for len(queue) > 0 {
		var effects []Effect
		r.screen, effects = r.screen.Update(queue[0])
		queue = queue[1:]
		for _, e := range effects {
			switch e := e.(type) {
			case Beep:
				r.sounds = append(r.sounds, e.Sound)
			case Wake:
				r.woken = append(r.woken, e.At)
			case Store:
				queue = append(queue, r.store(e))
			}
		}
	}
}

func (r *rig) store(e Store) Msg {
	ev, err := r.job.Decide(e.Command)
	if refusal := new(engine.Refusal); errors.As(err, &refusal) {
		return Refused{refusal}
	}
	require.NoError(r.t, err)
	if ev == nil {
		return Already{}
	}
	if r.fate != nil {
		if m := r.fate(ev); m != nil {
			return m
		}
	}
	r.n++
	rec := events.Record{Shop: "hill", Job: "4K7", Terminal: "b2", N: r.n, Time: r.now, At: max(r.now, r.job.LatestAt()+1), Seen: r.job.Seen(), Known: e.Known, Operator: e.Who, Event: ev}
	return Stored{Record: rec, Change: r.job.Apply(&rec), NextN: r.n + 1}
}

// say scans lines, three seconds apart.
func (r *rig) say(lines ...string) View {
	for _, l := range lines {
		r.after(3*second, l)
	}
	return r.screen.View()
}

// after scans a line some time after the one before.
func (r *rig) after(pause int64, line string) View {
	r.now += pause
	r.update(Scanned{Line: line, At: r.now})
	return r.screen.View()
}

func (r *rig) last() Sound { return r.sounds[len(r.sounds)-1] }

func TestDigitsChainWithinHalfASecond(t *testing.T) {
	r := newRig(t)
	r.say("loan wire-tag", "DIGIT 4")
	require.Equal(t, []int64{r.now + second/2}, r.woken, "the screen asks to be woken when the number is whole")
	v := r.after(second/2, "DIGIT 2")
	require.Equal(t, "42", v.Big)
	r.update(Ticked{r.now + second/2 - 1})
	require.Contains(t, r.screen.View().Said, "wire-tag", "not whole yet")
	require.NotContains(t, r.screen.View().Said, "42")
	r.update(Ticked{r.now + second/2})
	require.Contains(t, r.screen.View().Said, "42")
	v = r.say("IN")
	require.Contains(t, v.Lines[0], "42 in")

	// a moment too late it is another number
	r.say("loan wire-tag", "DIGIT 1")
	r.after(second/2+1, "DIGIT 5")
	require.Contains(t, r.screen.View().Said, "wire-tag, 1")
	require.Equal(t, "5", r.screen.View().Big)
	v = r.after(3*second, "CANCEL")
	require.Contains(t, v.Lines[0], "Dropped")

	// more digits than a number can have
	r.say("loan wire-tag", "DIGIT 9")
	for range 5 {
		r.after(second/10, "DIGIT 9")
	}
	require.Equal(t, Refusing, r.last())
}

func TestANumberCardThatFiresTwiceIsTakenOnce(t *testing.T) {
	r := newRig(t)
	four, _ := code.WholeNumber(4)
	r.say("joint front-cover", "bag B1", "1")
	r.after(3*second, string(four))
	v := r.after(second/5, string(four))
	require.Equal(t, Refusing, r.last())
	require.Contains(t, v.Lines[0], "taken once")
	require.Equal(t, "How many M8 long?", v.Ask)
	v = r.after(3*second, string(four))
	require.Equal(t, "How many M10?", v.Ask, "a second later the same number is another one")
	// typed numbers end with Enter: the same one twice is two
	r.after(second/5, "4")
	require.NotEqual(t, Refusing, r.last())
}

func TestASentenceIsDroppedAloudAfterALongSilence(t *testing.T) {
	r := newRig(t)
	r.say("badge Marit", "joint coils", "bag B1")
	v := r.after(10*60*second+1, "4")
	require.Contains(t, v.Lines[0], "nothing that it counts")
	require.Equal(t, Refusing, r.last())
	require.EqualValues(t, 0, r.n)
	require.EqualValues(t, "Marit", r.screen.Badge())
	r.after(30*60*second+1, "joint coils")
	require.Empty(t, r.screen.Badge(), "half an hour without a scan: nobody is there")
}

func TestABadgeDropsTheSentenceAloudUnlessItWasAsked(t *testing.T) {
	r := newRig(t)
	r.say("badge Marit", "joint coils", "bag B1")
	v := r.say("badge Ole")
	require.Equal(t, Chime, r.last())
	require.Contains(t, v.Lines[1], "Dropped: joint coils, bag B1")
	require.EqualValues(t, "Ole", r.screen.Badge())
	v = r.say("4")
	require.Equal(t, Stop, v.Sign)

	r.say("HAND OVER", "badge Marit", "OK")
	require.EqualValues(t, "Ole", r.screen.Badge(), "a badge that was asked for is an answer")
	require.EqualValues(t, 1, r.n)
}

func TestNothingIsTakenWhileTheLastFactIsUnclear(t *testing.T) {
	r := newRig(t)
	r.fate = func(events.Event) Msg { return Unclear{} }
	v := r.say("joint coils", "bag B1", "4")
	require.Equal(t, Wait, v.Sign)
	for _, line := range []string{"UNDO", "joint baffle", "4", "CANCEL"} {
		v = r.say(line)
		require.Equal(t, Wait, v.Sign, line)
		require.Equal(t, Refusing, r.last(), line)
		require.Equal(t, "joint coils, bag B1", v.Said, "what waits stays on the screen: %s", line)
	}
	r.fate = nil
	r.update(Failed{Why: "no room"})
	require.Equal(t, Stop, r.screen.View().Sign)
	v = r.say("joint coils", "bag B1", "4")
	require.Equal(t, Good, v.Sign)
	require.Equal(t, StoredWell, r.last())
}

func TestWhatIsExpectedIsNotShownBeforeTheCountIsIn(t *testing.T) {
	r := newRig(t)
	for _, line := range []string{"joint front-cover", "bag B1", "1", "8", "4", "5"} {
		v := r.say(line)
		text := strings.Join(append(append(v.Lines, v.List...), v.Ask, v.Said, v.Big), " ")
		require.NotContains(t, text, "22", line)
		require.NotContains(t, text, "of 8", line)
		require.NotContains(t, text, "book", line)
	}
	v := r.say("3")
	require.Contains(t, v.Lines[0], "21 counted, book says 22: 1 M12x1.25x65 short")
}

func TestAMisreadLeavesTheSentence(t *testing.T) {
	r := newRig(t)
	r.say("joint coils", "bag B1")
	v := r.say("4006381333931")
	require.Equal(t, Misreading, r.last())
	require.Contains(t, v.Said, "joint coils, bag B1")
	v = r.say("4")
	require.Equal(t, Stop, v.Sign, "it may have been another bag")
	require.EqualValues(t, 0, r.n)
	v = r.say("OK", "4")
	require.Equal(t, Good, v.Sign)
}

// What was to be a noun is waited for, and numbers and verbs are not taken for
// the nouns before it; what was to be a number or a word is given again.
func TestASentenceWaitsForTheNounThatWasNotRead(t *testing.T) {
	waits := [][]string{
		{"joint coils", "bag NOSUCHBAG", "4"},
		{"joint coils", "BAB9QN9G", "4"},
		{"joint coils", "bag B1", "joint coyls", "ALL OUT"},
		{"joint front-cover", "bag B1", "1", "joint oil-pan", "14", "3"},
		{"joint front-cover", "bag B1", "1", "hole 3", "8"},
		{"joint front-cover", "bag B1", "1", "BAB9QN9G", "8"},
	}
	for _, lines := range waits {
		r := newRig(t)
		v := r.say(lines...)
		require.Equal(t, Refusing, r.last(), lines)
		require.Equal(t, Stop, v.Sign, lines)
		require.EqualValues(t, 0, r.n, lines)
	}
	again := [][]string{
		{"joint coils", "bag B1", "1o", "4"},
		{"joint coils", "ALL OTU", "ALL OUT"},
		{"joint coils", "bag NOSUCHBAG", "bag B1", "4"},
		{"joint coils", "bag NOSUCHBAG", "OK", "ALL OUT"},
	}
	for _, lines := range again {
		r := newRig(t)
		require.Equal(t, Good, r.say(lines...).Sign, lines)
		require.EqualValues(t, 1, r.n, lines)
	}
}

// A noun that begins another sentence drops a question that nobody answered;
// where answers would be lost it is scanned twice.
func TestANounDropsAQuestionAloud(t *testing.T) {
	r := newRig(t)
	v := r.say("bag B1", "COUNT", "joint coils")
	require.Contains(t, v.Lines[0], "Dropped: bag")
	require.Equal(t, "joint coils", v.Said)
	require.Equal(t, Good, r.say("bag B1", "4").Sign)

	r = newRig(t)
	v = r.say("joint front-cover", "bag B1", "1", "joint coils")
	require.Equal(t, Refusing, r.last())
	require.Contains(t, v.Ask, "Joint coils again begins with it and drops joint front-cover, bag ")
	v = r.say("joint coils")
	require.Contains(t, v.Lines[0], "Dropped: joint front-cover, bag ")
	require.Equal(t, "joint coils", v.Said)
	require.Equal(t, Good, r.say("bag B1", "4").Sign)

	r = newRig(t)
	v = r.say("joint front-cover", "bag B1", "1", "joint coils", "OK", "8", "4", "5", "3")
	require.Contains(t, v.Lines[0], "Front cover to block out", "OK goes on with what was begun")
}

func TestARefusedSentenceIsUsedUp(t *testing.T) {
	r := newRig(t)
	r.say("joint exhaust", "bag B1", "MERGE")
	require.Equal(t, Refusing, r.last())
	v := r.say("9")
	require.Equal(t, Stop, v.Sign, "a number after it finds no noun")
	require.EqualValues(t, 0, r.n)
}

func TestQuestionsFollowEachOther(t *testing.T) {
	r := newRig(t)
	v := r.say("joint oil-pan", "bag B1", "13", "3")
	require.Equal(t, Short, v.Sign)
	require.Equal(t, StoredLook, r.last())
	require.Contains(t, v.Ask, "M6x1.0x20")
	v = r.say("DO NOT KNOW")
	require.Contains(t, v.Ask, "M8x1.25x85", "the second size")
	v = r.say("STILL IN")
	require.Contains(t, v.Ask, "In which hole is it: ")
	v = r.say("OK")
	require.Contains(t, v.Lines[0], "still in")
	v = r.say("STILL IN")
	require.Contains(t, v.Lines[0], "of what?")
	require.Len(t, r.job.State().OpenShorts(), 1)
}

func TestUndoAndRedo(t *testing.T) {
	r := newRig(t)
	r.say("badge Marit", "joint coils", "bag B1", "4")
	v := r.screen.View()
	require.Equal(t, "UNDO takes back: Coils out and bagged in B1, 4 counted", v.Undo)
	v = r.say("UNDO")
	require.Contains(t, v.Lines[0], "Taken back")
	require.Equal(t, "REDO puts back: Coils out and bagged in B1, 4 counted", v.Undo)
	v = r.say("UNDO")
	require.Equal(t, Stop, v.Sign)
	require.NotNil(t, v.Ask)
	v = r.say("REDO")
	require.Contains(t, v.Lines[0], "Put back")
	r.say("REDO")
	require.Equal(t, Refusing, r.last())
	require.EqualValues(t, 3, r.n, "the fact, and two corrections")
	ev, ok := r.job.Standing(events.FactID{Terminal: "b2", N: 1})
	require.True(t, ok)
	require.IsType(t, events.PiecesOut{}, ev)
}

func TestNewsOfOtherBenchesWaitForTheSentence(t *testing.T) {
	r := newRig(t)
	other := events.Record{Shop: "hill", Job: "4K7", Terminal: "b1", N: 1, Time: r.now, At: r.now, Event: events.MarkMade{Mark: "at-one"}}
	r.job.Apply(&other)
	r.update(Folded{Records: []events.Record{other}})
	require.Contains(t, r.screen.View().Lines[0], "Bench b1")
	r.say("joint coils", "bag B1")
	r.update(Folded{Records: []events.Record{other}})
	require.Contains(t, r.screen.View().Said, "joint coils, bag B1")
	require.NotContains(t, strings.Join(r.screen.View().Lines, " "), "Bench b1")
}

func TestListsHavePages(t *testing.T) {
	r := newRig(t)
	v := r.say("WHAT NOW")
	require.Len(t, v.List, 8)
	require.Equal(t, 1, v.Page)
	require.Greater(t, v.Pages, 1)
	for i := 2; i <= v.Pages; i++ {
		require.Equal(t, i, r.say("MORE").Page)
	}
	require.Equal(t, 1, r.say("MORE").Page, "after the last page the first")
	require.Zero(t, r.say("joint coils").Page)
}

// What a question lists is its own answer, whatever was listed before it.
func TestAListIsOfItsOwnQuestion(t *testing.T) {
	asked := [][]string{{"WHAT NOW"}, {"SLIPS"}, {"CORES"}, {"OWNER'S THINGS"}, {"FINDINGS"}, {"TOOLS?"}, {"TRAYS?"}, {"BATCHES?"},
		{"AGEING?"}, {"RUN"}, {"ORDERS"}, {"BUY LIST"}, {"WORKSHEET"}, {"joint head", "CAN I?"}}
	for _, q := range asked {
		fresh := newRig(t)
		want := fresh.say(q...).List
		r := newRig(t)
		r.say("part cam-intake", "MUST COME OFF?")
		require.Equal(t, want, r.say(q...).List, q)
	}
}

func TestNoScreenShowsMoreThanFiveLines(t *testing.T) {
	r := newRig(t)
	v := r.say("part valves-intake", "OFF")
	require.LessOrEqual(t, len(v.Lines), MaxLines)
	require.NotEmpty(t, v.Lines)
}

func TestBegun(t *testing.T) {
	r := newRig(t)
	require.Empty(t, r.screen.Begun())
	r.say("joint front-cover", "bag B1", "1", "8")
	require.Regexp(t, "^joint front-cover, bag B.*, 1 M6, 8 M8 short$", r.screen.Begun())
	r.say("4", "5", "4")
	require.Empty(t, r.screen.Begun(), "what follows a fact is no sentence")
}
