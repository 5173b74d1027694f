package bench

import (
	"strings"

	"countback/kiosk/scan"
)

// First is the first scan of a line and what is left of it. Several scans stand
// on one line with a comma and a blank, or an upright stroke, between them. What
// may hold a comma is not divided: a text ("text " or "engine " before it, or
// what is typed where a text is asked), and a name that is known as it stands.
// A line that begins with # is a remark, of which nothing is scanned.
func (t *Terminal) First(line string) (first, rest string) {
	line = strings.TrimSpace(line)
	texts := t.screen.TakesText()
	if strings.HasPrefix(line, "#") && (!texts || strings.HasPrefix(line, "# ")) {
		return "", ""
	}
	first, rest = cutScan(line)
	if rest == "" {
		return first, ""
	}
	typed := func(s string) bool {
		k := scan.Read(s, &directory{reg: t.reg, id: t.screen.Job(), job: t.Job(), here: t.Name}).Kind
		return k == scan.Words || k == scan.Foreign
	}
	lower := strings.ToLower(line)
	if strings.HasPrefix(lower, "text ") || strings.HasPrefix(lower, "engine ") || !typed(line) || texts && typed(first) {
		return line, ""
	}
	return first, rest
}

func cutScan(line string) (first, rest string) {
	line = strings.TrimSuffix(line, ",")
	at, after := len(line), len(line)
	for _, sep := range []string{", ", "|"} {
		if i := strings.Index(line, sep); i >= 0 && i < at {
			at, after = i, i+len(sep)
		}
	}
	return strings.TrimSpace(line[:at]), strings.TrimSpace(line[after:])
}
