package quantity_test

import (
	"errors"
	"fmt"

	"hedgerow/trials/quantity"
)

func ExampleParseVolume() {
	v, err := quantity.ParseVolume("2 1/2 gal", quantity.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(quantity.FormatVolume(v.VolumeL.Value, quantity.Metric))
	fmt.Println(v.Assumptions[0])
	// Output:
	// 9.46 L
	// gal is read as the US gal of 3.785 L
}

func ExampleParseDose() {
	for _, text := range []string{"3/4 oz per 5 gal", "10-15 g/L", "a handful per gallon"} {
		d, err := quantity.ParseDose(text, quantity.Options{Gallon: quantity.Imperial})
		var refused *quantity.Error
		switch {
		case errors.As(err, &refused):
			fmt.Println(refused)
			fmt.Println("hint:", refused.Hint)
		case d.IsRange:
			fmt.Printf("%s to %s\n", quantity.FormatDose(d.LowGPerL, quantity.Metric), quantity.FormatDose(d.HighGPerL,
				quantity.Metric))
		default:
			fmt.Println(quantity.FormatDose(d.LowGPerL, quantity.Metric))
		}
	}
	// Output:
	// 0.935 g/L
	// 10 g/L to 15 g/L
	// "a handful per gallon": it has no fixed weight
	// hint: weigh it and write grams or ounces
}

func ExampleParseAddition() {
	a, err := quantity.ParseAddition("250mL+-2% spirit 60+-1% 10+-5g/L", quantity.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, %g L +- %g L, %g %% vol +- %g, %g g/L of solids\n", a.Kind, a.VolumeL.Value, a.VolumeL.HalfWidth,
		a.StrengthPct.Value, a.StrengthPct.HalfWidth, a.SolidsGPerL.Value)
	// Output:
	// spirit, 0.25 L +- 0.005 L, 60 % vol +- 1, 10 g/L of solids
}

func ExampleParsePass() {
	p, err := quantity.ParsePass("400mL 96C>60C 30min stirred drained", quantity.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(quantity.FormatVolume(p.VolumeL.Value, quantity.Metric), p.Agitation, p.Separation)
	fmt.Println(quantity.FormatTemp(p.StartC, quantity.USUnits), "to", quantity.FormatTemp(*p.EndC, quantity.USUnits))
	fmt.Println(quantity.FormatDuration(p.Minutes))
	// Output:
	// 400 mL stirred drained
	// 204.8 F to 140 F
	// 30 min
}
