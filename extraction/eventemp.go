package extraction

import "math"

// TempSpan is a time at one temperature.
type TempSpan struct {
	// Days is how long it lasted.
	Days float64
	// TempC is the temperature, C.
	TempC float64
}

// EvenTempC returns the even temperature, C, that lets a plant give as much as several
// temperatures one after another: k t is summed over the spans with the activation
// energy of the undivided class,
//
//	exp(-Ea/(R T)) sum d_i = sum d_i exp(-Ea/(R T_i)),  T in K.
//
// Spans without a time count nothing; NaN if none has any.
func EvenTempC(spans []TempSpan) float64 {
	const perK = EaKJ * 1000 / gasConstant
	var sum, days float64
	for _, s := range spans {
		sum += s.Days * math.Exp(-perK/(s.TempC+zeroC))
		days += s.Days
	}
	return -perK/math.Log(sum/days) - zeroC
}
