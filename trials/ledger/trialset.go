package ledger

import (
	"cmp"
	"slices"
	"time"

	"hedgerow/dilution"
	"hedgerow/trials"
)

// Trial is a batch or child batch seen as one treatment with a material. A
// control has no dose.
type Trial struct {
	Batch   trials.Batch
	Group   string // the brew it came from: the name of its oldest ancestor
	Ledger  Ledger
	Control bool

	AsWeighed   float64           // g of material as weighed per litre
	Effective   dilution.Estimate // effective dose of the material's own solute class, g/L
	ByClass     [trials.ClassCount]dilution.Estimate
	Method      string   // of the largest addition
	Additions   []string // names of the additions of the material
	AddedL      float64  // liquid that went in with the material
	AddedShare  float64  // share of the beer that is this liquid, 0..1; losses do not change it
	ABVBefore   float64  // strength without that liquid, % vol
	Last        dilution.StepResult
	FGRead      *float64 // last gravity read
	PH          *float64 // last pH read, corrected
	BrewedAt    time.Time
	AddedAt     *time.Time
	TastedAt    []time.Time
	StyleAndAge string
}

// TrialSet is all trials of one material, with the scores they got in tastings
// that are closed.
type TrialSet struct {
	Material trials.Material
	Class    int
	Trials   []Trial
	Tastings []trials.Tasting
	Servings []trials.Serving // servings of these trials in closed tastings
	Scores   []trials.Score   // scores of these servings
	Claims   []trials.Claim
	Sealed   []string // names of tastings that still wait to be closed
	Peeked   []string // names of tastings whose key was looked at before the end
	Open     []string // names of tastings that were not blind
	NoLedger []string // names of batches with the material whose dose cannot be known, for want of an original gravity
}

// Gather gathers the trials of a material: every batch that got it, and as
// controls the batches without it that were served beside them.
func Gather(n *trials.Notebook, m trials.Material) (TrialSet, error) {
	s := TrialSet{Material: m, Class: trials.ClassIndex(m)}
	for _, c := range n.Claims {
		if c.MaterialKey == m.Key {
			s.Claims = append(s.Claims, c)
		}
	}
	for _, b := range n.Batches {
		if !slices.Contains(MaterialsOf(n, b), m.Key) || onlyParent(n, b) {
			continue
		}
		if root(n, b).OG == nil {
			s.NoLedger = append(s.NoLedger, b.Name)
			continue
		}
		t, err := trialOf(n, b, m)
		if err != nil {
			return TrialSet{}, err
		}
		s.Trials = append(s.Trials, t)
	}
	s.tastings(n)
	return s, controls(n, &s)
}

// onlyParent reports whether a batch was wholly handed on to its children or
// was never tasted while they were: then the children are the trials.
func onlyParent(n *trials.Notebook, b trials.Batch) bool {
	return len(n.Children(b.ID)) > 0 && !served(n, b.ID)
}

// MaterialsOf lists the materials that went into a batch, its ancestors' history
// up to the split included.
func MaterialsOf(n *trials.Notebook, b trials.Batch) []string {
	var keys []string
	for _, e := range Events(n, b) {
		if e.Kind != EventAddition {
			continue
		}
		key := e.Addition.MaterialKey
		if e.Addition.ExtractID != nil {
			x, _ := n.ExtractByID(*e.Addition.ExtractID)
			key = x.MaterialKey
		}
		if key != "" && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	return keys
}

// served reports whether a batch was ever poured at a tasting.
func served(n *trials.Notebook, batchID string) bool {
	return slices.ContainsFunc(n.Servings, func(s trials.Serving) bool { return s.BatchID == batchID })
}

// trialOf looks at one batch as a treatment with a material.
func trialOf(n *trials.Notebook, b trials.Batch, m trials.Material) (Trial, error) {
	t := Trial{Batch: b, Group: root(n, b).Name, Control: true, BrewedAt: root(n, b).StartedAt}
	if root(n, b).OG == nil {
		return t, nil
	}
	l, err := Of(n, b)
	if err != nil {
		return t, err
	}
	t.Ledger, t.Last = l, l.Steps[len(l.Steps)-1].Result
	class, largest := trials.ClassIndex(m), 0.0
	for _, d := range l.Doses {
		if d.MaterialKey != m.Key {
			continue
		}
		t.Control = false
		t.AsWeighed += d.AsWeighed
		for c := range t.ByClass {
			t.ByClass[c] = plus(t.ByClass[c], d.GPerL[c])
		}
		if d.MassG > largest {
			largest, t.Method = d.MassG, d.Method
		}
		t.Additions = append(t.Additions, d.Addition)
	}
	t.Effective = t.ByClass[class]
	t.events(n, l, m)
	return t, nil
}

// root returns the oldest ancestor of a batch.
func root(n *trials.Notebook, b trials.Batch) trials.Batch {
	for b.ParentID != nil {
		parent, ok := n.BatchByID(*b.ParentID)
		if !ok {
			break
		}
		b = parent
	}
	return b
}

// plus adds two estimates; limits add, since the doubts are mostly shared.
func plus(a, b dilution.Estimate) dilution.Estimate {
	if !a.OK {
		return b
	}
	return dilution.Estimate{Value: a.Value + b.Value, Low: a.Low + b.Low, High: a.High + b.High, U: a.U + b.U, Level: b.Level, HasBounds: a.HasBounds && b.HasBounds, OK: true}
}

// events reads what the comparison shows from the steps of the ledger.
func (t *Trial) events(n *trials.Notebook, l Ledger, m trials.Material) {
	t.ABVBefore = t.Last.Estimates[dilution.QABV].Value
	taken := t.keptWhenTaken(l)
	var liquidL float64
	for _, s := range l.Steps {
		ours := s.Steep != nil && s.Steep.MaterialKey == m.Key
		if ours && t.AddedAt == nil {
			t.AddedAt = &s.At
		}
		switch {
		case ours || s.Kind == EventAddition && s.Addition.LiquidKind == "water":
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
	// within 0.05 %, which is 0.004 % vol (science of dilution, section 4).
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
func (s LedgerStep) correctedGravity() *float64 {
	if s.Reading.MeterID == nil && s.Reading.SampleTempC == nil {
		return s.Reading.SG
	}
	sg := s.State().GravitySG.Value
	return &sg
}

// tastings adds the closed tastings in which the trials were served, and names
// those still sealed.
func (s *TrialSet) tastings(n *trials.Notebook) {
	ours := map[string]bool{}
	for _, t := range s.Trials {
		ours[t.Batch.ID] = true
	}
	for _, t := range n.Tastings {
		if !slices.ContainsFunc(n.Servings, func(v trials.Serving) bool { return v.TastingID == t.ID && ours[v.BatchID] }) {
			continue
		}
		if t.Sealed() {
			s.Sealed = append(s.Sealed, t.Name)
			continue
		}
		if t.PeekedAt != nil {
			s.Peeked = append(s.Peeked, t.Name)
		}
		if !t.Blind {
			s.Open = append(s.Open, t.Name)
		}
		s.Tastings = append(s.Tastings, t)
		s.Servings = append(s.Servings, n.ServingsOf(t.ID)...)
	}
}

// controls adds the batches without the material that were served beside the
// trials, and the scores of all. A batch with a material that no trial has is no
// control: neither it nor its servings belong to the set.
func controls(n *trials.Notebook, s *TrialSet) error {
	known := map[string]bool{}
	var common []string
	for _, t := range s.Trials {
		known[t.Batch.ID] = true
		common = append(common, MaterialsOf(n, t.Batch)...)
	}
	beside := func(key string) bool { return key == s.Material.Key || !slices.Contains(common, key) }
	for _, v := range s.Servings {
		b, ok := n.BatchByID(v.BatchID)
		if !ok || known[v.BatchID] || slices.ContainsFunc(MaterialsOf(n, b), beside) {
			continue
		}
		t, err := trialOf(n, b, s.Material)
		if err != nil {
			return err
		}
		known[v.BatchID] = true
		s.Trials = append(s.Trials, t)
	}
	s.Servings = slices.DeleteFunc(s.Servings, func(v trials.Serving) bool { return !known[v.BatchID] })
	serving := map[string]bool{}
	for _, v := range s.Servings {
		serving[v.ID] = true
	}
	for _, sc := range n.Scores {
		if serving[sc.ServingID] {
			s.Scores = append(s.Scores, sc)
		}
	}
	s.stamp()
	slices.SortStableFunc(s.Trials, compareDose)
	return nil
}

// compareDose orders trials by effective dose, then by name.
func compareDose(a, b Trial) int {
	return cmp.Or(cmp.Compare(a.Effective.Value, b.Effective.Value), cmp.Compare(a.Batch.Name, b.Batch.Name))
}

// stamp notes for each trial when it was tasted.
func (s *TrialSet) stamp() {
	for i := range s.Trials {
		for _, v := range s.Servings {
			if v.BatchID != s.Trials[i].Batch.ID {
				continue
			}
			for _, t := range s.Tastings {
				if t.ID == v.TastingID && !slices.Contains(s.Trials[i].TastedAt, t.At) {
					s.Trials[i].TastedAt = append(s.Trials[i].TastedAt, t.At)
				}
			}
		}
	}
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

// beerShare is the share of the water class that beer can carry, for a claim on
// a material never tried; see package extraction.
var beerShare = [trials.ClassCount]float64{0.95, 0.75, 0.05}

// EffectivePerGram is the effective dose that a gram as advised comes to: the
// ratio seen in the trials, corrected for the basis of the advice, or for a
// material never tried the share that beer can carry.
func (s TrialSet) EffectivePerGram(basis string) float64 {
	var ratio, count float64
	for _, t := range s.Trials {
		if t.AsWeighed > 0 && t.Effective.Value > 0 {
			ratio += t.Effective.Value / t.AsWeighed
			count++
		}
	}
	if count > 0 {
		return ratio / count
	}
	const freshShare = 0.2 // dry matter of a fresh plant over that of a dried one, from memory
	if basis == trials.BasisFresh {
		return beerShare[s.Class] * freshShare
	}
	return beerShare[s.Class]
}

// MaterialsUsed returns the keys of the materials that ever went into a batch,
// sorted.
func MaterialsUsed(n *trials.Notebook) []string {
	var keys []string
	for _, a := range n.Additions {
		key := a.MaterialKey
		if a.ExtractID != nil {
			x, _ := n.ExtractByID(*a.ExtractID)
			key = x.MaterialKey
		}
		if key != "" && !slices.Contains(keys, key) {
			keys = append(keys, key)
		}
	}
	slices.Sort(keys)
	return keys
}
