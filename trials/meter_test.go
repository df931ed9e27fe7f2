package trials

import (
	"strings"
	"testing"
)

func TestMetersThatCannotBe(t *testing.T) {
	named := func(m Meter) Meter { m.Name = "m-1"; return m }
	cases := []struct {
		m    Meter
		want string
	}{
		{Meter{Kind: MeterHydrometer}, ""},
		{Meter{Kind: MeterHydrometer, ScaleTempC: ptr(15.56), ZeroError: ptr(-0.002), ZeroLimit: ptr(0.0)}, ""},
		{Meter{Kind: "refractometer"}, `"refractometer"`},
		{Meter{Kind: MeterHydrometer, ScaleTempC: ptr(60.0)}, "scale temperature 60"},
		{Meter{Kind: MeterHydrometer, ZeroError: ptr(1.001)}, "zero error 1.001"},
		{Meter{Kind: MeterHydrometer, ZeroLimit: ptr(-0.001)}, "limit of the zero error"},
		{Meter{Kind: MeterPH, ScaleTempC: ptr(20.0)}, "pH meter has no scale"},
	}
	for _, c := range cases {
		err := named(c.m).Validate()
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%+v: %v, want %q", c.m, err, c.want)
		}
	}
}

func TestReadingsThatTheMeterCannotHaveGiven(t *testing.T) {
	n := &Notebook{Meters: []Meter{{Record: Record{ID: "h", Name: "float-1"}, Kind: MeterHydrometer},
		{Record: Record{ID: "p", Name: "ph-1"}, Kind: MeterPH}}}
	for _, c := range []struct {
		r    Reading
		want string
	}{
		{Reading{SG: ptr(1.01)}, ""},
		{Reading{SG: ptr(1.01), PH: ptr(4.4), MeterID: ptr("h")}, ""},
		{Reading{PH: ptr(4.4), MeterID: ptr("p")}, ""},
		{Reading{PH: ptr(4.4), MeterID: ptr("h")}, "no gravity was read"},
		{Reading{SG: ptr(1.01), MeterID: ptr("p")}, "no pH was read"},
		{Reading{SG: ptr(1.01), MeterID: ptr("gone")}, "not in the notebook"},
	} {
		err := n.CheckMeter(c.r)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
}
