package storetest

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"

	"halfline/server/store"
)

// BenchmarkAppend measures appends of one record of 100 bytes, by one writer
// and by 32, each to a session of his own. It closes the store.
func BenchmarkAppend(b *testing.B, s store.Store) {
	ctx := context.Background()
	for _, writers := range []int{1, 32} {
		b.Run(fmt.Sprintf("writers=%d", writers), func(b *testing.B) {
			all := make([]*Writer, writers)
			for i := range all {
				id := fmt.Sprintf("w%d-%d", writers, i)
				if err := s.Delete(ctx, id); err != nil { // of an earlier, shorter run
					b.Fatal(err)
				}
				w, err := NewWriter(ctx, s, id)
				if err != nil {
					b.Fatal(err)
				}
				all[i] = w
			}
			var left atomic.Int64
			left.Store(int64(b.N))
			b.ResetTimer()
			var wg sync.WaitGroup
			for _, w := range all {
				wg.Go(func() {
					for left.Add(-1) >= 0 {
						if _, err := w.Write(ctx, 1, 100); err != nil {
							b.Error(err)
							return
						}
					}
				})
			}
			wg.Wait()
			b.StopTimer()
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "appends/s")
		})
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
}
