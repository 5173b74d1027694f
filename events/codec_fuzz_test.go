package events

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Both roads say the same about every input, what is read can be stored, and
// storing what was read changes nothing any more.
func FuzzDecode(f *testing.F) {
	for _, data := range frozen(f) {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var d Decoder
		var fast, slow Record
		taken := d.fast(data, &fast)
		err := slowDecode(data, &slow)
		if !taken {
			if err != nil {
				require.NotEmpty(t, err.Error())
				return
			}
			fast = slow
		}
		require.NoError(t, err, "the fast road took what the slow road refuses")
		require.Equal(t, slow, fast)
		once, err := Append(nil, &fast)
		require.NoError(t, err)
		if taken {
			require.Equal(t, string(data), string(once), "the fast road takes the canonical form only")
		}
		var again Record
		require.NoError(t, d.Decode(once, &again))
		require.Equal(t, fast, again)
		twice, err := Append(nil, &again)
		require.NoError(t, err)
		require.Equal(t, string(once), string(twice))
	})
}
