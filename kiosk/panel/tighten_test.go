package panel

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// tightRows are the rows of the panel's tightening group.
func tightRows(t *testing.T, scans ...string) []Row {
	t.Helper()
	s := newStage(t, scans...)
	for _, g := range s.panel().Groups {
		if g.Head == "Tightening" {
			return g.Rows
		}
	}
	return nil
}

func TestJointShowsItsStages(t *testing.T) {
	require.Empty(t, tightRows(t, "joint exhaust"), "as it came: nothing was tightened here")
	in := []string{"joint exhaust", "ALL OUT", "joint exhaust", "ALL IN"}
	rows := tightRows(t, append(in, "joint exhaust")...)
	require.Len(t, rows, 4)
	require.Equal(t, Row{Mark: Waits, Text: "1 torque 14 N.m: 0 of 9"}, rows[0])
	require.Equal(t, Row{Mark: Carried, Text: "3 torque 14 N.m, cold after the first heat: 0 of 9"}, rows[2])
	require.Equal(t, Now, rows[3].Mark)
	require.Contains(t, rows[3].Text, "Next: torque 14 N.m at ")

	rows = tightRows(t, append(in, "joint exhaust", "STAGE", "joint exhaust", "hole 1", "hole 2", "STAGE", "joint exhaust")...)
	require.Equal(t, Done, rows[0].Mark)
	require.Equal(t, Begun, rows[1].Mark)
	require.Contains(t, rows[1].Text, "2 torque 14 N.m: 2 of 9")
	require.Contains(t, rows[1].More, "missing at ")

	rows = tightRows(t, append(in, "joint exhaust", "hole 1", "STAGE NUMBER", "2", "joint exhaust")...)
	require.Equal(t, Look, rows[1].Mark, "out of order")
	require.Contains(t, rows[1].More, "do it again in order, or accept it")
}

func TestPartShowsHowDeepItIs(t *testing.T) {
	rows := func(scans ...string) []Row {
		for _, g := range newStage(t, scans...).panel().Groups {
			if g.Head == "Pressed in" {
				return g.Rows
			}
		}
		return nil
	}
	require.Empty(t, rows("part core-plugs", "WHERE IS"), "as it came: nobody pressed it in here")
	in := []string{"part core-plugs", "OFF", "part core-plugs", "ON", "part core-plugs", "STAGE", "0.98"}
	got := rows(in...)
	require.Equal(t, Row{Mark: Waits, Text: "1 press-depth 1 to 1.5 mm: 0 of 2"}, got[0])
	require.Equal(t, Look, got[1].Mark)
	require.Contains(t, got[1].More, "read it a second time")
	got = rows(append(in, "part core-plugs", "STAGE", "1.03")...)
	require.Equal(t, []Row{{Mark: Begun, Text: "1 press-depth 1 to 1.5 mm: 1 of 2", More: "missing at 2"}}, got)
	got = rows(append(in, "part core-plugs", "STAGE", "1.03", "part core-plugs", "STAGE", "1.2")...)
	require.Equal(t, []Row{{Mark: Done, Text: "1 press-depth 1 to 1.5 mm: 2 of 2"}}, got)
}
