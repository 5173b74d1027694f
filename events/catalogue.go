package events

import "reflect"

// Class says what an event of a kind does to the book.
type Class uint8

// The classes of events.
const (
	// State changes no number of pieces anywhere: a mark, a stage, a hold, a
	// decision, a signature, a label. It is also the class of Unknown.
	State Class = iota
	// Transfer says what a hand did: these pieces went from here to there.
	Transfer
	// Observation says what an eye saw, and sets what is in a place.
	Observation
	// Both moves pieces and can say that nothing is left where they came from.
	Both
)

// Entry of the catalogue: one kind of event.
type entry struct {
	name  string
	class Class
	zero  Event
	typ   reflect.Type
	shelf shelf
}

func kind[T Event](name string, class Class) entry {
	var zero T
	return entry{name, class, zero, reflect.TypeFor[T](), shelfOf[T]()}
}

// The catalogue ties each kind to its stored name and its class. Names are
// literals: never derived from a Go name, never reused; a changed meaning is
// a new kind. Unknown is in no catalogue: it is what every other name becomes.
var catalogue = []entry{
	kind[JobOpened]("job-opened", State),
	kind[TagsIssued]("tags-issued", State),
	kind[RangeReserved]("range-reserved", State),
	kind[TagVoided]("tag-voided", State),
	kind[BadgeIssued]("badge-issued", State),
	kind[PlanAmended]("plan-amended", State),
	kind[LayoutSeen]("layout-seen", Observation),
	kind[OptionSeen]("option-seen", Observation),
	kind[JointTagged]("joint-tagged", State),
	kind[MissingOnArrival]("missing-on-arrival", Observation),
	kind[DamagedOnArrival]("damaged-on-arrival", Observation),
	kind[CaughtUp]("caught-up", State),
	kind[HandedOver]("handed-over", State),
	kind[AuditSigned]("audit-signed", State),
	kind[JobEnded]("job-ended", State),
	kind[JobResumed]("job-resumed", State),
	kind[PiecesOut]("pieces-out", Both),
	kind[PiecesParked]("pieces-parked", Transfer),
	kind[PiecesFitted]("pieces-fitted", Both),
	kind[PiecesLoosened]("pieces-loosened", State),
	kind[StageRecorded]("stage-recorded", State),
	kind[FastenerBroken]("fastener-broken", State),
	kind[OtherEndTold]("other-end-told", Transfer),
	kind[HotWorkConfirmed]("hot-work-confirmed", State),
	kind[ExtractionTried]("extraction-tried", State),
	kind[StudExtracted]("stud-extracted", Transfer),
	kind[HoleChanged]("hole-changed", State),
	kind[BagLabelled]("bag-labelled", State),
	kind[BagOpened]("bag-opened", State),
	kind[BagClosed]("bag-closed", Observation),
	kind[Counted]("counted", Observation),
	kind[BagsMerged]("bags-merged", Both),
	kind[BagSplit]("bag-split", Transfer),
	kind[BagRetired]("bag-retired", Both),
	kind[PiecesMoved]("pieces-moved", Transfer),
	kind[PiecesScrapped]("pieces-scrapped", Transfer),
	kind[PiecesKept]("pieces-kept", Transfer),
	kind[ConditionChanged]("condition-changed", State),
	kind[BenchSwept]("bench-swept", Observation),
	kind[PartRemoved]("part-removed", Both),
	kind[PartPlaced]("part-placed", Transfer),
	kind[RackRead]("rack-read", Observation),
	kind[OrderLost]("order-lost", State),
	kind[Reassigned]("reassigned", Transfer),
	kind[PartFitted]("part-fitted", Both),
	kind[HardwareReceived]("hardware-received", Observation),
	kind[KitOpened]("kit-opened", Observation),
	kind[LossReported]("loss-reported", Transfer),
	kind[ShortEnded]("short-ended", Transfer),
	kind[DisagreementSettled]("disagreement-settled", State),
	kind[HardwareLent]("hardware-lent", Transfer),
	kind[HardwareBorrowed]("hardware-borrowed", Transfer),
	kind[LoanIn]("loan-in", Transfer),
	kind[LoanOut]("loan-out", Transfer),
	kind[CavityOpened]("cavity-opened", State),
	kind[CavityLooked]("cavity-looked", Observation),
	kind[CavityClosed]("cavity-closed", State),
	kind[FluidChanged]("fluid-changed", State),
	kind[MarkMade]("mark-made", State),
	kind[ActDone]("act-done", State),
	kind[SecondChecked]("second-checked", State),
	kind[SentOut]("sent-out", Both),
	kind[Returned]("returned", Observation),
	kind[Exchanged]("exchanged", Transfer),
	kind[HoldSet]("hold-set", State),
	kind[HoldReleased]("hold-released", State),
	kind[Overridden]("overridden", State),
	kind[Measured]("measured", State),
	kind[FindingRaised]("finding-raised", State),
	kind[FindingDecided]("finding-decided", State),
	kind[Corrected]("corrected", State),
	kind[LabelReprinted]("label-reprinted", State),
	kind[ScopeDecided]("scope-decided", State),
	kind[TraySorted]("tray-sorted", Transfer),
	kind[WorkAsked]("work-asked", State),
	kind[LookedOver]("looked-over", State),
	kind[OwnerAnswered]("owner-answered", State),
	kind[FindingDone]("finding-done", State),
	kind[Ordered]("ordered", State),
	kind[Promised]("promised", State),
	kind[StepPlanned]("step-planned", State),
	kind[LeadTimeSet]("lead-time-set", State),
	kind[SealantApplied]("sealant-applied", State),
	kind[HardwareSentBack]("hardware-sent-back", Transfer),
	kind[OrderClosed]("order-closed", State),
	kind[StageRestarted]("stage-restarted", State),
	kind[StageAccepted]("stage-accepted", State),
	kind[EditionChosen]("edition-chosen", State),
	kind[TorqueChosen]("torque-chosen", State),
	kind[ToolIssued]("tool-issued", State),
	kind[ToolTaken]("tool-taken", State),
	kind[ToolBack]("tool-back", State),
	kind[Carried]("carried", State),
	kind[TrayIssued]("tray-issued", State),
	kind[BatchOpened]("batch-opened", Transfer),
	kind[BatchClosed]("batch-closed", Observation),
	kind[Preserved]("preserved", State),
	kind[LotDated]("lot-dated", State),
	kind[EngineStarted]("engine-started", State),
	kind[RunRead]("run-read", State),
	kind[OutputRead]("output-read", State),
	kind[EngineStopped]("engine-stopped", State),
	kind[EngineCooled]("engine-cooled", State),
	kind[DistanceRead]("distance-read", State),
	kind[ObligationMet]("obligation-met", State),
	kind[FastenersMeasured]("fasteners-measured", State),
	kind[CoreAgreed]("core-agreed", State),
	kind[CoreSent]("core-sent", Transfer),
	kind[CoreCredited]("core-credited", State),
	kind[OwnerBrought]("owner-brought", Observation),
	kind[OwnerAsked]("owner-asked", State),
	kind[OwnerShown]("owner-shown", State),
	kind[OwnerGiven]("owner-given", Transfer),
	kind[SourceConfirmed]("source-confirmed", State),
	kind[PartPressed]("part-pressed", State),
	kind[DepthAccepted]("depth-accepted", State),
}

// LongTexts names the fields that hold whole files: they may have line ends
// and tabs, and up to MaxText bytes.
var longTexts = map[reflect.Type]string{
	reflect.TypeFor[JobOpened]():   "plan",
	reflect.TypeFor[PlanAmended](): "text",
}

// Nested gives the stored name of each field that is itself an event. Such a
// field is stored in two members: name+"kind" holds the kind, name the data.
var nested = map[reflect.Type]string{
	reflect.TypeFor[Corrected](): "instead",
}

// Names lists the stored names of all kinds in the order of the catalogue.
func Names() []string {
	names := make([]string, len(catalogue))
	for i := range catalogue {
		names[i] = catalogue[i].name
	}
	return names
}

// NameOf gives the stored name of an event's kind ("bag-labelled"), and of an
// Unknown the name that it was stored under. It is empty for nil.
func NameOf(e Event) string {
	if u, ok := e.(Unknown); ok {
		return u.Kind
	}
	if s := byType[reflect.TypeOf(e)]; s != nil {
		return s.name
	}
	return ""
}

// ClassOf gives the class of an event's kind.
func ClassOf(e Event) Class {
	if s := byType[reflect.TypeOf(e)]; s != nil {
		return s.class
	}
	return State
}

// Zero gives the empty event of a stored name; false if the name is in no
// catalogue.
func Zero(name string) (Event, bool) {
	if s := byName[name]; s != nil {
		return s.zero, true
	}
	return nil, false
}
