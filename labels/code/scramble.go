package code

// alphabet is the 31 characters of a code, without 0 O 1 I L. Their order is
// the order of their values in the counter.
const alphabet = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"

const (
	base     = len(alphabet)
	counters = base * base * base * base // counters of one type and range
)

// places is the place of each character in the alphabet; 255 for any other
// byte.
var places = func() (p [256]byte) {
	for i := range p {
		p[i] = 255
	}
	for i := range base {
		p[alphabet[i]] = byte(i)
	}
	return p
}()

// The bijection between counters and characters: characters = mix * digits +
// shift modulo 31, and back with unmix. See the package's account of what mix
// was chosen for; the constants must never change.
var (
	mix = [4][4]int{
		{29, 27, 21, 18},
		{30, 26, 23, 12},
		{15, 21, 12, 1},
		{21, 19, 3, 30},
	}
	unmix = [4][4]int{
		{26, 5, 26, 27},
		{28, 23, 1, 6},
		{20, 30, 28, 4},
		{22, 12, 29, 10},
	}
	shift = [4]int{9, 22, 4, 17}
)

// scramble is the four characters of a counter.
func scramble(counter uint32) [4]byte {
	var digits [4]int
	for i := range digits {
		digits[i] = int(counter) % base
		counter /= uint32(base)
	}
	var out [4]byte
	for i, row := range mix {
		sum := shift[i]
		for j, k := range row {
			sum += k * digits[j]
		}
		out[i] = alphabet[sum%base]
	}
	return out
}

// unscramble is the counter of four characters of the alphabet.
func unscramble(chars string) uint32 {
	var v [4]int
	for i := range v {
		v[i] = int(places[chars[i]]) + base - shift[i]
	}
	counter := 0
	for i := len(unmix) - 1; i >= 0; i-- {
		sum := 0
		for j, k := range unmix[i] {
			sum += k * v[j]
		}
		counter = counter*base + sum%base
	}
	return uint32(counter)
}
