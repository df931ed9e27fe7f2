package figure

// The specific gravities that are taken, 20/20: those between which the formulas
// of density and extract hold. Above SGWarn the sucrose tables behind them are
// extrapolated.
const (
	SGMin  = 0.97
	SGMax  = 1.20
	SGWarn = 1.15
)

// The temperatures that are taken, degrees Celsius: those between which the
// rates of a steep are worked out, a freezer and a pressure cooker included.
const (
	TempMinC = -20.0
	TempMaxC = 110.0
)
