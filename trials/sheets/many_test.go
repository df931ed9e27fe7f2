package sheets

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"testing"
	"time"

	"hedgerow/testdata/invented"
)

// The counts and sums of 50 000 rows are those that another program (in Python) found
// in the same bytes.
func TestManyRows(t *testing.T) {
	data := invented.ManyRows()
	sum := sha256.Sum256(data)
	if hex.EncodeToString(sum[:]) != "fc67f9b526873dbb7b5a844b5bd72c8a6bc3da1e66e6d1ac71abf1e7b42de135" {
		t.Fatal("the rows are not those that were counted")
	}
	s, err := Read(data, invented.TenBrews(), Options{Now: time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)})
	if err != nil || !s.Ready() {
		t.Fatalf("%v %s %s", err, show(s.Faults), show(s.Asks))
	}
	var floral, intensities, likings int
	var sumIntensity, sumLiking float64
	votes := map[int]int{}
	people := map[string]bool{}
	for _, x := range s.Scores {
		people[x.Taster] = true
		if x.Liking != nil {
			likings++
			sumLiking += *x.Liking
			continue
		}
		floral++
		if x.Intensity != nil {
			intensities++
			sumIntensity += *x.Intensity
		}
		if x.Vote != nil {
			votes[*x.Vote]++
		}
	}
	got := fmt.Sprint(len(s.New.Evenings), len(people), floral, intensities, sumIntensity, votes[-1], votes[0], votes[1],
		likings, sumLiking)
	if want := fmt.Sprint(50, 100, 49893, 47519, 215518.0, 20391, 14324, 12773, 50000, 235322.0); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// BenchmarkManyRows reads 50 000 rows, 99 893 scores.
func BenchmarkManyRows(b *testing.B) {
	data, n := invented.ManyRows(), invented.TenBrews()
	for b.Loop() {
		if _, err := Read(data, n, Options{Now: time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)}); err != nil {
			b.Fatal(err)
		}
	}
}
