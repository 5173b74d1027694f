// Package sheet knows plans as a builder keeps them in a spreadsheet: sheets
// of parts, holes, steps and loans as CSV files in one folder. It reads them
// into a plan, with every fault by sheet, row and column at once, and writes a
// plan as sheets. It refuses to know what a plan means: package plan reads the
// text that the sheets come to, and its faults are brought back to the cells.
//
//	p, faults := sheet.Read(os.DirFS("engine"), "engine")   // engine/parts.csv, engine/holes.csv, ...
//	p, faults := sheet.Check(os.DirFS("engine"), "engine")  // the same, and what plan.Check says
//	files := sheet.Write(p, sheet.Format{})                 // name to CSV
//
// # The files
//
// A folder holds parts.csv, holes.csv, steps.csv and loans.csv, and where they
// are needed plan.csv, joints.csv, variants.csv, cavities.csv, marks.csv,
// gates.csv, audit-points.csv, tightening.csv, measurements.csv, run-readings.csv,
// obligations.csv, kits.csv and prices.csv.
// Without plan.csv the plan is called as the caller says and is edition 1.
// Every sheet may be left out that has no rows.
//
// Text is UTF-8, with or without a byte order mark. Cells are separated by
// commas, semicolons or tabs, whichever the header has most of; a cell with a
// separator, a quotation mark or a line break in it is quoted, with quotation
// marks doubled (RFC 4180). Rows without any text are passed over; rows are
// counted as a spreadsheet counts them, the header among them.
//
// The first row with text names the columns, in any order, in upper or lower
// case, with blanks, dashes or underscores. A column that holds lengths or
// torques has its unit in brackets behind its name: depth (mm), grip (in),
// torque (lbf.ft). Lengths are mm, cm or in; torques N.m, lbf.ft, lbf.in or
// kgf.m; angles deg. Values are turned into millimetres and N.m and rounded to a
// millionth. A number has a decimal point or a decimal comma and no thousands
// separator; inches may be fractions: 1-1/2, 3/8. A cell may have a unit of its
// own: 12 mm, 3/8 in. An empty cell says nothing; unknown, or a question mark,
// says that nobody knows. Yes and no are yes, y, x, true, 1 and no, n, false, 0.
//
// Ids are those of plan files. A name that is none, since it has blanks or
// other signs in it, becomes one wherever it stands: Oil pan is oil-pan.
//
// # Lists, holes, conditions
//
// Lists of ids are separated by commas or semicolons, lists of places also by
// blanks; 1..8 is a range. Lists of texts are separated by semicolons.
//
// Holes of several joints are separated by semicolons: oil-pan; mount:1..4, 7.
// A joint without holes behind it is all of it.
//
// Conditions are separated by semicolons. Of those in when, needs and closed-by
// all must hold, of those in open-when and void-by any one. Within one, and goes
// before or, and brackets before both:
//
//	pan-off                         the state that a step leaves; step pan-off
//	part chain is off               on, off, away, here; is may be left out
//	seats drain are filled          empty, out, parked, filled, finished; seats plugs:1,3+sensors:oil out
//	some access-plug are empty      at least one of them
//	loan tensioner-pin is in        in, out
//	cavity sump is drained          open, closed, drained, filled
//	mark two-turns                  it stands
//	part chain off or (loan pin in and loan hanger in)
//
// Always and never are conditions too. A thing that is called by one of these
// words stands in quotation marks: part "and" is off.
//
// Void-by and the columns stops and reminds of loans also take the acts
// turning, cranking and sending-out, and those columns steps, audit points,
// removal of <part> and finished <joint>.
//
// # Columns
//
//	plan.csv       key, value; keys: id, family, edition, demo data, left right, fasteners, seats, parts, pieces,
//	               hiding places, start evidence (marks)
//	parts.csv      id, name, in, root, host, made of, count, positions, pieces each, place, under, mating,
//	               seals, optional, stays, reuse, own seat, sealant, open time, measure, cavity, way round,
//	               graded, feature, material, inspect, timed, note
//	joints.csv     id, name, shares, only with, holds back, dry holes, side, end, seen from, at left, at top,
//	               note
//	holes.csv      joint, holes, x (mm), y (mm), in, clamps, fastener, feature, reuse, stack, holds, thread, grip (mm),
//	               depth (mm), free behind (mm), thread in, thread lock, sealant, open time, own seat, note
//	variants.csv   variant, layout, joints, parts, default
//	cavities.csv   id, name, of, open when, closed by, leads to, fluid, amount, carried
//	marks.csv      id, name, at arrival, needs, needs out, void by
//	loans.csv      id, name, count, piece, feature, condition, owner, fills, in, pins, stops, reminds,
//	               harmless, note
//	steps.csv      section, id, name, way, part, when, takes out, parks, removes, sends out, drains, fits,
//	               takes back, fastens, trial, fills, opens, closes, loan out, loan in, loan during, loan may,
//	               sets, turns, cranks, optional, asks count, gate, audit, sealant, open time, wait, minutes,
//	               tools, note; section is off, bench or on
//	gates.csv      id, asks
//	audit-points.csv  id, name, needs, when, signs
//	tightening.csv    id, way, member, order, rounds, passes, sets, with, pause, hands, cold, tools, seats, edition, source,
//	               snug (N.m), torque (N.m), angle (deg), stretch (mm), press depth (mm), height (mm), loosen, again (N.m),
//	               only, never (mm), band (mm), needs, due, note; a set has blanks between its holes: 1L 1R; 2L 2R
//	measurements.csv  id, of, at, unit, min, max, fails to, outside, new min, new max, source, points, kind, from,
//	                  nominal, gauge, band, step, metal, one fails, allowed by, neighbour, allowed min, allowed max,
//	                  about, otherwise
//	run-readings.csv  id, of, unit, min, max, limits (800: 1.0; 2000: 2.5..6), between, within, source, gauge, band
//	obligations.csv   id, what, heat cycles, minutes, distance km, marks
//	kits.csv       kit, part, piece, feature, count, surplus expected
//	prices.csv     part, piece, feature, each (12.50 EUR)
//
// Rows of holes.csv with one joint, of variants.csv with one variant and of
// kits.csv with one kit belong together. A row of tightening.csv is one stage:
// rows with one id are one list, those with the same seats one group of it,
// and those with the same edition and source one edition. What a list has only
// once (way, member, order, rounds, passes, sets, with,
// pause, hands, cold, tools, note) stands in its first row.
//
// The stack of a hole is written from the host outwards, with > between, and
// what is special of a piece in square brackets:
//
//	stud 3/8-16x2 stud [run-in 0.8 in; stays; reuse new-if-out] > clamps head > nut 3/8-24 castle nut [height 0.4 in]
//
// The words in the brackets are stays, reuse, run-in, height, feature and way
// round. Without a unit lengths are in that of the column grip, or else in mm. A
// text in a stack or in a list of texts that has one of these signs in it stands in
// quotation marks, with quotation marks doubled.
//
// The columns x and y of holes.csv have a number for each hole of the row, in
// their order, separated by semicolons; unknown, or a question mark, for one
// that nobody measured: 0; 62.5; unknown.
//
// # What sheets cannot hold
//
// Comments, the names of position lists, entries that are repeated with for,
// and how a spec was spelled: Write gives all places and entries written out,
// and specs in their canonical text. A piece of unknown kind has no feature.
// An any or all of one condition is that condition. A joint that a list of holes
// or a group of a tightening list comes back to is named once, and what is of it
// stands together. Lengths and torques finer than a millionth of a millimetre or
// N.m are rounded. What is left says the same in the same order: reading what
// Write wrote gives a plan that does.
package sheet
