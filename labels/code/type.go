package code

import "fmt"

// Type is the letter that a code begins with: what kind of thing it names.
// Letters are never given a new meaning.
type Type byte

// The types. No type is O, I or L.
const (
	Audit    Type = 'A' // audit point or gate
	Bag      Type = 'B' // bag of a joint, or other container for loose pieces
	Case     Type = 'C' // case of one broken fastener
	Answer   Type = 'D' // answer, reason or decision card
	Engine   Type = 'E' // engine, or a host part with an identity of its own
	Finding  Type = 'F' // finding of an inspection
	Step     Type = 'G' // step or stage of the plan
	Joint    Type = 'H' // joint: a named list of holes
	Job      Type = 'J' // job card
	Kit      Type = 'K' // kit or lot from stock
	Mark     Type = 'M' // mark: an act that leaves no state in the metal
	Badge    Type = 'N' // badge: a person's name
	Part     Type = 'P' // part tag
	Position Type = 'Q' // one position of a rack
	Rack     Type = 'R' // rack
	Slip     Type = 'S' // slip to another shop
	Loan     Type = 'T' // temporary piece or tool
	Stub     Type = 'U' // stub of a broken fastener
	Verb     Type = 'V' // verb card
	Number   Type = 'W' // whole-number card
	Hole     Type = 'X' // hole or seat
	Place    Type = 'Y' // bench, shelf, wash, stand
	Size     Type = 'Z' // size card: a kind of fastener
)

var typeWords = map[Type]string{
	Audit: "audit point", Bag: "bag", Case: "case", Answer: "answer", Engine: "engine", Finding: "finding",
	Step: "step", Joint: "joint", Job: "job", Kit: "kit", Mark: "mark", Badge: "badge", Part: "part",
	Position: "position", Rack: "rack", Slip: "slip", Loan: "loan", Stub: "stub", Verb: "verb",
	Number: "number", Hole: "hole", Place: "place", Size: "size",
}

// Types lists all types in the order of their letters.
func Types() []Type {
	var list []Type
	for t := Type('A'); t <= 'Z'; t++ {
		if t.Known() {
			list = append(list, t)
		}
	}
	return list
}

// Known reports whether the letter is a type.
func (t Type) Known() bool { return 'A' <= t && t <= 'Z' && t != 'O' && t != 'I' && t != 'L' }

// String is the word for the type: bag, rack, joint.
func (t Type) String() string {
	if w, ok := typeWords[t]; ok {
		return w
	}
	return fmt.Sprintf("type %q", byte(t))
}
