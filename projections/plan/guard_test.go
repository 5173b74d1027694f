package plan

import (
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
)

func loanIDs(p *Plan, loans []LoanIndex) []events.Loan {
	var out []events.Loan
	for _, l := range loans {
		out = append(out, p.Loans[l].ID)
	}
	return out
}

func cavityIDs(p *Plan, list []CavityIndex) []events.Cavity {
	var out []events.Cavity
	for _, c := range list {
		out = append(out, p.Cavities[c].ID)
	}
	return out
}

func TestStoppingAnAct(t *testing.T) {
	p := sorrel(t)
	s := NewPresent(p)
	require.Empty(t, s.Stopping(Turning))
	s.SetLoan(loan(t, p, "crank-pin"), 1)
	s.SetLoan(loan(t, p, "cam-bar"), 1)
	s.SetLoan(loan(t, p, "fuel-cap"), 2)
	s.SetLoan(loan(t, p, "rag"), 3)
	require.Equal(t, []events.Loan{"crank-pin", "cam-bar", "rag"}, loanIDs(p, s.Stopping(Turning)))
	require.Equal(t, []events.Loan{"crank-pin", "cam-bar", "fuel-cap"}, loanIDs(p, s.Stopping(Cranking)))
	s.SetPart(part(t, p, "cam-intake"), PartOff)
	s.SetPart(part(t, p, "cam-exhaust"), PartOff)
	require.Equal(t, []events.Loan{"crank-pin", "rag"}, loanIDs(p, s.Stopping(Turning)), "the bar lies on the bench with the cams")
}

func TestRemindingRefusesNothing(t *testing.T) {
	p := sorrel(t)
	s := apart(t, p)
	s.SetLoan(loan(t, p, "pulley-holder"), 1)
	on := stepsOfPlan(t, p, "accessories-on")[0]
	require.Equal(t, []events.Loan{"pulley-holder"}, loanIDs(p, s.Reminding(on)))
	for _, u := range s.CanDo(on) {
		require.NotContains(t, u.Text, "Pulley holder")
	}
}

func TestLoanOutWhenTheJointIsFinished(t *testing.T) {
	p := sorrel(t)
	s := finished(t, p)
	for _, i := range stepsOfPlan(t, p, coverOut[:13]...) {
		s.Do(i)
	}
	s.Greedy(BenchTogether)
	on := stepsOfPlan(t, p, "cover-on")[0]
	s.SetLoan(loan(t, p, "cover-guide-pin"), 2)
	require.True(t, s.Can(on), "the step takes its guide pins out itself")
	s.Do(on)
	require.Zero(t, s.Loan(loan(t, p, "cover-guide-pin")))
	s.SetSeat(seat(t, p, "front-cover:5"), SeatEmpty)
	s.SetLoan(loan(t, p, "cover-guide-pin"), 2)
	bracket := stepsOfPlan(t, p, "bracket-on")[0]
	require.False(t, s.Can(bracket), "the joint's last bolts go in")
}

func TestShutsAndReaches(t *testing.T) {
	p := sorrel(t)
	s := finished(t, p)
	for _, i := range stepsOfPlan(t, p, coverOut[:13]...) {
		s.Do(i)
	}
	require.Equal(t, []events.Cavity{"timing-case"}, cavityIDs(p, s.Shuts(stepsOfPlan(t, p, "cover-on")[0])))
	s.Do(stepsOfPlan(t, p, "access-plug-out")[0])
	require.Empty(t, s.Shuts(stepsOfPlan(t, p, "cover-on")[0]), "the bore is open still: the last opening closes it")
	require.Equal(t, []events.Cavity{"crankcase", "sump"}, cavityIDs(p, s.Shuts(stepsOfPlan(t, p, "pan-on")[0])))
	require.Equal(t, []events.Cavity{"cam-box", "timing-case", "crankcase", "sump"}, cavityIDs(p, p.Reaches(cavityOf(t, p, "cam-box"))))
}

func TestTrialAndOptionalStepsAreNeverOwed(t *testing.T) {
	p := sorrel(t)
	for id, owed := range map[string]bool{"mains-tried": false, "bar-in": false, "chain-hung": false, "bedplate-on": true} {
		require.Equal(t, owed, p.Steps[stepsOfPlan(t, p, id)[0]].Owed(), id)
	}
}
