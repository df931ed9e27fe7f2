package checks

import (
	"fmt"
	"time"

	"hedgerow/trials/steeps"
)

// jugEvent is an event of an extract as a row gives it.
type jugEvent struct {
	Hours  float64  `json:"t_h"`
	PassL  *float64 `json:"pass_l"`
	Grams  float64  `json:"g"`
	TopUpL *float64 `json:"topup_l"`
	PourL  *float64 `json:"pour_l"`
}

// event is the same for the jug that the commands follow.
func (e jugEvent) event() (steeps.JugEvent, error) {
	// any moment will do, as only the hours between events count
	out := steeps.JugEvent{At: time.Unix(0, 0).Add(time.Duration(e.Hours * float64(time.Hour)))}
	switch {
	// one class stands for all: a pour takes the same share of each
	case e.PassL != nil:
		out.Kind, out.VolumeL, out.Grams[0] = steeps.JugPass, *e.PassL, e.Grams
	case e.TopUpL != nil:
		out.Kind, out.VolumeL = steeps.JugTopUp, *e.TopUpL
	case e.PourL != nil:
		out.Kind, out.VolumeL = steeps.JugPour, *e.PourL
	default:
		return out, fmt.Errorf("an event at %g h has none of pass_l, topup_l, pour_l", e.Hours)
	}
	if out.VolumeL < 0 || e.Grams < 0 {
		return out, fmt.Errorf("an event at %g h is below zero", e.Hours)
	}
	return out, nil
}

// jugLines follows the events of a row.
func jugLines(in *inputs) ([]steeps.JugLine, error) {
	var given []jugEvent
	in.must("events", &given)
	var events []steeps.JugEvent
	for _, g := range given {
		e, err := g.event()
		if err != nil {
			return nil, err
		}
		events = append(events, e)
	}
	lines := steeps.FollowJug("the extract", events)
	for _, l := range lines {
		if l.Problem != nil {
			return nil, l.Problem
		}
	}
	return lines, nil
}

// jugQuantity is what the n-th pour of an extract carried, or what is left after
// all of them, g.
func jugQuantity(figure string) (evaluator, bool) {
	read, ok := map[string]evaluator{"grams": pourGrams, "left_g": leftGrams}[figure]
	return read, ok
}

// pourGrams is what the n-th pour carried.
func pourGrams(in *inputs) (float64, error) {
	lines, err := jugLines(in)
	if err != nil {
		return 0, err
	}
	n := int(in.num("n"))
	for _, l := range lines {
		if l.Kind != steeps.JugPour {
			continue
		}
		if n--; n == 0 {
			return l.Grams[0], nil
		}
	}
	return 0, fmt.Errorf("there is no such pour")
}

// leftGrams is what is left after all events.
func leftGrams(in *inputs) (float64, error) {
	lines, err := jugLines(in)
	if err != nil || len(lines) == 0 {
		return 0, err
	}
	return lines[len(lines)-1].LeftG[0], nil
}
