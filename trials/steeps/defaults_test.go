package steeps

import (
	"strings"
	"testing"
)

// The defaults shown with a material are those of its own kind: whole hard for
// juniper berries, whole thin for heather (table of forms, page on extraction).
func TestDefaultsShownWithAMaterial(t *testing.T) {
	materials := shipped(t)
	for key, want := range map[string]struct {
		whole string
		rate  float64
	}{"juniper-berry": {"whole hard", 0.05}, "heather": {"whole thin", 0.20}} {
		m, err := materials.Find(key)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, d := range SteepDefaults(m) {
			if strings.Contains(d.Name, want.whole) {
				found = true
				near(t, d.Name, d.Value, want.rate, 1e-9)
			}
			if d.Grade == "" || d.Source == "" {
				t.Errorf("%s: %s has grade %q and source %q", key, d.Name, d.Grade, d.Source)
			}
		}
		if !found {
			t.Errorf("%s: no rate of %s among %+v", key, want.whole, SteepDefaults(m))
		}
	}
}
