package sheets

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"testing"
	"time"

	"hedgerow/trials"
)

// manyRows writes 50 000 rows of invented scores, the same bytes everywhere: 50
// tastings of 10 beers by 100 tasters, scores from a linear congruential generator with
// the constants of ISO C's example of rand (C17, 7.22.2.2), one cell in twenty empty.
func manyRows() []byte {
	x := uint64(1)
	random := func(n uint64) int {
		x = (1103515245*x + 12345) % (1 << 31)
		return int((x >> 8) % n)
	}
	var b bytes.Buffer
	b.WriteString("Tasting,Date,Beer,Judge,Floral,Floral vote,Liking\n")
	first := time.Date(2024, 3, 1, 0, 0, 0, 0, time.UTC)
	for i := range 50_000 {
		tasting, beer, taster := i/1000, i/100%10, i%100
		half := max(0, min(20, 2*beer+random(7)-3))
		intensity, vote := "n/a", ""
		if random(20) != 0 {
			intensity = trials.Number(float64(half) / 2)
		}
		if random(20) != 0 {
			vote = "just right"
			if half < 8 {
				vote = "too little"
			} else if half > 13 {
				vote = "too much"
			}
		}
		liking := max(1, min(9, 7-max(half-10, 10-half)/2+random(3)-1))
		fmt.Fprintf(&b, "night-%02d,%s,g-%02d,Taster %03d,%s,%s,%d\n", tasting+1,
			first.AddDate(0, 0, 7*tasting).Format(time.DateOnly), beer+1, taster+1, intensity, vote, liking)
	}
	return b.Bytes()
}

// brews is a notebook with the ten beers of manyRows.
func brews() *trials.Notebook {
	n := &trials.Notebook{}
	for i := range 10 {
		n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: fmt.Sprint("g", i),
			Name: fmt.Sprintf("g-%02d", i+1)}, Kind: trials.KindBatch, VolumeL: 20,
			StartedAt: time.Date(2024, 1, 2, 12, 0, 0, 0, time.UTC)})
	}
	return n
}

// The counts and sums of 50 000 rows are those that another program (in Python) found
// in the same bytes.
func TestManyRows(t *testing.T) {
	data := manyRows()
	sum := sha256.Sum256(data)
	if hex.EncodeToString(sum[:]) != "fc67f9b526873dbb7b5a844b5bd72c8a6bc3da1e66e6d1ac71abf1e7b42de135" {
		t.Fatal("the rows are not those that were counted")
	}
	s, err := Read(data, brews(), Options{Now: time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)})
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
	data, n := manyRows(), brews()
	for b.Loop() {
		if _, err := Read(data, n, Options{Now: time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)}); err != nil {
			b.Fatal(err)
		}
	}
}
