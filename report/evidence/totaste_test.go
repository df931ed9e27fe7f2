package evidence

import (
	"encoding/json"
	"errors"
	"reflect"
	"strings"
	"testing"
)

// readSeries reads a study with one series from its JSON.
func readSeries(t *testing.T, line string) Study {
	t.Helper()
	s := Study{ClaimsGPerL: [][2]float64{{1, 8}}}
	if err := json.Unmarshal([]byte(`{"dosed_to_taste":[`+line+`]}`), &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// A series is taken as it was noted, with what may be left out left out.
func TestToTasteTaken(t *testing.T) {
	for _, line := range []string{
		`{"taster":"A","extract":"used","direction":"up","right_g_per_l":1,"too_much_g_per_l":2}`,
		`{"taster":"A","extract":"other","direction":"up","step_factor":1.05,"right_g_per_l":1,"stopped_at_g_per_l":1}`,
		`{"taster":"A","extract":"other","direction":"down","step_factor":3,"too_much_g_per_l":9,"stopped_at_g_per_l":4}`,
		`{"taster":"A","tasting":"E","method":"tea","extract":"used","direction":"down","too_much_g_per_l":9}`,
		`{"taster":"A","extract":"used","direction":"up"}`,
	} {
		if err := readSeries(t, line).Validate(); err != nil {
			t.Errorf("%s: %v", line, err)
		}
	}
}

// What cannot have been noted is refused with the value as given and a hint.
func TestToTasteRefused(t *testing.T) {
	for _, tt := range []struct{ line, want string }{
		{`{"extract":"used","direction":"up","right_g_per_l":1}`, "no taster"},
		{`{"taster":"A","direction":"up","right_g_per_l":1}`, `extract ""`},
		{`{"taster":"A","extract":"tea","direction":"up","right_g_per_l":1}`, `extract "tea"`},
		{`{"taster":"A","extract":"used","direction":"left","right_g_per_l":1}`, `direction "left"`},
		{`{"taster":"A","extract":"used","direction":"up","step_factor":1.04}`, "step_factor 1.04"},
		{`{"taster":"A","extract":"used","direction":"up","step_factor":0}`, "step_factor 0"},
		{`{"taster":"A","extract":"used","direction":"up","step_factor":3.1}`, "step_factor 3.1"},
		{`{"taster":"A","extract":"used","direction":"up","right_g_per_l":0}`, "right_g_per_l 0"},
		{`{"taster":"A","extract":"used","direction":"up","too_much_g_per_l":1001}`, "too_much_g_per_l 1001"},
		{`{"taster":"A","extract":"used","direction":"up","stopped_at_g_per_l":-1}`, "stopped_at_g_per_l -1"},
		{`{"taster":"A","extract":"used","direction":"up","right_g_per_l":2,"too_much_g_per_l":1}`, "not above"},
		{`{"taster":"A","extract":"used","direction":"down","right_g_per_l":2,"too_much_g_per_l":2}`, "not above"},
		{`{"taster":"A","extract":"used","direction":"up","right_g_per_l":2,"stopped_at_g_per_l":1.5}`, "beyond"},
		{`{"taster":"A","extract":"used","direction":"down","too_much_g_per_l":2,"stopped_at_g_per_l":3}`, "beyond"},
	} {
		var input *InputError
		err := readSeries(t, tt.line).Validate()
		if !errors.As(err, &input) || !strings.Contains(err.Error(), tt.want) || input.Hint == "" {
			t.Errorf("%s: err = %v, want one with %q and a hint", tt.line, err, tt.want)
		}
	}
}

// In which order series were logged does not count, and one without a note is none.
func TestToTasteOrdered(t *testing.T) {
	a := `{"taster":"A","extract":"used","direction":"up","right_g_per_l":1}`
	b := `{"taster":"A","extract":"used","direction":"up","right_g_per_l":1.25}`
	none := `{"taster":"A","extract":"used","direction":"up","stopped_at_g_per_l":4}`
	one, two := readSeries(t, a+","+b+","+none).Ordered(), readSeries(t, b+","+none+","+a).Ordered()
	if !reflect.DeepEqual(one, two) || len(one.DosedToTaste) != 2 {
		t.Errorf("%+v and %+v differ, or have not 2 series", one.DosedToTaste, two.DosedToTaste)
	}
}
