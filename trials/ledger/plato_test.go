package ledger

import "testing"

func TestPlatoAsGravity(t *testing.T) {
	if got := SGFromPlato(12); got < 1.0483 || got > 1.0484 { // printed 12 P: 1.04833 to 1.0484
		t.Errorf("12 P is %g", got)
	}
	if got := SGFromPlato(500); got != 0 {
		t.Errorf("500 P is %g", got)
	}
}
