package main

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"hedgerow/testdata/invented"
)

// BenchmarkEveningOf26 is the largest evening: 26 tasters on six glasses, with a pause for each
// glass that is somewhere between none and twice the one named, or with none at all, into a
// notebook that has so many brews, four jars each, scored. It tells the median and the 95th
// per cent of the time from a form that is sent to the page that thanks for it, and the
// memory of server and phones together; a lost glass fails it.
func BenchmarkEveningOf26(b *testing.B) {
	for _, c := range []struct {
		brews int
		pause time.Duration
	}{{0, time.Second}, {100, time.Second}, {0, 0}} {
		b.Run(fmt.Sprintf("brews=%d/pause=%v", c.brews, c.pause), func(b *testing.B) {
			for b.Loop() {
				eveningOf26(b, c.brews, c.pause)
			}
		})
	}
}

// eveningOf26 plays one such evening.
func eveningOf26(b *testing.B, brews int, pause time.Duration) {
	const tasters, glasses = 26, 6
	b.StopTimer()
	db := filepath.Join(b.TempDir(), "large.db")
	if brews > 0 {
		saveAll(b, db, invented.Club(brews))
	}
	var lines strings.Builder
	serving := ""
	for i := range glasses {
		fmt.Fprintf(&lines, "batch new beer-%d --volume 4L --og 1.046 --fg 1.010 --at \"2026-03-01 18:00\"\n", i)
		serving += fmt.Sprintf(" --serving beer-%d", i)
	}
	setUp(b, db, lines.String()+"tasting new large --attribute floral --attribute astringency --tasters 26 --seed 5"+
		serving)
	s := serveEvening(b, db, "large")
	b.StartTimer()
	var mu sync.Mutex
	var times []time.Duration
	var work sync.WaitGroup
	for taster, link := range s.links {
		if !strings.HasPrefix(taster, "Taster ") {
			continue
		}
		p := s.phone(taster)
		p.link = link
		work.Go(func() {
			p.start()
			for glass := 1; glass <= glasses; glass++ {
				p.get(fmt.Sprintf("/%d", glass))
				time.Sleep(time.Duration(rand.Float64() * 2 * float64(pause)))
				begun := time.Now()
				status, page := p.post(fmt.Sprintf("/%d", glass), anAnswer())
				took := time.Since(begun)
				if status != http.StatusOK || !strings.Contains(page, fmt.Sprintf("%d of 6 sent", glass)) {
					b.Errorf("%s, glass %d: %d\n%s", taster, glass, status, page)
				}
				mu.Lock()
				times = append(times, took)
				mu.Unlock()
			}
		})
	}
	work.Wait()
	b.StopTimer()
	brewer := s.phone(brewersPage)
	if _, page := brewer.get(""); len(times) != tasters*glasses || !strings.Contains(page, "156 of 156 glasses are in") {
		b.Errorf("%d of %d glasses were sent:\n%s", len(times), tasters*glasses, page)
	}
	s.end()
	slices.Sort(times)
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(times[len(times)/2].Microseconds())/1000, "median-ms")
	b.ReportMetric(float64(times[len(times)*95/100].Microseconds())/1000, "p95-ms")
	b.ReportMetric(float64(m.Sys)/(1<<20), "MB")
	b.StartTimer()
}
