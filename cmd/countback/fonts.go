package main

import (
	"os"

	"countback/labels/page"
)

// fonts are the built-in ones, with those of the settings behind them; nil
// where the settings name none.
func (s settings) fonts() (*page.Fonts, error) {
	if len(s.Fonts) == 0 {
		return nil, nil
	}
	var more [][]byte
	for _, file := range s.Fonts {
		data, err := os.ReadFile(file)
		if err != nil {
			return nil, usage("fonts: %w; name TrueType files", err)
		}
		if _, err := page.NewFonts(data); err != nil {
			return nil, usage("fonts: %s: %w; a font that can be used is a TrueType file (.ttf)", file, err)
		}
		more = append(more, data)
	}
	f, err := page.NewFonts(more...)
	if err != nil {
		return nil, usage("fonts: %w", err)
	}
	return f, nil
}
