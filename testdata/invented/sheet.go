package invented

import (
	"bytes"
	"fmt"
	"time"

	"hedgerow/trials"
)

// ManyRows writes 50 000 rows of scores, the same bytes everywhere: 50
// tastings of 10 beers by 100 tasters, scores from a linear congruential generator with
// the constants of ISO C's example of rand (C17, 7.22.2.2), one cell in twenty empty.
func ManyRows() []byte {
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

// TenBrews is a notebook with the ten beers of ManyRows.
func TenBrews() *trials.Notebook {
	begun := time.Date(2024, 1, 2, 12, 0, 0, 0, time.UTC)
	n := &trials.Notebook{Now: begun}
	for i := range 10 {
		n.Batches = append(n.Batches, trials.Batch{Record: trials.Record{ID: fmt.Sprint("g", i),
			Name: fmt.Sprintf("g-%02d", i+1), CreatedAt: begun, ChangedAt: begun}, Kind: trials.KindBatch, VolumeL: 20,
			OG: Ptr(1.048), StartedAt: begun})
	}
	return n
}
