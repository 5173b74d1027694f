package plan

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func TestNameOf(t *testing.T) {
	p := sorrel(t)
	for _, row := range []struct {
		noun any
		want string
	}{
		{events.Part("head"), "Head"}, {events.Joint("oil-pan"), "Oil pan"}, {events.Step("cover-on"), "Cover on"}, {events.Cavity("sump"), "Sump"},
		{events.Loan("crank-pin"), "Crank timing pin"}, {events.Mark("two-turns"), "Two full turns by hand"}, {events.AuditPoint("ready-to-start"), "Ready to start"},
		{events.Part("ghost"), "ghost"}, {events.Mark(""), ""}, {17, ""},
	} {
		require.Equal(t, row.want, p.NameOf(row.noun), "%v", row.noun)
	}
}
