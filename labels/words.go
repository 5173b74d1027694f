package labels

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"countback/labels/code"
)

// typed checks that a label has a code of its own type.
func typed(c code.Code, want code.Type) error {
	if _, err := code.Parse(string(c)); err != nil {
		return fmt.Errorf("%s label: %w", want, err)
	}
	if c.Type() != want {
		return fmt.Errorf("%s label: code %s is that of a %s; take one of type %c", want, c, c.Type(), want)
	}
	return nil
}

// stamps are the words that a label must not hide.
func stamps(reprint int, training bool) []string {
	var list []string
	if training {
		list = append(list, "TRAINING")
	}
	if reprint > 0 {
		list = append(list, "REPRINT "+strconv.Itoa(reprint))
	}
	return list
}

func jobWords(job, engine string) string {
	if job != "" {
		job = "Job " + job
	}
	return joined("  ", job, engine)
}

// joined joins the texts that are not empty.
func joined(between string, texts ...string) string {
	var list []string
	for _, t := range texts {
		if t != "" {
			list = append(list, t)
		}
	}
	return strings.Join(list, between)
}

// labelled is a small row with a caption, nothing if the text is empty.
func labelled(caption, text string) row {
	if text == "" {
		return row{}
	}
	return row{text: caption + ": " + text, capMm: 2, lines: 2}
}

func ofHowMany(n, of int) string {
	switch {
	case n > 0 && of > 0:
		return fmt.Sprintf("%d of %d", n, of)
	case n > 0:
		return "no. " + strconv.Itoa(n)
	}
	return ""
}

// dateWords writes a date that nobody reads the other way round.
func dateWords(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2 Jan 2006")
}

// holeWords lists holes, three and more in a row as 14–17.
func holeWords(holes []string) string {
	var list []string
	for i := 0; i < len(holes); {
		j := i
		for j+1 < len(holes) && follows(holes[j], holes[j+1]) {
			j++
		}
		if j-i >= 2 {
			list = append(list, holes[i]+"–"+holes[j])
			i = j + 1
			continue
		}
		list = append(list, holes[i])
		i++
	}
	return strings.Join(list, " ")
}

func follows(a, b string) bool {
	m, errA := strconv.Atoi(a)
	n, errB := strconv.Atoi(b)
	return errA == nil && errB == nil && m >= 0 && n == m+1
}
