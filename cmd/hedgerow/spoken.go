package main

import (
	"slices"
	"strconv"
	"strings"

	"hedgerow/trials"
	"hedgerow/trials/idiom"
	"hedgerow/trials/quantity"
	"hedgerow/trials/spelling"
)

// speak turns the form and the way that were typed into the words of a record.
func (o *extractOptions) speak(e *env) error {
	_, err := e.spokenWay(&o.form, &o.as, &o.strength)
	return err
}

// spokenWay turns a form and a way as typed into the words of a record, and returns
// what the words for the way say besides. A strength that was typed wins over that
// of a spirit named.
func (e *env) spokenWay(form, as, strength *string) (idiom.Way, error) {
	known, notes, err := idiom.Form(*form)
	if err != nil {
		return idiom.Way{}, err
	}
	w, err := idiom.WayOf(*as)
	if err != nil {
		return w, err
	}
	*form, *as = known, w.Method
	if w.SpiritPct == 0 || *strength == "" {
		notes = append(notes, w.Notes...)
	}
	if w.SpiritPct > 0 && *strength == "" {
		*strength = strconv.FormatFloat(w.SpiritPct, 'f', -1, 64) + "%"
	}
	for _, note := range notes {
		e.taken(note)
	}
	return w, nil
}

// speak turns the form, the way and the stage that were typed into the words of a
// record; "in secondary" says the way and the stage.
func (o *additionOptions) speak(e *env) error {
	w, err := e.spokenWay(&o.form, &o.as, &o.strength)
	if err != nil {
		return err
	}
	if o.stage == "" {
		o.stage = w.Stage
	}
	o.stage = idiom.Stage(o.stage)
	o.bag = o.bag || w.InBag
	return nil
}

// corrected drops what people say before a corrected value: "no, 45g", "sorry,
// 1.012". A percentage or a sign of the old value is worked out in the hint.
func corrected(text string) string {
	for {
		rest := text
		for _, word := range []string{"no", "sorry", "actually", "rather"} {
			if after, ok := strings.CutPrefix(strings.ToLower(rest), word); ok && after != "" &&
				strings.ContainsAny(after[:1], " ,") {
				rest = strings.TrimLeft(rest[len(word):], " ,")
			}
		}
		if rest == text {
			return text
		}
		text = rest
	}
}

// sameLiquid adds the kind of liquid that is there to a new amount of it: "550ml"
// of water stays water, and vodka keeps its strength.
func (a *amounts) sameLiquid(was trials.Addition, amount string) string {
	_, notVolume := quantity.ParseVolume(amount, a.options)
	_, notMass := quantity.ParseMass(amount, a.options)
	if notVolume != nil && notMass != nil {
		return amount
	}
	amount += " " + was.LiquidKind
	if was.StrengthPct != nil {
		amount += " " + strconv.FormatFloat(*was.StrengthPct, 'f', -1, 64) + "%"
	}
	return amount
}

// nearTaster returns the known taster that a new name may be a slip for: one of the
// same number of words, of which one differs by a letter or two. Letters and numbers
// that tell tasters apart, as in Taster A and Taster B, are no slips.
func nearTaster(n *trials.Notebook, name string) string {
	for _, t := range n.Tasters {
		known, typed := strings.Fields(strings.ToLower(t.Name)), strings.Fields(strings.ToLower(name))
		if len(known) != len(typed) {
			continue
		}
		slips, others := 0, 0
		for i := range known {
			switch {
			case known[i] == typed[i]:
			case len(known[i]) > 3 && slices.Contains(spelling.Misspelt(typed[i], known[i:i+1]), known[i]):
				slips++
			default:
				others++
			}
		}
		if slips == 1 && others == 0 {
			return t.Name
		}
	}
	return ""
}
