package moment

import (
	"fmt"
	"time"
)

// shown is how a moment stands in a note.
const shown = "Monday 2006-01-02 15:04"

// resolve turns the day and the hour that were found into a moment.
func (p *parser) resolve() (reading, error) {
	if err := p.settleBare(); err != nil {
		return reading{}, err
	}
	if p.moment != nil {
		if p.day != nil || p.at != nil {
			return reading{}, p.fail(`write "day 10.4" alone, or "day 10 18:00"`, "says the hour twice")
		}
		return p.said(*p.moment), nil
	}
	if p.day == nil && p.at == nil {
		return reading{}, p.fail(examples, "cannot be read")
	}
	if p.day == nil {
		return p.hourAlone()
	}
	if p.at == nil {
		return p.dayAlone()
	}
	at, notes := p.local(*p.day, *p.at)
	return p.answer(at, notes, p.notable || p.hourWord != ""), nil
}

// settleBare makes "6 in the evening" an hour and asks about "at 6".
func (p *parser) settleBare() error {
	if p.bare == 0 {
		return nil
	}
	h := p.bare % 12
	switch p.hourWord {
	case "morning":
	case "afternoon", "evening", "night", "tonight":
		h += 12
	default:
		return p.fail(fmt.Sprintf("write %dam or %dpm", p.bare, p.bare), "does not say morning or evening")
	}
	p.at, p.hourWord = &hour{h: h}, ""
	return nil
}

// hourAlone takes today. A clock that is to come today may mean yesterday's.
func (p *parser) hourAlone() (reading, error) {
	today := dateOf(p.clock.Now)
	at, notes := p.local(today, *p.at)
	if at.After(p.clock.Now) {
		clock := fmt.Sprintf("%02d:%02d", p.at.h, p.at.m)
		return reading{}, p.fail(fmt.Sprintf(`write "today %s", which is to come, or "yesterday %s"`, clock, clock),
			"is still to come today")
	}
	return p.answer(at, notes, p.hourWord != ""), nil
}

// dayAlone takes the hour that a day without one stands for.
func (p *parser) dayAlone() (reading, error) {
	zone := p.clock.Now.Location()
	start, brew := p.clock.Start.In(zone), p.clock.Brew.In(zone)
	var at time.Time
	var notes []string
	switch {
	case p.ofBrew:
		at, notes = p.local(*p.day, hour{brew.Hour(), brew.Minute(), brew.Second()})
	case !p.clock.Start.IsZero() && dateOf(start) == *p.day:
		// the start itself, so that nothing comes before the batch it happened to
		at = start
	default:
		at, notes = p.local(*p.day, hour{h: 12})
	}
	if *p.day == dateOf(p.clock.Now) && at.After(p.clock.Now) {
		at = p.clock.Now
	}
	return p.answer(at, notes, p.notable || p.relative), nil
}

// answer returns the moment with its notes; notable is said in full, since a part
// of it was taken and not typed.
func (p *parser) answer(at time.Time, notes []string, notable bool) reading {
	r := p.said(at)
	if notable {
		notes = append(notes, fmt.Sprintf("%q is %s", shorten(p.text), at.In(p.clock.Now.Location()).Format(shown)))
	}
	r.Notes = append(notes, r.Notes...)
	return r
}

// said returns the moment, and whether it is to come. A minute of grace keeps a
// clock that is a little fast quiet.
func (p *parser) said(at time.Time) reading {
	return reading{At: at.UTC(), ToCome: at.After(p.clock.Now.Add(time.Minute))}
}
