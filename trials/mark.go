package trials

import "time"

// Mark is something that happened to a blind tasting and cannot be undone: what
// was seen stays seen.
type Mark struct {
	ID        string    `json:"id"`         // stable random id
	TastingID string    `json:"tasting_id"` // id of the tasting
	Kind      string    `json:"kind"`       // peeked, closed, poured or scored
	At        time.Time `json:"at"`         // when it happened
	Count     int       `json:"count"`      // how many scores changed; 1 for the other kinds
}

// The kinds of mark.
const (
	MarkPeeked = "peeked" // the key was looked at while it was sealed
	MarkClosed = "closed" // the tasting was closed, which opens the key
	MarkPoured = "poured" // the pour sheet, with the key, was printed
	MarkScored = "scored" // scores were entered or changed after the key was open
)

// NewMark is a mark on a tasting.
func NewMark(t Tasting, kind string, count int, at time.Time) Mark {
	return Mark{ID: NewID(), TastingID: t.ID, Kind: kind, At: at.UTC(), Count: count}
}

// Marked counts the marks of a kind on a tasting and returns the last moment of
// one, nil for none.
func (n *Notebook) Marked(tastingID, kind string) (count int, last *time.Time) {
	for _, m := range n.Marks {
		if m.TastingID != tastingID || m.Kind != kind {
			continue
		}
		count += m.Count
		if last == nil || m.At.After(*last) {
			last = &m.At
		}
	}
	return count, last
}

// KeyOpen reports whether the key of a blind tasting may have been known at that
// moment: it was looked at, or the tasting was closed, be it reopened by undo.
// The pour sheet is for whoever does not score and opens nothing.
func (n *Notebook) KeyOpen(t Tasting, at time.Time) bool {
	if !t.Blind {
		return false
	}
	for _, m := range n.Marks {
		if m.TastingID == t.ID && (m.Kind == MarkPeeked || m.Kind == MarkClosed) && !m.At.After(at) {
			return true
		}
	}
	return false
}

// Unsealed takes the marks for what the tastings themselves no longer tell: a key
// that was seen stays seen, although the looking or the closing was taken back.
func (n *Notebook) Unsealed() {
	for i := range n.Tastings {
		t := &n.Tastings[i]
		for _, m := range n.Marks {
			seen := m.Kind == MarkPeeked || m.Kind == MarkClosed && (t.ClosedAt == nil || m.At.Before(*t.ClosedAt))
			if seen && m.TastingID == t.ID && (t.PeekedAt == nil || m.At.Before(*t.PeekedAt)) {
				t.PeekedAt = &m.At
			}
		}
	}
}
