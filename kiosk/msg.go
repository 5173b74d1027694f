package kiosk

import (
	"countback/events"
	"countback/kiosk/scan"
	"countback/projections/engine"
)

// Msg is what happens to a screen.
type Msg interface{ msg() }

// Scanned is one line from a scanner or a keyboard. At is the terminal's
// clock, microseconds since 1970.
type Scanned struct {
	Line string
	At   int64
}

// Ticked says what time it is, when nothing else happens.
type Ticked struct{ At int64 }

// Opened puts another job on the screen: what the terminal has folded of it,
// and what it knows of labels and names.
type Opened struct {
	ID    events.Job
	Job   *engine.Job
	Dir   scan.Directory
	NextN uint32 // the n that this terminal's next fact will have
}

// Stored says that a fact is durable and folded.
type Stored struct {
	Record events.Record
	Change engine.Change
	Apart  bool // on this terminal's own disk only: it is cut off
	NextN  uint32
}

// Already says that it is so already: nothing was stored.
type Already struct{}

// Refused is an expected no.
type Refused struct{ Refusal *engine.Refusal }

// Failed says that a fact was certainly not stored: why, and what clears it.
type Failed struct{ Why, Next string }

// Unclear says that nobody knows whether the last fact is stored. No scan is
// taken until Stored or Failed says so.
type Unclear struct{}

// Folded says that facts of other terminals came in.
type Folded struct{ Records []events.Record }

func (Scanned) msg() {}
func (Ticked) msg()  {}
func (Opened) msg()  {}
func (Stored) msg()  {}
func (Already) msg() {}
func (Refused) msg() {}
func (Failed) msg()  {}
func (Unclear) msg() {}
func (Folded) msg()  {}

// Effect is what a screen wants done.
type Effect interface{ effect() }

// Store asks the rules and stores what they answer.
type Store struct {
	Job     events.Job
	Command engine.Command
	Known   events.Known
	// Since and Till are when it happened by the terminal's clock,
	// microseconds since 1970; both 0: now.
	Since, Till int64
	Who         events.Badge
	Row         *scan.Sentence // that it came from; nil: a correction
	// Checked: the answer depends on the job's state, so the append expects
	// the job's last message. A tell expects only the terminal's own.
	Checked bool
}

// Switch opens another job at this terminal.
type Switch struct{ Job events.Job }

// Wake asks for a Ticked at a time: a chained number is whole by then.
type Wake struct{ At int64 }

// Miscounted adds one to the misreads; nothing else is stored of them.
type Miscounted struct{}

// Beep is a sound.
type Beep struct{ Sound Sound }

func (Store) effect()      {}
func (Switch) effect()     {}
func (Wake) effect()       {}
func (Miscounted) effect() {}
func (Beep) effect()       {}

// Sound is one of the sounds, told apart by rhythm.
type Sound uint8

// The sounds.
const (
	Silent     Sound = iota
	Heard            // a noun or a number was taken: nothing is stored yet
	StoredWell       // the receipt: it is on disk
	StoredLook       // it is on disk, and now look at the screen
	Refusing         // no
	Misreading       // the label was not read
	Chime            // another person
	Alert            // look: a doubt, something left aside, or a disagreement with another bench
)

var soundWords = [...]string{"", "heard", "stored", "stored, look", "refused", "misread", "chime", "look"}

// String is the sound in a word.
func (s Sound) String() string { return soundWords[s] }
