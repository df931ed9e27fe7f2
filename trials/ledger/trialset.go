package ledger

import (
	"math"
	"slices"
	"time"

	"hedgerow/dilution"
	"hedgerow/extraction"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/steeps"
)

// Trial is a batch or child batch seen as one treatment with a material. A
// control has no dose. A batch that was tasted at several doses, because a plant lay in
// it or more was added, is a trial at each of them.
type Trial struct {
	Batch   trials.Batch // the beer itself
	Day     *float64     // age in days when it was tasted, for a later trial of one batch; nil for the first
	Group   string       // the brew it came from: the name of its oldest ancestor
	Style   string       // of that brew
	Ledger  Ledger       // its account
	Control bool         // no dose of the material

	AsWeighed  float64             // g of material as weighed per litre
	Effective  figure.Estimate     // effective dose of the material's own solute class when it was tasted, g/L
	AtOut      figure.Estimate     // the same once its plants have come out: see Axis
	InDays     *float64            // days that the plant had been in when it was tasted; nil for none put straight in
	Method     string              // of the largest addition
	Uses       []Use               // the additions of the material, in time order
	AddedL     float64             // liquid that went in with the material
	AddedShare float64             // share of the beer that is this liquid, 0..1; losses do not change it
	ABVBefore  float64             // strength without that liquid, % vol
	Last       dilution.StepResult // the account at its end
	FGRead     *float64            // last gravity read
	PH         *float64            // last pH read, corrected
	BrewedAt   time.Time           // when the brew began
	AddedAt    *time.Time          // when the material first went in
	TastedAt   []time.Time         // the first time first

	tastings []string // ids of those that are of this trial, where a batch has several
}

// Name is that of the batch, with the day for a later trial of it.
func (t Trial) Name() string {
	if t.Day == nil {
		return t.Batch.Name
	}
	return t.Batch.Name + "@" + trials.Number(math.Round(*t.Day)) + "d"
}

// Axis is the effective dose by which trials are inferred from, g/L: that of a plant
// when it came out, however early the beer was tasted, so that no dose moves with the
// day on which one looks; what more time in the beer does is told by InDays.
func (t Trial) Axis() float64 {
	if t.AtOut.OK {
		return t.AtOut.Value
	}
	return t.Effective.Value
}

// Use is one addition of a material, or of an extract made from it.
type Use struct {
	Addition trials.Addition // as logged
	OutAt    *time.Time      // when the plant came out, or is taken to; nil for what is no plant in beer
	Extract  *trials.Extract // nil for a material put in itself
}

// Method is the way in which the material was used.
func (u Use) Method() string {
	if u.Extract != nil {
		return u.Extract.Method
	}
	return u.Addition.Method
}

// Repeated is the addition as it would be made again: in for as long, with nothing
// weighed when it came out.
func (u Use) Repeated() *trials.Addition {
	a := u.Addition
	if u.OutAt != nil {
		minutes := u.OutAt.Sub(a.At).Minutes()
		a.Minutes, a.OutAt, a.SpentG = &minutes, nil, nil
	}
	return &a
}

// TrialSet is all trials of one material, with the scores they got in tastings
// that are closed.
type TrialSet struct {
	Material trials.Material  // whose trials they are
	Class    int              // the solute class that counts
	Trials   []Trial          // by effective dose
	Tastings []trials.Tasting // those that are closed
	Servings []trials.Serving // servings of these trials in closed tastings
	Scores   []Scored         // scores of these servings
	Claims   []trials.Claim   // advice on the material
	Dosed    []dosedGlass     // glasses of closed evenings of dosing to taste
	Sealed   []string         // names of tastings that still wait to be closed
	Peeked   []string         // names of tastings whose key was looked at before the end
	Changed  []string         // tastings in which scores changed after the key was open, with how many
	Open     []string         // names of tastings that were not blind
	Alone    []string         // names of tastings that were blind by shuffling, done by one person alone
	// names of batches with the material whose dose cannot be known, for want of an original
	// gravity
	NoLedger []string
	// names of other brewers' batches with the material: what strangers voted says little of
	// what this panel would call right, so they are no trials of the set; see OfOthers
	Others      []string
	OthersDosed []string // evenings on which other brewers dosed to taste, which are not inferred from
	// what one's own trials say is asked for alone: OfOthers has none
	OwnOnly bool

	brewer string    // id of the brewer; empty for one's own
	from   *gatherer // works out what is asked for later; nil for a set made by hand
}

// Other gathers the trials of another material of the same notebook, without
// intervals; none for a set made by hand.
func (s TrialSet) Other(m trials.Material) (TrialSet, error) {
	if s.from == nil {
		return TrialSet{Material: m}, nil
	}
	return s.from.gather(m)
}

// In is the set with the doses of the material in another solute class, such as the
// family of an attribute (see trials.FamilyOf). The set as it is for no class, for the
// one that its doses are of, and for a set made by hand.
func (s TrialSet) In(class string) (TrialSet, error) {
	if class == "" || class == trials.ClassNames[s.Class] || s.from == nil {
		return s, nil
	}
	// a gatherer of its own: what was worked out in the old class must not be found again
	g := *s.from
	g.closely = map[[2]string]Trial{}
	g.book = s.from.book.counting(s.Material.Key, class, s.from.detail)
	g.close = g.book.in(steeps.OneClass)
	m := s.Material
	m.Class = class
	other, err := g.gather(m)
	other.OwnOnly = s.OwnOnly
	return other, err
}

// SpreadLn is the standard deviation of the logarithm of the dose of a trial that is
// inferred from, by its index; 0 for a dose without doubt.
func (s TrialSet) SpreadLn(trial int) float64 {
	e := s.Trials[trial].AtOut
	if !e.OK {
		e = s.Trials[trial].Effective
	}
	if !e.HasBounds {
		e = s.Closely(trial).AtOut
	}
	if !e.HasBounds || e.Low <= 0 || e.High <= e.Low {
		return 0
	}
	// an interval of 95 % is 2 x 1.96 standard deviations wide
	return math.Log(e.High/e.Low) / (2 * 1.96)
}

// Closely is a trial, by its index, with the intervals of its doses and of its
// account, as far as they can be worked out. Those at the end of the account are the
// same at all tastings of a batch.
func (s TrialSet) Closely(trial int) Trial {
	t := s.Trials[trial]
	if s.from == nil {
		return t
	}
	// several looks at one set ask for the same trials, and intervals cost fifty times the best values
	key := [2]string{t.Batch.ID, s.Material.Key}
	if known, ok := s.from.closely[key]; ok {
		return known
	}
	list, err := s.from.close.trialsOf(t.Batch, s.Material, s.from.closedOf(t.Batch))
	if err != nil || len(list) == 0 {
		return t
	}
	s.from.closely[key] = list[0]
	return list[0]
}

// Scored is a score with what it is of.
type Scored struct {
	trials.Score
	Trial  int    // index into Trials
	Taster string // name of the taster
}

// plus adds two estimates; limits add, since the doubts are mostly shared.
func plus(a, b figure.Estimate) figure.Estimate {
	if !a.OK {
		return b
	}
	return figure.Estimate{Value: a.Value + b.Value, Low: a.Low + b.Low, High: a.High + b.High, U: a.U + b.U,
		Level: b.Level, HasBounds: a.HasBounds && b.HasBounds, OK: true}
}

// events reads what the comparison shows from the steps of the ledger.
func (t *Trial) events(n *trials.Notebook, l Ledger, m trials.Material, until int) {
	t.ABVBefore = t.Last.Estimates[dilution.QABV].Value
	taken := t.keptWhenTaken(l)
	var liquidL float64
	for _, s := range l.Steps[:until+1] {
		ours := s.Steep != nil && s.Steep.MaterialKey == m.Key
		if ours && t.AddedAt == nil {
			t.AddedAt = &s.At
		}
		switch {
		case ours || s.Kind == EventAddition && s.Addition.LiquidKind == "water":
			// of what went in only the share that is still here thins the beer that is tasted
			liquidL += s.AddedL * t.Last.KeptShare / s.Result.KeptShare
			t.AddedL += s.AddedL * min(1, taken/s.Result.KeptShare)
		case s.Kind == EventReading && s.Reading.SG != nil:
			t.FGRead = s.correctedGravity()
		}
		switch {
		case s.Kind == EventReading && s.Reading.PH != nil:
			p, _ := PHOf(n, *s.Reading)
			t.PH = &p.Value
		case s.Kind == EventAddition && !s.Addition.InWort():
			t.PH, t.FGRead = nil, nil // read before the addition: not of this trial
		}
	}
	// The strength without the added liquid: volumes of water and beer add to
	// within 0.05 %, which is 0.004 % vol (see package dilution).
	if v := t.Last.Estimates[dilution.QVolumeL].Value; v > liquidL {
		t.ABVBefore *= v / (v - liquidL)
		t.AddedShare = liquidL / v
	}
}

// keptWhenTaken is the kept share of the ledger when the batch was split off, 1
// for one that never was: of a liquid poured into an ancestor, a child got that
// share over the one at the pouring.
func (t *Trial) keptWhenTaken(l Ledger) float64 {
	for _, s := range l.Steps {
		if s.Kind == EventChild && s.Batch.ID == t.Batch.ID {
			return s.Result.KeptShare
		}
	}
	return 1
}

// correctedGravity is the gravity of a reading, that of the batch where the
// meter or a warm sample made a correction.
func (s ledgerStep) correctedGravity() *float64 {
	if s.Reading.MeterID == nil && s.Reading.SampleTempC == nil {
		return s.Reading.SG
	}
	sg := s.State().GravitySG.Value
	return &sg
}

// Attributes returns what was scored in the tastings, in first-seen order.
func (s TrialSet) Attributes() []string {
	var list []string
	for _, t := range s.Tastings {
		for _, a := range t.Attributes {
			if !slices.Contains(list, a) {
				list = append(list, a)
			}
		}
	}
	return list
}

// EffectivePerGram is the effective dose that a gram as advised comes to: the
// ratio seen in the trials, corrected for the basis of the advice, or for a
// material never tried the share that beer can carry.
func (s TrialSet) EffectivePerGram(basis string) float64 {
	var ratio, count float64
	for _, t := range s.Trials {
		if t.AsWeighed > 0 && t.Axis() > 0 {
			ratio += t.Axis() / t.AsWeighed
			count++
		}
	}
	if count > 0 {
		return ratio / count
	}
	freshShare := 0.2 // dry matter of a fresh plant over that of a dried one, from memory
	if w := s.Material.MoistureFresh; w != nil {
		// strawberries have half the dry matter of that: read as 0.2, the advice on them doubles
		const driedWater = 0.10
		freshShare = (1 - *w) / (1 - driedWater)
	}
	carried := extraction.Class(s.Class).Ceiling(0)
	if basis == "" {
		// read as dry, advice on a plant that is spoken of fresh is far too strong
		basis = s.Material.DefaultBasis
	}
	if basis == trials.BasisFresh {
		return carried * freshShare
	}
	return carried
}

// MethodSDLn is the spread of the potency of a method about the predicted
// effective dose before any trial, sd of the logarithm.
func (s TrialSet) MethodSDLn() float64 {
	return steeps.PriorPotency(s.Class, false).SDLn
}

// MaterialsUsed returns the keys of the materials that ever went into a batch,
// sorted.
func MaterialsUsed(n *trials.Notebook) []string {
	var keys []string
	h := newHistory(n.Index())
	for _, a := range n.Additions {
		key := h.materialIn(a)
		if key != "" && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	slices.Sort(keys)
	return keys
}
