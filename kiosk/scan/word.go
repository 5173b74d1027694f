package scan

import (
	"strings"

	"countback/labels/code"
	"countback/projections/plan"
)

// Word is one card of the wall: a verb, an answer, a reason. Its text is what
// is printed on the card and what a person may type instead of scanning it.
type Word string

// The verbs. Their order is the index of their card code and is only ever
// added to at its end: a card that hangs on a wall keeps its meaning.
const (
	Help           Word = "HELP"
	Cancel         Word = "CANCEL"
	Undo           Word = "UNDO"
	Redo           Word = "REDO"
	OK             Word = "OK"
	Clear          Word = "CLEAR"
	More           Word = "MORE"
	WhatNow        Word = "WHAT NOW"
	Missing        Word = "MISSING"
	AuditWord      Word = "AUDIT"
	WhereIs        Word = "WHERE IS"
	Correct        Word = "CORRECT"
	AllOut         Word = "ALL OUT"
	AllIn          Word = "ALL IN"
	Out            Word = "OUT"
	In             Word = "IN"
	Count          Word = "COUNT"
	Empty          Word = "EMPTY"
	Full           Word = "FULL"
	Open           Word = "OPEN"
	Close          Word = "CLOSE"
	Retire         Word = "RETIRE"
	Merge          Word = "MERGE"
	Split          Word = "SPLIT"
	Move           Word = "MOVE"
	PutIn          Word = "PUT IN"
	Parked         Word = "PARKED"
	Trial          Word = "TRIAL"
	Loose          Word = "LOOSE"
	Stage          Word = "STAGE"
	ThisOne        Word = "THIS ONE?"
	Broken         Word = "BROKEN"
	HotWork        Word = "HOT WORK"
	Tried          Word = "TRIED"
	Extracted      Word = "EXTRACTED"
	Scrap          Word = "SCRAP"
	Keep           Word = "KEEP"
	Lost           Word = "LOST"
	Condemned      Word = "CONDEMNED"
	MeasuredGood   Word = "MEASURED GOOD"
	Off            Word = "OFF"
	On             Word = "ON"
	OrderLost      Word = "ORDER LOST"
	Reassign       Word = "REASSIGN"
	Looked         Word = "LOOKED"
	Closed         Word = "CLOSED"
	Drained        Word = "DRAINED"
	Filled         Word = "FILLED"
	Done           Word = "DONE"
	TurnOver       Word = "TURN OVER?"
	Turned         Word = "TURNED"
	Crank          Word = "CRANK?"
	Cranked        Word = "CRANKED"
	Heat           Word = "HEAT?"
	Heated         Word = "HEATED"
	CanI           Word = "CAN I?"
	Gate           Word = "GATE"
	Send           Word = "SEND"
	Back           Word = "BACK"
	Exchanged      Word = "EXCHANGED"
	FoundWord      Word = "FOUND"
	Miscount       Word = "MISCOUNT"
	Pair           Word = "PAIR"
	PlanWrong      Word = "PLAN WRONG"
	Borrowed       Word = "BORROWED"
	WriteOff       Word = "WRITE OFF"
	Settle         Word = "SETTLE"
	Lend           Word = "LEND"
	Borrow         Word = "BORROW"
	HoldWord       Word = "HOLD"
	Release        Word = "RELEASE"
	FindingWord    Word = "FINDING"
	Opened         Word = "OPENED"
	Received       Word = "RECEIVED"
	MissingArrival Word = "MISSING ON ARRIVAL"
	Damaged        Word = "DAMAGED"
	CatchUp        Word = "CATCH UP"
	CameLikeThis   Word = "CAME LIKE THIS"
	Sign           Word = "SIGN"
	HandOver       Word = "HAND OVER"
	Override       Word = "OVERRIDE"
	LabelWord      Word = "LABEL"
	Void           Word = "VOID"
	Swept          Word = "SWEPT"
	OpenJob        Word = "OPEN JOB"
	Released       Word = "RELEASED"
	HandedBack     Word = "HANDED BACK"
	Suspended      Word = "SUSPENDED"
	Resume         Word = "RESUME"
	HasIt          Word = "HAS IT"
	HasNone        Word = "HAS NONE"
	Amend          Word = "AMEND"
	Drop           Word = "DROP"
	Reserve        Word = "RESERVE"
	Tags           Word = "TAGS"
	PrintAgain     Word = "PRINT AGAIN"
	Happened       Word = "HAPPENED"
	ReceivedUsed   Word = "RECEIVED USED"
	Digit0         Word = "DIGIT 0"
	Digit1         Word = "DIGIT 1"
	Digit2         Word = "DIGIT 2"
	Digit3         Word = "DIGIT 3"
	Digit4         Word = "DIGIT 4"
	Digit5         Word = "DIGIT 5"
	Digit6         Word = "DIGIT 6"
	Digit7         Word = "DIGIT 7"
	Digit8         Word = "DIGIT 8"
	Digit9         Word = "DIGIT 9"
	MustComeOff    Word = "MUST COME OFF?"
	Decided        Word = "DECIDED"
	Worksheet      Word = "WORKSHEET"
	Work           Word = "WORK"
	SlipsWord      Word = "SLIPS"
	Findings       Word = "FINDINGS"
	OrderedWord    Word = "ORDERED"
	PromisedWord   Word = "PROMISED"
	PlannedWord    Word = "PLANNED"
	LeadTime       Word = "LEAD TIME"
	SentBack       Word = "SENT BACK"
	SealantOn      Word = "SEALANT ON"
	BuyListWord    Word = "BUY LIST"
	OrdersWord     Word = "ORDERS"
	MayStart       Word = "START?"
	Started        Word = "STARTED"
	Stopped        Word = "STOPPED"
	Cold           Word = "COLD"
	OutputWord     Word = "OUTPUT"
	Distance       Word = "DISTANCE"
	RunWord        Word = "RUN"
	CoreWord       Word = "CORE"
	CoreSent       Word = "CORE SENT"
	Credited       Word = "CREDITED"
	Cores          Word = "CORES"
	OwnerBrought   Word = "OWNER BROUGHT"
	OwnerWants     Word = "OWNER WANTS"
	Shown          Word = "SHOWN"
	GivenBack      Word = "GIVEN BACK"
	OwnersThings   Word = "OWNER'S THINGS"
	Against        Word = "AGAINST"
)

var verbs = [...]Word{
	Help, Cancel, Undo, Redo, OK, Clear, More, WhatNow, Missing, AuditWord, WhereIs, Correct,
	AllOut, AllIn, Out, In, Count, Empty, Full, Open, Close, Retire, Merge, Split, Move, PutIn,
	Parked, Trial, Loose, Stage, ThisOne, Broken, HotWork, Tried, Extracted, Scrap, Keep, Lost,
	Condemned, MeasuredGood, Off, On, OrderLost, Reassign, Looked, Closed, Drained, Filled, Done,
	TurnOver, Turned, Crank, Cranked, Heat, Heated, CanI, Gate, Send, Back, Exchanged,
	FoundWord, Miscount, Pair, PlanWrong, Borrowed, WriteOff, Settle, Lend, Borrow, HoldWord, Release, FindingWord,
	Opened, Received, MissingArrival, Damaged, CatchUp, CameLikeThis, Sign, HandOver, Override,
	LabelWord, Void, Swept, OpenJob, Released, HandedBack, Suspended, Resume, HasIt, HasNone, Amend, Drop, Reserve, Tags,
	Digit0, Digit1, Digit2, Digit3, Digit4, Digit5, Digit6, Digit7, Digit8, Digit9,
	PrintAgain,
	Whose,
	Happened,
	MustComeOff, Decided,
	Sort,
	Worksheet,
	ReceivedUsed,
	Work, SlipsWord,
	Findings,
	OrderedWord, PromisedWord, PlannedWord, LeadTime, SentBack, SealantOn, BuyListWord, OrdersWord,
	Restart, AcceptWord, StageNo, StageRead, Edition, TorqueAsk, TorqueWord,
	Issued, Taken, ToolsWord,
	Holds, TraysWord, BatchesWord, PreservedWord, GoodUntil, AgeingWord,
	MayStart, Started, Stopped, Cold, OutputWord, Distance, RunWord,
	CoreWord, CoreSent, Credited, Cores, OwnerBrought, OwnerWants, Shown, GivenBack, OwnersThings,
	BatteryOff, BatteryOn, FuelOff, FuelOn,
	Against,
}

// The answers, reasons and decisions, under the same rule.
const (
	Yes          Word = "YES"
	No           Word = "NO"
	StillIn      Word = "STILL IN"
	NeverThere   Word = "NEVER THERE"
	DoNotKnow    Word = "DO NOT KNOW"
	Proud        Word = "PROUD"
	Flush        Word = "FLUSH"
	Below        Word = "BELOW"
	Soak         Word = "SOAK"
	Grip         Word = "GRIP"
	HeatIron     Word = "HEAT THE CASTING"
	WeldNut      Word = "WELD A NUT"
	Drill        Word = "LEFT-HAND DRILL"
	Extractor    Word = "SCREW EXTRACTOR"
	DrillTap     Word = "DRILL AND TAP"
	Insert       Word = "INSERT"
	HandOut      Word = "HAND OUT"
	WeldUp       Word = "WELD UP"
	ToolBroke    Word = "TOOL BROKE"
	Moved        Word = "MOVED"
	NotMoved     Word = "NOT MOVED"
	Original     Word = "ORIGINAL"
	Chased       Word = "CHASED"
	Bushing      Word = "BUSHING"
	Oversize     Word = "OVERSIZE"
	WrongBag     Word = "WRONG BAG"
	WrongJob     Word = "WRONG JOB"
	WrongJoint   Word = "WRONG JOINT"
	Test         Word = "TEST"
	DidNotHappen Word = "DID NOT HAPPEN"
	OnOrder      Word = "ON ORDER"
	WaitsOwner   Word = "WAITS FOR THE OWNER"
	WaitsPart    Word = "WAITS FOR A PART"
	Look         Word = "LOOK AT IT FIRST"
	Agreed       Word = "AGREED"
	Use          Word = "USE"
	Repair       Word = "REPAIR"
	Replace      Word = "REPLACE"
	SendOut      Word = "SEND OUT"
	AskOwner     Word = "ASK THE OWNER"
	Owner        Word = "OWNER"
	Seller       Word = "SELLER"
	WhoKnows     Word = "NOT KNOWN WHOSE"
	ByMeasure    Word = "BY MEASUREMENT"
	Torn         Word = "TORN"
	First        Word = "FIRST"
	Second       Word = "SECOND"
	Nothing      Word = "NOTHING"
	AtArrival    Word = "ON ARRIVAL"
	AtRemoval    Word = "AT REMOVAL"
	AtTightening Word = "AT TIGHTENING"
	NewPiece     Word = "NEW"
	Today        Word = "TODAY"
	Yesterday    Word = "YESTERDAY"
	DaysAgo      Word = "DAYS AGO"
	KeepWhole    Word = "DO NOT STRIP"
	MayStrip     Word = "MAY BE STRIPPED"
	Sealed       Word = "SEALED"
	NotSealed    Word = "NOT SEALED"
	ShowIt       Word = "SHOW IT"
	GiveItBack   Word = "GIVE IT BACK"

	StillToCome    Word = "STILL TO COME"
	DeliveredShort Word = "DELIVERED SHORT"
	InKW           Word = "KW AND N.M"
	InHP           Word = "HP AND LBF.FT"
	InPS           Word = "PS AND N.M"
)

var answers = [...]Word{
	Yes, No, StillIn, NeverThere, DoNotKnow, Proud, Flush, Below,
	Soak, Grip, HeatIron, WeldNut, Drill, Extractor, DrillTap, Insert, HandOut, WeldUp, ToolBroke, Moved, NotMoved,
	Original, Chased, Bushing, Oversize, WrongBag, WrongJob, WrongJoint, Test, DidNotHappen,
	OnOrder, WaitsOwner, WaitsPart, Look, Agreed, Use, Repair, Replace, SendOut, AskOwner, Owner, Seller, WhoKnows,
	ByMeasure, Torn, First, Second, Nothing, AtArrival, AtRemoval, AtTightening, NewPiece,
	Today, Yesterday, DaysAgo,
	DryThreads, OiledThreads, AntiSeize,
	Wash, Paint, Oil, Wax, Desiccant,
	KeepWhole, MayStrip, Sealed, NotSealed, ShowIt, GiveItBack,
	StillToCome, DeliveredShort,
	InKW, InHP, InPS,
}

// Verbs lists the verb cards by the index of their code.
func Verbs() []Word { return append([]Word(nil), verbs[:]...) }

// Answers lists the answer and reason cards by the index of their code.
func Answers() []Word { return append([]Word(nil), answers[:]...) }

// Digit is the digit of a digit card; false for other words.
func (w Word) Digit() (int, bool) {
	if len(w) == len(Digit0) && strings.HasPrefix(string(w), "DIGIT ") {
		return int(w[6] - '0'), true
	}
	return 0, false
}

var wordOf = func() map[string]Word {
	m := make(map[string]Word, len(verbs)+len(answers))
	for _, list := range [][]Word{verbs[:], answers[:]} {
		for _, w := range list {
			m[string(w)] = w
			m[strings.TrimSuffix(string(w), "?")] = w
		}
	}
	return m
}()

// WordOf reads a typed word, in either case and with any blanks in it; a
// question mark at its end may be left out. One too many makes no word: who
// asks TURNED? does not tell that it was turned.
func WordOf(text string) (Word, bool) {
	w, ok := wordOf[strings.ToUpper(strings.Join(strings.Fields(text), " "))]
	return w, ok
}

// NearWord is the verb or answer that a text of more than one letter is spelled
// most like; empty if none is near, or the text is one.
func NearWord(text string) Word {
	text = strings.ToUpper(strings.Join(strings.Fields(text), " "))
	if len(text) < 3 || len(text) > 24 {
		return ""
	}
	list := make([]string, 0, len(wordOf))
	for w := range wordOf {
		list = append(list, w)
	}
	return Word(plan.Nearest(text, list))
}

// Card is the code on the card of a word.
func (w Word) Card() (code.Code, bool) {
	for i, v := range verbs {
		if v == w {
			return code.VerbCode(i)
		}
	}
	for i, a := range answers {
		if a == w {
			return code.AnswerCode(i)
		}
	}
	return "", false
}

func wordOfCode(c code.Code) (Word, bool) {
	if i, ok := code.AsVerb(c); ok && i < len(verbs) {
		return verbs[i], true
	}
	if i, ok := code.AsAnswer(c); ok && i < len(answers) {
		return answers[i], true
	}
	return "", false
}
