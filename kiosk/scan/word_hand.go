package scan

// The verbs about loose pieces, trays, tools and what lies on a shelf.
const (
	Whose Word = "WHOSE?"
	Sort  Word = "SORT"

	Issued    Word = "ISSUED"
	Taken     Word = "TAKEN"
	ToolsWord Word = "TOOLS?"

	Holds     Word = "HOLDS"
	TraysWord Word = "TRAYS?"

	BatchesWord Word = "BATCHES?"

	PreservedWord Word = "PRESERVED"
	GoodUntil     Word = "GOOD UNTIL"
	AgeingWord    Word = "AGEING?"
)

// Answers about a batch, and about keeping rust away.
const (
	Wash  Word = "WASH"
	Paint Word = "PAINT"

	Oil       Word = "OIL"
	Wax       Word = "WAX"
	Desiccant Word = "DESICCANT"
)
