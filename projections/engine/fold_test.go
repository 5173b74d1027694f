package engine

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/ledger"
	"countback/projections/plan"
)

// bench writes facts as one terminal would.
type bench struct {
	t    *testing.T
	job  *Job
	name events.Terminal
	n    uint32
	at   int64
}

func (b *bench) tell(known events.Known, ev events.Event) Change {
	b.t.Helper()
	b.n++
	b.at = max(b.at, b.job.LatestAt()) + 1000
	r := events.Record{Shop: "hill", Job: "j1", Terminal: b.name, N: b.n, Time: b.at, At: b.at, Seen: b.job.Seen(), Known: known, Event: ev, Operator: "Marit"}
	c := b.job.Apply(&r)
	require.NoError(b.t, b.job.State().Book().Verify())
	return c
}

func sorrel(t testing.TB) string {
	b, err := os.ReadFile("../../testdata/plans/sorrel-i4-20.yaml")
	require.NoError(t, err)
	return string(b)
}

func opened(t *testing.T) (*bench, *State) {
	b := &bench{t: t, job: &Job{}, name: "b2", at: 1_700_000_000_000_000}
	ev, err := b.job.Decide(OpenJob{Engine: "Sorrel I4-20", Plan: sorrel(t)})
	require.NoError(t, err)
	b.tell(events.Told, ev)
	require.Empty(t, b.job.State().Notes())
	return b, b.job.State()
}

func TestOpening(t *testing.T) {
	_, s := opened(t)
	require.Equal(t, 129, len(s.Plan().Steps))
	pieces := 0
	for a := 1; a <= s.book.Accounts(); a++ {
		if s.book.Class(ledger.AccountID(a)) == ledger.Fitted {
			for _, l := range s.contents(ledger.AccountID(a)) {
				pieces += l.Qty
			}
		}
	}
	require.Equal(t, 543, pieces)
}

func TestFrontCover(t *testing.T) {
	b, s := opened(t)
	b.tell(events.Claimed, events.PiecesOut{Joint: "mount-bracket", To: "bag/B2KP34V5", All: true})
	require.Len(t, s.At("bag/B2KP34V5"), 2)
	br, _ := s.Plan().Part("mount-bracket")
	require.Equal(t, plan.PartOff, s.Now().Part(br))
	b.tell(events.Claimed, events.PiecesOut{Joint: "water-pump", All: true})
	c := b.tell(events.CountedBlind, events.PiecesOut{Joint: "front-cover", To: "bag/B2KCZ6EE", All: true, Lines: []events.Line{
		{Kind: "M6x1.0x25 8.8 flange", Qty: 1}, {Kind: "M8x1.25x30 8.8 flange", Qty: 8}, {Kind: "M8x1.25x45 8.8 flange", Qty: 4}, {Kind: "M10x1.5x50 8.8 flange", Qty: 4}}})
	require.EqualValues(t, 1, c.Opened.N)
	en := s.Book().Entry(c.Opened.First)
	require.EqualValues(t, 1, en.Open)
	t.Log(s.At("bag/B2KCZ6EE"), s.Notes(), s.Book().ItemName(en.Item))
	fc, _ := s.Plan().Part("front-cover")
	require.Equal(t, plan.PartOn, s.Now().Part(fc), "the four bolts into the head still hold it")
	b.tell(events.Claimed, events.PiecesOut{Joint: "head-front", To: "bag/B2KCZ6EE", All: true})
	require.Equal(t, plan.PartOff, s.Now().Part(fc))
	b.tell(events.Told, events.ShortEnded{Short: s.ShortID(c.Opened.First), How: events.StillIn})
	require.Equal(t, plan.PartOn, s.Now().Part(fc))
	t.Log(s.Uncounted())
}

func TestPartOffPresumesWhatLayBefore(t *testing.T) {
	b, s := opened(t)
	b.tell(events.Told, events.PartRemoved{Part: "front-cover", To: "place/shelf"})
	var joints []events.Joint
	for _, u := range s.Uncounted() {
		joints = append(joints, u.Joint)
	}
	require.Contains(t, joints, events.Joint("oil-pan"))
	require.Contains(t, joints, events.Joint("front-cover"))
	pan, _ := s.Plan().Part("oil-pan")
	require.Equal(t, plan.PartOff, s.Now().Part(pan))
	b.tell(events.CountedBlind, events.PiecesOut{Joint: "oil-pan", To: "bag/B3AAAAAA", All: true, Lines: []events.Line{
		{Kind: "M6x1.0x20 8.8 flange", Qty: 14}, {Kind: "M8x1.25x85 8.8 flange", Qty: 4}}})
	joints = nil
	for _, u := range s.Uncounted() {
		joints = append(joints, u.Joint)
	}
	require.NotContains(t, joints, events.Joint("oil-pan"))
	require.Len(t, s.At("bag/B3AAAAAA"), 2)
	require.Empty(t, s.OpenShorts())
}

func TestTwoBoltsStillIn(t *testing.T) {
	b, s := opened(t)
	c := b.tell(events.CountedBlind, events.PiecesOut{Joint: "oil-pan", To: "bag/B3AAAAAA", All: true, Lines: []events.Line{
		{Kind: "M6x1.0x20 8.8 flange", Qty: 14}, {Kind: "M8x1.25x85 8.8 flange", Qty: 2}}})
	require.EqualValues(t, 1, c.Opened.N)
	require.EqualValues(t, 2, s.Book().Entry(c.Opened.First).Open)
	b.tell(events.Told, events.ShortEnded{Short: s.ShortID(c.Opened.First), How: events.StillIn})
	require.Empty(t, s.OpenShorts())
	pan, _ := s.Plan().Part("oil-pan")
	require.Equal(t, plan.PartOn, s.Now().Part(pan))
	b.tell(events.CountedBlind, events.PiecesOut{Joint: "oil-pan", To: "bag/B3AAAAAA", All: true, Lines: []events.Line{
		{Kind: "M8x1.25x85 8.8 flange", Qty: 2}}})
	require.Equal(t, plan.PartOff, s.Now().Part(pan))
	require.Empty(t, s.OpenShorts())
}

func TestBucketsKeepTheirSeats(t *testing.T) {
	b, s := opened(t)
	b.tell(events.Told, events.CaughtUp{Deepest: "cam-intake"})
	b.tell(events.Told, events.CaughtUp{Deepest: "cam-exhaust"})
	b.tell(events.CountedOpen, events.PartRemoved{Part: "buckets", To: "rack/R2AAAAAA", Counted: 16})
	at := s.At("rack/R2AAAAAA/2Ia")
	require.Len(t, at, 1)
	require.EqualValues(t, "buckets:2Ia", at[0].Origin)
	b.tell(events.Told, events.Reassigned{Part: "buckets", From: "2Ia", To: "2Ib", Why: "clearance"})
	b.tell(events.Told, events.Reassigned{Part: "buckets", From: "2Ib", To: "2Ia", Why: "clearance"})
	b.tell(events.Told, events.PartFitted{Part: "buckets", From: "rack/R2AAAAAA"})
	p, _ := s.Plan().Part("buckets")
	require.Equal(t, plan.PartOn, s.Now().Part(p))
	require.EqualValues(t, "buckets:2Ib", s.originIn(p, s.spotAt(p, "2Ia")))
	require.EqualValues(t, "buckets:1Ia", s.originIn(p, s.spotAt(p, "1Ia")))
}

func TestSnappedStud(t *testing.T) {
	b, s := opened(t)
	b.tell(events.Told, events.FastenerBroken{Case: "C2AAAAAA", Joint: "exhaust", Hole: "9", Stub: events.Below, OtherEnd: "not-found"})
	require.Len(t, s.OpenShorts(), 2, "the other end and the nut on it")
	require.Len(t, s.At("stub/head 1/exhaust"), 1)
	b.tell(events.Told, events.StudExtracted{Case: "C2AAAAAA", Hole: events.HoleInsert, DepthMm: 22})
	require.Empty(t, s.At("stub/head 1/exhaust"))
	ix, _ := s.Plan().Seat("exhaust:9")
	h, ok := s.HoleOf(ix)
	require.True(t, ok)
	require.Equal(t, 22.0, h.DepthMm)
}

func TestHeadOutAndBackOnePlugShort(t *testing.T) {
	b, s := opened(t)
	b.tell(events.Told, events.CaughtUp{Deepest: "head"})
	b.tell(events.Told, events.SentOut{Slip: "S2AAAAAA", Parts: []events.Part{"head"}})
	lines := s.Contents("head")
	require.Contains(t, lines, events.Line{Kind: "M14x1.5 plug (hexagon socket)", Qty: 1})
	c := b.tell(events.CountedOpen, events.Returned{Slip: "S2AAAAAA", Lines: []events.Line{{Kind: "M14x1.5 plug (hexagon socket)", Qty: 0}}})
	require.EqualValues(t, 1, c.Opened.N)
	hd, _ := s.Plan().Part("head")
	require.Equal(t, plan.PartOff, s.Now().Part(hd))
}

func TestTwoTerminalsThatHadNotSeenEachOtherDisagree(t *testing.T) {
	b, s := opened(t)
	b.tell(events.CountedBlind, events.PiecesOut{Joint: "mount-bracket", To: "bag/B2KP34V5", All: true, Lines: []events.Line{
		{Kind: "M12x1.25x65 8.8 flange", Qty: 4}, {Kind: "M10x1.25x60 8.8 flange", Qty: 4}}})
	at, seen := b.at, b.job.Seen()
	cut := events.Record{Shop: "hill", Job: "j1", Terminal: "b1", N: 1, Time: at + 10, At: at + 10, Seen: seen, Known: events.Claimed,
		Event: events.PiecesFitted{Joint: "mount-bracket", From: "bag/B2KP34V5", All: true}}
	count := events.Record{Shop: "hill", Job: "j1", Terminal: "b3", N: 1, Time: at + 20, At: at + 20, Seen: seen, Known: events.CountedBlind,
		Event: events.Counted{Place: "bag/B2KP34V5", All: true, Lines: []events.Line{{Kind: "M12x1.25x65 8.8 flange", Qty: 4}, {Kind: "M10x1.25x60 8.8 flange", Qty: 4}}}}
	other := &Job{}
	other.Load(append(append([]events.Record(nil), b.job.Facts()...), cut, count))
	b.job.Apply(&count)
	ch := b.job.Apply(&cut)
	require.True(t, ch.Refolded)
	s = b.job.State()
	require.NoError(t, s.Book().Verify())
	require.Len(t, s.OpenShorts(), 2)
	for _, k := range s.OpenShorts() {
		require.True(t, s.Book().Entry(k).Disputed())
		require.Equal(t, ledger.Over, s.Book().Entry(k).Sign)
	}
	require.Equal(t, len(s.OpenShorts()), len(other.State().OpenShorts()))
	b.tell(events.CountedOpen, events.DisagreementSettled{Facts: []events.FactID{cut.ID(), count.ID()}, Falls: cut.ID(), Counts: []events.PlaceCount{
		{Place: "bag/B2KP34V5", Lines: []events.Line{{Kind: "M12x1.25x65 8.8 flange", Qty: 4}, {Kind: "M10x1.25x60 8.8 flange", Qty: 4}}},
		{Place: "joint/mount-bracket"}}})
	require.Empty(t, b.job.State().OpenShorts())
}

func TestACorrectionTakesThePlaceOfWhatItCorrects(t *testing.T) {
	b, _ := opened(t)
	lines := func(n int) []events.Line {
		return []events.Line{{Kind: "M6x1.0x20 8.8 flange", Qty: n}, {Kind: "M8x1.25x85 8.8 flange", Qty: 4}}
	}
	b.tell(events.CountedBlind, events.PiecesOut{Joint: "oil-pan", To: "bag/B3AAAAAA", All: true, Lines: lines(13)})
	wrong := events.FactID{Terminal: "b2", N: b.n}
	b.tell(events.CountedBlind, events.Counted{Place: "bag/B3AAAAAA", All: true, Lines: lines(14)})
	require.Len(t, b.job.State().OpenShorts(), 2)
	b.tell(events.Told, events.Corrected{Wrong: wrong, Instead: events.PiecesOut{Joint: "oil-pan", To: "bag/B3AAAAAA", All: true, Lines: lines(14)}, Why: "miscount"})
	require.Empty(t, b.job.State().OpenShorts())
	mend := events.FactID{Terminal: "b2", N: b.n}
	b.tell(events.Told, events.Corrected{Wrong: mend, Why: "it was thirteen after all"})
	require.Len(t, b.job.State().OpenShorts(), 2)
}

func TestAPlugThatIsOutIsParked(t *testing.T) {
	b, s := opened(t)
	b.tell(events.Claimed, events.PiecesOut{Joint: "drain", All: true})
	ev, err := b.job.Decide(Tell{events.PiecesParked{Joint: "drain"}})
	require.NoError(t, err)
	require.NotNil(t, ev, "it is out, so it is not parked already")
	b.tell(events.Told, ev)
	ev, err = b.job.Decide(Tell{events.PiecesParked{Joint: "drain"}})
	require.NoError(t, err)
	require.Nil(t, ev)
	ix, _ := s.Plan().Seat("drain:1")
	require.Equal(t, plan.SeatParked, s.Now().Seat(ix))
}

// One bucket into the rack, and nobody said that the cams were off: that is
// presumed, and nothing is over.
func TestOnePieceIntoARackOfAWholeEngine(t *testing.T) {
	b, s := opened(t)
	for _, pos := range []events.Hole{"1Ia", "1Ib"} {
		b.tell(events.Told, events.PartPlaced{Part: "buckets", Position: pos, Rack: "rack/R2AAAAAA/" + events.Place(pos)})
		at := s.At("rack/R2AAAAAA/" + events.Place(pos))
		require.Len(t, at, 1)
		require.Equal(t, events.SeatOf("buckets", pos), at[0].Origin)
	}
	require.Empty(t, s.OpenShorts())
	require.Len(t, s.At("bench/b2/part buckets"), 14)
	require.Empty(t, s.At("fitted/head 1/buckets"))
}

// R8 reaches R5: the last bolt of a part is as good as the word that it is off.
func TestLastBoltPresumesWhatLayBefore(t *testing.T) {
	for _, joint := range []events.Joint{"head", "bedplate"} {
		byBolts, a := opened(t)
		byBolts.tell(events.Claimed, events.PiecesOut{Joint: joint, All: true})
		byWord, b := opened(t)
		byWord.tell(events.Told, events.PartRemoved{Part: events.Part(joint)})
		pan, _ := a.Plan().Part("cam-cover")
		require.Equal(t, plan.PartOff, a.Now().Part(pan), joint)
		for i := range a.Plan().Parts {
			p := plan.PartIndex(i)
			require.Equal(t, b.Now().Part(p), a.Now().Part(p), "%s: %s", joint, a.Plan().Parts[p].ID)
		}
		require.Len(t, a.Uncounted(), len(b.Uncounted())-1, "%s: its own bolts were told", joint)
	}
	// the caps lie over the cams, and come off by the same step
	caps, s := opened(t)
	caps.tell(events.Told, events.PartRemoved{Part: "cam-cover"})
	caps.tell(events.Claimed, events.PiecesOut{Joint: "phasers", All: true})
	before := len(s.Uncounted())
	caps.tell(events.Claimed, events.PiecesOut{Joint: "cam-caps", All: true})
	cam, _ := s.Plan().Part("cam-intake")
	require.Equal(t, plan.PartOff, s.Now().Part(cam))
	require.Len(t, s.Uncounted(), before)
	// by number, hole by hole
	holes, s := opened(t)
	head, _ := s.Plan().Joint("head")
	for _, seat := range s.Plan().Joints[head].Seats {
		require.Empty(t, s.Uncounted())
		holes.tell(events.Told, events.PiecesOut{Joint: "head", Holes: []events.Hole{s.Plan().Seats[seat].Hole}})
	}
	require.NotEmpty(t, s.Uncounted())
	// a bolt that was never there says nothing of what lies over its part
	arrived, s := opened(t)
	arrived.tell(events.Told, events.MissingOnArrival{Joint: "bedplate"})
	require.Empty(t, s.Uncounted())
}
