package panel

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"countback/events"
	"countback/projections/engine"
)

// Clock is sealant that was put on and is not closed yet: how long it may stay
// open.
type Clock struct {
	Mark Mark   // Begun while there is time, Look when little is left, Stop when it is over
	Text string // "SEALANT, cover on: 3:12 left of 5:00"
	Big  []string
	left time.Duration
}

// hurry is when little is left: a quarter of the open time, or a minute.
func hurry(open time.Duration) time.Duration { return max(open/4, min(time.Minute, open)) }

// Clocks are the running clocks of a job at a time in microseconds since 1970,
// the most urgent first. Of a step the sealant that was put on last counts.
func Clocks(j *engine.Job, now int64) []Clock {
	st := j.State()
	last := map[events.Step]*engine.Bead{}
	var order []events.Step
	for _, b := range st.Beads() {
		if last[b.Step] == nil {
			order = append(order, b.Step)
		}
		last[b.Step] = b
	}
	n := of(j)
	var list []Clock
	for _, id := range order {
		b := last[id]
		if b.Closed != 0 || b.Until() == 0 {
			continue
		}
		list = append(list, clockOf(n.step(id), b, time.Duration(b.Until()-now)*time.Microsecond))
	}
	slices.SortStableFunc(list, func(a, b Clock) int { return cmp.Compare(a.left, b.left) })
	return list
}

func clockOf(step string, b *engine.Bead, left time.Duration) Clock {
	c := Clock{Mark: Begun, left: left}
	switch {
	case left < 0:
		c.Mark = Stop
		c.Text = "SEALANT, " + step + ": OVER by " + minutes(-left) + "; clean both faces, SEALANT ON anew"
		c.Big = []string{"SEALANT OVER", "OVER"}
		return c
	case left <= hurry(b.Open):
		c.Mark = Look
	}
	c.Text = "SEALANT, " + step + ": " + minutes(left) + " left of " + minutes(b.Open)
	c.Big = []string{strings.ToUpper(step) + " " + minutes(left), minutes(left)}
	return c
}

// minutes is a time as a clock shows it: 4:05, 1:20:00.
func minutes(d time.Duration) string {
	s := int(d / time.Second)
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}
