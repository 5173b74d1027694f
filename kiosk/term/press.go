package term

import (
	"github.com/gdamore/tcell/v2"

	"countback/kiosk/scan"
)

// key takes every key, whatever has the focus.
func (a *app) key(e *tcell.EventKey) *tcell.EventKey {
	at := a.stamp(e)
	asked := a.asked
	a.asked = false
	switch e.Key() {
	case tcell.KeyRune:
		if e.Modifiers()&(tcell.ModAlt|tcell.ModMeta) == 0 {
			a.table = false
			a.wedge.Key(e.Rune(), at)
		}
	case tcell.KeyEnter, tcell.KeyCtrlJ:
		a.entered(a.wedge.End(at, false))
	case tcell.KeyTab:
		a.entered(a.wedge.End(at, true))
	default:
		if a.wedge.Bursting(at) {
			break // a scanner that sends control characters
		}
		if b, ok := bound(e.Key()); ok {
			a.bound(b, asked)
		}
	}
	a.pulse.key()
	return nil
}

// entered gives whole lines to the hand.
func (a *app) entered(list []Input) {
	for _, in := range list {
		a.table = false
		if !in.Scanned {
			a.last = in.Line
		}
		a.send(in.Line)
	}
}

func (a *app) send(line string) {
	a.open++
	a.pulse.line()
	a.lines.push(line)
}

// bound does what a key of the table does.
func (a *app) bound(b binding, asked bool) {
	up := a.table
	a.table = false
	switch b.act {
	case say:
		a.send(string(b.word))
	case escape:
		switch {
		case up:
		case a.wedge.Text() != "":
			a.wedge.Clear()
		default:
			a.send(string(scan.Cancel))
		}
	case recall:
		a.wedge.Put(a.last)
	case table:
		a.table = !up
	case turn:
		a.look.theme = 1 - a.look.theme
	case redraw:
		a.screen.Sync()
	case erase:
		a.wedge.Back()
	case wipe:
		a.wedge.Clear()
	case leave:
		if asked {
			a.left.Do(func() { close(a.leaving) })
		}
		a.asked = !asked
	}
}
