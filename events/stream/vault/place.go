package vault

import (
	"fmt"
	"path/filepath"

	"countback/events"
	"countback/events/journal"
)

// Place says where a store and what protects it are.
type Place struct {
	Shop events.Shop
	Dir  string // the store
	// Guard holds the protected copy. Empty means beside the store: Dir
	// followed by ".guard". Another disk is better.
	Guard string
	// Mark is the high-water mark. Empty means Dir followed by ".mark".
	// It must not lie in Dir.
	Mark string
}

// StreamName is the name of a shop's stream.
func StreamName(shop events.Shop) string { return "countback-" + string(shop) }

// full fills in the defaults and refuses what cannot work.
func (p Place) full() (Place, error) {
	if err := journal.CheckName("shop", string(p.Shop)); err != nil {
		return p, err
	}
	if p.Dir == "" {
		return p, fmt.Errorf("store of shop %s: no folder named", p.Shop)
	}
	dir, err := filepath.Abs(p.Dir)
	if err != nil {
		return p, fmt.Errorf("store %s: %w", p.Dir, err)
	}
	p.Dir = dir
	if p.Guard == "" {
		p.Guard = p.Dir + ".guard"
	}
	if p.Mark == "" {
		p.Mark = p.Dir + ".mark"
	}
	for _, path := range []string{p.Guard, p.Mark} {
		if rel, err := filepath.Rel(p.Dir, path); err == nil && filepath.IsLocal(rel) {
			return p, fmt.Errorf("store %s: %s lies inside it and would be lost with it; name a place outside", p.Dir, path)
		}
	}
	return p, nil
}

func (p Place) stream() string     { return StreamName(p.Shop) }
func (p Place) lockPath() string   { return filepath.Join(p.Dir, "lock") }
func (p Place) formatPath() string { return filepath.Join(p.Dir, "format") }

// ServerDir is the folder that the server is given as its own.
func (p Place) ServerDir() string { return filepath.Join(p.Dir, serverName) }

const serverName = "js"

// streamDir and blockDir are where the server keeps the stream below a folder
// of its own.
func (p Place) streamDir(server string) string {
	return filepath.Join(server, "jetstream", "$G", "streams", p.stream())
}

func (p Place) blockDir() string { return filepath.Join(p.streamDir(p.ServerDir()), "msgs") }
