package trials

import "time"

// Suggestion is what was last suggested for a material, as it was given. It is kept to
// be told again without working anything out.
type Suggestion struct {
	ID          string    `json:"id"`           // stable random id
	MaterialKey string    `json:"material"`     // key of the material
	At          time.Time `json:"at"`           // when it was given
	Text        string    `json:"text"`         // its first sentence
	Verdict     string    `json:"verdict"`      // bench, retaste, drop, change, settled, repeat, try ...
	Method      string    `json:"method"`       // tea, cold-tea, contact ...; empty where none was named
	DoseGPerL   *float64  `json:"dose_g_per_l"` // effective; nil where none was given
	VolumeL     *float64  `json:"volume_l"`     // beer it was asked for
}
