package scan

// The types of nouns that are carried about, and of what lies on a shelf.
const (
	Tool     Type = "tool"  // of the shop
	TrayNoun Type = "tray"  // a place that is carried about
	Batch    Type = "batch" // of parts in one wash or coat of paint
	LotNoun  Type = "lot"   // of sealant, thread lock and the like
)

// carriedTypes can be named before anybody has told of them.
var carriedTypes = []Type{Tool, TrayNoun, Batch, LotNoun}

func init() { Types = append(Types, carriedTypes...) }

func isCarried(t Type) bool {
	for _, c := range carriedTypes {
		if c == t {
			return true
		}
	}
	return false
}
