package extraction

import "math"

// Shape is a body for which Crank solved the diffusion equation [7]. The steep
// model does not use these series; they are the reference that its
// one-exponential form was judged against.
type Shape int

// The shapes; the length l in Fo = D t/l^2 is half the thickness of a slab and
// the radius of the others.
const (
	Slab Shape = iota
	Cylinder
	Sphere
)

const (
	// seriesFo parts the two kinds of series: below it the early-time forms
	// need few terms, above it the eigenfunctions do.
	seriesFo = 0.1
	// deadExponent is where exp(-x) no longer changes a sum near 1.
	deadExponent = 40.0
	// cylinderEarlyFo bounds the three-term early form of the cylinder, whose
	// error is about Fo^2/8.
	cylinderEarlyFo = 1e-5
	// limitedEarlyFo is where a body is still as good as a flat wall: to 3e-5
	// in a bath a thousandth of its size, to 1e-6 in one of its own size or more.
	// Above it fewer than 1e5 roots are needed.
	limitedEarlyFo = 1e-8
)

// Diffused returns F = M_t/M_inf for a body in an endless bath at Fourier number
// fo, for instance 1 - sum 6/(n pi)^2 exp(-(n pi)^2 Fo) for the sphere. It errs
// for a negative or infinite fo.
func (s Shape) Diffused(fo float64) (float64, error) {
	if err := checkNotNegative("Fourier number", fo, ""); err != nil {
		return 0, err
	}
	return s.diffused(fo), nil
}

// diffused is Diffused without the check.
func (s Shape) diffused(fo float64) float64 {
	switch {
	case fo == 0:
		return 0
	case s == Cylinder && fo < cylinderEarlyFo:
		return 4*math.Sqrt(fo/math.Pi) - fo - math.Pow(fo, 1.5)/(3*math.Sqrt(math.Pi))
	case s == Cylinder:
		return 1 - cylinderSum(fo)
	case fo < seriesFo:
		return s.early(fo)
	}
	sum := 0.0
	for n := 1; ; n++ {
		q, weight := float64(n)*math.Pi, 6.0
		if s == Slab {
			q, weight = (float64(n)-0.5)*math.Pi, 2
		}
		if q*q*fo > deadExponent {
			return 1 - sum
		}
		sum += weight / (q * q) * math.Exp(-q*q*fo)
	}
}

// early returns the early-time series of slab and sphere,
//
//	slab    2 sqrt(Fo) (1/sqrt(pi) + 2 sum (-1)^n ierfc(n/sqrt(Fo)))
//	sphere  6 sqrt(Fo) (1/sqrt(pi) + 2 sum ierfc(n/sqrt(Fo))) - 3 Fo
func (s Shape) early(fo float64) float64 {
	root, sum := math.Sqrt(fo), 0.0
	for n := 1; n < 20; n++ {
		term := ierfc(float64(n) / root)
		if s == Slab && n%2 == 1 {
			term = -term
		}
		sum += term
	}
	bracket := 1/math.Sqrt(math.Pi) + 2*sum
	if s == Slab {
		return 2 * root * bracket
	}
	return 6*root*bracket - 3*fo
}

// ierfc is the integral of erfc from x to infinity.
func ierfc(x float64) float64 { return math.Exp(-x*x)/math.Sqrt(math.Pi) - x*math.Erfc(x) }

// cylinderSum returns sum 4/q^2 exp(-q^2 Fo) over the zeros q of J0.
func cylinderSum(fo float64) float64 {
	sum := 0.0
	for n := 1; ; n++ {
		q := besselZero(math.J0, n, -0.25)
		if q*q*fo > deadExponent {
			return sum
		}
		sum += 4 / (q * q) * math.Exp(-q*q*fo)
	}
}

// besselZero returns the n-th positive zero of J0 (shift -1/4) or J1 (shift
// +1/4): it lies within 0.2 of (n + shift) pi.
func besselZero(f func(float64) float64, n int, shift float64) float64 {
	guess := (float64(n) + shift) * math.Pi
	return bisect(f, guess-0.3, guess+0.3)
}

// bisect returns a root of f between a and b, where f has opposite signs.
func bisect(f func(float64) float64, a, b float64) float64 {
	fa := f(a)
	for range 80 {
		m := (a + b) / 2
		if m == a || m == b {
			break
		}
		if fm := f(m); (fm < 0) == (fa < 0) {
			a, fa = m, fm
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// LimitedBath is a body in Alpha volumes of liquid, Alpha = V/(K V_solid).
type LimitedBath struct{ Fo, Alpha float64 }

// DiffusedLimited returns M_t/M_inf in a stirred bath of limited volume, where
// M_inf = alpha/(1+alpha) of all solute. With a = alpha and q the positive roots:
//
//	slab      1 - sum 2a(1+a)/(1+a+a^2 q^2) e^{-q^2 Fo},  tan q = -a q
//	cylinder  1 - sum 4a(1+a)/(4+4a+a^2 q^2) e^{-q^2 Fo}, a q J0(q) + 2 J1(q) = 0
//	sphere    1 - sum 6a(1+a)/(9+9a+a^2 q^2) e^{-q^2 Fo}, tan q = 3q/(3 + a q^2)
//
// At the very start the body is a flat wall, whatever its shape:
// (1+a)(1 - exp(z^2) erfc(z)), z = 1, 2, 3 sqrt(Fo)/a. The limited forms are from
// memory of [7], confirmed by Laplace inversion. It errs for a negative fo and an alpha that is not above zero.
func (s Shape) DiffusedLimited(b LimitedBath) (float64, error) {
	if err := firstError(checkNotNegative("Fourier number", b.Fo, ""), checkPositive("alpha", b.Alpha, "")); err != nil {
		return 0, err
	}
	if b.Fo == 0 {
		return 0, nil
	}
	if b.Fo < limitedEarlyFo {
		area := float64(int(s) + 1)
		return min(1, (1+b.Alpha)*(1-erfcx(area*math.Sqrt(b.Fo)/b.Alpha))), nil
	}
	a, sum := b.Alpha, 0.0
	weight := [...]float64{2, 4, 6}[s]
	offset := [...]float64{1, 4, 9}[s]
	for n := 1; ; n++ {
		q := s.limitedRoot(n, a)
		if q*q*b.Fo > deadExponent {
			return max(0, 1-sum), nil
		}
		sum += weight * a * (1 + a) / (offset*(1+a) + a*a*q*q) * math.Exp(-q*q*b.Fo)
	}
}

// erfcx returns exp(z^2) erfc(z) for z >= 0. Above 20 the product of a huge and a
// tiny number gives way to the asymptotic series, there exact to 1e-9.
func erfcx(z float64) float64 {
	if z < 20 {
		return math.Exp(z*z) * math.Erfc(z)
	}
	return (1 - 1/(2*z*z) + 3/(4*z*z*z*z)) / (z * math.Sqrt(math.Pi))
}

// limitedRoot returns the n-th root of the limited-volume condition.
func (s Shape) limitedRoot(n int, a float64) float64 {
	pi := float64(n) * math.Pi
	switch s {
	case Slab:
		return bisect(func(q float64) float64 { return math.Sin(q) + a*q*math.Cos(q) }, pi-math.Pi/2, pi)
	case Cylinder:
		f := func(q float64) float64 { return a*q*math.J0(q) + 2*math.J1(q) }
		return bisect(f, besselZero(math.J0, n, -0.25), besselZero(math.J1, n, 0.25))
	default:
		return bisect(func(q float64) float64 { return (3+a*q*q)*math.Sin(q) - 3*q*math.Cos(q) }, pi, pi+math.Pi/2)
	}
}

// EarlyDiffused returns the first term for short times, F = 2, 4 or 6 sqrt(Fo/pi)
// for slab, cylinder and sphere. It errs for a negative fo.
func (s Shape) EarlyDiffused(fo float64) (float64, error) {
	if err := checkNotNegative("Fourier number", fo, ""); err != nil {
		return 0, err
	}
	return float64(2*(int(s)+1)) * math.Sqrt(fo/math.Pi), nil
}

// FourierFor returns the Fourier number at which the share f has left an
// endless bath. It errs unless 0 <= f < 1.
func (s Shape) FourierFor(f float64) (float64, error) {
	if !(f >= 0 && f < 1) {
		return 0, Refuse("give a share of 0 to below 1", "share %s is outside 0 to below 1", number(f))
	}
	if f == 0 {
		return 0, nil
	}
	high := 1.0
	for s.diffused(high) < f && high < 64 {
		high *= 2
	}
	return bisect(func(fo float64) float64 { return s.diffused(fo) - f }, 0, high), nil
}

// Diffusion is a body by its diffusion coefficient and length.
type Diffusion struct {
	// DM2PerS is the diffusion coefficient, m2/s.
	DM2PerS float64
	// LengthMM is l: half the thickness of a slab, the radius otherwise.
	LengthMM float64
	// Minutes is the time.
	Minutes float64
}

// Fourier returns Fo = D t/l^2. It errs for a length that is not above zero and
// a negative coefficient or time.
func (d Diffusion) Fourier() (float64, error) {
	err := firstError(checkNotNegative("diffusion coefficient", d.DM2PerS, "m2/s"),
		checkPositive("length", d.LengthMM, "mm"),
		checkNotNegative("time", d.Minutes, "min"))
	if err != nil {
		return 0, err
	}
	metres := d.LengthMM / 1000
	return d.DM2PerS * d.Minutes * 60 / (metres * metres), nil
}
