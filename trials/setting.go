package trials

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Setting is one thing the user may set once for all.
type Setting struct {
	Key     string   // what the user types
	What    string   // what it decides, in a few words
	Default string   // taken where nothing is set
	Allowed []string // the words allowed; nil for a number
	Max     float64  // the largest number allowed
	Line    bool     // any line of text is allowed
}

// The keys of the settings.
const (
	SettingGallon       = "gallon"
	SettingUnits        = "units"
	SettingGravityLimit = "gravity-limit"
	SettingVolumeLimit  = "volume-limit"
	SettingCopies       = "copies"
	SettingHeading      = "heading"
)

// SettingNotebookID is the key under which a notebook keeps its own id, by which its
// brews are known again in another notebook. It is not for the user to set.
const SettingNotebookID = "notebook-id"

// KnownSettings returns the settings in the order they are listed.
func KnownSettings() []Setting {
	return []Setting{
		{Key: SettingGallon, What: "which gallon (and spoon, cup, fluid ounce) a plain one is", Default: "us",
			Allowed: []string{"us", "imperial"}},
		{Key: SettingUnits, What: "units that amounts are shown in", Default: "metric", Allowed: []string{"metric", "us"}},
		{Key: SettingGravityLimit, What: "how far a gravity reading may be off, SG", Default: "0.001", Max: MaxGravityLimit},
		{Key: SettingVolumeLimit, What: "how far a batch volume may be off, per cent", Default: "2",
			Max: 100 * MaxVolumeLimit},
		{Key: SettingCopies, What: "whether a copy of the notebook is made every week", Default: "on",
			Allowed: []string{"on", "off"}},
		{Key: SettingHeading, What: "a line that stands above every report", Line: true},
	}
}

// SettingNamed returns the setting with that key, or a Problem with near misses.
func SettingNamed(key string) (Setting, error) {
	return Find("setting", key, KnownSettings(), func(s Setting) string { return s.Key })
}

// Check refuses a value that the setting cannot have.
func (s Setting) Check(value string) error {
	if s.Allowed != nil {
		return checkWord("value for "+s.Key, value, s.Allowed)
	}
	if s.Line {
		return checkLine(s.Key, value)
	}
	v, err := strconv.ParseFloat(value, 64)
	if err != nil || !(v > 0 && v <= s.Max) {
		return Refuse("write a number such as "+s.Default, "%s %q is not a number above 0 and up to %s", s.Key, value,
			Number(s.Max))
	}
	return nil
}

// longestLine is how many characters a line of text may have.
const longestLine = 200

// checkLine refuses a text that is no single line or too long for one.
func checkLine(key, value string) error {
	// no line at all is the default
	if value == "" {
		return nil
	}
	if strings.TrimSpace(value) == "" || strings.ContainsAny(value, "\n\r") {
		return Refuse("write one line of text", "%s %q is not a line of text", key, value)
	}
	if n := utf8.RuneCountInString(value); n > longestLine {
		return Refuse("write a shorter one", "%s has %d characters, more than %d", key, n, longestLine)
	}
	return nil
}

// number reads a numeric setting, or its default.
func (s Setting) NumberIn(settings map[string]string) float64 {
	text := settings[s.Key]
	if text == "" {
		text = s.Default
	}
	// it was checked as it was set
	v, _ := strconv.ParseFloat(text, 64)
	return v
}

// DefaultGravityLimit and DefaultVolumeLimit are the limits taken where none is
// given: SG, and a share of the volume.
const (
	DefaultGravityLimit = 0.001
	DefaultVolumeLimit  = 0.02
)

// MaxGravityLimit and MaxVolumeLimit are the widest limits accepted: wider ones
// reach gravities and volumes that no beer has.
const (
	MaxGravityLimit = 0.02
	MaxVolumeLimit  = 0.5
)
