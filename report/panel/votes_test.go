package panel

import (
	"slices"
	"strings"
	"testing"
)

func TestCountVotes(t *testing.T) {
	got, err := CountVotes([]Vote{{"A", "x", -1}, {"B", "x", -1}, {"A", "y", 0}, {"B", "y", 1}, {"C", "y", -1}})
	if err != nil {
		t.Fatal(err)
	}
	want := []VoteCount{{"x", 2, 0, 0}, {"y", 1, 1, 1}}
	if !slices.Equal(got, want) {
		t.Errorf("counts = %v, want %v", got, want)
	}
	if got[0].Total() != 2 || got[0].Split() || !got[1].Split() {
		t.Errorf("totals or splits wrong in %v", got)
	}
}

func TestCountVotesRefuses(t *testing.T) {
	for _, v := range []Vote{{"A", "", 0}, {"A", "x", 2}} {
		if _, err := CountVotes([]Vote{v}); err == nil || !strings.Contains(err.Error(), `"A"`) {
			t.Errorf("vote %+v: error %v, want it refused by name", v, err)
		}
	}
}
