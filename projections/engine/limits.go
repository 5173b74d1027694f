package engine

import (
	"time"

	"countback/events"
	"countback/projections/tightening"
)

// Limits are the numbers that a shop sets for its own rules. All of them are
// common practice without a source. They never change what the fold makes of
// the facts, only what the rules say about it; but for AnglePause, by which the
// stages of the facts are weighed anew.
type Limits struct {
	// FailedMethods is after how many different failed methods on one broken
	// fastener the work stops; 0: no limit.
	FailedMethods int
	// Minutes is after how many minutes of work on one broken fastener it
	// stops; 0: no limit.
	Minutes int
	// CountAge is how old the last count of a bag may be before a step that
	// needs it asks for a new one; 0: never. It is only asked when the job
	// has been told the time, see Job.Clock.
	CountAge time.Duration
	// AloneGap is how long after the work a person who is alone in the shop
	// may count it again in the place of a second one; 0: never.
	AloneGap time.Duration
	// DayMinutes is how many minutes of work a day has, where planned starts
	// follow from how long steps take; 0 counts as 1.
	DayMinutes int
	// BareIron is how long iron or steel may lie bare after it came off, Oiled
	// how long oil or wax keeps it, Desiccant how long a bag of it dries; 0:
	// never asked about.
	BareIron, Oiled, Desiccant time.Duration
	// AnglePause is the longest pause inside an angle stage where the plan gives
	// none; 0: none is too long.
	AnglePause time.Duration
	// OutputUnits are the units in which power and torque are told where no unit is
	// said: "kW N.m", "hp lbf.ft" or "PS N.m"; empty: it is asked.
	OutputUnits string
	// Length (mm or in) and Torque (N.m, lbf.ft or lbf.in) are the units in which
	// the shop says and reads lengths and torques where the plan has no units;
	// empty: mm and N.m.
	Length, Torque string
	// Currency is the one that the shop reckons in, as it is written; empty: that
	// of Hour, or of the plan's prices.
	Currency string
	// Hour is what an hour of work costs; nothing: not known.
	Hour Money
}

// UsualLimits are two failed methods, an hour, two weeks, four hours, eight
// hours of work a day; three days for bare iron, six weeks for oil, eight for
// desiccant, half an hour inside an angle stage.
func UsualLimits() Limits {
	return Limits{FailedMethods: 2, Minutes: 60, CountAge: 14 * 24 * time.Hour, AloneGap: 4 * time.Hour, DayMinutes: 480,
		BareIron: 3 * 24 * time.Hour, Oiled: 6 * 7 * 24 * time.Hour, Desiccant: 8 * 7 * 24 * time.Hour,
		AnglePause: tightening.UsualPause}
}

// Use sets the shop's own limits for this job's rules.
func (j *Job) Use(l Limits) {
	weighs := j.Limits().AnglePause != l.AnglePause && len(j.facts) > 0
	if j.limits, j.limited = l, true; weighs {
		j.fold(-1)
	}
}

// Limits are the limits that the rules go by: those of Use, or the usual ones.
func (j *Job) Limits() Limits {
	if j.limited {
		return j.limits
	}
	return UsualLimits()
}

// Clock tells the rules what time it is, in microseconds since 1970 UTC. Only
// ages are counted from it: how long ago a bag was counted. 0, or a time before
// the job's last fact, is the time of the last fact.
func (j *Job) Clock(now int64) { j.clock = now }

// moment is the time from which ages are counted.
func (j *Job) moment() int64 { return max(j.clock, j.LatestAt()) }

// Moment is the time of the question, in microseconds since 1970 UTC: that of
// the clock that was told last, and never before the last fact.
func (j *Job) Moment() int64 { return j.moment() }

// age is how long ago a fact was recorded.
func (j *Job) age(r *events.Record) time.Duration {
	return time.Duration(j.moment()-r.At) * time.Microsecond
}
