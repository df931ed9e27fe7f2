package catalogue

import (
	"slices"
	"strings"
	"testing"
)

// 152 plants under 425 names, counted in the table by hand; false hellebore is
// a name of pheasant's eye and of white hellebore.
func TestStopListIsWhole(t *testing.T) {
	var plants, twice []string
	names := 0
	seen := map[string]bool{}
	c := mustLoad(t)
	for _, list := range c.stopped() {
		for _, p := range list {
			if slices.Contains(plants, p.Name) {
				continue
			}
			plants = append(plants, p.Name)
			for _, name := range append([]string{p.Name}, p.Variants...) {
				names++
				if low := strings.ToLower(name); seen[low] {
					twice = append(twice, low)
				} else {
					seen[low] = true
				}
				if got := c.StopPlants(name); !slices.ContainsFunc(got, func(f StopPlant) bool { return f.Name == p.Name }) {
					t.Errorf("%q does not lead to %s", name, p.Name)
				}
			}
			if p.Why == "" || p.Part == "" || p.Level == levelNote {
				t.Errorf("%s lacks a reason or a part, or is a mere %s", p.Name, p.Level)
			}
		}
	}
	if len(plants) != 152 || names != 425 {
		t.Errorf("%d plants under %d names, want 152 under 425", len(plants), names)
	}
	if !slices.Equal(twice, []string{"false hellebore"}) {
		t.Errorf("names of two plants: %q", twice)
	}
}

// The plants meant, told from the table by hand.
func TestStopPlants(t *testing.T) {
	c := mustLoad(t)
	for _, tc := range []struct{ name, want string }{
		{"tansy", "tansy"},
		{"Tansies", "tansy"},
		{"Common-Tansy", "tansy"},
		{"Tanacetum vulgare", "tansy"},
		{"Chrysanthemum vulgare", "tansy"}, // the older name, in brackets
		{"RUE", "rue"},
		{"pennyroyal", "pennyroyal"},
		{"foxglove", "foxglove"},
		{"yew tips", "yew"},
		{"ivy", "ivy"},
		{"lily of the valley", "lily of the valley"},
		{"false hellebore", "pheasant's eye;white hellebore"},
		{"ground ivy", ""},
		{"ragwort leaf", ""},
		{"heather", ""},
		{"bay leaf", ""},
		{"", ""},
	} {
		var got []string
		for _, p := range c.StopPlants(tc.name) {
			got = append(got, p.Name)
		}
		if strings.Join(got, ";") != tc.want {
			t.Errorf("%q is %q, want %q", tc.name, got, tc.want)
		}
	}
}

// No built-in material that may have a dose bears a name of the list.
func TestStopListSparesTheCatalogue(t *testing.T) {
	c := mustLoad(t)
	for _, m := range c.All() {
		if _, refused := c.NoDose(m); refused {
			continue
		}
		if got := c.StopPlants(m.Key, m.CommonName, m.BotanicalName); len(got) != 0 {
			t.Errorf("%s is %s of the stop list", m.Key, got[0].Name)
		}
	}
}

func TestOwnMaterialOfTheStopList(t *testing.T) {
	c := mustLoad(t)
	for _, m := range []Material{
		{Key: "tansy", Own: true}, {Key: "field-buttons", CommonName: "Golden buttons", Own: true},
	} {
		reason, refused := c.NoDose(m)
		if !refused || reason.HazardCode != "stop-list" || reason.SourceID != "NL01;L25" || reason.Evidence != evidenceRead {
			t.Errorf("%s: refused %v for %+v", m.Key, refused, reason)
		}
		if !strings.Contains(reason.Text, "thujone") {
			t.Errorf("%s: the caution does not say why: %s", m.Key, reason.Text)
		}
	}
	// Cinchona bark is limited, not forbidden (21 CFR 172.510).
	if reason, refused := c.NoDose(Material{Key: "cinchona-bark", Own: true}); refused {
		t.Errorf("cinchona bark is refused for %+v", reason)
	}
	if got := c.Cautions(Material{Key: "cinchona-bark", Own: true}); got[0].Level != LevelWarn {
		t.Errorf("cinchona bark has %+v first", got[0])
	}
}

// The name of a poisonous plant never means a harmless one of which it is a part:
// ivy is no ground ivy, buckthorn no sea buckthorn. Whole names of the tables stay
// what they are, on the list or not.
func TestStoppedNamesAreNoWordsOfOthers(t *testing.T) {
	c := mustLoad(t)
	for _, name := range []string{"ivy", "Ivy", "buckthorn"} {
		if found := c.Lookup(name); len(found) != 0 || len(c.StopPlants(name)) == 0 {
			t.Errorf("%q means %v", name, found)
		}
	}
	for name, key := range map[string]string{"ground ivy": "ground-ivy", "sea buckthorn": "sea-buckthorn",
		"sweet flag": "calamus"} {
		if found := c.Lookup(name); len(found) != 1 || found[0].Key != key {
			t.Errorf("%q means %v, want %s", name, found, key)
		}
	}
}
