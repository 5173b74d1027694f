package engine

import (
	"strconv"

	"countback/events"
	"countback/projections/ledger"
)

func itoa(n int) string { return strconv.Itoa(n) }

// apply folds one fact. ev is what stands in the fact's place: its own event,
// what a correction says instead, or nil. Evolve never refuses (rule R4): what
// the book cannot hold becomes a short, an over or a note.
func (s *State) apply(f ledger.Fact, r *events.Record, ev events.Event, m *meant) {
	s.fact, s.rec, s.ev, s.meant, s.opened = f, r, ev, m, ledger.Opened{}
	if r.To != 0 {
		s.dated = true
	}
	if m.lay != s.lay.no {
		s.understand(m, ev)
	}
	before := s.book.Entries()
	if s.Ended != nil {
		s.afterEnd(ev)
	}
	s.evolve(ev)
	s.settled(before)
}

// again folds a fact that was folded before and in whose place nothing else
// stands.
func (s *State) again(f ledger.Fact, r *events.Record, m *meant) {
	if m.quick != slow && m.lay == s.lay.no && s.Ended == nil {
		s.fact, s.rec, s.ev, s.meant, s.opened = f, r, nil, m, ledger.Opened{}
		if before := s.book.Entries(); s.quickly(m) {
			if s.stirred || s.lay.restless || s.pending() || s.book.Entries() != before {
				s.settled(before)
			}
			return
		}
	}
	s.apply(f, r, r.Event, m)
}

// settled does what follows a fact: what a few jobs want after each, and the
// differences that it showed, those behind so many.
func (s *State) settled(before int) {
	if s.pending() {
		s.follow()
	}
	if len(s.lay.waits) > 0 && (s.stirred || s.lay.restless) {
		s.stirred = false
		s.holdWaits()
	}
	if n := s.book.Entries(); n != before {
		s.opened = ledger.Opened{First: ledger.EntryNo(before + 1), N: int32(n - before)}
		s.disputes()
	}
}

// pending reports whether a job is one of those few that follow is for.
func (s *State) pending() bool {
	return len(s.tight.dirty)|len(s.choicesOfScope)|len(s.cores)|s.ahead.running != 0
}

// follow does what a few jobs want after each fact: their matrices, what must
// come off, beads and cores.
func (s *State) follow() {
	if len(s.tight.dirty) > 0 {
		s.settleTurns()
	}
	if len(s.choicesOfScope) > 0 {
		s.scopesReached()
	}
	if s.ahead.running > 0 {
		s.closeBeads()
	}
	if len(s.cores) > 0 {
		s.watchCores()
	}
}

// evolve is the accountant's page: what each kind of fact does to the books.
func (s *State) evolve(ev events.Event) {
	switch e := ev.(type) {
	case nil, events.Corrected:
		// what it corrects has changed in its own place
	case events.PiecesOut:
		s.piecesOut(&e)
	case events.PiecesFitted:
		s.piecesFitted(&e)
	case events.Counted:
		s.counted(&e)
	case events.PartRemoved:
		s.partRemoved(&e)
	case events.PartFitted:
		s.partFitted(&e)
	case events.StageRecorded:
		s.stageRecorded(&e)
	case events.BagLabelled:
		b := s.bagOf(s.meant.to, e.Bag)
		b.Joint, b.Part = e.Joint, e.Part
	case events.BagOpened:
		s.bagOf(s.meant.to, e.Bag).Closed = false
	case events.BagClosed:
		s.bagClosed(&e)
	case events.LoanIn:
		s.loanIn(&e)
	case events.LoanOut:
		s.loanOut(&e)
	case events.MarkMade:
		s.markMade(&e)
	default:
		s.evolveOther(ev)
	}
}

// evolveOther holds the kinds that come now and then.
func (s *State) evolveOther(ev events.Event) {
	switch e := ev.(type) {
	case events.PiecesMoved:
		s.piecesMoved(&e)
	case events.PiecesParked:
		s.piecesParked(&e)
	case events.PiecesLoosened:
		s.piecesLoosened(&e)
	case events.BagsMerged:
		s.bagsMerged(&e)
	case events.BagSplit:
		s.bagSplit(&e)
	case events.BagRetired:
		s.bag(e.Bag).Retired = s.fact
	case events.PiecesScrapped:
		s.partsGone(e.From, e.Lines)
		s.transfer(e.From, "scrap", e.Lines)
		s.partsLeft(e.Lines)
		s.wishesScrapped(e.Lines)
	case events.PiecesKept:
		s.piecesKept(&e)
	case events.ConditionChanged:
		s.conditionChanged(&e)
	case events.BenchSwept:
		s.benchSwept(&e)
	case events.PartPlaced:
		s.partPlaced(&e)
	case events.RackRead:
		s.rackRead(&e)
	case events.OrderLost:
		s.orderLost(&e)
	case events.Reassigned:
		s.reassigned(&e)
	case events.HardwareReceived:
		s.received(e.From, e.To, ownerLot(e.From, e.Lot), e.Lines, cameIn(e.AsFound))
		s.cameWith(e.Order, e.Lines)
		s.deliveredShort(e.Order, e.Short)
		if e.From == "outside/owner" {
			s.brought(e.Lines, "")
		}
	case events.KitOpened:
		s.kitOpened(&e)
	default:
		s.evolveRest(ev)
	}
}

// evolveRest holds the kinds that come a few times in a job.
func (s *State) evolveRest(ev events.Event) {
	s.stirred = true
	switch e := ev.(type) {
	case events.JobOpened:
		s.jobOpened(&e)
	case events.TagsIssued:
		s.tagsIssued(&e)
	case events.TagVoided:
		s.tagVoided(e.Code)
	case events.PlanAmended:
		s.planAmended(&e)
	case events.LayoutSeen:
		s.layoutSeen(&e)
	case events.OptionSeen:
		s.optionSeen(&e)
	case events.JointTagged:
		s.jointTagged(&e)
	case events.MissingOnArrival:
		s.missingOnArrival(&e)
	case events.DamagedOnArrival:
		s.damagedOnArrival(&e)
	case events.CaughtUp:
		s.caughtUp(&e)
	case events.HandedOver:
		s.handedOver(&e)
	case events.AuditSigned:
		s.signed = append(s.signed, Signature{e, s.rec.Operator, s.fact})
		s.passed(noun("audit", e.Point))
	case events.JobEnded:
		s.Ended = &Ended{e.How, s.fact}
		s.passed("job")
	case events.JobResumed:
		s.Ended = nil
	case events.FastenerBroken:
		s.fastenerBroken(&e)
	case events.OtherEndTold:
		s.otherEndTold(&e)
	case events.HotWorkConfirmed:
		s.hotWorkConfirmed(&e)
	case events.ExtractionTried:
		s.extractionTried(&e)
	case events.StudExtracted:
		s.studExtracted(&e)
	case events.HoleChanged:
		s.holeChanged(e.Joint, e.Hole, Hole{e.State, e.DepthMm, e.Takes, s.fact})
	case events.LossReported:
		s.lossReported(&e)
	case events.ShortEnded:
		s.shortEnded(&e)
	case events.DisagreementSettled:
		s.disagreementSettled(&e)
	case events.HardwareLent:
		s.transfer(e.From, events.Place("outside/job/"+e.To), e.Lines)
	case events.HardwareBorrowed:
		s.transfer(events.Place("outside/job/"+e.From), e.To, e.Lines)
	case events.CavityOpened:
		s.cavitySaid(e.Cavity, true)
	case events.CavityLooked:
		s.cavityLooked(&e)
	case events.CavityClosed:
		s.cavitySaid(e.Cavity, false)
	case events.FluidChanged:
		s.fluidChanged(&e)
	case events.ActDone:
		s.turnedAgainst(e.Act)
		s.actDone(e.Act)
	case events.SecondChecked:
		s.checks = append(s.checks, Check{e, s.rec.Operator, s.fact})
		s.passed(noun("step", e.Step))
	case events.SentOut:
		s.sentOut(&e)
	case events.Returned:
		s.returned(&e)
	case events.Exchanged:
		s.exchanged(&e)
		s.gauging.exchange(e.Part, s.fact)
	case events.HoldSet:
		s.holds = append(s.holds, &Hold{ID: e.Hold, On: e.On, Why: e.Why, Since: s.fact})
	case events.HoldReleased:
		s.holdReleased(&e)
	case events.Overridden:
		s.passes = append(s.passes, LetPass{e, s.fact})
		s.passed(e.Ask)
	case events.Measured:
		s.measured = append(s.measured, Reading{e, s.fact})
	case events.FindingRaised:
		s.findingRaised(&e)
		if typ, id := cutNoun(e.On); typ == "part" { // whoever found something has looked
			s.lookedOver([]events.Part{events.Part(id)})
		}
	case events.FindingDecided:
		s.findingDecided(&e)
	case events.EngineStarted, events.RunRead, events.OutputRead, events.EngineStopped, events.EngineCooled, events.DistanceRead, events.ObligationMet:
		s.ran(ev)
		s.sourcesRan(ev)
	case events.FastenersMeasured:
		s.fastenersMeasured(&e)
	case events.OwnerAnswered:
		s.ownerAnswered(&e)
	case events.FindingDone:
		s.findingDone(&e)
	case events.TraySorted:
		s.traySorted(&e)
	case events.StageRestarted:
		s.stageAgain(&e)
	case events.StageAccepted:
		s.stageAccepted(&e)
	case events.EditionChosen:
		s.editionChosen(&e)
	case events.TorqueChosen:
		s.torqueChosen(&e)
	case events.ToolTaken:
		s.toolTaken(&e)
	case events.ToolBack:
		s.toolBack(e.Tool)
	case events.Preserved:
		s.preservedNow(&e)
	case events.LotDated:
		s.lotDated(&e)
	case events.BatchOpened:
		s.batchOpened(&e)
	case events.BatchClosed:
		s.batchClosed(&e)
	case events.Carried:
		s.carried(&e)
	case events.TrayIssued:
		s.trayIssued(&e)
	case events.Unknown:
		s.unknown = append(s.unknown, Strange{e.Kind, s.fact})
	case events.RangeReserved, events.BadgeIssued, events.ToolIssued:
		// the shop's own: see the shop-wide views
	case events.LabelReprinted:
		// paper: it moves no piece
	case events.ScopeDecided:
		s.scopeDecided(&e)
	case events.WorkAsked:
		s.workAsked(&e)
	case events.LookedOver:
		s.lookedOver(e.Parts)
	case events.Ordered, events.OrderClosed, events.Promised, events.StepPlanned, events.LeadTimeSet, events.HardwareSentBack,
		events.SealantApplied:
		s.expect(ev)
	case events.CoreAgreed:
		s.coreAgreed(&e)
	case events.CoreSent:
		s.coreSent(&e)
	case events.CoreCredited:
		s.coreCredited(&e)
	case events.OwnerBrought:
		s.ownerBrought(&e)
	case events.OwnerAsked:
		s.ownerAsked(&e)
	case events.OwnerShown:
		s.ownerShown(&e)
	case events.OwnerGiven:
		s.ownerGiven(&e)
	case events.PartPressed:
		s.partPressed(&e)
	case events.DepthAccepted:
		s.depthAccepted(&e)
	case events.SourceConfirmed:
		s.sourceFound(e.Source, e.On)
	default:
		panic("unreachable: a kind of event without a case")
	}
}
