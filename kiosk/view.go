package kiosk

// Sign is how a screen looks from three metres; a word, a shape and a pattern
// stand for each, never colour alone.
type Sign uint8

// The signs.
const (
	Plain Sign = iota // nothing abnormal
	Good              // stored
	Short             // stored, and something is missing or over
	Stop              // refused
	Wait              // finding out, or cut off
	Amber             // another job
)

var signWords = [...]string{"", "OK", "LOOK", "STOP", "WAIT", "OTHER JOB"}

// String is the word that the sign shows.
func (s Sign) String() string { return signWords[s] }

// MaxLines is how many lines of text a screen shows at most.
const MaxLines = 5

// View is all that a screen shows, as plain values.
type View struct {
	Bar   string   // bench, person, job
	Sign  Sign     // how it looks
	Big   string   // one number or word, to be read from three metres
	Lines []string // what happened or is so, at most MaxLines
	Said  string   // the sentence as far as it has been scanned
	Ask   string   // what is expected next
	Undo  string   // what UNDO would take back; empty: nothing
	Mode  string   // a count that is going on: it has a border and this word
	List  []string // one page of a list
	Page  int      // from 1; 0: no list
	Pages int
	// Dropped: a sentence that had its verb or a number was left for another one.
	// Nothing of it is stored.
	Dropped bool
}
