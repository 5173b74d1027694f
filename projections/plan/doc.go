// Package plan knows plan files: what an engine of one family is made of, the
// conditions under which it comes off and goes on, and what they mean for the
// present state of one engine. It reads, writes, checks and amends plans, and
// answers what can be done now, what is in the way, and what must have come
// before.
//
// It refuses to know which pieces are where, in which bag, new or old, who did
// what and when, and what was counted: a Present is only what is on, off and
// away, what is in each hole, which loans are in, which marks stand and which
// cavities hold fluid.
//
//	p, err := plan.Load("engine.yaml")   // read; all faults of the text at once
//	faults := plan.Check(p)              // can it come apart and go together?
//	s := plan.NewPresent(p)              // the whole engine as it arrives
//	s.Can(step), s.CanDo(step)           // now? and if not, every reason and what clears it
//	s.Do(step); s.SetSeat(...)           // what happened
//	s.Done(step), s.Free(part)           // how far; what still holds it
//	s.PresumedBefore(part)               // the steps behind a part that is off
//
// # The file
//
// A plan is one YAML document in UTF-8, at most 4 MiB, without anchors and
// aliases. Unknown keys are faults. Every list is in the order of the work
// where order means anything; nothing else follows from it. Ids are letters,
// digits, dash, dot and underscore, at most 64, and names of steps, parts,
// joints and so on are separate: a part and a joint may both be front-cover.
// The words on and off are words wherever they stand (Write quotes them, since
// some readers take them for booleans). Lengths are millimetres, or inches where
// units say so (25.4 mm exactly), torques N.m, angles degrees, and "unknown" is a value of every length and limit: as found
// here is then the reference.
//
//	plan:                 id, family, edition (from 1), units: {length: mm or in: of every length, place and
//	                      limit without a unit; torque: N.m, lbf.ft or lbf.in: of what a stage says
//	                      without a unit; both at the bench too, before the shop's own units},
//	                      demo-data: true where nobody may build from the numbers;
//	                      left-right: seen from where left and right are meant everywhere in the plan,
//	                      in words: from the flywheel end, looking at the timing end
//	totals:               fasteners, seats, parts, pieces: counted by hand, compared by the check
//	position-lists:       a name for a list of positions: {valve: [1Ia, 1Ib, ...], cylinder: 1..4}
//	parts, variants, joints, cavities, marks, loans, gates, audit-points,
//	tightening, measurements, kits, run-readings, obligations, prices:   lists, below
//	start-evidence:       marks that must stand before the engine is started
//	steps:                {off: [...], bench: [...], on: [...]}
//	hiding-places:        places to look beside the cavities: [wash tank, sockets]
//
// Places are written as a list ([1, 3, 5..7]), a range (1..4, I1..I4) or the
// name of a position list. An entry with for: 1..4 (or a list) stands for as
// many entries, with every {n} in it replaced.
//
// # parts
//
// Anything that no hole holds as a fastener, down to shells, seals and lock
// halves. Whether a part is on is relative to what it is in: a pump plate that
// is on its cover is on, also while the cover lies on the bench.
//
//	id          name        for people; the id in words where it is not given
//	in          the part that it sits in and travels with; none: the engine, or not known
//	root        true: never comes off; the rest is on it in the end
//	host        true: has seats of its own, and an instance number
//	made-of     parts that are slipped and counted with it
//	count       pieces, where it has one place (1)
//	seats       {at: places, set: pieces at each (1), place: what to call them}: its positions;
//	            count, if given too, must agree
//	under       what lies over it where no hole says so. Written once, it holds both ways: the
//	            part cannot come or go while that is on, and that cannot go on before the part
//	mating      a face or drive that must be there before it goes on, and cannot go before it
//	seals       the joint whose opening uses it up, though it may stay where it is
//	optional    true: not on every engine (NewPresent has it; SetAbsent takes it away)
//	stays       true: no step takes it off (dowels)
//	reuse       again (default), new, new-if-out, measure <measurement>
//	own-seat    true: back where it came from; by-measurement: may be reassigned
//	sealant     {lot: any, open-time: 5m}
//	measure     measurements to take; cavity: the one that it carries while it is off
//	way-round, graded, feature, material (cast iron, steel, aluminium), inspect, note: words; timed: true
//
// # variants
//
//	{id, one-of: {plug: {joints: [...], parts: [...]}, flange: {...}}, default: plug}
//
// An engine has exactly one of the layouts; what belongs to the others is absent.
//
// # joints
//
//	id, name, note
//	holes       entries of one or several holes alike, below
//	shares      {front-cover: [2, 4]}: holes of other joints that count as this joint's too; they
//	            keep the name that they have there
//	only-with   an optional part without which the joint is not there
//	face        {side: left, right, front, rear, top, bottom or inside; end, seen-from, at-left,
//	            at-top: words}: where it is, where whoever looks at it stands, and what lies at the
//	            left and the upper edge then. Left and right need left-right under plan
//	holds-back  what leaks where it is open; dry-holes: true where liquid in a hole cracks the casting
//
// A hole:
//
//	at          places: the names of the holes
//	xy          where they lie on the face of the joint, as whoever looks at it sees them: a
//	            pair [to the right, up] for each, or unknown: [[0, 0], [62.5, 0], unknown]. The
//	            origin is anywhere, and is that of the joints that share the holes. A joint is drawn
//	            in place once all of its holes have one. No two may be nearer than 1 mm
//	in          the part that has the thread; not given: not known
//	stack       what it holds, from the host outwards, each of
//	              {clamps: [parts]}
//	              {stud: spec, run-in, stays, reuse, feature, way-round}
//	              {bolt: spec, stays, reuse, feature, way-round}   plugs, screws, switches too
//	              {washer: spec, ...}   washers and seal rings
//	              {nut: spec, height, ...}
//	clamps, fastener, feature, reuse   in short for a stack of clamps and one bolt
//	holds       nothing: only loans go into it; thread says which
//	grip        everything between head or nut and the thread, washers and gasket included
//	depth       full thread from the face; free-behind: room behind a through hole, which also
//	            says that it is one
//	thread-in   aluminium, cast iron, steel
//	thread-lock, sealant, own-seat, note
//
// A spec is read by package fastener, "unknown" for one that nobody has sized;
// feature is what sets it apart from its like and becomes part of the kind's
// text: M12x1.25x45 10.9 12pt (solid). Members that stay do not come out when
// the joint is opened: an empty seat may have a stud in it. A hole from which
// nothing comes out (a plug that stays) is named by no step, but conditions
// may ask for it.
//
// A part that is clamped lies over those that are clamped nearer to the host,
// and over a host that it does not travel with. That is how one part is bolted
// to two hosts: it is in one of them, and lies over the other.
//
// # Conditions
//
// Over the present state. A list is all of them, except in any, open-when and
// void-by.
//
//	pan-off                                 a step: the state that it leaves holds (see steps)
//	{part: chain, is: off}                  on, off (here or away), away, here (not away)
//	{seats: {drain: all}, are: filled}      empty (nothing in it), out (the engine's piece is; a loan
//	                                        may be in), parked, filled (finished or not), finished
//	{seats: {plugs: [1, 3]}, some-are: empty}   the same of at least one
//	{loan: tensioner-pin, is: in}           in (all of it), out (none)
//	{cavity: sump, is: drained}             open, closed, drained, filled
//	{mark: two-turns}                       it stands
//	{step: pan-off}                         the same as its name
//	{any: [...]}, {all: [...]}
//
// What this engine does not have (an optional part, another layout's hole) is
// waited for by nobody.
//
// # cavities
//
//	id, name
//	of          parts whose walls it has
//	open-when   any of these opens it; or closed-by: all of these close it. Either way it is
//	            closed by a state, whichever step was the last
//	leads-to    where a dropped piece can end; carried: words
//	fluid       {of: oil, amount: 4.2 l}; without it the cavity is dry
//
// # marks
//
// An act that leaves no state in the metal.
//
//	id, name
//	at-arrival  stands: presumed of an engine that nobody opened, so that who only lifts the cam
//	            cover is not asked for pre-oiling; void (default)
//	needs       conditions before it can be set
//	needs-out   loans that make the act impossible
//	void-by     conditions, and the acts turning, cranking, sending-out
//
// # loans
//
//	id, name, note
//	count       pieces, or as-counted; as many as the holes that it fills where not given
//	piece, feature, condition   what it is; owner: shop (default), job, other-shop
//	fills       {pin-bore: [1]}: holes that it takes up, in the order in which pieces go in
//	in          the cavity that it is in, or any-cavity. A step can move it only while that is open
//	pins        parts that it holds. Once all of them lie on the bench it stops no turning
//	must-be-out-for   {stops: [...], reminds: [...]}: steps, audit points, the acts, and
//	            {removal: part}, {finished: joint}. stops refuses the ask, reminds only says so
//	harmless    true: may be forgotten
//
// Out for a step means: out when the step ends. A step that names the loan in
// loan-out or loan-during takes it out itself.
//
// # steps
//
//	id, name, note, minutes
//	tools       ids of tools of the shop that it needs: [bush-puller]; which there are is the
//	            shop's business, not the plan's
//	when        conditions before it
//	takes-out   {joint: all} or {joint: [holes]}: emptied, but for members that stay
//	parks       back in finger-tight, to be kept: looks finished and is not
//	removes, sends-out   parts; drains: cavities                       (off, and bench apart)
//	fits, takes-back     parts; fastens: holes; fills: cavities        (on, and bench together)
//	trial       holes that are filled without the single-use rule and emptied again: leaves nothing
//	opens, closes        cavities, as the author sees it: the check compares
//	loan-out    before the work; loan-in: after it; loan-during: in and out within;
//	            loan-may: the same, where wanted
//	sets        marks
//	turns       true: turns the crank; cranks: the starter does
//	optional    true: one way among others, never owed
//	asks-count  true: pieces are counted as they come or go
//	gate        a check by a second person; audit: what must be signed before
//	sealant     {lot, open-time}; wait: 2h after its conditions held
//	part, way   bench work: the part that lies on the bench (its own work is refused while it is
//	            on the engine or away), and apart or together
//
// The state that a step leaves is its parts, holes and fluids; where it changes
// none of these, its marks; where it sets none, its loans. By that it is seen
// to be done, part done or undone, and that is what its name means in a
// condition. A step that leaves nothing is never seen to be done. Trial and
// optional steps are never owed.
//
// What the geometry demands need not be written in when: that the parts over
// what moves are off and those under it on, that no hole holds what is taken
// off, that what is fastened is there, that the host is on the engine (for
// steps on), that a loan's hole is free.
//
// # gates, audit-points
//
//	gates:         {id, asks: blind-count (default) or look}
//	audit-points:  {id, name, needs, when: conditions, signs: nobody, second-person, two-persons}
//
// needs is any of parts-on, seats-finished, stopping-loans-out, all-loans-out,
// cavities-closed, no-difference-inside, no-difference, dues-met.
//
// # tightening
//
//	id, note, way: tighten (default) or loosen; member: stud or nut, where not all is
//	            meant; a list about studs stands beside that of the nuts on the same holes
//	order       hole names, each hole once, or words; joint:hole where the one order goes over
//	            several joints, else it holds for each joint; rounds: words; passes: how often
//	            the whole list (1)
//	sets        [1L 1R, 2L 2R]: holes that go through the stages together; none: all
//	with        [1 2, 2 3]: holes that may not be loosened without each other
//	pause       the longest pause inside an angle stage in minutes; hands: any where others may
//	            finish an angle stage than began it (same)
//	cold        of a loosening, true: only while the engine is cold
//	tools       as in steps: [wrench-40-200, angle-gauge]
//	seats       {joint: all}, or {part: [positions]} for what is pressed in
//	stages      in order, each one of snug, torque, angle, stretch, press-depth, height (of a
//	            stud above the face), loosen, again (the same torque once more) with a number or a range (90..94), snug and loosen
//	            also in words; with a unit of its own behind it (9 lbf.ft, 45..55 lbf.ft, 0.004 in) it is
//	            shown and read in that, and a pair (40 N.m (29.5 lbf.ft)) must agree: the first counts;
//	            an angle is at most 360; only: holes of the group that it is
//	            for; never: of a stretch, beyond which the fastener is spent; band: how good a
//	            reading of a length is to each side, nearer to a limit it takes a second one;
//	            what is pressed in has stages of press-depth only; needs: conditions
//	            before it; due: when it falls due, if later
//	editions    [{edition, source, stages}] instead of stages, where two sources disagree: both
//	            are kept, and the builder chooses once and signs
//	groups      [{seats, stages or editions}] instead of one, inside the one order
//
// # measurements, kits
//
//	measurements:  {id, of: words, at: places, unit, min, max, fails-to: condition of what
//	               fails, outside: what to do}, and
//	  new-min, new-max   for new parts, where min and max are those of parts that have run
//	  source      document and edition of the limits
//	  points      stations and directions that are read at each place: [A1, B1, A2, B2], at most 16
//	  kind        what the readings come to: size (default), taper, out-of-round, clearance, gap,
//	              end-play, warpage, thinning, stretch
//	  from        worked out from another measurement; clearance: [bore, journal], place by place.
//	              Taper and out-of-round need points of a direction and a height
//	  nominal     of a stretch: what it measured when it was new
//	  gauge, band, step    what it is read with, how good that is to each side, its finest division
//	  metal       cast iron, steel or aluminium: how much it grows when it is warm
//	  one-fails   alone (default), or all: one that fails takes its whole set with it
//	  allows      {by: words, part, min, max, about, otherwise}: what a neighbour can take of the value of
//	              the part that is fitted, how roughly that is known, and what then
//
//	kits:          {id, lines: [{part or piece, feature, count, surplus-expected}]}: what is left
//	               over as expected is not for this engine; the rest must be what it needs new
//
//	prices:        {part or piece, feature, each: 12.50 EUR}: what one piece costs, with at most two
//	               decimals; without a currency it is the shop's. What is not listed is not known
//
// # run-readings, obligations, start-evidence
//
// What is looked at when the engine runs for the first time, and what falls due
// after that.
//
//	start-evidence:  [marks] that must stand before it is started: pre-oiled
//	run-readings:    {id, of: words, unit, min, max}, or limits by speed instead of min and max:
//	  limits      {800: 1.0, 2000: 2.5..6, 6000: ..7}: revolutions per minute, rising; least, least..most
//	              or ..most
//	  between     line (default): a straight line between two speeds; step: the lower one's limits hold
//	  within      10s: it must be there so long after the start
//	  source, gauge, band     as of measurements
//	obligations:     {id, what: words, after: {heat-cycles: 1, minutes: 20, distance-km: 800, marks: [...]}}:
//	              due by whichever comes first. A heat cycle is over when it was warm and is cold again
//
// # A small plan
//
//	plan: {id: lid, family: Lid on a box, edition: 1}
//	parts:
//	  - {id: box, root: true}
//	  - {id: lid, in: box}
//	joints:
//	  - id: lid
//	    holes:
//	      - {at: 1..4, in: box, clamps: [lid], fastener: M6x1.0x20 8.8 flange, grip: 8, depth: 16, thread-in: aluminium}
//	steps:
//	  off:
//	    - {id: lid-off, takes-out: {lid: all}, removes: [lid]}
//	  on:
//	    - {id: lid-on, fits: [lid], fastens: {lid: all}}
package plan
