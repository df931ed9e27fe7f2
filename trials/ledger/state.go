package ledger

import (
	"hedgerow/dilution"
	"hedgerow/trials/figure"
)

// State is a batch at one moment.
type State struct {
	VolumeL        figure.Estimate // litres at 20 C
	GravitySG      figure.Estimate // SG 20/20
	OriginalSG     figure.Estimate // (equivalent) original gravity
	ABVPct         figure.Estimate // % vol, model uncertainty included
	ABVInputsPct   figure.Estimate // % vol, from the limits of the inputs alone
	RealExtractPct figure.Estimate // % mass
	IBU            figure.Estimate // bitterness, mg iso-alpha acids per litre
	SRM            figure.Estimate // colour, SRM units
	CO2Volumes     figure.Estimate // dissolved CO2, volumes
}

// StateOf names the figures of a result.
func StateOf(r dilution.StepResult) State {
	q := r.Estimates
	return State{
		VolumeL: q[dilution.QVolumeL], GravitySG: q[dilution.QSG], OriginalSG: q[dilution.QOriginalSG],
		ABVPct: q[dilution.QABV], ABVInputsPct: q[dilution.QABVInputs], RealExtractPct: q[dilution.QRealExtract],
		IBU: q[dilution.QIBU], SRM: q[dilution.QSRM], CO2Volumes: q[dilution.QCO2Volumes],
	}
}

// changeOf names what an addition changed; a figure that is unknown before or
// after is not OK. Errors that both share cancel in it.
func changeOf(r dilution.StepResult) State {
	return StateOf(dilution.StepResult{Estimates: r.Changes})
}

// Change returns what the step changed, for an addition or the fermentation in the
// package that has any effect on the balance.
func (s ledgerStep) Change() (State, bool) {
	c := changeOf(s.Result)
	return c, c.VolumeL.OK
}

// State returns the batch after the step.
func (s ledgerStep) State() State { return StateOf(s.Result) }

// Last returns the last step of the ledger.
func (l Ledger) Last() ledgerStep { return l.Steps[len(l.Steps)-1] }
