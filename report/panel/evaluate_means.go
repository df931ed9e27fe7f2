package panel

import "fmt"

func checkTukey(in checkInputs, t *table) (map[string]float64, error) {
	m, err := MixedModel(t.scores(in.Response, in.Treatment, in.Block), checkedLevel)
	if err != nil {
		return nil, err
	}
	list, err := m.Tukey()
	if err != nil {
		return nil, err
	}
	return pairP(list, in.A, in.B)
}

func checkDunnett(in checkInputs, t *table) (map[string]float64, error) {
	m, err := MixedModel(t.scores(in.Response, in.Treatment, in.Block), checkedLevel)
	if err != nil {
		return nil, err
	}
	list, _, err := m.Dunnett(in.Control)
	if err != nil {
		return nil, err
	}
	return pairP(list, in.Level, in.Control)
}

// pairP finds the p of one pair, in either direction.
func pairP(list []Comparison, a, b string) (map[string]float64, error) {
	for _, c := range list {
		if c.A == a && c.B == b || c.A == b && c.B == a {
			return map[string]float64{"p": c.P}, nil
		}
	}
	return nil, fmt.Errorf("no pair %q and %q", a, b)
}

func checkRanks(in checkInputs, t *table) (map[string]float64, error) {
	r, err := Friedman(t.scores(in.Response, in.Treatment, in.Block))
	if err != nil {
		return nil, err
	}
	return map[string]float64{"chi2": r.chi2, "p": r.chiSquared, "w": r.W}, nil
}
