package plan

import (
	"countback/events"
	"countback/projections/fastener"
)

// Joint is a named list of holes. Holes that it shares with another joint
// stand behind its own and keep the name that they have there.
type Joint struct {
	ID        events.Joint
	Name      string
	Line      int
	Own       int         // how many of Seats are its own
	Seats     []SeatIndex // its own holes in the plan's order, then the shared ones
	HoldsBack string      // "coolant and oil"; empty: nothing
	DryHoles  bool        // liquid in a hole would crack the casting
	OnlyWith  PartIndex   // there only with this optional part; None
	Face      Face
	Note      string
}

// Seat is one hole, and what belongs in it from the host outwards.
type Seat struct {
	ID       events.Seat // joint:hole, by the joint that it is listed under
	Joint    JointIndex
	SharedBy []JointIndex // further joints that count it among theirs
	Hole     events.Hole
	XY       XY // where it lies on the joint's face
	Line     int

	Host    PartIndex   // the part that has the thread; None: not known
	Clamps  []PartIndex // parts that it holds down, from the host outwards
	Members []Member    // pieces that belong in it, from the host outwards; none: only loans go here

	Thread     string          // of the hole, where no member says it
	ThreadIn   string          // material of the thread: "aluminium", "cast iron", "steel"
	Grip       fastener.Length // everything between head or nut and the thread
	Depth      fastener.Length // full thread of a blind hole
	FreeBehind fastener.Length // room behind a through hole
	Through    bool

	OwnSeat    OwnSeat
	ThreadLock bool
	Sealant    Sealant
	Note       string
}

// Member is one piece of a stack.
type Member struct {
	Kind     events.Kind // canonical text of Spec
	Spec     fastener.Spec
	Role     Role
	Count    int  // 1
	Stays    bool // remains in the hole when the joint is opened
	Reuse    Reuse
	RunIn    fastener.Length // stud: how much of it is in the host
	Height   fastener.Length // nut: its height
	WayRound string
	Line     int
}

// UnknownKind is the kind of a piece that nobody has sized yet.
const UnknownKind events.Kind = "unknown"

// Role is what a member does in its hole.
type Role uint8

// The roles.
const (
	RoleBolt Role = iota // bolts, screws, plugs, switches: all that is turned in whole
	RoleStud
	RoleNut
	RoleWasher // washers and seal rings
)

// String is the role's word in a plan file.
func (r Role) String() string { return [...]string{"bolt", "stud", "nut", "washer"}[r] }

// Moves reports whether anything comes out of the hole when its joint is
// opened.
func (s *Seat) Moves() bool {
	for i := range s.Members {
		if !s.Members[i].Stays {
			return true
		}
	}
	return false
}
