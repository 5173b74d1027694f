package stream

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events/journal"
	"countback/events/journal/conformance"
)

func TestEmbeddedConforms(t *testing.T) {
	conformance.Run(t, func(t testing.TB) conformance.Store {
		cfg := testConfig(t)
		return conformance.Store{
			Open: func(t testing.TB) journal.Journal {
				s, err := Open(cfg)
				require.NoError(t, err)
				return s
			},
			Behead: behead,
		}
	})
}
