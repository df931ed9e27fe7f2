package quantity

import (
	"math"
	"testing"
)

// Temperatures are by hand from C = (F - 32) / 1.8 [4].
func TestParseTemperature(t *testing.T) {
	for _, c := range []limited{
		{"96C", 96, 0},
		{"96 c", 96, 0},
		{"96 °C", 96, 0},
		{"96°C", 96, 0},
		{"96 degrees C", 96, 0},
		{"96 degC", 96, 0},
		{"96 Celsius", 96, 0},
		{"-2C", -2, 0},
		{"−20 C", -20, 0},
		{"0C", 0, 0},
		{"110C", 110, 0},
		{"212F", 100, 0},
		{"50F", 10, 0},
		{"14F", -10, 0},
		{"68 degrees Fahrenheit", 20, 0},
		{"96C+-2C", 96, 2},
		{"96+-2C", 96, 2},
		{"212F+-9F", 100, 5},
	} {
		l, err := ParseTemperature(c.text)
		if c.value == 0 && err == nil && l.Value == 0 {
			continue
		}
		checkLimited(t, c, l, err)
	}
	for _, c := range []struct{ text, hint string }{
		{"96", "96C or 205F"},
		{"205C", "205 F"},
		{"111C", "111 F"},
		{"-21C", "check"},
		{"400F", "check"},
		{"300C", "check"},
		{"hot", "96C"},
		{"96C+-1 month", "weeks"},
		{"96 X", "96C"},
		{"96 K", "96C"},
		{"96L", "96C"},
		{"96C+-2%", "96C+-2C"},
		{"96C 5", "only"},
		{"96C>60C", "only"},
	} {
		_, err := ParseTemperature(c.text)
		wantError(t, c.text, err, c.hint)
	}
}

func TestParseTempSpan(t *testing.T) {
	for _, c := range []struct {
		text       string
		start, end float64 // end NaN for constant
	}{
		{"96C>60C", 96, 60},
		{"96>60C", 96, 60},
		{"96C > 60C", 96, 60},
		{"96C->60C", 96, 60},
		{"96C→60C", 96, 60},
		{"96C to 60C", 96, 60},
		{"96 to 60 °C", 96, 60},
		{"212F>140F", 100, 60},
		{"4C>-2C", 4, -2},
		{"20C", 20, math.NaN()},
	} {
		s, err := ParseTempSpan(c.text)
		switch {
		case err != nil:
			t.Error(err)
		case math.Abs(s.StartC-c.start) > 1e-9:
			t.Errorf("%q starts at %g C, want %g", c.text, s.StartC, c.start)
		case math.IsNaN(c.end) != (s.EndC == nil):
			t.Errorf("%q: end given is %t", c.text, s.EndC != nil)
		case s.EndC != nil && math.Abs(*s.EndC-c.end) > 1e-9:
			t.Errorf("%q ends at %g C, want %g", c.text, *s.EndC, c.end)
		}
	}
	for _, text := range []string{"96>60", "96C>", ">60C", "96C>60L", "205C>60C", "96C>160C", "96C>60C>20C"} {
		_, err := ParseTempSpan(text)
		wantError(t, text, err, "")
	}
}
