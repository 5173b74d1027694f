package scan

// The verbs about loose pieces, trays, tools and what lies on a shelf.
const (
	Whose Word = "WHOSE?"
	Sort  Word = "SORT"

	Issued    Word = "ISSUED"
	Taken     Word = "TAKEN"
	ToolsWord Word = "TOOLS?"
)
