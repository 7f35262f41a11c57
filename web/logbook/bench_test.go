package logbook_test

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"asfound/web/entry"
)

// BenchmarkPhones has phones that each send a reading as soon as the last was
// answered: more than any crew does.
func BenchmarkPhones(b *testing.B) {
	for _, phones := range []int{1, 20, 200} {
		b.Run(fmt.Sprint(phones), func(b *testing.B) {
			store, _ := open(b)
			var next atomic.Int64
			took := make([]time.Duration, b.N)
			var wg sync.WaitGroup
			b.ResetTimer()
			for range phones {
				wg.Go(func() {
					for {
						n := int(next.Add(1)) - 1
						if n >= b.N {
							return
						}
						begin := time.Now()
						if _, err := store.Append(context.Background(), []entry.Entry{level(n, lot)}); err != nil {
							b.Error(err)
							return
						}
						took[n] = time.Since(begin)
					}
				})
			}
			wg.Wait()
			b.StopTimer()
			slices.Sort(took)
			at := func(part float64) float64 {
				return float64(took[min(b.N-1, int(part*float64(b.N)))].Microseconds()) / 1000
			}
			b.ReportMetric(at(0.5), "p50-ms")
			b.ReportMetric(at(0.99), "p99-ms")
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "entries/s")
		})
	}
}

// BenchmarkJob reads and folds a job of 40 readings in a logbook of 200 jobs.
func BenchmarkJob(b *testing.B) {
	store, _ := open(b)
	var jobs []string
	for j := range 200 {
		job := entry.NewID(noon, [10]byte{0: 1, 9: byte(j)})
		var entries []entry.Entry
		for n := range 40 {
			entries = append(entries, level(j*40+n, job))
		}
		_, err := store.Append(context.Background(), entries)
		require.NoError(b, err)
		jobs = append(jobs, job)
	}
	b.Run("job", func(b *testing.B) {
		for n := range b.N {
			if _, err := store.Job(context.Background(), jobs[n%len(jobs)]); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("list", func(b *testing.B) {
		for range b.N {
			if _, err := store.Jobs(context.Background()); err != nil {
				b.Fatal(err)
			}
		}
	})
}
