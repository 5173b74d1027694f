package events

// The fast road takes the canonical form only, byte for byte: whatever it
// accepts, Append writes again just so. At the first surprise it gives up and
// leaves the fact, and the words for what is wrong, to the slow road.

// Fast reads data into r; false means that nothing is known about it yet.
func (d *Decoder) fast(data []byte, r *Record) bool {
	if d.texts == nil {
		d.texts = make([]string, sharedCount)
		d.rooms = make([]memory, len(catalogue))
		d.trays = make([]memory, len(lists))
	}
	d.data, d.pos = data, 0
	ok := d.envelope(r)
	d.data = nil
	if ok {
		d.last.Shop, d.last.Terminal, d.last.Job = r.Shop, r.Terminal, r.Job
		d.last.Seen, d.last.Operator = r.Seen, r.Operator
	}
	return ok
}

func (d *Decoder) envelope(r *Record) bool {
	if !d.skip(`{"specversion":"1.0","id":"`) {
		return false
	}
	id := d.until('"')
	if !d.skip(`","source":"` + sourceRoot) {
		return false
	}
	shop, shopOK := d.word(string(d.last.Shop), '/')
	terminal, terminalOK := d.word(string(d.last.Terminal), '"')
	if !shopOK || !terminalOK || !d.skip(`,"type":"`+typeRoot) {
		return false
	}
	s := byName[string(d.until('"'))]
	if s == nil || !d.skip(`","subject":"`) {
		return false
	}
	job, jobOK := d.word(string(d.last.Job), '"')
	r.Shop, r.Terminal, r.Job = Shop(shop), Terminal(terminal), Job(job)
	return jobOK && d.times(id, r) && d.extras(r) && d.skip(`,"data":`) &&
		d.event(s, &r.Event) && d.next('}') && d.pos == len(d.data)
}

// Times reads what every fact has: time, at and n, which the id repeats.
func (d *Decoder) times(id []byte, r *Record) bool {
	if !d.skip(`,"time":"`) || !d.time(&r.Time) ||
		!d.skip(`","datacontenttype":"`+contentType+`","at":"`) {
		return false
	}
	at, ok := d.number(MaxTime)
	if !ok || at == 0 || !d.skip(`","n":`) {
		return false
	}
	start := d.pos
	n, ok := d.number(MaxN)
	if !ok || n == 0 {
		return false
	}
	r.At, r.N = at, uint32(n)
	digits, t := d.data[start:d.pos], len(r.Terminal)
	return len(id) == t+1+len(digits) && string(id[:t]) == string(r.Terminal) &&
		id[t] == '-' && string(id[t+1:]) == string(digits)
}

// Extras reads the attributes that a fact may lack.
func (d *Decoder) extras(r *Record) bool {
	if d.skip(`,"seen":"`) {
		start := d.pos
		if !d.seen() {
			return false
		}
		if r.Seen = d.last.Seen; string(r.Seen) != string(d.data[start:d.pos-1]) {
			r.Seen = Seen(d.data[start : d.pos-1])
		}
	}
	if d.skip(`,"operator":"`) {
		name, ok := d.text(asText, string(d.last.Operator))
		if !ok || name == "" {
			return false
		}
		r.Operator = Badge(name)
	}
	if d.skip(`,"known":"`) {
		word := d.until('"')
		for k := CountedBlind; k > Told; k-- {
			if knownWords[k] == string(word) {
				r.Known = k
				break
			}
		}
		if r.Known == Told || !d.next('"') {
			return false
		}
	}
	if d.skip(`,"happenedfrom":"`) {
		var from, to bool
		r.From, from = d.number(MaxTime)
		if !from || r.From == 0 || !d.skip(`","happenedto":"`) {
			return false
		}
		r.To, to = d.number(MaxTime)
		return to && r.To >= r.From && d.next('"')
	}
	return true
}

// Seen reads a text of terminal:n up to and with its closing quote.
func (d *Decoder) seen() bool {
	start := d.pos
	var last []byte
	for {
		rest := d.data[d.pos:]
		end := 0
		for end < len(rest) && wordByte[rest[end]] {
			end++
		}
		name := rest[:end]
		if end == 0 || end > MaxWord || end == len(rest) || rest[end] != ':' || string(name) <= string(last) {
			return false
		}
		last = name
		d.pos += end + 1
		if n, ok := d.number(MaxN); !ok || n == 0 {
			return false
		}
		if d.next('"') {
			return d.pos-1-start <= MaxName
		}
		if !d.next(' ') {
			return false
		}
	}
}

// Time reads 2026-11-25T10:15:00.123456Z.
func (d *Decoder) time(to *int64) bool {
	const form = "2006-01-02T15:04:05.000000Z"
	if len(d.data)-d.pos < len(form) {
		return false
	}
	b := d.data[d.pos : d.pos+len(form)]
	if b[4] != '-' || b[7] != '-' || b[10] != 'T' || b[13] != ':' || b[16] != ':' || b[19] != '.' || b[26] != 'Z' {
		return false
	}
	day, ok := dayOf(two(b[0:])*100+two(b[2:]), two(b[5:]), two(b[8:]))
	hour, minute, second := two(b[11:]), two(b[14:]), two(b[17:])
	micro := (two(b[20:])*100+two(b[22:]))*100 + two(b[24:])
	if !ok || hour > 23 || minute > 59 || second > 59 || micro > 999999 {
		return false
	}
	d.pos += len(form)
	*to = int64(((day*24+hour)*60+minute)*60+second)*1e6 + int64(micro)
	return *to > 0
}

// Two gives the value of two digits; what is none gives a value that is too
// large for any part of a time, also times a hundred or with others added.
func two(b []byte) int {
	ten, one := b[0]-'0', b[1]-'0'
	if ten > 9 || one > 9 {
		return 1e6
	}
	return int(ten)*10 + int(one)
}

// DayOf counts the days from 1970-01-01 to a date from then until 9999, by
// years that start in March, so that a leap day is the last of its year.
func dayOf(year, month, day int) (int, bool) {
	if year < 1970 || year > 9999 || month < 1 || month > 12 || day < 1 {
		return 0, false
	}
	leap := year%4 == 0 && (year%100 != 0 || year%400 == 0)
	length := int("\x1f\x1c\x1f\x1e\x1f\x1e\x1f\x1f\x1e\x1f\x1e\x1f"[month-1])
	if leap && month == 2 {
		length++
	}
	if month < 3 {
		year--
		month += 12
	}
	// 153 days are five months from March: 31, 30, 31, 30, 31.
	const epoch = 719468 // days from 0000-03-01 to 1970-01-01
	days := 365*year + year/4 - year/100 + year/400 + (153*(month-3)+2)/5 + day - 1
	return days - epoch, day <= length
}
