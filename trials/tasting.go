package trials

import (
	"slices"
	"strings"
	"time"

	"hedgerow/trials/spelling"
)

// Tasting is an evening: servings under codes, scored by tasters.
type Tasting struct {
	Record
	At         time.Time  `json:"at"`          // when it is held
	Attributes []string   `json:"attributes"`  // what is scored, in the user's words
	Blind      bool       `json:"blind"`       // codes hid what was in the glass
	ClosedAt   *time.Time `json:"closed_at"`   // when the key was opened for good; nil before
	PeekedAt   *time.Time `json:"peeked_at"`   // first time that the key of a sealed tasting was looked at
	Seed       int64      `json:"seed"`        // of the codes and the serving orders
	FlightSize int        `json:"flight_size"` // most glasses before a pause
	Note       string     `json:"note"`        // free text

	Alone        bool       `json:"alone"`          // by one person who shuffled the cups; see PlacesReadAt
	PlacesReadAt *time.Time `json:"places_read_at"` // when the codes under the cups were read; nil before
}

// Sealed reports whether the key of the tasting must still stay hidden.
func (t Tasting) Sealed() bool { return t.Blind && t.ClosedAt == nil }

// Serving is one coded glass of a batch; the code is the same for all tasters.
type Serving struct {
	ID        string `json:"id"`         // stable random id
	TastingID string `json:"tasting_id"` // id of the tasting
	BatchID   string `json:"batch_id"`   // id of the batch
	Code      string `json:"code"`       // three digits, the same for all tasters
	Repeat    bool   `json:"repeat"`     // a hidden repeat of another serving
}

// Taster is someone who scores, known by a name or a letter.
type Taster struct {
	Record
	Note string `json:"note"` // free text
}

// Score is what one taster said of one attribute of one serving. Any of the
// three answers may be missing.
type Score struct {
	ID        string    `json:"id"`         // stable random id
	TastingID string    `json:"tasting_id"` // id of the tasting
	ServingID string    `json:"serving_id"` // id of the serving
	TasterID  string    `json:"taster_id"`  // id of the taster
	Attribute string    `json:"attribute"`  // what was scored, in the words of the tasting
	Intensity *float64  `json:"intensity"`  // 0 to 10
	Vote      *int      `json:"vote"`       // -1 too little, 0 just right, 1 too much
	Liking    *float64  `json:"liking"`     // 1 to 9, with the attribute Overall
	Position  *int      `json:"position"`   // place in the taster's serving order, from 1
	At        time.Time `json:"at"`         // when it was given
}

// TasterNote is free text of one taster on one serving.
type TasterNote struct {
	ID        string    `json:"id"`         // stable random id
	TastingID string    `json:"tasting_id"` // id of the tasting
	ServingID string    `json:"serving_id"` // id of the serving
	TasterID  string    `json:"taster_id"`  // id of the taster
	At        time.Time `json:"at"`         // when it was written
	Text      string    `json:"text"`       // as it was written
}

// Overall is the attribute under which liking is kept.
const Overall = "overall"

// Validate refuses a tasting without a usable name or attribute.
func (t Tasting) Validate() error {
	if err := CheckName("tasting", t.Name); err != nil {
		return err
	}
	if len(t.Attributes) == 0 {
		return Refuse("add --attribute tartness", "the tasting scores nothing")
	}
	for _, a := range t.Attributes {
		if a == Overall || strings.ContainsAny(a, ",=;\"") || strings.TrimSpace(a) == "" {
			return Refuse("use a word or two such as tartness; liking is always asked", "attribute %q cannot be used", a)
		}
	}
	return nil
}

// Validate refuses an answer outside its scale and an attribute that the
// tasting does not score.
func (s Score) Validate(t Tasting) error {
	if s.Attribute != Overall && !slices.Contains(t.Attributes, s.Attribute) {
		// cloned, for append could write into the attributes of the tasting
		return Refuse(spelling.Hint(s.Attribute, append(slices.Clone(t.Attributes), "liking")),
			"tasting %s does not score %q", t.Name, s.Attribute)
	}
	if err := CheckRange(s.Attribute+" intensity", s.Intensity, 0, 10, ""); err != nil {
		return err
	}
	if err := CheckRange("liking", s.Liking, 1, 9, ""); err != nil {
		return err
	}
	if s.Vote != nil && (*s.Vote < -1 || *s.Vote > 1) {
		return Refuse("write little, right or much", "vote %d is none of -1, 0, 1", *s.Vote)
	}
	return nil
}

// VoteWords are the words of the votes, by vote + 1.
var VoteWords = [3]string{"too little", "just right", "too much"}

// ParseVote reads a vote as people write it: "too little", "little", "right",
// "just right", "much", "too much", or -1, 0, 1.
func ParseVote(text string) (int, error) {
	// before the hyphens go, which would make it a plain 1
	if strings.TrimSpace(text) == "-1" {
		return -1, nil
	}
	word := strings.Join(strings.FieldsFunc(strings.ToLower(text),
		func(r rune) bool { return r == ' ' || r == '-' || r == '_' }), " ")
	switch word {
	case "too little", "little", "low":
		return -1, nil
	case "just right", "right", "ok", "0":
		return 0, nil
	case "too much", "much", "high", "1", "+1":
		return 1, nil
	}
	return 0, Refuse("write little, right or much", "vote %q is not known", text)
}
