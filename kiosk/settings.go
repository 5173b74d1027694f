package kiosk

// Settings are the times of a screen in microseconds. All of them are common
// practice without a source.
type Settings struct {
	// Chain is how long after a digit the next one still belongs to the same
	// number, and how long the same card counts as a second firing.
	Chain int64
	// Pending is how long a sentence waits for its next scan before it is
	// dropped aloud. Eighteen bolts take minutes to count.
	Pending int64
	// Badge is how long a person stays without a scan.
	Badge int64
	// PageLines is how many lines of a list a page has.
	PageLines int
}

// UsualSettings are half a second, ten minutes, half an hour, eight lines.
func UsualSettings() Settings {
	const second = 1_000_000
	return Settings{Chain: second / 2, Pending: 10 * 60 * second, Badge: 30 * 60 * second, PageLines: 8}
}
