package scan

import (
	"strconv"
	"strings"

	"countback/events"
	"countback/projections/engine"
	"countback/projections/gauge"
)

var runningRows = []Sentence{
	{Subject: "", Verb: MayStart, Nature: Query, Does: "may it be started: the evidence that the plan wants, and all that stands against cranking", Try: "START?"},
	{Subject: "", Verb: Started, Event: "engine-started", Does: "it runs", Try: "STARTED", Build: tell(func(*Said) events.Event { return events.EngineStarted{} })},
	{Subject: "", Verb: Stopped, Asks: []Ask{{Key: "warm", Kind: AskWord, Prompt: "Had it got warm?", Words: []Word{Yes, No}}}, Event: "engine-stopped",
		Does: "it was stopped, warm or not", Try: "STOPPED, YES", Build: tell(func(s *Said) events.Event { return events.EngineStopped{Warm: s.Reply("warm").Word == Yes} })},
	{Subject: "", Verb: Cold, Event: "engine-cooled", Does: "it is cold again: a heat cycle is over", Try: "COLD", Build: tell(func(*Said) events.Event { return events.EngineCooled{} })},
	{Subject: "reading gauge?", Asks: []Ask{
		{Key: "reads", Kind: AskReadings, Prompt: "What does it read?", Points: onePoint, Doubt: doubtRun},
		{Key: "rpm", Kind: AskNumber, Prompt: "At how many revolutions per minute?", When: bySpeed},
		{Key: "after", Kind: AskNumber, Prompt: "After how many seconds was it there? (OK: not timed)", When: byTime, Skip: true}},
		Event: "run-read", Does: "one reading of the running engine, with its speed where the limits go by it", Try: "reading oil-pressure, 3.4, 2000", Build: buildRunRead},
	{Subject: "", Verb: OutputWord, Asks: []Ask{
		{Key: "rpm", Kind: AskNumber, Prompt: "At how many revolutions per minute?"},
		{Key: "power", Kind: AskReadings, Prompts: func(s *Said) string { return "Power" + unitsOf(s, 0) + "? (OK: not read)" }, Points: onePoint, Skip: true},
		{Key: "torque", Kind: AskReadings, Prompts: func(s *Said) string { return "Torque" + unitsOf(s, 1) + "? (OK: not read)" }, Points: onePoint, Skip: true},
		{Key: "units", Kind: AskWord, Prompt: "In which units?", Words: []Word{InKW, InHP, InPS}, When: func(s *Said) bool { e := outputOf(s); return e.Units == "" && e.Power+e.Torque > 0 }},
		{Key: "sure", Kind: AskWord, Prompts: func(s *Said) string { return doubtOutput(s) + ". YES, it reads so; NO, say it again" }, Words: []Word{Yes, No}, When: func(s *Said) bool { return outputOf(s).Power+outputOf(s).Torque > 0 && doubtOutput(s) != "" }}},
		Event: "output-read", Does: "power and torque at a speed, with their units, or in those of the shop or of the last output; what cannot both be true is asked about", Try: "OUTPUT, 4900, 400 hp, 429 lbf.ft", Build: buildOutput},
	{Subject: "", Verb: Distance, Asks: []Ask{{Key: "km", Kind: AskReal, Prompt: "What does the distance counter show, in km?"},
		{Key: "sure", Kind: AskWord, Words: []Word{Yes, No}, Prompts: lessThanBefore, When: func(s *Said) bool { return lessThanBefore(s) != "" }}}, Event: "distance-read",
		Does: "what the distance counter shows", Try: "DISTANCE, 812", Build: buildDistance},
	{Subject: "obligation", Verb: Done, Nature: AskFor, Asks: []Ask{{Key: "why", Kind: AskText, Prompt: "What was found? (OK: not said)", Skip: true}}, Event: "obligation-met",
		Does: "what fell due after a start is done", Try: "obligation cold-torque, DONE, OK", Build: func(s *Said) (engine.Command, error) {
			return engine.MeetObligation{Obligation: s.At(0, Obligation).ID, Why: s.Reply("why").Text}, nil
		}},
	{Subject: "", Verb: RunWord, Nature: Query, Does: "how it ran: readings, output, heat cycles, and what falls due", Try: "RUN"},
}

func doubtRun(s *Said, r ReadSaid) *Doubt {
	q, ok := s.Job.DoubtRun(s.At(0, RunReading).ID, r.Digits, r.Unit)
	if !ok {
		return nil
	}
	d := &Doubt{Text: q.String()}
	if len(q.Meant) > 0 {
		m := q.Meant[0]
		d.Has, d.Meant = true, ReadSaid{Digits: m.Digits(), Unit: m.Unit().String(), Value: m.Float()}
	}
	return d
}

// bySpeed: the limits of a reading go by the speed.
func bySpeed(s *Said) bool {
	i, ok := s.Plan().RunReading(s.At(0, RunReading).ID)
	return ok && len(s.Plan().RunReadings[i].Limits) > 0 && s.Plan().RunReadings[i].Limits[0].RPM > 0
}

// byTime: it has to be there so long after the start, and this is its first
// reading since.
func byTime(s *Said) bool {
	for _, n := range s.Job.Running() {
		if n.Reading == s.At(0, RunReading).ID {
			return n.Within > 0 && len(n.Reads) == 0 && s.State().Runs()
		}
	}
	return false
}

func buildRunRead(s *Said) (engine.Command, error) {
	reads := s.Reply("reads").Reads
	if len(reads) == 0 {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "nothing was read", Next: "scan the reading, then the number"}
	}
	id, unit := s.At(0, RunReading).ID, ""
	if i, ok := s.Plan().RunReading(id); ok {
		unit = s.Plan().RunReadings[i].Unit
	}
	p := pointRead(reads[0], unit)
	if p.Unit == "" {
		p.Unit = unit
	}
	return engine.Tell{Event: events.RunRead{Reading: id, Value: p.Value, Text: p.Text, Unit: p.Unit, Sure: p.Sure, RPM: s.Reply("rpm").N,
		After: s.Reply("after").N, Gauge: s.At(0, Gauge).ID}}, nil
}

func onePoint(*Said) []string { return []string{""} }

// unitsOf asks in the unit of power, or of torque, of what was said so far, or
// for the unit where none is known.
func unitsOf(s *Said, i int) string {
	if pair := strings.Fields(outputOf(s).Units); len(pair) == 2 {
		return " in " + pair[i] + ", or with its unit"
	}
	return [...]string{", with its unit: 300 kW, 400 hp", ", with its unit: 540 N.m, 400 lbf.ft"}[i]
}

// unitCards are the pairs of units by their cards.
var unitCards = map[Word]string{InKW: "kW N.m", InHP: "hp lbf.ft", InPS: "PS N.m"}

// outputUnits are the pairs of units by either of them.
var outputUnits = map[string]string{"hp": "hp lbf.ft", "PS": "PS N.m", "kW": "kW N.m", "lbf.ft": "hp lbf.ft", "lbf.in": "hp lbf.ft"}

// outputOf is the output as it was said, both numbers in the units of one pair:
// that of the power's unit, of the torque's, the one that was answered, the
// shop's, or that of the last output. Without any the numbers are as they were
// said, and Units is empty.
func outputOf(s *Said) events.OutputRead {
	e := events.OutputRead{RPM: s.Reply("rpm").N, Units: s.State().OutputUnits()}
	power, torque := readOf(s, "power"), readOf(s, "torque")
	if u, ok := unitCards[s.Reply("units").Word]; ok {
		e.Units = u
	}
	if u, ok := outputUnits[torque.Unit]; ok {
		e.Units = u
	} else if torque.Unit == "N.m" && e.Units == "hp lbf.ft" && s.Reply("units").Word == "" {
		e.Units = "" // kilowatts or metric horses
	}
	if u, ok := outputUnits[power.Unit]; ok {
		e.Units = u
	}
	pair := strings.Fields(e.Units)
	if len(pair) != 2 {
		e.Power, e.Torque = power.Value, torque.Value
		return e
	}
	e.Power, e.Torque = inUnit(power, pair[0]), inUnit(torque, pair[1])
	return e
}

func readOf(s *Said, key string) ReadSaid {
	if list := s.Reply(key).Reads; len(list) > 0 {
		return list[0]
	}
	return ReadSaid{}
}

// inUnit is a reading as a number of a unit; one without a unit is in it.
func inUnit(r ReadSaid, unit string) float64 {
	from, ok := gauge.ParseUnit(r.Unit)
	to, _ := gauge.ParseUnit(unit)
	if !ok || from == to {
		return r.Value
	}
	read, err := gauge.Read(r.Digits, from)
	if c := read.Convert(to); err == nil && c.Known() {
		return c.Float()
	}
	return r.Value
}

func doubtOutput(s *Said) string {
	e := outputOf(s)
	return s.Job.DoubtOutput(e.Units, e.RPM, e.Power, e.Torque)
}

func buildOutput(s *Said) (engine.Command, error) {
	e := outputOf(s)
	switch w := s.Reply("sure").Word; {
	case w == No:
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "that output is not stored", Next: "say OUTPUT and its numbers again"}
	case e.Units == "" && e.Power+e.Torque > 0:
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "power and torque without a unit", Next: "say OUTPUT again, with the unit behind the number: 400 hp"}
	case e.RPM == 0 || e.Power <= 0 && e.Torque <= 0:
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "neither power nor torque at a speed", Next: "say OUTPUT, the speed, then one of them or both"}
	case w == Yes:
		e.Sure = true
	}
	return engine.Tell{Event: e}, nil
}

func buildDistance(s *Said) (engine.Command, error) {
	km := s.Reply("km").Real
	if km < 0 {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "a distance below zero", Next: "read the counter again"}
	}
	if s.Reply("sure").Word == No {
		return nil, &engine.Refusal{Code: engine.Malformed, Fact: "that distance is not stored", Next: "read the counter, then DISTANCE again"}
	}
	return engine.Tell{Event: events.DistanceRead{Km: km}}, nil
}

// lessThanBefore asks about a counter that shows less than it did: what falls due
// by distance would not be due any more. Empty: it does not.
func lessThanBefore(s *Said) string {
	r := s.Reply("km")
	last, ok := s.Job.State().LastDistance()
	if r.Key == "" || !ok || r.Real >= last {
		return ""
	}
	return "It shows " + decimalText(r.Real) + " km, and the last time " + decimalText(last) + " km. Does it read so?"
}

func decimalText(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
