package trials

import (
	"strings"
	"testing"
)

func TestSettings(t *testing.T) {
	cases := []struct {
		key, value string
		want       string // part of the message; empty if allowed
	}{
		{SettingGallon, "us", ""}, {SettingGallon, "imperial", ""}, {SettingGallon, "UK", `"UK"`},
		{SettingUnits, "metric", ""}, {SettingUnits, "imperial", `"imperial"`},
		{SettingGravityLimit, "0.002", ""}, {SettingGravityLimit, "0", "not a number above 0"}, {SettingGravityLimit,
			"0.1", "up to 0.02"},
		{SettingGravityLimit, "two", `"two"`}, {SettingGravityLimit, "NaN", "NaN"}, {SettingVolumeLimit, "3",
			""}, {SettingVolumeLimit, "-3", "-3"}, {SettingVolumeLimit, "Inf", "Inf"},
	}
	for _, c := range cases {
		s, err := SettingNamed(c.key)
		if err != nil {
			t.Fatal(err)
		}
		err = s.Check(c.value)
		if c.want == "" && err != nil || c.want != "" && (CodeOf(err) != Invalid || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s = %s: %v", c.key, c.value, err)
		}
	}
	if _, err := SettingNamed("galon"); err == nil || !strings.Contains(err.(*Problem).Hint, SettingGallon) {
		t.Errorf("galon: %v", err)
	}
}

// Every default must be a value that Check allows, or a fresh notebook is wrong.
func TestDefaultsOfSettingsAreAllowed(t *testing.T) {
	for _, s := range KnownSettings() {
		if err := s.Check(s.Default); err != nil || s.What == "" {
			t.Errorf("%s: %v", s.Key, err)
		}
	}
}
