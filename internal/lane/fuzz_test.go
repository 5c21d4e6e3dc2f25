package lane_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"halfline/internal/athlete"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/lane"
	"halfline/internal/leverage"
	"halfline/internal/play"
)

// FuzzLane: any moment, with any jobs, is judged as the brief's rules judge it,
// and what it says of faults hangs together.
func FuzzLane(f *testing.F) {
	r := rand.New(rand.NewPCG(51, 52))
	f.Add([]byte{})
	for n := range 30 {
		b := make([]byte, 30+10*n)
		for i := range b {
			b[i] = byte(r.UintN(256))
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		m := momentOf(data)
		model := leverage.Default()
		got := lane.Judge(m, model)
		for i := range got.Faults {
			x := &got.Faults[i]
			switch {
			case x.Who < 0 || x.Who >= len(m.Men) || x.SavedBy >= len(m.Men) || x.SavedBy == x.Who || x.Opens >= len(got.Lanes):
				t.Fatalf("%+v\n%+v", x, m)
			case math.IsNaN(x.Cost) || x.Cost < 0 || x.Opens < 0 && x.Cost != 0:
				t.Fatalf("%+v\n%+v", x, m)
			case !m.Men[x.Who].Order.Known:
				t.Fatalf("%+v: of a man without a job\n%+v", x, m)
			case x.Opens >= 0 && got.Lanes[x.Opens].ShutBy >= 0:
				t.Fatalf("%+v: the lane is shut\n%+v", x, m)
			}
		}
		for _, l := range got.Lanes {
			if math.IsNaN(l.Gain) || l.Gain > model.Broke {
				t.Fatalf("%+v\n%+v", l, m)
			}
		}
		if !outside(m) {
			return
		}
		want := read(m)
		got.Faults = nil
		if bad := agrees(want, got); !want.near && bad != "" {
			t.Fatalf("%s\n%+v\n%+v", bad, got.Lanes, m)
		}
	})
}

// outside: every block lies between the box edge and the sideline, and the box
// ends before it; of others the brief says nothing.
func outside(m lane.Moment) bool {
	if m.Edge > m.Sideline {
		return false
	}
	for _, b := range m.Blocks {
		if b.At.X < m.Edge || b.At.X > m.Sideline {
			return false
		}
	}
	return true
}

// momentOf makes a moment of any bytes.
func momentOf(data []byte) lane.Moment {
	of := func(n int) int {
		if len(data) == 0 {
			return 0
		}
		b := int(data[0])
		data = data[1:]
		return b * n / 256
	}
	inches := func(lo, hi int) field.Inches { return field.Inches(lo + of(256)*(hi-lo)/256 + of(8)) }
	speed := func() *field.Vec { return &field.Vec{X: float64(of(261)-130) / 10, Y: float64(of(261)-130) / 10} }
	man := func() athlete.Athlete {
		return athlete.Athlete{Top: 1 + float64(of(121))/10, Tau: 0.05 + float64(of(60))/20, React: float64(of(20)) / 10, Reach: float64(of(31)) / 10}
	}
	m := lane.Moment{Edge: inches(18, 400), Sideline: inches(400, 1300), Ball: field.Offset{X: inches(-400, 1200), Y: inches(-300, 300)},
		Going: *speed(), Carrier: man(), Kind: []play.Kind{play.Toss, play.Bubble}[of(2)]}
	lanesOf := []int{call.NoLane, call.LastLane, call.ReadsHat, 0, 1, 2, 3}
	for i := range 1 + of(11) {
		d := lane.Man{Label: string(rune('A' + i)), At: field.Offset{X: inches(-300, 1300), Y: inches(-100, 700)}, Late: of(6) == 5, Athlete: man()}
		switch of(4) {
		case 2:
			d.Vel = speed()
		case 3:
			n := of(7)
			d.Makes, d.Vel = &n, speed()
		}
		d.Order = lane.Order{
			Role: []play.Target{play.Apex, play.Corner, play.Safety, ""}[of(4)],
			Fit: call.Fit{Job: []call.Job{call.Force, call.Secondary, ""}[of(3)], Owns: lanesOf[of(len(lanesOf))], Spare: of(3) == 2,
				Hat: []call.Hat{call.HatInside, call.HatOutside, call.HatEither, call.HatOnBall, call.HatIfOpen}[of(5)]},
			Known: of(5) > 0, FromOutside: of(2) == 1, Blocked: of(2) == 1,
		}
		m.Men = append(m.Men, d)
	}
	for i := range of(8) {
		on := of(len(m.Men))
		m.Blocks = append(m.Blocks, lane.Block{By: string(rune('a' + i)), On: on, Crack: of(4) == 3,
			At: field.Offset{X: m.Men[on].At.X + inches(-60, 60), Y: inches(-50, 300)}, Hat: []lane.Hat{lane.Auto, lane.Auto, lane.In, lane.Even, lane.Outside}[of(5)]})
	}
	return m
}
