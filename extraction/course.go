package extraction

import "math"

// Course is a plant that lies still in beer, day by day.
type Course struct {
	// Form is how it is broken up.
	Form Form
	// TempC is the temperature of the beer, C.
	TempC float64
	// ABVPct is its strength, % vol.
	ABVPct float64
	// InBag says that the plant is in a bag or sock.
	InBag bool
}

// minutesADay are the minutes of a day.
const minutesADay = 1440

// perDay is the rate constant of a family, 1/d.
func (c Course) perDay(f Class) float64 {
	still := rateStillCold
	if c.InBag {
		still *= rateInBag
	}
	return minutesADay * formRows[c.Form].K80 * f.rateAt(c.TempC) * still * solventRateFactor(c.ABVPct)
}

// Given returns the share of a family that has come out after so many days, and the
// same at a normal score z of the logarithm of the rate (0 for the best figure):
//
//	X(d) = w + (1 - w)(1 - exp(-k d)),  k = k80 rel theta(T; Ea) g s
//
// with w and k80 of the form, rel and Ea of the family, g = 0.10 (half in a bag) and
// s for the strength of the beer. Fresh tissue below 50 C counts its first day by
// the factor of live membranes. Errors: negative days, a temperature outside -20 to
// 110 C.
func (c Course) Given(f Class, days, z float64) (float64, error) {
	if err := firstError(checkNotNegative("time", days, "d"), checkTemp("temperature", c.TempC)); err != nil {
		return 0, err
	}
	row := &formRows[c.Form]
	// live membranes slow the first day only: after it the cells are dead
	live := min(days, 1)*(row.Live-1) + days
	if c.TempC >= liveMembraneC {
		live = days
	}
	// Expm1 keeps the digits of a short time, where exp(-k d) is nearly 1
	return row.Washed + (1-row.Washed)*-math.Expm1(-c.perDay(f)*live*math.Exp(z*c.rateSDLn())), nil
}

// DayFor returns the day on which a share of a family has come out: 0 for what is
// washed off at once. Errors: a share outside 0 to 1, or 1 itself, which is never
// reached.
func (c Course) DayFor(f Class, share float64) (float64, error) {
	if !(share >= 0 && share < 1) {
		return 0, Refuse("give a share below 1, such as 0.9", "share %s is outside 0 to 1", number(share))
	}
	row := &formRows[c.Form]
	if share <= row.Washed {
		return 0, nil
	}
	days := math.Log((1-row.Washed)/(1-share)) / c.perDay(f)
	switch {
	case row.Live == 1 || c.TempC >= liveMembraneC:
		return days, nil
	// out before the membranes have died: all of it at the pace of the first day
	case days <= row.Live:
		return days / row.Live, nil
	}
	return days + 1 - row.Live, nil
}

// rateSDLn is the sd of the logarithm of a rate in cold beer: of solute, size,
// stirring, and what 9 kJ/mol of doubt about the activation energy do that far from
// 80 C. One that lies about 1.24 at 20 C makes every time good to a factor of five.
func (c Course) rateSDLn() float64 {
	heat := eaSDKJ * 1000 / gasConstant * coldness(c.TempC)
	return math.Sqrt(soluteSDLn*soluteSDLn + sizeSDLn*sizeSDLn + agitateSDLn*agitateSDLn + heat*heat)
}

// TimesFactor is by what every time of the course is to be divided and multiplied
// for its 80 % interval.
func (c Course) TimesFactor() float64 { return math.Exp(normal80 * c.rateSDLn()) }

// normal80 is the 90 % point of the normal distribution.
const normal80 = 1.2815515655446004

// Advice is what to do with a plant that lies in beer.
type Advice string

// The advice, in the order in which it is looked for.
const (
	Wait    Advice = "wait"
	taste   Advice = "taste"
	PullNow Advice = "pull now"
	Done    Advice = "done"
)

// The limits of the advice: a share that is clearly on its way, and a gain per day
// below which tasters notice nothing. Judged.
const (
	wellUnderWay = 0.70
	fullyOut     = 0.90
	noticedADay  = 0.05
)

// Pull is the advice on a plant that lies in beer, with what it rests on.
type Pull struct {
	// Wanted is the family that it is for.
	Wanted Class
	// Advice is what to do.
	Advice Advice
	// Given is the share of the wanted family that has come out, with its 80 %
	// interval.
	Given, Low, High float64
	// Gain and Unwanted are what another day adds to the wanted and the unwanted
	// family, shares of all there is.
	Gain, Unwanted float64
	// FullDay is the day on which nine tenths of the wanted family have come out.
	FullDay float64
	// TooSlow says that FullDay lies beyond a week: another form or way would do.
	TooSlow bool
}

// Pull says whether to pull a plant out after so many days or to wait, for the
// family that is wanted and tannin, which is not: wait while less than 0.70 has come
// out; taste while it may be less; pull when a day adds less than 0.05 of it but
// 0.05 of tannin; done when it adds neither. Errors are those of Given.
func (c Course) Pull(wanted Class, days float64) (Pull, error) {
	p := Pull{Wanted: wanted}
	var next, tannin, later float64
	for _, g := range []struct {
		into   *float64
		family Class
		days   float64
		z      float64
	}{{&p.Given, wanted, days, 0}, {&p.Low, wanted, days, -normal80}, {&p.High, wanted, days, normal80},
		{&next, wanted, days + 1, 0},
		{&tannin, Tannin, days, 0}, {&later, Tannin, days + 1, 0}} {
		var err error
		if *g.into, err = c.Given(g.family, g.days, g.z); err != nil {
			return p, err
		}
	}
	p.Gain = next - p.Given
	// who wants the tannin loses nothing by waiting for it
	if wanted != Tannin {
		p.Unwanted = later - tannin
	}
	// the only error is of a share of 1, and fullyOut is a constant below it
	p.FullDay, _ = c.DayFor(wanted, fullyOut)
	p.TooSlow = p.FullDay > 7
	switch {
	case p.Given < wellUnderWay:
		p.Advice = Wait
	// the best figure says enough and its lower limit does not: the tongue has to decide
	case p.Low < wellUnderWay:
		p.Advice = taste
	case p.Gain < noticedADay && p.Unwanted >= noticedADay:
		p.Advice = PullNow
	case p.Gain < noticedADay:
		p.Advice = Done
	default:
		p.Advice = taste
	}
	return p, nil
}
