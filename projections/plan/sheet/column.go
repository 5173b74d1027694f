package sheet

import (
	"slices"
	"strings"
)

// kind is what the cells of a column hold.
type kind uint8

const (
	text    kind = iota // words, taken as they are
	name                // words that another name must have: an id
	flag                // yes or no
	number              // a whole number, or a word such as as-counted
	length              // in the unit of the header
	torque              // in the unit of the header, a range, or words
	stretch             // a length or a range of lengths
	angle               // degrees or a range
	limit               // a number or unknown; its unit is said elsewhere
	ids                 // a list of ids
	places              // a list of places with ranges
	texts               // a list of texts
	holes               // holes of joints
	allOf               // conditions
	barrier             // acts, steps, audit points, removal of, finished
	stacked             // a stack of pieces
	ownSeat             // yes, no or by measurement
	sealing             // a lot, or yes
	speeds              // limits by speed
	across              // lengths, one for each hole of the row, some may be unknown
)

// column is one column of a sheet. A key with a point in it is a key of a
// mapping: seats.at. A column without a key is the sheet's own business.
type column struct {
	head string // as Write writes it, less the unit
	key  string
	kind kind
	must bool // every row needs it
}

// table is one sheet: its file, its columns in the order in which Write writes
// them, and what its rows are called.
type table struct {
	file    string // without .csv
	section string // of the plan file
	columns []column
}

var tables = []table{
	{"plan", "", []column{{"key", "", text, true}, {"value", "", text, false}}},
	{"parts", "parts", []column{
		{"id", "id", name, true}, {"name", "name", text, false}, {"in", "in", name, false}, {"root", "root", flag, false},
		{"host", "host", flag, false}, {"made of", "made-of", ids, false}, {"count", "count", number, false},
		{"positions", "seats.at", places, false}, {"pieces each", "seats.set", number, false}, {"place", "seats.place", text, false},
		{"under", "under", ids, false}, {"mating", "mating", ids, false}, {"seals", "seals", name, false},
		{"optional", "optional", flag, false}, {"stays", "stays", flag, false}, {"reuse", "reuse", text, false},
		{"own seat", "own-seat", ownSeat, false}, {"sealant", "sealant.lot", sealing, false}, {"open time", "sealant.open-time", text, false},
		{"measure", "measure", ids, false}, {"cavity", "cavity", name, false}, {"way round", "way-round", text, false},
		{"graded", "graded", text, false}, {"feature", "feature", text, false}, {"material", "material", text, false}, {"inspect", "inspect", text, false},
		{"timed", "timed", flag, false}, {"note", "note", text, false},
	}},
	{"joints", "joints", []column{
		{"id", "id", name, true}, {"name", "name", text, false}, {"shares", "shares", holes, false}, {"only with", "only-with", name, false},
		{"holds back", "holds-back", text, false}, {"dry holes", "dry-holes", flag, false}, {"side", "face.side", text, false},
		{"end", "face.end", text, false}, {"seen from", "face.seen-from", text, false}, {"at left", "face.at-left", text, false},
		{"at top", "face.at-top", text, false}, {"note", "note", text, false},
	}},
	{"holes", "", []column{
		{"joint", "", name, true}, {"holes", "at", places, true}, {"x", "xy", across, false}, {"y", "xy", across, false}, {"in", "in", name, false}, {"clamps", "clamps", ids, false},
		{"fastener", "fastener", text, false}, {"feature", "feature", text, false}, {"reuse", "reuse", text, false},
		{"stack", "stack", stacked, false}, {"holds", "holds", text, false}, {"thread", "thread", text, false},
		{"grip", "grip", length, false}, {"depth", "depth", length, false}, {"free behind", "free-behind", length, false},
		{"thread in", "thread-in", text, false}, {"thread lock", "thread-lock", flag, false}, {"sealant", "sealant.lot", sealing, false},
		{"open time", "sealant.open-time", text, false}, {"own seat", "own-seat", ownSeat, false}, {"note", "note", text, false},
	}},
	{"variants", "", []column{
		{"variant", "", name, true}, {"layout", "", name, true}, {"joints", "joints", ids, false}, {"parts", "parts", ids, false},
		{"default", "", flag, false},
	}},
	{"cavities", "cavities", []column{
		{"id", "id", name, true}, {"name", "name", text, false}, {"of", "of", ids, false}, {"open when", "open-when", allOf, false},
		{"closed by", "closed-by", allOf, false}, {"leads to", "leads-to", ids, false}, {"fluid", "fluid.of", text, false},
		{"amount", "fluid.amount", text, false}, {"carried", "carried", text, false},
	}},
	{"marks", "marks", []column{
		{"id", "id", name, true}, {"name", "name", text, false}, {"at arrival", "at-arrival", text, false}, {"needs", "needs", allOf, false},
		{"needs out", "needs-out", ids, false}, {"void by", "void-by", allOf, false},
	}},
	{"loans", "loans", []column{
		{"id", "id", name, true}, {"name", "name", text, false}, {"count", "count", number, false}, {"piece", "piece", text, false},
		{"feature", "feature", text, false}, {"condition", "condition", text, false}, {"owner", "owner", text, false},
		{"fills", "fills", holes, false}, {"in", "in", name, false}, {"pins", "pins", ids, false},
		{"stops", "must-be-out-for.stops", barrier, false}, {"reminds", "must-be-out-for.reminds", barrier, false},
		{"harmless", "harmless", flag, false}, {"note", "note", text, false},
	}},
	{"gates", "gates", []column{{"id", "id", name, true}, {"asks", "asks", text, false}}},
	{"audit-points", "audit-points", []column{
		{"id", "id", name, true}, {"name", "name", text, false}, {"needs", "needs", ids, false}, {"when", "when", allOf, false},
		{"signs", "signs", text, false},
	}},
	{"tightening", "", []column{
		{"id", "", name, true}, {"way", "way", text, false}, {"member", "member", text, false}, {"order", "order", texts, false},
		{"rounds", "rounds", text, false}, {"passes", "passes", number, false}, {"sets", "sets", texts, false}, {"with", "with", texts, false},
		{"pause", "pause", number, false}, {"hands", "hands", text, false}, {"cold", "cold", flag, false}, {"tools", "tools", ids, false}, {"seats", "seats", holes, true},
		{"edition", "edition", text, false}, {"source", "source", text, false}, {"snug", "snug", torque, false},
		{"torque", "torque", torque, false}, {"angle", "angle", angle, false}, {"stretch", "stretch", stretch, false},
		{"press depth", "press-depth", stretch, false}, {"height", "height", stretch, false}, {"loosen", "loosen", text, false}, {"again", "again", torque, false},
		{"only", "only", texts, false}, {"never", "never", stretch, false}, {"band", "band", stretch, false},
		{"needs", "needs", allOf, false},
		{"due", "due", text, false}, {"note", "note", text, false},
	}},
	{"measurements", "measurements", []column{
		{"id", "id", name, true}, {"of", "of", text, false}, {"at", "at", places, false}, {"unit", "unit", text, false},
		{"min", "min", limit, false}, {"max", "max", limit, false}, {"fails to", "fails-to", text, false}, {"outside", "outside", text, false},
		{"new min", "new-min", limit, false}, {"new max", "new-max", limit, false}, {"source", "source", text, false},
		{"points", "points", places, false}, {"kind", "kind", text, false}, {"from", "from", ids, false}, {"nominal", "nominal", limit, false},
		{"gauge", "gauge", text, false}, {"band", "band", limit, false}, {"step", "step", limit, false}, {"metal", "metal", text, false},
		{"one fails", "one-fails", text, false}, {"allowed by", "allows.by", text, false}, {"neighbour", "allows.part", name, false},
		{"allowed min", "allows.min", limit, false}, {"allowed max", "allows.max", limit, false}, {"about", "allows.about", limit, false},
		{"otherwise", "allows.otherwise", text, false},
	}},
	{"run-readings", "run-readings", []column{
		{"id", "id", name, true}, {"of", "of", text, false}, {"unit", "unit", text, false}, {"min", "min", limit, false}, {"max", "max", limit, false},
		{"limits", "limits", speeds, false}, {"between", "between", text, false}, {"within", "within", text, false}, {"source", "source", text, false},
		{"gauge", "gauge", text, false}, {"band", "band", limit, false},
	}},
	{"obligations", "obligations", []column{
		{"id", "id", name, true}, {"what", "what", text, false}, {"heat cycles", "after.heat-cycles", number, false},
		{"minutes", "after.minutes", number, false}, {"distance km", "after.distance-km", number, false}, {"marks", "after.marks", ids, false},
	}},
	{"kits", "", []column{
		{"kit", "", name, true}, {"part", "part", name, false}, {"piece", "piece", text, false}, {"feature", "feature", text, false},
		{"count", "count", number, true}, {"surplus expected", "surplus-expected", number, false},
	}},
	{"prices", "prices", []column{
		{"part", "part", name, false}, {"piece", "piece", text, false}, {"feature", "feature", text, false}, {"each", "each", text, true},
	}},
	{"steps", "", []column{
		{"section", "", text, true}, {"id", "id", name, true}, {"name", "name", text, false}, {"way", "way", text, false},
		{"part", "part", name, false}, {"when", "when", allOf, false}, {"takes out", "takes-out", holes, false},
		{"parks", "parks", holes, false}, {"removes", "removes", ids, false}, {"sends out", "sends-out", ids, false},
		{"drains", "drains", ids, false}, {"fits", "fits", ids, false}, {"takes back", "takes-back", ids, false},
		{"fastens", "fastens", holes, false}, {"trial", "trial", holes, false}, {"fills", "fills", ids, false},
		{"opens", "opens", ids, false}, {"closes", "closes", ids, false}, {"loan out", "loan-out", ids, false},
		{"loan in", "loan-in", ids, false}, {"loan during", "loan-during", ids, false}, {"loan may", "loan-may", ids, false},
		{"sets", "sets", ids, false}, {"turns", "turns", flag, false}, {"cranks", "cranks", flag, false},
		{"optional", "optional", flag, false}, {"asks count", "asks-count", flag, false}, {"gate", "gate", name, false},
		{"audit", "audit", name, false}, {"sealant", "sealant.lot", sealing, false}, {"open time", "sealant.open-time", text, false},
		{"wait", "wait", text, false}, {"minutes", "minutes", number, false}, {"tools", "tools", ids, false},
		{"note", "note", text, false},
	}},
}

// tableOf is the sheet of a file name, and whether there is one.
func tableOf(file string) (*table, bool) {
	i := slices.IndexFunc(tables, func(t table) bool { return t.file == file })
	if i < 0 {
		return nil, false
	}
	return &tables[i], true
}

func tableNames() []string {
	var out []string
	for _, t := range tables {
		out = append(out, t.file)
	}
	return out
}

// column is the number of a column by its head, or -1; blanks do not matter:
// re-use is reuse.
func (t *table) column(head string) int {
	squeezed := strings.ReplaceAll(head, " ", "")
	return slices.IndexFunc(t.columns, func(c column) bool { return strings.ReplaceAll(c.head, " ", "") == squeezed })
}

func (t *table) heads() []string {
	var out []string
	for _, c := range t.columns {
		out = append(out, c.head)
	}
	return out
}

// plainHead is a head in the spelling that columns have: lower case, single
// blanks.
func plainHead(s string) string {
	s = strings.NewReplacer("-", " ", "_", " ", "\u00a0", " ").Replace(strings.ToLower(s))
	return strings.Join(strings.Fields(s), " ")
}
