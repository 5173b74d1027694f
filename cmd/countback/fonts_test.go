package main

import (
	"os"
	"testing"

	"github.com/go-fonts/dejavu/dejavusansmono"
	"github.com/stretchr/testify/require"
)

// Names in the scripts of Europe print with what is built in; what no font has
// is printed as its number, and a font of the shop's own has it.
func TestNamesInOtherScripts(t *testing.T) {
	s := newShop(t)
	s.run("job", "open", "--plan", sorrel(t), "--engine", "Зелёный «Сорель» Ελιά Łódź ø").ends(statusDone)
	s.run("label", "job", "J1", "--to", "names.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("names.pdf")); ok {
		require.Contains(t, text, "Зелёный «Сорель» Ελιά Łódź ø")
	}
	s.run("job", "open", "--plan", sorrel(t), "--engine", "車 \u2313").ends(statusDone)
	s.run("label", "job", "J2", "--to", "other.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("other.pdf")); ok {
		require.Contains(t, text, "‹8ECA› ‹2313›")
	}
	require.NoError(t, os.WriteFile(s.path("mono.ttf"), dejavusansmono.TTF, 0o600))
	require.NoError(t, os.MkdirAll(s.path("config", "countback"), 0o755))
	settingsFile := s.path("config", "countback", "settings.yaml")
	require.NoError(t, os.WriteFile(settingsFile, []byte("fonts: ["+s.path("mono.ttf")+"]\n"), 0o600))
	s.run("label", "job", "J2", "--to", "added.pdf").ends(statusDone)
	if text, ok := pdfText(t, s.path("added.pdf")); ok {
		require.Contains(t, text, "‹8ECA› \u2313", "the added font has one of the two")
	}
	require.NoError(t, os.WriteFile(s.path("broken.ttf"), []byte("no font"), 0o600))
	for file, want := range map[string]string{"broken.ttf": "no TrueType file", "nowhere.ttf": "no such file"} {
		require.NoError(t, os.WriteFile(settingsFile, []byte("fonts: ["+s.path(file)+"]\n"), 0o600))
		s.run("label", "job", "J2", "--to", file+".pdf").ends(statusUsage).warns(want)
	}
}
