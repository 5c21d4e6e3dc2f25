package athlete

import (
	"math"
	"testing"
)

// FuzzTimeTo: for any believable athlete and any numbers at all an answer comes
// back, it is a time or never, it is not before the straight line allows, and By
// agrees that he is there then and was not halfway.
func FuzzTimeTo(f *testing.F) {
	f.Add(8.6, 1.1, 0.0, 0.0, 0.0, 0.0, 7.5, 0.0, 0.35, 0.0)
	f.Add(8.6, 0.77, 0.0, 0.0, 8.6, 0.0, 0.5, 1.0, 0.35, 0.1)   // overrun, and back
	f.Add(4.0, 1.5, 3.0, -2.0, 9.0, 0.0, 9.0, 1.0, 0.5, 1.0)    // brushes past, faster than his top speed
	f.Add(13.0, 0.05, 0.0, 0.0, 0.0, 1e-9, 0.0, 1e-9, 0.0, 0.0) // next to nothing
	f.Add(1.0, 3.0, 0.0, 0.0, 5e5, 5e5, 1e3, -1e3, 1e3, 0.0)
	f.Add(9.0, 0.77, math.NaN(), 0.0, math.Inf(1), 0.0, 1e308, -1e308, -1.0, -1.0)
	f.Fuzz(func(t *testing.T, top, tau, px, py, vx, vy, qx, qy, delay, reach float64) {
		s := scene{a: runner(top, tau), p: at(px, py), v: at(vx, vy), q: at(qx, qy), delay: delay, reach: reach}
		if s.a.Validate() != nil {
			return
		}
		sec := s.timeTo()
		if math.IsNaN(sec) || sec < 0 {
			t.Fatalf("%+v: %g", s, sec)
		}
		s.by(sec) // must not panic, whatever the numbers
		onField := func(v ...float64) bool {
			for _, x := range v {
				if !(math.Abs(x) < 1e3) {
					return false
				}
			}
			return true
		}
		if !onField(px, py, vx, vy, qx, qy, delay, reach) {
			return
		}
		s.delay, s.reach = max(delay, 0), max(reach, 0)
		if math.IsInf(sec, 1) {
			t.Fatalf("%+v: a place on the field takes for ever", s)
		}
		if sec < s.straight()-1e-6 {
			t.Fatalf("%+v: %g s, the straight line takes %g", s, sec, s.straight())
		}
		if !s.wider(1e-5).by(sec) {
			t.Fatalf("%+v: %g s, but then he is %g yd out of reach", s, sec, s.gap(sec))
		}
		if g := s.gap(sec / 2); sec > 1e-6 && g < -1e-6 {
			t.Fatalf("%+v: %g s, but he is %g yd inside at half of it", s, sec, -g)
		}
	})
}

// FuzzFitSplits: splits typed by anybody give a believable man or an error.
func FuzzFitSplits(f *testing.F) {
	f.Add(10.0, 1.75, 20.0, 2.95, 40.0, 5.10, 60.0, 7.3)
	f.Add(5.0, 1.158, 10.0, 1.893, 20.0, 3.149, 40.0, 5.444)
	f.Add(10.0, 1.2, 20.0, 2.4, 40.0, 4.8, 41.0, 4.9)
	f.Add(1e-9, 1e-9, 20.0, 2.4, 40.0, 4.8, 1e300, 1e300)
	f.Add(0.0, math.NaN(), 20.0, math.Inf(1), -40.0, 4.8, 41.0, 4.9)
	f.Fuzz(func(t *testing.T, d1, t1, d2, t2, d3, t3, d4, t4 float64) {
		all := pairs(d1, t1, d2, t2, d3, t3, d4, t4)
		three, err3 := FitSplits(all[:3])
		four, err4 := FitSplits(all)
		late, tc, errC := FitSplitsCorrected(all)
		fly, fd, errD := FitSplitsWithDistance(all)
		for _, r := range []struct {
			f     Fit
			third float64
			err   error
			n     int
		}{{three, 0, err3, 3}, {four, 0, err4, 4}, {late, tc, errC, 4}, {fly, fd, errD, 4}} {
			if r.err != nil {
				continue
			}
			believable := r.f.Top >= minPace && r.f.Top <= maxPace && r.f.Tau >= minTau && r.f.Tau <= maxTau
			if !believable || r.f.A0 > maxFirstStep || !(r.f.RSE <= maxRSE) || len(r.f.Residuals) != r.n || math.IsNaN(r.third) {
				t.Fatalf("%v fit as %+v", all, r)
			}
		}
	})
}
