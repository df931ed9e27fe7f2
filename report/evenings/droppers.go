package evenings

import (
	"fmt"
	"math/rand/v2"

	"hedgerow/report/panel"
	"hedgerow/trials"
)

// dropperCount is how many droppers an evening has: a strong one and a weak one.
const dropperCount = 2

// PlanDroppers puts codes on the droppers of an evening and gives each taster a glass that
// goes up and one that goes down, each from another dropper: half of the tasters, drawn at
// random, go up with the strong one. Done alone, the droppers stand by place until their
// codes are read.
func PlanDroppers(n *trials.Notebook, t trials.Tasting, s trials.ToTaste, tasters []string) (trials.DropperEvening,
	error) {
	v := trials.DropperEvening{Tasting: t, ToTaste: s}
	v.ToTaste.TastingID = t.ID
	var err error
	if v.Tasters, v.NewTasters, err = n.TastersNamed(tasters); err != nil {
		return v, err
	}
	if len(v.Tasters) == 0 {
		return v, trials.Refuse("name who tastes with --taster A --taster B, or --tasters 4", "nobody is there to taste")
	}
	codes, err := panel.Codes(dropperCount, uint64(t.Seed), nil)
	if err != nil {
		return v, err
	}
	low, high := min(codes[0], codes[1]), max(codes[0], codes[1])
	for i, code := range []int{low, high} {
		d := trials.Dropper{TastingID: t.ID, Code: fmt.Sprint(code), Strength: 1}
		// which of two random codes was drawn first is a coin
		if (codes[0] == low) == (i == 0) {
			d.Strength = 2
		}
		v.Droppers = append(v.Droppers, d)
	}
	order := rand.New(rand.NewPCG(uint64(t.Seed), dropperCount)).Perm(len(v.Tasters))
	for i, taster := range v.Tasters {
		up := order[i] % dropperCount
		if t.Alone {
			up = 0 // the place on the left, whatever stands there
		}
		giveGlasses(&v, taster, up)
	}
	return v, nil
}

// giveGlasses adds the two glasses of a taster, up being the dropper of the first.
func giveGlasses(v *trials.DropperEvening, taster trials.Taster, up int) {
	for number, direction := range []string{trials.DirectionUp, trials.DirectionDown} {
		v.Glasses = append(v.Glasses, trials.Dosing{TastingID: v.Tasting.ID, TasterID: taster.ID, Number: number + 1,
			Direction: direction})
		v.Uses = append(v.Uses, (up+number)%dropperCount)
	}
}

// JoinDroppers gives late tasters their glasses, the droppers by turns.
func JoinDroppers(n *trials.Notebook, t trials.Tasting, names []string) (trials.DropperEvening, error) {
	v := trials.DropperEvening{Tasting: t, Droppers: n.DroppersOf(t.ID)}
	switch {
	case t.ClosedAt != nil:
		return v, trials.Refuse("hedgerow tasting show "+t.Name, "tasting %s is closed", t.Name)
	case t.Alone:
		return v, trials.Refuse("set up another tasting, with --tasters 2", "tasting %s is done by one person alone", t.Name)
	}
	var err error
	if v.Tasters, v.NewTasters, err = n.TastersNamed(names); err != nil {
		return v, err
	}
	known := n.DosingsOf(t.ID)
	for i, taster := range v.Tasters {
		for _, d := range known {
			if d.TasterID == taster.ID {
				return v, trials.Refuse("hedgerow tasting sheet "+t.Name, "%s has glasses in tasting %s already", taster.Name,
					t.Name)
			}
		}
		giveGlasses(&v, taster, (len(known)/dropperCount+i)%dropperCount)
	}
	return v, nil
}
