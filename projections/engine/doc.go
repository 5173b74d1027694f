// Package engine is the state of one engine on its way through the shop, folded
// from its facts, and the rules that read it.
//
// A [Job] takes records in any order and folds them in one: at, terminal, n.
// [State] is what they come to: what is in every hole, where every piece is by
// the ledger, which loans are in, what is broken, held, signed. Commands
// ([Command]) are what people ask or tell: a rule answers with one event, with
// nothing where it is so already, or with a [Refusal]. Views answer questions:
// [Job.WhatNow], [Job.Missing], [Job.Red], [Job.Audit], [Job.ThisOne],
// [Job.MayDo], [Job.Measures], [Job.FindingsNow], [Job.MayStart], [Job.Running], [Job.Obligations], [Job.HandOver], [Job.Where], [Job.Differences], [Job.Explain], [Job.Intake],
// [Job.Ladder], [Job.Preview], [Job.Scope].
//
// It refuses to know screens, labels, clocks and the store, and it knows no
// engine but by its plan. Everything is worked out from the facts; no view
// changes the state, and the same facts give the same answers.
//
// # Places and kinds
//
// Accounts of the ledger: outside/arrived, outside/supplier/…, outside/drawer,
// outside/owner, outside/job/<job>; fitted/<host>/<joint or part>, where a host
// is one individual ("head 1"); stub/<host>/<joint>; loan/<loan>;
// bench/<terminal>/<joint or "part" and a part>; bag/<label>;
// rack/<label>/<position>; place/<name>; slip/<label>; stock/<lot>; kept; scrap;
// lost; unexplained/<n>. A kind is the canonical text of a fastener, the id of a
// part, "loan <id>" or "other end of <kind>".
//
// A noun is a type word and an id: "part head", "joint exhaust", "hole
// front-cover:18", "step cover-on". What a second person let pass ([Override]) is
// named by one: "step <id>", "gate <step>", "share <step>", "audit <point>", "act
// turning", "case <label>", "cavity <id>", "part <id>", "loan <id>", "joint
// <id>", "job <end>".
//
// # Rules of the fold
//
//   - R1: any order of arrival of the same facts gives the same state.
//   - R2: a terminal's number is taken once.
//   - R3: a correction takes the place of what it corrects, if it had seen it; of
//     several the last stands; a correction can be corrected.
//   - R4: folding is total: what the book cannot hold becomes a short, an over or
//     a note.
//   - R5: a part that is off means that what lay before it is off, presumed.
//   - R6: a size that was in by the book and was not counted out is short.
//   - R7: what is counted above the book came with the engine, if nobody had
//     counted there before, and is an over otherwise.
//   - R8: when the last fastener of a step off is out, its parts are off, presumed,
//     and with them, if a hand took it out, what lay before them (R5).
//   - R9: a fastener that is in means that what it clamps is on. A hole whose
//     outermost piece is out, or the stud under it, holds nothing.
//   - R10: a yield stage, and any stage on a single-use piece, makes new into used.
//   - R11: old and new of one kind in one container is noted.
//   - R12: closing the last bag of a joint that is out counts its loose pieces to
//     zero.
//   - R13: a tipped rack loses the origins of its pieces, not the pieces.
//   - R14: turning with a loan in that makes it impossible is noted.
//   - R15: the other end of a broken fastener that is not in hand is a short.
//   - R16: what was missing when the engine came is no loss of this shop.
//   - R17: a difference between two facts that had not seen each other is a
//     disagreement of those two.
//   - R35: what let something pass without knowing of a fact that touches it says
//     so; an ended job is open again.
//   - R66: a fact that was told later than it happened says between when; that
//     never moves it in the order. It bounds the search for what was lost: not
//     before the last good count can have been made at the earliest, not after the
//     count that differed can have been made at the latest.
//   - R67: a count of a time after which its place was handled or counted again
//     sets nothing, and narrows that search by how it was then.
//   - R68: a hole that is named as coming out was still filled, though a count by
//     number had it empty: another one of its kind was empty instead.
//   - R69: what comes out of a joint into a rack lies there by its holes, where
//     every hole is known to be emptied.
//   - R80: a count that is far more than can be there is questioned before it is
//     stored, YES or the number again: more than twice, and more than ten pieces
//     above, what the joint, the part, the kit, the slip or the order holds, or
//     what the engine has of the size; more than a hundred of what it has none
//     of. How many can be there is not said. A depth of thread or a filling far
//     beside the plan's is questioned likewise, with the plan's value; the length
//     window goes by no depth that is more than three times the plan's.
//   - R48: a stage belongs to one fitting of one piece, and is void when that comes
//     out or is loosened; where the list loosens, that is a stage.
//   - R71: a part that is pressed in owes each depth that the plan reads of it, piece
//     by piece, by readings as good as the plan's band says: one too near to a limit
//     wants a second, two that disagree a third. What was pressed is in.
//   - R72: where the plan orders how a joint is loosened, holes that are told otherwise
//     are asked about, and so is a joint that is to be cold while the engine is warm;
//     told to be so it is stored with that.
//   - R73: a list about studs stands beside that of what goes onto them: a stud that was
//     set in here owes its own stages first, and they are void when it comes out. What
//     is turned on one that was not set is doubtful.
//   - R49: a stage told out of its order, without what it wants first, or beyond its
//     limits is stored and doubtful until it is done again, begun anew or accepted.
//   - R50: a hole is finished when each stage of its list that is due now is done.
//   - R51: an angle stage that other hands go on with, or that is gone on with after
//     too long a pause, by the plan or else by the shop, is doubtful wherever it was
//     turned.
//   - R52: of editions that disagree the chosen one counts, else the last one; what
//     was told by another is doubtful. As long as nobody has chosen, a list that was
//     worked by here is red at the audit.
//   - R70: a part that was thrown away, kept as a sample or given away is off, and
//     what lay before it was, presumed.
//   - R53: a torque that a person chose is a list of one stage, for holes for which
//     the plan has none.
//
// # Rules of the questions
//
//   - R19: a missing piece may be in every cavity that was open between its last
//     good count and the short one, and in those that these lead to. Each must be
//     looked into, after the loss, before the step that closes it; one that is
//     closed holds turning, cranking and the next audit.
//
//   - R20: a step can start when its conditions hold, its pieces are here and may
//     go in (never condemned, never a sample, single-use only new, what has to be
//     measured only measured), no step before it needs them, no loan is due, no
//     hold, finding or case is open on it, and the gates before it are passed.
//
//   - R21: a gate is owed for work done here, and any later work on it shuts it.
//
//   - R77: after a blind count that differs one of those who did the work counts
//     again, before the next answer of a second person counts; whoever is alone
//     waits again. Every answer stays on the record.
//
//   - R22: the next method on a broken fastener goes by what stands out, casting,
//     access and what was tried; two failed methods, an hour or a hard piece stop.
//
//   - R23: no flame or weld before every caution is confirmed.
//
//   - R24: a piece goes into a hole as the hole is now: thread, length window,
//     feature, condition, own seat.
//
//   - R25: the engine is turned, cranked or heated only when nothing in the state
//     stands against it. Battery and fuel are as a person saw them that day: off
//     for flame, the battery off for turning and on for cranking. What they saw
//     counts in the order in which it happened, whenever it was told.
//
//   - R26: pieces with seats of their own that sit in each other's are a reversed
//     row, a shifted row, or swapped.
//
//   - R54: readings of one size belong together until its verdict is settled: one
//     inside the guard band of the gauge wants a second, two that disagree a third.
//
//   - R55: what is beyond its limit, or more than its neighbour takes, or to be read
//     again, is red and holds the steps that fit its part, until it is read again
//     or decided.
//
//   - R56: a finding holds what it is on until it is decided, and the steps on until
//     what the decision adds is done: the repair, a new piece, the way to another
//     shop and back. Asking the owner decides nothing.
//
//   - R57: loose fasteners that were measured are good or condemned, each by its own
//     reading; where the plan says so one that fails takes its whole set with it.
//
//   - R58: an engine is started with its evidence in place. What the plan then wants
//     read, against the limits of its speed, and what falls due by heat cycles,
//     minutes, distance or marks, is red at the last audit point until it is met.
//
//   - R59: what is not taken over at a hand-over stays with the one who hands over,
//     until it is settled or taken over later. A stage by angle that was broken off
//     is begun anew by other hands.
//
//   - R27: a line is red from the first audit point that asks for it; an audit is
//     signed when none is red that was not let pass.
//
//   - R37: a step waits out its time from when its conditions held; a bead of
//     sealant that was open for too long is put on anew before its step goes on.
//
//   - R38: a reason goes away at once, on the day that was promised last for what it
//     waits for, or nobody knows when; a step can start when its last reason has gone.
//
//   - R39: a step starts as planned, else behind those that it waits for, and in time
//     for those that wait for it.
//
//   - R40: what is on order goes to the steps in their order, what comes first to the
//     first; no piece is promised twice, and none that is not to come.
//
//   - R41: the buy list asks for each piece once, whatever the number of its reasons:
//     what the steps lack, less what may still be found or measured, and what kits
//     came without for places that are still to be emptied; never for the surplus of a kit.
//
//   - R36: a step whose tool cannot be had waits for it; a tool that nobody speaks
//     of is here.
//
//   - R60: a fastener that was found belongs where the nearest match is wanted,
//     first where one is short; homes that want equal pieces are said to be equal,
//     unless each piece has a hole of its own.
//
//   - R61: what lies mixed in one place goes back so that as many bags and joints
//     as possible have all of theirs, the earliest step first: what came from a
//     place goes back there, then what holes lack. Old and new of a kind stay
//     apart, lots and own seats are kept, and what has no place is said.
//
//   - R62: a torque tool is questioned where it does not cover the stage, or was due
//     for calibration before that day.
//
//   - R63: a tool that was taken for the job and is not back is a red line of the
//     first audit that asks for loans out, and one that went in is in the engine.
//
//   - R64: a tray holds the pieces of one job; what lies in it is where the tray is,
//     or with who has it. A tell that says otherwise is stored and questioned.
//
//   - R65: a part in a wash, or under paint that cures, waits; a plug or mask that
//     did not come off is a short with places to look. What rusts and lies bare,
//     and what is past its day, is due.
//
// # Rules of the asks
//
//   - R18: a tell is refused only if it is malformed.
//   - R78: of an engine without a plan, what came off it and out of it is red until
//     it is back, and a word for all of it means what the book has there.
//   - R76: what stands against a tell is said when it is stored, and stays red: a
//     part put on that is held, away, not looked over, wet or beyond its limit, a
//     stage of empty holes, a turn with something loose, a start without a
//     signature. What the ask refuses of turning, cranking, starting and heating is
//     said with the tell as well.
//   - R28: a part leaves the shop free, without loans that stay, and not on hold.
//   - R29: a job is released when every audit is signed, and handed back with a
//     counted inventory.
//   - R30: a short is written off by two persons after every cavity was looked into.
//   - R31: an insert needs its depth, an oversize thread what it takes.
//   - R32: what is let pass is named, by another person, with a reason.
//   - R33: a disagreement is settled by a count of each place concerned.
//   - R34: a host part is exchanged while it is off.
//
// # Rules of what goes out, and what comes off after all
//
//   - R42: what must come off after all is worked out from the state as it is now:
//     the least further steps, what they undo and use up, and the way back. No step
//     that rests on what is undone counts as done without being said.
//   - R43: a decision on what comes off is a person's, with a reason; it is red
//     until it is carried out or decided anew.
//   - R44: what went to another shop is counted line by line on return; a part that
//     came back is not fitted before somebody has looked it over.
//   - R45: before a step that would void the credit of a core it is said; the tell is
//     stored, and the credit is void from then on. A core goes back with all that
//     its terms ask for.
//   - R46: what the owner brought is fitted, used up or given back, and old parts
//     that the owner wants are shown or given back, before the job is released.
package engine
