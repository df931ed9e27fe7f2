package evidence

import "math"

// fallingSDs is how many standard errors the votes must fall with the dose before a
// taste is said to fall: one chance in 700 for votes that do not (judgement; a dose
// is taken away by it).
const fallingSDs = 3.0

// fallingDoses is how many doses, the undosed beer among them, it takes: two that run
// against each other are a contradiction.
const fallingDoses = 3

// A Falling is a taste that gets weaker as the dose rises, such as body under a tea:
// votes at the lowest and at the highest dose.
type Falling struct {
	LowGPerL, HighGPerL   float64 // 0 for an undosed beer
	LowLittle, LowVotes   int     // votes of too little, and all
	HighLittle, HighVotes int     // the same at the highest dose
}

// Falling returns how a taste falls as the dose rises; nil when it does not. It does
// when the least-squares line of votes against dose falls by more than fallingSDs of
// its standard errors, undosed beers included, and that of the intensities does not
// rise. Such a taste has no right dose: the dose of least harm is none.
func (s Study) Falling() *Falling {
	var votes, marks fallingLine
	low, high := math.Inf(1), math.Inf(-1)
	doses := map[float64]bool{}
	for _, t := range s.Trials {
		for _, sc := range t.Scores {
			if sc.Vote != nil {
				votes.add(t.DoseGPerL, float64(*sc.Vote))
				doses[t.DoseGPerL] = true
				low, high = min(low, t.DoseGPerL), max(high, t.DoseGPerL)
			}
			if sc.Intensity != nil {
				marks.add(t.DoseGPerL, *sc.Intensity)
			}
		}
	}
	if len(doses) < fallingDoses || votes.slopeSEs() > -fallingSDs || marks.slopeSEs() > 0 {
		return nil
	}
	f := &Falling{LowGPerL: low, HighGPerL: high}
	for _, t := range s.Trials {
		little, right, much := t.Votes()
		if t.DoseGPerL == low {
			f.LowLittle, f.LowVotes = f.LowLittle+little, f.LowVotes+little+right+much
		}
		if t.DoseGPerL == high {
			f.HighLittle, f.HighVotes = f.HighLittle+little, f.HighVotes+little+right+much
		}
	}
	return f
}

// A fallingLine collects the sums of a least-squares line.
type fallingLine struct{ Count, x, y, xx, xy, yy float64 }

// add takes in one point.
func (l *fallingLine) add(x, y float64) {
	l.Count++
	l.x += x
	l.y += y
	l.xx += x * x
	l.xy += x * y
	l.yy += y * y
}

// slopeSEs returns the slope in its standard errors,
//
//	t = b / sqrt(s^2 / Sxx),  b = Sxy/Sxx,  s^2 = (Syy - b Sxy)/(n - 2)
//
// and 0 where no line can be drawn.
func (l *fallingLine) slopeSEs() float64 {
	if l.Count < 3 {
		return 0
	}
	sxx, sxy, syy := l.xx-l.x*l.x/l.Count, l.xy-l.x*l.y/l.Count, l.yy-l.y*l.y/l.Count
	if sxx <= 0 || sxy == 0 {
		return 0
	}
	b := sxy / sxx
	rest := max(syy-b*sxy, 1e-12*syy)
	return b / math.Sqrt(rest/(l.Count-2)/sxx)
}
