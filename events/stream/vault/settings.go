package vault

import (
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
)

// The stream's settings as the server keeps them: JSON, and a checksum of it.
const (
	settingsFile = "meta.inf"
	settingsSum  = "meta.sum"
)

var settingsFiles = []string{settingsFile, settingsSum}

// checkSettings verifies the settings of a stream in dir; the server does not
// open a stream whose settings are damaged.
func checkSettings(dir, stream string) error {
	path := filepath.Join(dir, settingsFile)
	b, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	sum, err := os.ReadFile(filepath.Join(dir, settingsSum))
	if err != nil {
		return err
	}
	h := streamHash(stream)
	h.Write(b)
	if hex.EncodeToString(h.Sum(nil)) != string(sum) {
		return fmt.Errorf("%s: checksum does not match", path)
	}
	var settings struct {
		Name string `json:"name"`
	}
	if err := json.Unmarshal(b, &settings); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if settings.Name != stream {
		return fmt.Errorf("%s: is of stream %q, not %q", path, settings.Name, stream)
	}
	return nil
}
