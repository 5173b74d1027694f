package panel

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/labels/code"
)

func TestBenchOfAnEngineThatJustCame(t *testing.T) {
	p := newStageOn(t)
	require.Equal(t, "bench", p.Name)
	require.Equal(t, "Bench b1", p.Title)
	require.Equal(t, []string{"|Nothing is loose here, and no bag holds anything|"}, rows(p, "Loose on this bench"))
	require.Empty(t, rows(p, "Not as it should be"))
	require.Contains(t, rows(p, "Next"), "now|Check in, photos, what is missing|")
}

// What is loose shows its number only once it was counted, and a bag never
// does: it is counted without one.
func TestBenchHidesNumbersUntilCounted(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "joint coils", "ALL OUT", "joint water-pump", bag, "2", "2")
	s.scan("CANCEL")
	p := s.panel()
	require.Equal(t, "count it|fasteners of Coils|never counted", rows(p, "Loose on this bench")[0])
	require.Equal(t, []string{"open|" + bag + " Water pump|counted 12 May 07:00 by Marit"}, rows(p, "Bags"))
	s.scan("joint coils", "COUNT", "0", "bench b1", "COUNT")
	s.scan("CANCEL")
	for _, row := range rows(s.panel(), "Loose on this bench") {
		if strings.HasPrefix(row, "count it") {
			require.NotRegexp(t, `\d piece`, row)
		}
	}
}

func TestBenchShowsWhatIsCounted(t *testing.T) {
	s := newStage(t, "joint coils", "4", "CANCEL")
	require.Equal(t, []string{"counted|fasteners of Coils: 4 pieces|counted 12 May 07:00 by Marit", "count it|Coils|never counted"}, rows(s.panel(), "Loose on this bench"))
}

func TestBenchShowsWhatIsNotAsItShouldBe(t *testing.T) {
	bag := labelOf(t, code.Bag, 0)
	s := newStage(t, "joint mount-bracket", "ALL OUT", "joint front-cover", bag, "1", "8", "4", "4", "DO NOT KNOW",
		"joint exhaust", "hole 9", "BROKEN", "FLUSH", labelOf(t, code.Case, 0), "YES", "CANCEL")
	red := rows(s.panel(), "Not as it should be")
	require.Contains(t, red[0], "LOOK|Short 1, 1 M10x1.5x50 missing from Front cover to block|look in ")
	require.Contains(t, red, "LOOK|Case 1: Exhaust manifold to head hole 9, M8 stud broken|")
}

func TestBenchAsksToCountWhatWasPresumed(t *testing.T) {
	s := newStage(t, "part oil-pan", "OFF", "CANCEL")
	red := rows(s.panel(), "Not as it should be")
	require.Contains(t, red, "count it|Oil pan: never counted, Oil pan is off|scan it with its bag and count")
}

func TestBenchOfClosedBagsComesLast(t *testing.T) {
	one, two := labelOf(t, code.Bag, 0), labelOf(t, code.Bag, 1)
	s := newStage(t, "joint coils", one, "4", "joint water-pump", two, "2", "2", one, "CLOSE", "OK", "CANCEL")
	bags := rows(s.panel(), "Bags")
	require.Len(t, bags, 2)
	require.Contains(t, bags[0], "open|"+two)
	require.Contains(t, bags[1], "closed|"+one)
}

func TestHeadlineIsTheOneStepThatIsBegun(t *testing.T) {
	s := newStage(t)
	require.Empty(t, Headline(s.job()))
	s.scan("joint coils", "hole 1", "OUT")
	require.Equal(t, "COILS OFF", Headline(s.job()))
	s.scan("joint oil-pan", "hole 1", "OUT")
	require.Empty(t, Headline(s.job()), "two are begun: neither is the next one")
}

func TestWithoutJobSaysHowToBegin(t *testing.T) {
	require.Contains(t, allText(WithoutJob()), "job 4K7")
}
