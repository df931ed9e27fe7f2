package trials

import "time"

// Written is one write that the journal keeps.
type Written struct {
	At     time.Time `json:"at"`     // when it was done
	What   string    `json:"what"`   // its words
	Undone bool      `json:"undone"` // taken back, and can be done again
	Lost   bool      `json:"lost"`   // of an older version, cannot be taken back any more
}
