package quantity

import "testing"

func TestParsePercent(t *testing.T) {
	for _, c := range []limited{
		{"10%", 10, 0},
		{"10 %", 10, 0},
		{"10 percent", 10, 0},
		{"7,5%", 7.5, 0},
		{"100%", 100, 0},
		{"40% vol", 40, 0},
		{"40 % ABV", 40, 0},
		{"60+-1%", 60, 1},
		{"60%+-1%", 60, 1},
		{"60% ± 1", 60, 1},
	} {
		l, err := ParsePercent(c.text)
		checkLimited(t, c, l, err)
	}
	if l, err := ParsePercent("0%"); err != nil || l.Value != 0 {
		t.Errorf("0%% = %v, %v", l, err)
	}
	for _, c := range []struct{ text, hint string }{
		{"0.1", "10% or 0.1%"},
		{"10", "10%"},
		{"110%", "0% to 100%"},
		{"100.5%", "0% to 100%"},
		{"-1%", "0% to 100%"},
		{"10 g", "10%"},
		{"ten per", "10%"},
		{"10%%", "only"},
		{"60+-200%", "60+-1%"},
	} {
		_, err := ParsePercent(c.text)
		wantError(t, c.text, err, c.hint)
	}
}

// A pH stands in the words of a pass alone.
func TestPH(t *testing.T) {
	for _, c := range []limited{
		{"4.32", 4.32, 0},
		{"4,32", 4.32, 0},
		{"pH 4.32", 4.32, 0},
		{"ph4.3", 4.3, 0},
		{"14", 14, 0},
		{"4.3+-0.05", 4.3, 0.05},
	} {
		l, err := parse(c.text, Options{}, "pH", "4.32", (*reader).acidity)
		checkLimited(t, c, l, err)
	}
	for _, c := range []struct{ text, hint string }{
		{"14.1", "4.32"},
		{"-1", "4.32"},
		{"432", "4.32"},
		{"4.3%", "4.32"},
		{"4.3+-1%", "4.32"},
		{"sour", "4.32"},
		{"4.3 4.4", "only"},
	} {
		_, err := parse(c.text, Options{}, "pH", "4.32", (*reader).acidity)
		wantError(t, c.text, err, c.hint)
	}
}
