package steeps

import (
	"math"
	"testing"
	"time"

	"hedgerow/trials"
)

func ptr[T any](v T) *T { return &v }

// day is a moment of an invented batch.
func day(d int) time.Time { return time.Date(2026, 3, 1+d, 12, 0, 0, 0, time.UTC) }

// near fails the test unless got is within tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s is %.6f, want %.6f within %g", what, got, want, tolerance)
	}
}

// jugTea is case A of the reference page on extraction as a record: 36 g dried at
// 10 % water, passes of 450 and 350 mL drained and one of 250 mL squeezed, hot and
// stirred for long enough to be near equilibrium.
func jugTea() trials.Extract {
	pass := func(volumeL float64, by string) trials.Pass {
		return trials.Pass{VolumeL: volumeL, StartC: 94, EndC: ptr(80.0), Minutes: 30, Agitation: "stirred", Separation: by}
	}
	return trials.Extract{Record: trials.Record{ID: "x", Name: "tea-1"}, MadeAt: day(3), MaterialKey: "hibiscus",
		Method: trials.MethodTea, Form: "crushed", MassG: 36, MoisturePct: ptr(10.0),
		Passes: threePasses(pass)}
}

// shipped is the catalogue alone.
func shipped(t testing.TB) trials.Materials {
	t.Helper()
	m, err := (&trials.Notebook{}).Catalogue()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// putIn works out what a material put in itself gives up, with its intervals.
func putIn(n *trials.Notebook, materials trials.Materials, a trials.Addition) (Yield, error) {
	return NewSteeper(n.Index(), materials, Full).Direct(a)
}
