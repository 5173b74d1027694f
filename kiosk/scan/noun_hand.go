package scan

// The types of nouns that are carried about.
const (
	Tool Type = "tool" // of the shop
)

// carriedTypes can be named before anybody has told of them.
var carriedTypes = []Type{Tool}

func init() { Types = append(Types, carriedTypes...) }

func isCarried(t Type) bool {
	for _, c := range carriedTypes {
		if c == t {
			return true
		}
	}
	return false
}
