package events

import "strings"

// A type for each id, so that swapped arguments do not compile. All of them
// are short printable strings without control characters.
type (
	// Shop names one shop; it is the second word of every subject.
	Shop string
	// Terminal names one kiosk, command line or importer that writes facts.
	Terminal string
	// Job names one engine's way through the shop. ShopJob stands in the
	// job's place for what belongs to no single job.
	Job string
	// Badge names the person who stood at the terminal; empty means nobody
	// had scanned a badge (the fact is kept and marked anonymous).
	Badge string
	// Code is the eight-character text of a printed label.
	Code string

	// Kind is one kind of countable piece: a fastener as its canonical spec
	// ("M8x1.25x30 8.8 flange"), or a part id of the plan ("locks").
	Kind string
	// Joint names a list of holes in the plan.
	Joint string
	// Hole is the name of one seat within its joint ("18", "I1a").
	Hole string
	// Seat is joint:hole for a fastener ("front-cover:18") and part:position
	// for a part ("buckets:2Ia"; "cam-cover:1" where there is only one).
	Seat string
	// Part names a part of the plan.
	Part string
	// Step names a step of the plan.
	Step string
	// Mark names a mark of the plan.
	Mark string
	// Loan names a kind of loan of the plan ("rag", "crank-pin").
	Loan string
	// Cavity names an inside space of the plan.
	Cavity string
	// AuditPoint names an audit point of the plan.
	AuditPoint string
	// Host is one individual host part ("head 1"); an exchanged head is "head 2".
	Host string
	// Lot names what came together: a delivery, a kit, a box.
	Lot string
	// Place is where pieces are, as a path: the type, then which one
	// ("bag/B2KCZ6EE", "rack/R7QW3MNX/4", "shelf", "scrap").
	Place string
)

// ShopJob stands in a subject where a job would stand, for what belongs to
// the shop: the drawer, the loan tools, the tray of found pieces.
const ShopJob Job = "shop"

// SeatOf names a hole of a joint, or a position of a part.
func SeatOf(joint Joint, hole Hole) Seat { return Seat(string(joint) + ":" + string(hole)) }

// Split takes a seat apart; hole is empty when there is no colon.
func (s Seat) Split() (Joint, Hole) {
	j, h, _ := strings.Cut(string(s), ":")
	return Joint(j), Hole(h)
}

// Subject is where a terminal publishes the facts of one job:
// countback.<shop>.<terminal>.<job>.
func Subject(shop Shop, t Terminal, j Job) string {
	return "countback." + string(shop) + "." + string(t) + "." + string(j)
}

// JobFilter matches every terminal's facts of one job.
func JobFilter(shop Shop, j Job) string { return "countback." + string(shop) + ".*." + string(j) }

// TerminalFilter matches every job's facts from one terminal.
func TerminalFilter(shop Shop, t Terminal) string {
	return "countback." + string(shop) + "." + string(t) + ".>"
}

// ShopFilter matches everything of a shop.
func ShopFilter(shop Shop) string { return "countback." + string(shop) + ".>" }
