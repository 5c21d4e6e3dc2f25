package athlete

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/field"
)

// Where the benchmarks leave their answers, so that the work is not optimised
// away.
var (
	gotTime float64
	gotBy   bool
	gotVec  field.Vec
)

// benchScenes are 1,024 different questions about one man: too many for the
// processor to learn their branches by heart.
func benchScenes(rest bool) []scene {
	r := rand.New(rand.NewPCG(1, 2))
	scenes := make([]scene, 1024)
	for i := range scenes {
		scenes[i] = randomScene(r, runner(8.6, 0.77))
		if rest {
			scenes[i].v = field.Vec{}
		}
	}
	return scenes
}

func benchTimeTo(b *testing.B, rest bool) {
	scenes := benchScenes(rest)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s := &scenes[i&1023]
		gotTime = s.a.TimeTo(s.p, s.v, s.q, s.delay, s.reach)
	}
}

// BenchmarkReachRest is a time-to-reach of a standing man; promised < 150 ns.
func BenchmarkReachRest(b *testing.B) { benchTimeTo(b, true) }

// BenchmarkReachMoving is a time-to-reach of a moving man; promised < 400 ns.
func BenchmarkReachMoving(b *testing.B) { benchTimeTo(b, false) }

func BenchmarkBy(b *testing.B) {
	scenes := benchScenes(false)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s := &scenes[i&1023]
		gotBy = s.a.By(s.p, s.v, s.q, s.delay, s.reach, 1.5)
	}
}

func BenchmarkStep(b *testing.B) {
	scenes := benchScenes(false)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s := &scenes[i&1023]
		gotVec, _ = s.a.Step(s.p, s.v, s.q, 1./60)
	}
}

// BenchmarkReachMovingBaseline is the same work as BenchmarkReachMoving done by
// scanning time: the slow twin that tests hold it to.
func BenchmarkReachMovingBaseline(b *testing.B) {
	scenes := benchScenes(false)
	twin := newSlowTwin(scenes[0].a)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		gotTime = twin.timeTo(scenes[i&1023])
	}
}

func BenchmarkFitSplits(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		f, err := FitSplits(kimberley)
		if err != nil {
			b.Fatal(err)
		}
		gotTime = f.Top
	}
}

// Reach and step are asked thousands of times a rep: none may allocate.
func TestReachAllocatesNothing(t *testing.T) {
	s := benchScenes(false)[0]
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		gotTime = s.a.TimeTo(s.p, s.v, s.q, s.delay, s.reach)
		gotTime = s.a.TimeTo(s.p, field.Vec{}, s.q, s.delay, s.reach)
		gotBy = s.a.By(s.p, s.v, s.q, s.delay, s.reach, 1)
		gotVec, _ = s.a.Disk(s.p, s.v, 1)
		gotVec, _ = s.a.Step(s.p, s.v, s.q, 1./60)
	}))
}
