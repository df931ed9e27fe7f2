package checks

import (
	"fmt"
	"strconv"

	"hedgerow/trials/quantity"
)

// unitConversion is an amount as typed, read into the unit of the row by what
// reads the amounts of every command.
func unitConversion(in *inputs) (float64, error) {
	// to the last digit, for the reading of an amount is checked, not its rounding
	text := strconv.FormatFloat(in.num("value"), 'g', -1, 64) + " " + in.text("frm")
	switch to := in.text("to"); to {
	case "L", "mL":
		v, err := quantity.ParseVolume(text, quantity.Options{})
		if to == "mL" {
			v.VolumeL.Value *= 1000
		}
		return v.VolumeL.Value, err
	case "g":
		m, err := quantity.ParseMass(text, quantity.Options{})
		return m.MassG.Value, err
	case "C":
		t, err := quantity.ParseTemperature(text)
		return t.Value, err
	default:
		return 0, fmt.Errorf("no command turns amounts into %q", to)
	}
}
