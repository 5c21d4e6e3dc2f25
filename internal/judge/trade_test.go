package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/assign"
	"halfline/internal/athlete"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/lane"
	"halfline/internal/leverage"
)

// ways are calls as other staffs play them.
const ways = `
calls:
  apex-quarters: {from: quarters, ways: {N: apex}}
  inside-two-read: {from: two-read, ways: {C: inside}}
`

// Trade brief 3.3, A1 to A3 (common practice, no source): is the place right by
// the rule of the call?
func TestAlignment(t *testing.T) {
	for _, c := range []struct {
		id, call, spot string
		hy             float64 // how deep H is
		x, y           float64
		want           assign.Verdict
	}{
		{"A1 at the apex", "two-read", "N", -1, 6, 5, assign.Right},
		{"A1 1 inside #2", "two-read", "N", -1, 8, 5, assign.Right},
		{"A1 outside #2", "two-read", "N", -1, 9.5, 5, assign.WrongSide},
		{"A1 1 outside #2", "quarters", "N", -1, 10, 5, assign.Right},
		{"A1 at the apex", "quarters", "N", -1, 6, 5, assign.WrongSide},
		{"A1 1 inside #2", "quarters", "N", -1, 8, 5, assign.WrongSide},
		{"A1 staff of the apex", "apex-quarters", "N", -1, 6, 5, assign.Right},
		{"A1 staff of the apex, 1 inside", "apex-quarters", "N", -1, 8, 5, assign.Right},
		{"A1 staff of the apex, outside", "apex-quarters", "N", -1, 10, 5, assign.WrongSide},
		{"A2 corner inside #1", "two-read", "C", -1, 17.2, 7, assign.WrongSide},
		{"A2 staff of the inside shade", "inside-two-read", "C", -1, 17.2, 7, assign.Right},
		{"A2 quarters corner inside", "quarters", "C", -1, 17.2, 7, assign.Right},
		{"A3 H back", "two-read", "FS", -2, 8, 10, assign.Right},
		{"A3 H up on the line", "two-read", "FS", 0, 8, 10, assign.Right},
		{"A3 a foot short of his own depth", "two-read", "FS", 0, 8, 9.6, assign.TooShallow},
		{"A3 too deep for his own depth", "two-read", "FS", 0, 8, 11.5, assign.TooDeep},
		{"apex, a yard too tight", "two-read", "N", -1, 5, 5, assign.TooTight},
		{"apex, half a yard too wide", "two-read", "N", -1, 8.4, 5, assign.TooWide},
		{"apex, too shallow", "two-read", "N", -1, 6.5, 3, assign.TooShallow},
		{"the worst first", "two-read", "N", -1, 5.5, 8, assign.TooDeep},
	} {
		t.Run(c.id+" "+c.call, func(t *testing.T) {
			both(t, func(t *testing.T, s field.Side) {
				men := twins(18, 9)
				men[4].y = c.hy
				b := setup{book: staff(t, ways), call: c.call, side: s}.board(t, men, []at{{c.spot, c.x, c.y}})
				if c.spot == "FS" {
					b.Spots[0].Depth = ownDepth(10, 11)
				}
				r := judge.Run(&b)
				got := spotOf(t, &r, c.spot)
				assert.Equal(t, c.want, got.Rule.Verdict)
				if c.want == assign.WrongSide {
					assert.Equal(t, leverage.No, got.Keeps, "the wrong side keeps nothing")
				}
				if c.want == assign.Right {
					assert.Zero(t, got.Rule.Move)
					return
				}
				// The move given leads to a place that is right.
				b.Spots[0].At = b.Spots[0].At.Add(got.Rule.Move)
				r = judge.Run(&b)
				assert.Equal(t, assign.Right, spotOf(t, &r, c.spot).Rule.Verdict)
			})
		})
	}
}

// Trade brief 3.3, A4 to A6 (common practice, no source): motion renumbers, and
// keys and sides go with the numbers.
func TestMotionChangesKeysAndSides(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		spots := []at{{"C", 19, 7}, {"N", 8, 5}, {"FS", 8, 10.5}}
		go_ := func(who string, x, y float64) judge.Result {
			b := setup{call: "two-read", side: s}.board(t, twins(18, 9), spots)
			l := b.Shown().With(who, s.FlipOffset(field.At(x, y)))
			for i := range b.Men {
				b.Men[i].Man, _ = l.Find(b.Men[i].Tag)
			}
			return judge.Run(&b)
		}
		numbers := func(r *judge.Result) []string {
			if s == field.Left {
				return r.Look.Left
			}
			return r.Look.Right
		}
		r := go_("B", 13, -2)
		assert.Equal(t, []string{"Z", "B", "H"}, numbers(&r), "A4")
		assert.Equal(t, "B", spotOf(t, &r, "C").Duty.KeyTag, "A4: the corner keys the new #2")
		assert.Equal(t, "B", spotOf(t, &r, "FS").Duty.KeyTag)
		n := spotOf(t, &r, "N")
		assert.Equal(t, assign.TooTight, n.Rule.Verdict, "A4: he stands inside of #3")
		assert.Equal(t, "B", n.Duty.KeepTag)

		r = go_("B", 22, -1)
		assert.Equal(t, []string{"B", "Z", "H"}, numbers(&r), "A5")
		c := spotOf(t, &r, "C")
		assert.Equal(t, assign.WrongSide, c.Rule.Verdict, "A5: he is inside of the new #1")
		assert.Equal(t, "B", c.Duty.KeepTag)

		r = go_("H", -5, -3)
		assert.Equal(t, []string{"Z"}, numbers(&r), "A6")
		assert.Empty(t, spotOf(t, &r, "C").Duty.KeyTag, "A6: there is no #2 to read")
		for _, x := range r.Spots {
			assert.NotEqual(t, "H", x.BlockBy, "A6: no slot is left to block %s", x.Label)
		}
	})
}

// Trade brief 3.2, R1, R2, R3 and R6, in the trial's own terms: athletes of top
// 8.6, tau 1.1, reaction 0.35 and 0.15, nothing for the hands, a key at the snap.
// Margins as its notes give them (derived); the signs are common practice.
func TestHatRacesOfTheTrial(t *testing.T) {
	d, o := athlete.Athlete{Top: 8.6, Tau: 1.1, React: 0.35}, athlete.Athlete{Top: 8.6, Tau: 1.1, React: 0.15}
	for _, c := range []struct {
		id     string
		d, b   field.Vec
		out    bool
		margin float64
	}{
		{"R1", field.Vec{X: 6, Y: 5}, field.Vec{X: 9, Y: -1}, true, -0.20},
		{"R2", field.Vec{X: 8, Y: 5}, field.Vec{X: 9, Y: -1}, true, 0.09},
		{"R3", field.Vec{X: 7, Y: 5}, field.Vec{X: 8, Y: -1}, false, 0.50},
		{"R6", field.Vec{X: 17.5, Y: 7}, field.Vec{X: 18, Y: 0}, true, 0.20},
	} {
		r := leverage.HatMargin(c.d, c.b, d, o, c.out, d.React, 0)
		assert.InDelta(t, c.margin, min(r.Margin, leverage.Default().Cap), 0.01, c.id)
		assert.InDelta(t, r.His-r.Mine, r.Margin, 1e-12, c.id)
	}
}

// The same rows as a board is judged: with the built-in key and hands, which are
// worth 0.05 s less to him.
func TestRacesOnTheBoard(t *testing.T) {
	for _, c := range []struct {
		id, call, spot string
		hx             float64
		x, y           float64
		keeps          leverage.Keeps
		kind           leverage.Kind
	}{
		{"R1 legal but reached", "apex-quarters", "N", 9, 6, 5, leverage.No, leverage.Hat},
		{"R2 two yards wider", "apex-quarters", "N", 9, 8, 5, leverage.Yes, leverage.Hat},
		{"R3 the same place, other call", "two-read", "N", 8, 7, 5, leverage.Yes, leverage.Hat},
		{"R3 as quarters plays it", "apex-quarters", "N", 8, 7, 5, leverage.Yes, leverage.Hat},
		{"R4 in time", "two-read", "FS", 9, 8, 10.5, leverage.Yes, leverage.Alley},
		{"R4 late from 14", "two-read", "FS", 9, 8, 14, leverage.No, leverage.Alley},
		{"R6 recreates", "quarters", "C", 9, 17.5, 7, leverage.Yes, leverage.Hat},
	} {
		t.Run(c.id, func(t *testing.T) {
			both(t, func(t *testing.T, s field.Side) {
				spots := []at{{"C", 17.3, 7}, {"N", 8, 5}, {"FS", 8, 10}}
				if c.call == "two-read" {
					spots[0].x = 19
				}
				for i := range spots {
					if spots[i].tag == c.spot {
						spots[i].x, spots[i].y = c.x, c.y
					}
				}
				b := setup{book: staff(t, ways), call: c.call, side: s, menu: []string{"toss"}}.board(t, twins(18, c.hx), spots)
				trial(&b)
				r := judge.Run(&b)
				got := spotOf(t, &r, c.spot)
				assert.Equal(t, assign.Right, got.Rule.Verdict, "his rule is right")
				assert.Equal(t, c.keeps, got.Keeps, "margin %.3f", got.Race.Margin)
				assert.Equal(t, c.kind, got.Race.Kind)
			})
		})
	}
}

// R4 as it is foreseen: from 14 yd the lane of the safety is open, and the frozen
// moment names him.
func TestLateAlleyIsForeseen(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		for _, c := range []struct {
			y     float64
			sound bool
		}{{10.5, true}, {14, false}} {
			su := setup{call: "two-read", side: s, menu: []string{"toss"}}
			b := su.board(t, twins(18, 9), []at{{"C", 19, 7}, {"N", 7, 5}, {"FS", 8, c.y}})
			trial(&b)
			r := judge.Run(&b)
			assert.Equal(t, c.sound, r.Sound, "from %g yd", c.y)
			require.Len(t, r.Lanes, 3)
			f, ok := judge.Freeze(&b, b.Menu[0])
			require.True(t, ok)
			assert.Equal(t, "B", f.Moment.Carrier)
			l := b.Shown()
			frozen := b
			frozen.Before, frozen.Moment, frozen.Play = &l, &f.Moment, b.Menu[0]
			frozen.Men, frozen.Spots = nil, nil
			for _, m := range b.Men {
				m.At = f.Places[m.Tag]
				frozen.Men = append(frozen.Men, m)
			}
			for _, d := range b.Spots {
				d.At = f.Places[d.Label]
				frozen.Spots = append(frozen.Spots, d)
			}
			fr := judge.Run(&frozen)
			assert.Equal(t, c.sound, fr.Sound, "frozen, from %g yd", c.y)
			assert.Equal(t, r.Look, judge.LookResult{Right: fr.Look.Right, Left: fr.Look.Left}, "numbers are of the look before")
			if c.sound {
				assert.Equal(t, "FS", r.Lanes[1].FitBy)
				assert.Empty(t, fr.Faults)
				continue
			}
			assert.Empty(t, r.Lanes[1].FitBy)
			require.Len(t, fr.Faults, 1)
			assert.Equal(t, "FS", fr.Faults[0].Who)
			assert.Equal(t, string(lane.LateAlley), fr.Faults[0].Kind)
			assert.Equal(t, 1, fr.Faults[0].Opens)
		}
	})
}
