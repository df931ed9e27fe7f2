package field

import (
	"math"

	"hedgerow/report/evidence"
)

// Priors of dosing to taste. The steps and the noise are judgement, the first of
// many looks comes early in our own simulation as in every series of rising steps.
const (
	UsedSDLn     = 0.20  // step from a glass to the beer that gets the very same extract
	HabitLn      = -0.12 // by how much going up an end is noted too early, ln dose; going down too late
	HabitSDLn    = 0.12
	UsualStep    = 1.25 // factor between two steps
	noteShare    = 0.6  // share of the variance of a vote that a note keeps: it rests on several sips
	logisticSD   = 1.81 // SD of a logistic number, pi/sqrt 3
	noteSDLn     = 0.10 // what the hand does to a dose in the glass
	ignoreKappa  = 3.5  // where the votes ignore the dose, who doses to taste still tastes:
	ignoreWindow = 0.45 // the middle of the grid of kappa and c
)

// A seriesTerm is one series of one taster: the shared numbers that shift its doses,
// the step from glass to beer and the habit among them. Its X is 0, each note has its own.
type seriesTerm struct {
	TrialTerm
	Taster int     // in the problem
	LnStep float64 // ln of the factor between two steps
}

// A noteTerm is one end of "just right" as a taster noted it, or did not get to. With
// z the distance of the dose X from the taster's right dose,
//
//	z - end c ~ N(0, s^2),  s^2 = 0.6 (1.81/kappa)^2 + 0.10^2 + (ln step/2)^2/3
type noteTerm struct {
	Series int     // in the problem
	X      float64 // ln of the dose, relative to the origin; of a note in the middle of its step
	End    float64 // -1: where it begins to be right, 1: where it begins to be too much
	Beyond float64 // 0: noted at X; 1: lies above X, -1: below, where the series was stopped
}

// noted returns the ln of the doses of the notes of a series, not relative, each with
// the end that it is of.
func noted(l evidence.ToTaste) (notes []noteTerm) {
	half, dir := 0.5*math.Log(stepOf(l)), 1.0
	if l.Direction == evidence.Down {
		dir = -1
	}
	for _, end := range []struct {
		dose *float64
		side float64
	}{{l.RightGPerL, -1}, {l.TooMuchGPerL, 1}} {
		switch {
		case end.dose != nil:
			// it changed somewhere in the last step
			notes = append(notes, noteTerm{X: math.Log(*end.dose) - dir*half, End: end.side})
		// going up the high end comes last, going down the low one: the other was passed unnoted
		case l.StoppedAtGPerL != nil && end.side == dir:
			notes = append(notes, noteTerm{X: math.Log(*l.StoppedAtGPerL), End: end.side, Beyond: dir})
		}
	}
	return notes
}

// stepOf returns the factor between two steps of a series.
func stepOf(l evidence.ToTaste) float64 {
	if l.StepFactor == nil {
		return UsualStep
	}
	return *l.StepFactor
}

// NoteVariance returns the variance of a note in ln dose when votes have the given
// steepness.
func NoteVariance(kappa, lnStep float64) float64 {
	vote := logisticSD / kappa
	return noteShare*vote*vote + noteSDLn*noteSDLn + lnStep*lnStep/12
}

// methodOf returns the method of a series.
func (p *Problem) methodOf(l evidence.ToTaste) string {
	if l.Method == "" {
		return p.Reference
	}
	return l.Method
}

// tasteStep is the step from a glass dosed to taste to a beer. An extract that is not
// the one that will be used takes the step of every dosed glass.
func (l *layout) tasteStep(s evidence.ToTaste) wanted {
	if s.Extract == evidence.Used {
		return wanted{"used " + l.methodOf(s), LnPrior{0, UsedSDLn}}
	}
	return glassStep(l.methodOf(s))
}

// habit is what a series in one direction does to every note of the panel.
func habit() wanted { return wanted{"habit", LnPrior{HabitLn, HabitSDLn}} }

// numberSeries gives the steps and the habit their indices where somebody dosed to
// taste.
func (l *layout) numberSeries() {
	for _, s := range l.study.DosedToTaste {
		l.number(l.tasteStep(s))
	}
	l.Used, l.Habit = -1, -1
	if len(l.study.DosedToTaste) > 0 {
		l.Habit = l.number(habit())
	}
	if k, ok := l.known["used "+l.Reference]; ok {
		l.Used = k
	}
}

// addSeries lays out one series with its notes.
func (l *layout) addSeries(s evidence.ToTaste, taster int) {
	term := seriesTerm{Taster: taster, LnStep: math.Log(stepOf(s))}
	if m := l.methodOf(s); m != l.Reference {
		term.shift(l.known["method "+m], 1)
	}
	term.shift(l.known[l.tasteStep(s).key], 1)
	// early on the way up is a low dose, early on the way down a high one
	by := -1.0
	if s.Direction == evidence.Down {
		by = 1
	}
	term.shift(l.Habit, by)
	term.wide = term.Count
	for _, n := range noted(s) {
		n.Series, n.X = len(l.Series), n.X-l.Origin
		l.Notes = append(l.Notes, n)
	}
	l.Series = append(l.Series, term)
}

// NoteWindow returns the steepness and half-width that the notes of a taster of the
// given sharpness have at a node.
func NoteWindow(n *Node, sharp float64) (kappa, c float64) {
	if n.Ignores {
		return ignoreKappa, ignoreWindow
	}
	return n.Kappa * sharp, n.C
}

// setNotes sets the noise of every series at the node, as its variance and the ln of
// its SD, and the window.
func (f *Field) setNotes() {
	for k := range f.Series {
		var kappa float64
		kappa, f.noteC = NoteWindow(&f.node, f.Sharp[f.Series[k].Taster])
		v := NoteVariance(kappa, f.Series[k].LnStep)
		f.noteVar[k] = v
		f.noteLnSD[k] = 0.5 * math.Log(v)
	}
}

// lnNote returns the ln probability of a note, and its first derivative and negative
// second derivative along z, for the shift of its series and the right ln dose of its
// taster.
func (f *Field) lnNote(o *noteTerm, shift, right float64) (lp, d1, w2 float64) {
	v := f.noteVar[o.Series]
	r := o.X + shift - right - o.End*f.noteC
	if o.Beyond == 0 {
		return -0.5*r*r/v - f.noteLnSD[o.Series], -r / v, 1 / v
	}
	sd := math.Sqrt(v)
	a := -o.Beyond * r / sd
	lnPhi, hazard := lnNormal(a)
	return lnPhi, -o.Beyond * hazard / sd, max(hazard*(hazard+a)/v, minCurvature)
}

// DoseUnder returns the effective ln dose of a trial or a series under the shared numbers
// s: its ln dose plus the potencies that shift it.
func (t *TrialTerm) DoseUnder(s []float64) float64 {
	e := t.X
	for i, l := range t.Lat[:t.Count] {
		e += t.By[i] * s[l]
	}
	return e
}

// lnNotes returns the ln density of what was noted in dosing to taste.
func (f *Field) lnNotes(v []float64) (lp float64) {
	s := v[f.Own:]
	for i := range f.Notes {
		o := &f.Notes[i]
		t := &f.Series[o.Series]
		l, _, _ := f.lnNote(o, t.DoseUnder(s), s[f.Theta]+v[2*t.Taster])
		lp += f.NoteTrust[t.Taster] * l
	}
	return lp
}

// assembleNotes adds the notes to gradient and entries, as assembleVotes does, and
// returns their ln density. What a series adds among the shared numbers is gathered at
// once: all of them are common ones.
func (f *Field) assembleNotes(v []float64) (lp float64) {
	s := v[f.Own:]
	for i := range f.Notes {
		o := &f.Notes[i]
		t := &f.Series[o.Series]
		u := 2 * t.Taster
		l, d1, w := f.lnNote(o, t.DoseUnder(s), s[f.Theta]+v[u])
		trust := f.NoteTrust[t.Taster]
		l, d1, w = trust*l, trust*d1, trust*w
		lp += l
		f.Grad[u] -= d1
		f.Core[u*f.Size+u] += w
		f.meet(&t.TrialTerm, u, -w)
		f.Core[(f.Own+f.Theta)*f.Size+u] += w
		f.gather(&t.TrialTerm, []float64{d1, w, 0, 0})
	}
	return lp
}
