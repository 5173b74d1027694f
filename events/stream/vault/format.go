package vault

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"countback/events"
)

// version is the only format of a store that this program knows.
const version = "1"

// OtherVersion says that a store or copy was written in a format that this
// program does not know.
type OtherVersion struct{ Path, Version string }

func (e *OtherVersion) Error() string {
	return fmt.Sprintf("%s has format %.20q, this program knows only %s; use the program that wrote it, or a newer one", e.Path, e.Version, version)
}

// formatText is the content of a store's format file ("store") and of a
// copy's ("copy").
func formatText(what string, shop events.Shop) []byte {
	return fmt.Appendf(nil, "countback %s %s\nshop %s\n", what, version, shop)
}

// checkFormat reads the format file of a store or copy. It reports false
// without an error if there is none.
func checkFormat(path, what string, shop events.Shop) (bool, error) {
	b, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, errNotDir) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	first, second, _ := strings.Cut(string(b), "\n")
	v, ok := strings.CutPrefix(first, "countback "+what+" ")
	if !ok {
		return false, fmt.Errorf("%s is no format file: %.40q", path, first)
	}
	if v != version {
		return false, &OtherVersion{Path: path, Version: v}
	}
	other, ok := strings.CutPrefix(strings.TrimSuffix(second, "\n"), "shop ")
	if !ok {
		return false, fmt.Errorf("%s is no format file: %.40q", path, second)
	}
	if other != string(shop) {
		return false, fmt.Errorf("%s belongs to shop %s, not to shop %s; name the other shop or another folder", path, other, shop)
	}
	return true, nil
}
