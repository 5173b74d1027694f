package kiosk

import (
	"countback/events"
	"countback/kiosk/scan"
)

// badgeSaid changes the person, unless the sentence asks for one.
func (t *turn) badgeSaid(n scan.Noun) {
	if t.ask != nil && t.ask.Kind == scan.AskBadge {
		t.reply(scan.Reply{Noun: n})
		return
	}
	dropped, begun := "", t.row != nil
	if t.pending() {
		dropped = "Dropped: " + t.saidText()
	}
	t.clear()
	t.question, t.mend, t.when, t.before = nil, nil, interval{}, interval{}
	t.badge = events.Badge(n.ID)
	t.show(Plain, n.ID+" at bench "+string(t.here), dropped)
	t.view.Dropped = begun
	t.view.Ask = "Scan a joint, a bag, a part; or WHAT NOW"
	if t.id == "" {
		t.view.Ask = "Scan a job card"
	}
	t.beep(Chime)
}

func (t *turn) switchTo(id events.Job) {
	dropped := ""
	if t.pending() {
		dropped = "Dropped: " + t.saidText()
	}
	t.clear()
	t.question, t.mend, t.when, t.before = nil, nil, interval{}, interval{}
	t.show(Plain, dropped)
	t.do(Switch{id})
}
