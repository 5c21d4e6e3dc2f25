package main

import (
	"bytes"
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const benchOutput = `goos: linux
BenchmarkFanout25-2             1000   300 ns/op   16 B/op   1 allocs/op   9.0 bytes/delivery
BenchmarkFanout25-2             1000   100 ns/op   16 B/op   1 allocs/op   9.0 bytes/delivery
BenchmarkFanout25-2             1000   200 ns/op   16 B/op   1 allocs/op   9.0 bytes/delivery
BenchmarkFanout25BaselineBare-2 1000   400 ns/op   64 B/op   0 allocs/op
BenchmarkPocket/wide-2          5000   12345.6 ns/op   0 B/op   0 allocs/op
BenchmarkPocket/baseline-2      5000   24691.2 ns/op   0 B/op   0 allocs/op
PASS
`

func TestBenchTable(t *testing.T) {
	r := newResults()
	r.read(benchOutput)
	var out bytes.Buffer
	r.table(&out)
	assert.Equal(t, `| benchmark | ns/op | B/op | allocs/op | bytes/delivery |
|---|---:|---:|---:|---:|
| Fanout25 | 200 (0.50 of baseline) | 16 (0.25 of baseline) | 1 | 9 |
| Fanout25BaselineBare | 400 | 64 | 0 | – |
| Pocket/wide | 12346 (0.50 of baseline) | 0 | 0 | – |
| Pocket/baseline | 24691 | 0 | 0 | – |
`, out.String())
}

func TestBenchFindsAndRunsANamedBenchmark(t *testing.T) {
	s := repository(t, "new\n")
	require.NoError(t, copyFile("testdata/bench_example.txt", s.root+"/deep/a_test.go"))
	require.NoError(t, runBench(context.Background(), s, []string{"--count", "2", "Sum"}))
	assert.Regexp(t, `(?m)^\| Sum \| [0-9.e+]+ \(\d+\.\d\d of baseline\) \| 0 \| 0 \|$`, s.printed())
	assert.Regexp(t, `(?m)^\| SumBaseline \| [0-9.e+]+ \| 0 \| 0 \|$`, s.printed())
}

func TestRatios(t *testing.T) {
	assert.Equal(t, "0.50 of baseline", ratio(0.5))
	assert.Equal(t, "1.20 of baseline", ratio(1.2))
	assert.Equal(t, "12 times baseline", ratio(11.7))
	assert.Equal(t, "1400 times baseline", ratio(1411.4))
}

func TestMedian(t *testing.T) {
	assert.InDelta(t, 2.0, median([]float64{9, 1, 2}), 0)
	assert.InDelta(t, 1.5, median([]float64{9, 1, 2, 0}), 0)
}

func TestPromisedBenchmarksMustExist(t *testing.T) {
	err := sayAbsent([]string{"BenchmarkApply"})
	assert.EqualError(t, err, "bench: no package has BenchmarkApply: write them: the README promises their figures")
	require.NoError(t, sayAbsent(nil))
}
