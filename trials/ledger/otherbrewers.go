package ledger

import (
	"slices"
	"strings"
)

// OtherTrials are the trials of a material that another brewer made, with the scores
// that they got wherever they were poured.
type OtherTrials struct {
	Brewer   string // name of the brewer
	TrialSet        // without claims: those of the notebook stand in one's own set
}

// OfOthers gathers the trials of other brewers, in order of name. There are none in a
// set made by hand, and none where one's own are asked for alone.
func (s TrialSet) OfOthers() ([]OtherTrials, error) {
	if s.from == nil || s.OwnOnly || len(s.Others) == 0 {
		return nil, nil
	}
	var list []OtherTrials
	for id, name := range s.from.BrewerNames() {
		set, err := s.from.gatherOf(s.Material, id)
		if err != nil {
			return nil, err
		}
		if len(set.Trials)+len(set.NoLedger) > 0 {
			list = append(list, OtherTrials{name, set})
		}
	}
	slices.SortFunc(list, func(a, b OtherTrials) int { return strings.Compare(a.Brewer, b.Brewer) })
	return list, nil
}

// OwnPeople are the names of the tasters who scored an own beer with whatever material,
// in order of name.
func (s TrialSet) OwnPeople() []string {
	if s.from == nil {
		return nil
	}
	var names []string
	for _, v := range s.from.Servings {
		b, ok := s.from.BatchByID(v.BatchID)
		if !ok || b.Brewer != "" {
			continue
		}
		for _, i := range s.from.scores[v.ID] {
			names = append(names, s.from.TasterName(s.from.Scores[i].TasterID))
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}
