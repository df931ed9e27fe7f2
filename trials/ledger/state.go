package ledger

import "hedgerow/dilution"

// Estimate is a figure with its doubt: Low and High hold only if HasBounds, the
// figure itself only if OK.
type Estimate = dilution.Estimate

// State is a batch at one moment.
type State struct {
	VolumeL        Estimate // litres at 20 C
	GravitySG      Estimate // SG 20/20
	OriginalSG     Estimate // (equivalent) original gravity
	ABVPct         Estimate // % vol, model uncertainty included
	ABVInputsPct   Estimate // % vol, from the limits of the inputs alone
	RealExtractPct Estimate // % mass
	IBU            Estimate
	SRM            Estimate
	CO2Volumes     Estimate
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

// State returns the batch after the step.
func (s LedgerStep) State() State { return StateOf(s.Result) }

// Last returns the last step of the ledger.
func (l Ledger) Last() LedgerStep { return l.Steps[len(l.Steps)-1] }
