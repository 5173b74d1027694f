package kiosk

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/kiosk/scan"
)

func TestACountFarBeyondIsQuestionedBeforeItIsStored(t *testing.T) {
	r := newRig(t)
	facts := len(r.job.Facts())
	r.say("joint oil-pan", "bag BHTBR6KS", "14", "400")
	v := r.screen.View()
	require.Equal(t, "400 is far more than that joint holds. YES, it is so; or the number again", v.Ask)
	require.NotContains(t, v.Ask+v.Lines[0], "18", "how many can be there is not said before the count is in")
	require.Equal(t, "COUNT", v.Mode)
	require.Equal(t, "400?", r.screen.Next()[1])
	require.Len(t, r.job.Facts(), facts, "nothing is stored yet")
	r.say("step cover-on", "STILL IN", "OK", "text four")
	require.Equal(t, v.Ask, r.screen.View().Ask, "what does not answer it loses nothing")
	tally, _ := r.screen.Tally()
	require.Equal(t, []int{14, NotYet}, tally.Got)
	r.say("YES")
	require.Len(t, r.job.Facts(), facts+1, "told to be so, it is stored")
}

func TestTheNumberAgainTakesThePlaceOfADoubtedOne(t *testing.T) {
	r := newRig(t)
	r.say("joint oil-pan", "bag BHTBR6KS", "400", "400", "14", "NO", "4")
	require.Contains(t, r.screen.View().Lines[0], "18 counted")
	r = newRig(t)
	r.say("joint oil-pan", "bag BHTBR6KS", "400", "CLEAR")
	require.Contains(t, r.screen.View().Ask, "How many of each size?")
	r.say("400", "CANCEL")
	require.Contains(t, r.screen.View().Lines[0], "Dropped")
}

func TestHugeCountsOfAKitABagAndAPart(t *testing.T) {
	for _, lines := range [][]string{
		{"kit bolt-set", "OPENED", "900"},
		{"bag BHTBR6KS", "size M6x1.0x25 8.8 flange", "MOVE"},
		{"place shelf", "COUNT", "size M6x1.0x25 8.8 flange", "5000"},
		{"part buckets", "1600"},
		{"loan rag", "IN", "1"},
		{"supplier fjord", "place shelf", "size M6x1.0x25 8.8 flange", "5000", "RECEIVED"},
		{"place shelf", "size M6x1.0x25 8.8 flange", "5000", "SCRAP"},
	} {
		r := newRig(t)
		facts := len(r.job.Facts())
		r.say(lines...)
		if lines[len(lines)-1] == "MOVE" || lines[0] == "loan rag" {
			require.NotContains(t, r.screen.View().Ask, "far more", "%v", lines)
			continue
		}
		require.Contains(t, r.screen.View().Ask, "is far more than", "%v", lines)
		require.Len(t, r.job.Facts(), facts, "%v", lines)
	}
}

// Every fact whose numbers are doubted is one that a sentence stores.
func TestDoubtedFactsAreStored(t *testing.T) {
	for _, row := range scan.Sentences {
		said := &scan.Said{Job: sorrel(t), Nouns: []scan.Noun{{Type: scan.Place, ID: "shelf"}}}
		if row.Event == "counted" {
			require.NotEmpty(t, row.FarBeyond(said, "M6x1.0x25 8.8 flange", 90000), row.Try)
		}
		if row.Event == "ordered" || row.Event == "lead-time-set" || row.Event == "finding-decided" {
			require.Empty(t, row.FarBeyond(said, "M6x1.0x25 8.8 flange", 90000), row.Try)
		}
	}
}
