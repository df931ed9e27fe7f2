package checks

import "hedgerow/extraction"

// courseOf reads a plant that lies in beer, with its family of solutes.
func courseOf(in *inputs) (extraction.Course, extraction.Class, error) {
	c := extraction.Course{TempC: in.num("T_C"), ABVPct: in.num("abv_pct")}
	in.must("bag", &c.InBag)
	var err error
	if c.Form, err = courseForm(in.text("form")); err != nil {
		return c, 0, err
	}
	f, err := extraction.ParseClass(in.text("family"))
	return c, f, err
}

// courseForm reads a form of the tables of plants in beer.
func courseForm(word string) (extraction.Form, error) {
	switch word {
	case "whole-hard":
		return extraction.FormFor(extraction.FormWords{Word: "whole", HardKind: true})
	case "fresh-whole":
		return extraction.FormFor(extraction.FormWords{Word: "fresh"})
	}
	return extraction.FormFor(extraction.FormWords{Word: word})
}

// courseQuantity is a figure of a plant that lies in beer, day by day.
func courseQuantity(figure string) (evaluator, bool) {
	read, ok := map[string]func(*inputs, extraction.Course, extraction.Class) (float64, error){
		"fraction_at_day": func(in *inputs, c extraction.Course, f extraction.Class) (float64, error) {
			return c.Given(f, in.num("days"), 0)
		},
		"fraction_quantile": func(in *inputs, c extraction.Course, f extraction.Class) (float64, error) {
			return c.Given(f, in.num("days"), in.num("z"))
		},
		"day_for_fraction": func(in *inputs, c extraction.Course, f extraction.Class) (float64, error) {
			return c.DayFor(f, in.num("fraction"))
		},
		"gain_next_day": func(in *inputs, c extraction.Course, f extraction.Class) (float64, error) {
			p, err := c.Pull(f, in.num("days"))
			return p.Gain, err
		},
	}[figure]
	return func(in *inputs) (float64, error) {
		c, f, err := courseOf(in)
		if err != nil {
			return 0, err
		}
		return read(in, c, f)
	}, ok
}

// familyQuantity is the rate of a family of solutes.
func familyQuantity(figure string) (evaluator, bool) {
	return func(in *inputs) (float64, error) {
		f, err := extraction.ParseClass(in.text("family"))
		if err != nil {
			return 0, err
		}
		return f.RateAt(in.num("T_C"))
	}, figure == "rate_factor"
}
