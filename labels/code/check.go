package code

// values is the value of each character of ISO 7064 MOD 37,36: 0-9 then A-Z;
// 255 for any other byte.
var values = func() (v [256]byte) {
	for i := range v {
		v[i] = 255
	}
	for i := range 36 {
		v[characters[i]] = byte(i)
	}
	return v
}()

const characters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// Check is the check character of a body by ISO 7064:2003 hybrid system
// MOD 37,36 over 0-9 and A-Z. It is 0 where the body holds any other byte.
func Check(body string) byte {
	p := 36
	for i := range len(body) {
		v := values[body[i]]
		if v == 255 {
			return 0
		}
		p = step(p, int(v))
	}
	return characters[(37-p)%36]
}

// step carries the running product over one character.
func step(p, v int) int {
	s := (p + v) % 36
	if s == 0 {
		s = 36
	}
	return s * 2 % 37
}
