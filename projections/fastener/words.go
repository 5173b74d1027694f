package fastener

import (
	"slices"
	"strings"
)

// formPhrases are the words for each form; the first of a form is canonical.
// A text ends with the longest of them that fits.
var formPhrases = []struct {
	words string
	form  Form
}{
	{"bolt", Bolt}, {"screw", Bolt}, {"cap screw", Bolt}, {"capscrew", Bolt}, {"head bolt", Bolt},
	{"set screw", SetScrew}, {"setscrew", SetScrew}, {"grub screw", SetScrew},
	{"banjo bolt", BanjoBolt}, {"banjo", BanjoBolt},
	{"plug", Plug}, {"spark plug", SparkPlug}, {"glow plug", GlowPlug}, {"core plug", CorePlug}, {"freeze plug", CorePlug},
	{"stud", Stud}, {"stud bolt", Stud}, {"nut", Nut}, {"insert", Insert}, {"thread insert", Insert},
	{"switch", Switch}, {"sensor", Sensor}, {"sender", Sensor}, {"fitting", Fitting}, {"adapter", Fitting},
	{"handle", Handle}, {"post", Post}, {"pin", Pin},
	{"washer", Washer},
	{"seal ring", SealRing}, {"sealing ring", SealRing}, {"sealing washer", SealRing}, {"crush washer", SealRing},
	{"o-ring", ORing}, {"o ring", ORing}, {"oring", ORing},
	{"snap ring", SnapRing}, {"circlip", SnapRing}, {"retaining ring", SnapRing},
	{"dowel", Dowel}, {"dowel pin", Dowel}, {"cotter pin", CotterPin}, {"cotter", CotterPin}, {"split pin", CotterPin},
}

// formRule says what a form may carry.
type formRule struct {
	thread, sizes bool // has a thread; has sizes
	use           bool // takes free words for what it is used for
	family        family
}

// family groups the forms that a hand could take for one another.
type family uint8

const (
	outside family = iota + 1 // screws into a hole
	inside                    // screws onto something
	ring                      // lies around something
	pressed                   // sits in a bore
)

var formRules = map[Form]formRule{
	AnyForm: {thread: true, family: outside},
	Bolt:    {thread: true, family: outside}, SetScrew: {thread: true, family: outside},
	BanjoBolt: {thread: true, family: outside}, Plug: {thread: true, family: outside},
	SparkPlug: {thread: true, family: outside}, GlowPlug: {thread: true, family: outside},
	Stud: {thread: true, use: true, family: outside}, Nut: {thread: true, family: inside},
	Insert: {thread: true, family: inside},
	Switch: {thread: true, use: true, family: outside}, Sensor: {thread: true, use: true, family: outside},
	Fitting: {thread: true, use: true, family: outside}, Handle: {thread: true, use: true, family: outside},
	Post: {thread: true, use: true, family: outside}, Pin: {thread: true, sizes: true, use: true, family: outside},
	Washer: {thread: true, sizes: true, family: ring}, SealRing: {thread: true, sizes: true, family: ring},
	ORing: {sizes: true, family: ring}, SnapRing: {sizes: true, family: ring},
	Dowel: {sizes: true, family: pressed}, CorePlug: {sizes: true, family: pressed},
	CotterPin: {sizes: true, family: pressed},
}

// headWord is one word for a head, a nut's shape or a washer's kind.
type headWord struct {
	word  string
	forms []Form
}

var (
	boltLike = []Form{Bolt, Plug, SetScrew, BanjoBolt}
	boltNut  = []Form{Bolt, Plug, SetScrew, BanjoBolt, Nut}
	nutOnly  = []Form{Nut}
	washers  = []Form{Washer}
)

// headWords are the head words in the order in which the canonical text
// writes them.
var headWords = []headWord{
	{"low", boltNut}, {"thin", []Form{Nut, Washer}}, {"heavy", []Form{Bolt, Nut, Washer}},
	{"prevailing", nutOnly}, {"lock", []Form{Nut, Washer}}, {"nylon", nutOnly},
	{"12pt", boltNut}, {"hex", boltNut}, {"socket", boltLike}, {"star", boltLike}, {"e-star", boltLike},
	{"spline", boltLike}, {"square", []Form{Bolt, Plug, Nut, Washer}}, {"slotted", boltNut}, {"cross", boltLike},
	{"button", boltLike}, {"countersunk", boltLike}, {"raised", boltLike}, {"pan", boltLike}, {"cheese", boltLike},
	{"cup", boltLike}, {"round", boltLike}, {"carriage", boltLike}, {"eye", boltLike}, {"knurled", boltNut},
	{"thumb", boltLike}, {"wing", boltNut}, {"tee", boltNut}, {"hook", boltLike}, {"magnetic", []Form{Plug}},
	{"shoulder", boltLike}, {"collar", boltNut}, {"waisted", []Form{Bolt}}, {"flange", boltNut},
	{"castle", nutOnly}, {"dome", nutOnly}, {"cap", nutOnly}, {"barrel", nutOnly}, {"cage", nutOnly},
	{"weld", nutOnly}, {"jam", nutOnly}, {"long", nutOnly}, {"coupling", nutOnly}, {"conical", []Form{Nut, Washer}},
	{"plate", washers}, {"flat", washers}, {"spring", washers}, {"wave", washers}, {"tooth", washers},
	{"tab", washers}, {"cupped", washers}, {"thrust", washers}, {"fender", washers},
}

// headAliases are other ways to say a head word.
var headAliases = map[string]string{
	"12-pt": "12pt", "12-point": "12pt", "12point": "12pt", "bihex": "12pt", "bi-hex": "12pt",
	"hexagon": "hex", "six-lobe": "star", "lobe": "star", "hexalobular": "star",
	"external-lobe": "e-star", "splined": "spline", "csk": "countersunk", "sunk": "countersunk",
	"flanged": "flange", "flg": "flange", "castellated": "castle", "domed": "dome", "acorn": "dome",
	"self-locking": "lock", "locking": "lock", "crosshead": "cross",
	"plain": "flat", "shouldered": "shoulder", "t-head": "tee",
}

// materialWords are classes that are materials.
var materialWords = map[string]string{
	"copper": "copper", "brass": "brass", "bronze": "bronze", "steel": "steel", "stainless": "stainless",
	"aluminium": "aluminium", "aluminum": "aluminium", "titanium": "titanium", "fibre": "fibre", "fiber": "fibre",
	"rubber": "rubber", "silicone": "silicone", "plastic": "plastic", "nbr": "NBR", "fkm": "FKM", "ptfe": "PTFE",
}

// droppedWords carry nothing that sets a kind apart.
var droppedWords = map[string]bool{
	"head": true, "headed": true, "rh": true, "class": true,
}

// splitWords are two words written as one.
var splitWords = map[string][2]string{
	"lockwasher": {"lock", "washer"}, "locknut": {"lock", "nut"}, "jamnut": {"jam", "nut"},
	"flangenut": {"flange", "nut"}, "flangebolt": {"flange", "bolt"}, "hexnut": {"hex", "nut"},
}

func headIndex(w string) int {
	return slices.IndexFunc(headWords, func(h headWord) bool { return h.word == w })
}

// headFits reports whether a head word goes with a form.
func headFits(i int, f Form) bool { return f == AnyForm || slices.Contains(headWords[i].forms, f) }

// nearest is the known word that is fewest letters away, "" when none is near.
func nearest(w string) string {
	best, bestAt := "", 3
	try := func(k string) {
		if d := distance(w, k); d < bestAt && d*2 < len(k) {
			best, bestAt = k, d
		}
	}
	for _, h := range headWords {
		try(h.word)
	}
	for _, f := range formPhrases {
		if !strings.Contains(f.words, " ") {
			try(f.words)
		}
	}
	for _, m := range []string{"copper", "brass", "bronze", "steel", "stainless", "aluminium", "titanium"} {
		try(m)
	}
	return best
}

// distance is the number of letters to change, add, drop or swap with the next
// to make b of a.
func distance(a, b string) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j-1]+cost, rows[i-1][j]+1, rows[i][j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(a)][len(b)]
}
