package doseresponse

import (
	"math"
	"testing"

	"hedgerow/report/evidence"
	"hedgerow/report/field"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// dense writes the arrow of a field that has been assembled but not factored
// as one symmetric matrix.
func dense(f *field.Field) *mat.SymDense {
	n := f.Size
	m := mat.NewSymDense(len(f.Mode), nil)
	for i := range n {
		for j := range i + 1 {
			m.SetSym(i, j, f.Core[i*n+j])
		}
	}
	for _, b := range f.Blocks {
		square, rows := f.Square(b), f.Rows(b)
		for i := range b.Size {
			row := n + b.From + i
			for j := range i + 1 {
				m.SetSym(row, n+b.From+j, square[i*b.Size+j])
			}
			for j := range n {
				m.SetSym(row, j, rows[i*n+j])
			}
		}
	}
	return m
}

// drawField draws a study, a grid node and a latent vector.
func drawField(t *rapid.T) (*field.Field, []float64) {
	s := drawStudy(t)
	if rapid.Bool().Draw(t, "remembered") {
		s.Remembered = map[string]evidence.TasterPrior{"A": {OffsetLn: 0.1, OffsetSDLn: 0.2, Scale: 0.5, ScaleSD: 0.7,
			Sharpness: 1.5}}
	}
	for k := range s.Trials { // age, time in the beer and lot shift a dose by a number times something
		tr := &s.Trials[k]
		days := rapid.Float64Range(5, 150).Draw(t, "days")
		tr.DaysOld, tr.ContactDays, tr.Lot = &days, &days, rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "lot")
	}
	if last := len(s.Trials) - 1; last > 0 && rapid.Bool().Draw(t, "guest") {
		s.Trials[last].Brewer, s.Trials[last].Lot, s.Trials[last].ContactDays = "Brewer B", "", nil
	}
	s.DosedToTaste = rapid.SliceOfN(rapid.Custom(drawSeries), 0, 3).Draw(t, "series")
	if err := s.Validate(); err != nil {
		t.Fatal(err)
	}
	p, err := problemOf(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	f := field.NewField(p)
	if rapid.Bool().Draw(t, "distrusted") {
		p.Trust[0], p.NoteTrust[0], f.Whole = 0.4, 0.4, false
	}
	f.At(rapid.SampledFrom(append(nodes(true), field.Ignoring(field.ClaimParts(s), true)...)).Draw(t, "node"))
	dim := len(f.Mode)
	return f, rapid.SliceOfN(rapid.Float64Range(-0.6, 0.6), dim, dim).Draw(t, "v")
}

// Gradient and curvature along a line against differences of the joint
// density; the density itself is computed by another path (lnJoint).
func TestAssembleAgainstDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, v := drawField(t)
		dim := len(v)
		line := rapid.SliceOfN(rapid.Float64Range(-1, 1), dim, dim).Draw(t, "line")
		at := func(h float64) float64 {
			w := make([]float64, dim)
			for i := range w {
				w[i] = v[i] + h*line[i]
			}
			return f.LnJoint(w)
		}
		const h = 1e-4
		// of five points: of three the third derivative of steep votes is as large as the tolerance
		slope := (8*(at(h)-at(-h)) - (at(2*h) - at(-2*h))) / (12 * h)
		lp := f.Assemble(v)
		if mid := at(0); math.Abs(lp-mid) > 1e-9*(1+math.Abs(lp)) {
			t.Fatalf("assemble gives %g, lnJoint %g", lp, mid)
		}
		f.Assemble(v)
		var got float64
		for i, g := range f.Grad {
			got += g * line[i]
		}
		if math.Abs(got-slope) > 1e-4*(1+math.Abs(slope)) {
			t.Fatalf("slope %g, difference %g", got, slope)
		}
	})
}

// The Newton step, the log determinant and the covariance of draws agree with
// gonum's dense Cholesky of the same matrix.
func TestFactorAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, v := drawField(t)
		f.Assemble(v)
		var chol mat.Cholesky
		if !chol.Factorize(dense(f)) || !f.Factor() {
			t.Fatal("not positive definite")
		}
		f.NewtonStep()
		var want mat.VecDense
		if err := chol.SolveVecTo(&want, mat.NewVecDense(len(f.Grad), f.Grad)); err != nil {
			t.Fatal(err)
		}
		for i, s := range f.Step {
			if math.Abs(s-want.AtVec(i)) > 1e-8*(1+math.Abs(s)) {
				t.Fatalf("step[%d] = %g, gonum has %g", i, s, want.AtVec(i))
			}
		}
		if got := f.LnDiag(); math.Abs(got-chol.LogDet()/2) > 1e-9*(1+math.Abs(got)) {
			t.Fatalf("ln diag %g, gonum has %g", got, chol.LogDet()/2)
		}
	})
}

// spread has the covariance H^-1: with unit vectors for z its images are the
// columns of a root R of it, R R' = H^-1.
func TestSpreadIsARoot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, v := drawField(t)
		f.Assemble(v)
		h := dense(f)
		if !f.Factor() {
			t.Fatal("not positive definite")
		}
		p := f.Snapshot(0)
		dim := len(v)
		root := mat.NewDense(dim, dim, nil)
		for j := range dim {
			z := make([]float64, dim)
			z[j] = 1
			p.Near.Spread(z)
			root.SetCol(j, z)
		}
		var cov, one mat.Dense
		cov.Mul(root, root.T())
		one.Mul(h, &cov)
		for i := range dim {
			for j := range dim {
				want := 0.0
				if i == j {
					want = 1
				}
				if math.Abs(one.At(i, j)-want) > 1e-7 {
					t.Fatalf("H R R' [%d,%d] = %g", i, j, one.At(i, j))
				}
			}
		}
	})
}

// The mode is where the gradient vanishes, relative to the curvature.
func TestFindMode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, _ := drawField(t)
		if lnW := f.FindMode(); math.IsInf(lnW, 0) || math.IsNaN(lnW) {
			t.Fatalf("evidence %g", lnW)
		}
		f.Assemble(f.Mode)
		f.Factor()
		if gain := f.NewtonStep(); gain > field.NewtonGain {
			t.Fatalf("another step still gains %g", gain)
		}
	})
}

// With intensities inside the scale and no votes the model is linear and
// Gaussian: the mode at a node is the generalised least squares solution,
// computed here by gonum from the design matrix.
func TestModeOfGaussianCase(t *testing.T) {
	s := eightfold()
	for k, dose := range []float64{1.5, 3, 6} {
		tr := evidence.Trial{ID: string(rune('1' + k)), DoseGPerL: dose}
		for i, y := range []float64{3, 4, 2.5} {
			mark := y + float64(k) + 0.5*float64(i*k)
			tr.Scores = append(tr.Scores, evidence.Score{Taster: string(rune('A' + i)), Intensity: &mark})
		}
		s.Trials = append(s.Trials, tr)
	}
	p, err := problemOf(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	f := field.NewField(p)
	n := nodes(true)[10]
	f.At(n)
	f.FindMode()
	dim, own := len(f.Mode), f.Own
	design := mat.NewDense(len(p.Marks), dim, nil)
	y := mat.NewVecDense(len(p.Marks), nil)
	for r, m := range p.Marks {
		tr := p.Beers[m.Trial]
		design.Set(r, 2*m.Taster+1, 1)
		design.Set(r, own+p.Alpha, 1)
		design.Set(r, own+p.Theta, -n.Beta)
		design.Set(r, own+tr.Lat[0], n.Beta)
		y.SetVec(r, m.Y-n.Beta*tr.X)
	}
	var info mat.Dense
	info.Mul(design.T(), design)
	info.Scale(1/(n.Sy*n.Sy), &info)
	var rhs, want mat.VecDense
	rhs.MulVec(design.T(), y)
	rhs.ScaleVec(1/(n.Sy*n.Sy), &rhs)
	for i := range dim {
		w := 1 / (f.Sd[i] * f.Sd[i])
		info.Set(i, i, info.At(i, i)+w)
		rhs.SetVec(i, rhs.AtVec(i)+w*f.Mean[i])
	}
	if err := want.SolveVec(&info, &rhs); err != nil {
		t.Fatal(err)
	}
	for i, got := range f.Mode {
		if math.Abs(got-want.AtVec(i)) > 1e-6 {
			t.Errorf("mode[%d] = %g, least squares %g", i, got, want.AtVec(i))
		}
	}
}
