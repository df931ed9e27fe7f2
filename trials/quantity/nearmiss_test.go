package quantity

import (
	"strings"
	"testing"
)

// TestNearMissOfUnits changes one letter of every long unit name and expects the
// name among the suggestions.
func TestNearMissOfUnits(t *testing.T) {
	for _, name := range unitNames() {
		if len(name) < 6 || strings.Contains(name, " ") || strings.HasSuffix(name, "s") {
			continue
		}
		wrong := name[:len(name)-2] + "z" + name[len(name)-1:]
		_, err := ParseVolume("1 "+wrong, Options{})
		wantError(t, wrong, err, name)
	}
}
