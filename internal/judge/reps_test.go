package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/lane"
	"halfline/internal/rep"
)

// perRow is the reps of each row: enough for the sign and the order.
const perRow = 150

type errs = map[string]rep.Error

// outcome is what a trial of the model found for a row: median and share that
// broke (%). Derived; sign and order are held, not digits: so and so near.
type outcome struct {
	name          string
	row           row
	median, broke float64
	near, within  float64
}

var (
	lateFS  = errs{"FS": rep.Late}
	wrongFS = errs{"FS": rep.WrongSideOfApex}
	overN   = errs{"N": rep.OverTheTop}
	underN  = errs{"N": rep.DucksUnder}
	inC     = errs{"C": rep.EdgeInside}
	bd      = field.Ball{Rules: field.NFHS, Hash: field.RightHash, Yard: 42}
)

var outcomes = []outcome{
	{"two-read toss, right", row{call: "two-read", play: "toss"}, 2.4, 3, 0.6, 6},
	{"apex over the top", row{call: "two-read", play: "toss", errs: overN}, 15, 99, 0.5, 15},
	{"apex ducks under", row{call: "two-read", play: "toss", errs: underN}, 1.4, 8, 0.8, 25},
	{"safety on the wrong side", row{call: "two-read", play: "toss", errs: wrongFS}, 15, 90, 0.5, 15},
	{"safety late", row{call: "two-read", play: "toss", errs: lateFS}, 3.5, 6, 0.7, 10},
	{"corner inside", row{call: "two-read", play: "toss", errs: inC}, 2.4, 2, 0.6, 12},
	{"corner late", row{call: "two-read", play: "toss", errs: errs{"C": rep.Late}}, 2.4, 2, 0.6, 6},
	{"apex late", row{call: "two-read", play: "toss", errs: errs{"N": rep.Late}}, 2.5, 1, 0.6, 6},
	// Ours is deeper than the trial's: the apex gets there, the cutback costs him.
	{"bubble, right", row{call: "two-read", play: "bubble"}, 1.2, 0, 3.2, 6},
	{"bubble, apex late", row{call: "two-read", play: "bubble", errs: errs{"N": rep.Late}}, 4.8, 3, 1.2, 8},
	{"now, right", row{call: "two-read", play: "now"}, 5.3, 2, 1.3, 6},
	{"now, corner inside", row{call: "two-read", play: "now", errs: inC}, 6.7, 17, 2.5, 12},
	{"now, the back pushed out on the apex", row{call: "two-read", play: "now-push"}, 5.4, 5, 1.5, 12},
	{"into the boundary, right", row{call: "two-read", play: "toss", ball: bd, z: 10, h: 6}, 2.6, 0, 1.6, 12},
	{"quarters toss, right", row{call: "quarters", play: "toss"}, 2.5, 0, 0.7, 6},
	{"quarters: apex ducks under", row{call: "quarters", play: "toss", errs: underN}, 3.1, 24, 2.8, 25},
	{"quarters: safety on the wrong side", row{call: "quarters", play: "toss", errs: wrongFS}, 15, 100, 1, 15},
	{"quarters: safety late", row{call: "quarters", play: "toss", errs: lateFS}, 3.5, 0, 1.1, 6},
	{"quarters: corner inside", row{call: "quarters", play: "toss", errs: inC}, 2.6, 1, 0.7, 8},
	{"quarters: apex late", row{call: "quarters", play: "toss", errs: errs{"N": rep.Late}}, 2.6, 1, 0.8, 8},
	{"quarters bubble, right", row{call: "quarters", play: "bubble"}, 0.5, 0, 1.2, 8},
	{"quarters bubble, apex late", row{call: "quarters", play: "bubble", errs: errs{"N": rep.Late}}, 2.2, 4, 1.2, 8},
	{"quarters now, right", row{call: "quarters", play: "now"}, 1.1, 6, 1.2, 10},
	{"quarters now, corner inside", row{call: "quarters", play: "now", errs: inC}, 1.1, 6, 1.2, 12},
}

func TestOutcomesResembleTheTrial(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		got := map[string]rep.Spread{}
		for _, o := range outcomes {
			sp, _ := o.row.run(t, s, perRow)
			got[o.name] = sp
			assert.InDelta(t, o.median, sp.Median, o.near, o.name)
			assert.InDelta(t, o.broke, 100*sp.Broke, o.within, "%s: share that broke", o.name)
		}
		more := func(wrong, right string) {
			assert.Greater(t, got[wrong].Median+10*got[wrong].Broke, got[right].Median+10*got[right].Broke, "%s against %s", wrong, right)
		}
		more("apex over the top", "two-read toss, right")
		more("safety on the wrong side", "two-read toss, right")
		more("safety late", "two-read toss, right")
		more("bubble, apex late", "bubble, right")
		more("now, corner inside", "now, right")
		more("quarters: apex ducks under", "quarters toss, right")
		more("quarters: safety on the wrong side", "quarters toss, right")
		more("quarters: safety late", "quarters toss, right")
		more("quarters bubble, apex late", "quarters bubble, right")
		// What does not pay on average is not made to: only the share that broke rises.
		assert.Less(t, got["apex ducks under"].Median, got["two-read toss, right"].Median)
		assert.Greater(t, got["apex ducks under"].Broke, got["two-read toss, right"].Broke)
	})
}

// A safety who is late lets the ball go deeper, in every call that has him in the
// alley; and with an overlapping linebacker broken rules cost less.
func TestLateAndOverlap(t *testing.T) {
	for _, call := range []string{"two-read", "quarters", "2"} {
		right, _ := row{call: call, play: "toss"}.run(t, field.Right, perRow)
		late, _ := row{call: call, play: "toss", errs: lateFS}.run(t, field.Right, perRow)
		assert.Greater(t, late.Median, right.Median, call)
	}
	for _, e := range []errs{overN, wrongFS} {
		alone, _ := row{call: "two-read", play: "toss", errs: e}.run(t, field.Right, perRow)
		helped, _ := row{call: "two-read", play: "toss", errs: e, lb: true}.run(t, field.Right, perRow)
		assert.Less(t, helped.Broke, alone.Broke, e)
	}
}

// Who is cracked has no edge any more: it is the corner's, and when he does not
// come the ball goes (trade T36, T37; common practice, no source).
func TestCrackAndReplace(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		right, _ := row{call: "two-read", play: "double-crack", lb: true}.run(t, s, perRow)
		nobody, _ := row{call: "two-read", play: "double-crack", lb: true,
			errs: errs{"C": rep.NotReplaced, "FS": rep.WrongSideOfApex}}.run(t, s, perRow)
		assert.Greater(t, nobody.Broke, right.Broke+0.2)
	})
}

// passes: share of reps with a receiver free, %, right and with one man who
// breaks on the fake. Derived in a trial.
func TestPassesResembleTheTrial(t *testing.T) {
	free := func(t *testing.T, s field.Side, r row, who string) float64 {
		sp, reps := r.run(t, s, perRow)
		for k := range reps.Picture.Routes {
			if reps.Board.Men[reps.Picture.Routes[k].By].Man.Tag == who {
				return 100 * sp.Free[k]
			}
		}
		require.Fail(t, who+" runs no route")
		return 0
	}
	both(t, func(t *testing.T, s field.Side) {
		for _, c := range []struct {
			call, play, who string
			errs            errs
			want, within    float64
		}{
			{"two-read", "wheel", "Z", nil, 14, 15},
			{"two-read", "wheel", "H", nil, 0, 5},
			{"two-read", "wheel", "Z", errs{"FS": rep.Early}, 100, 5},
			{"quarters", "wheel", "Z", nil, 6, 8},
			{"quarters", "wheel", "H", nil, 0, 8},
			{"quarters", "wheel", "Z", errs{"C": rep.Early}, 100, 5},
			{"two-read", "bubble-and-go", "Z", nil, 24, 20},
			{"two-read", "bubble-and-go", "Z", errs{"FS": rep.Early}, 93, 20},
			{"quarters", "bubble-and-go", "Z", nil, 6, 8},
			{"quarters", "bubble-and-go", "Z", errs{"C": rep.Early}, 82, 45},
			{"two-read", "verticals", "Z", nil, 0, 5},
			{"two-read", "verticals", "H", nil, 0, 5},
			{"quarters", "verticals", "Z", nil, 0, 5},
			{"quarters", "verticals", "H", nil, 0, 5},
		} {
			got := free(t, s, row{call: c.call, play: c.play, errs: c.errs}, c.who)
			assert.InDelta(t, c.want, got, c.within, "%s %s: %s free, errors %v", c.call, c.play, c.who, c.errs)
		}
		// An error of a man who does not own the receiver moves nothing.
		assert.InDelta(t, free(t, s, row{call: "quarters", play: "wheel"}, "Z"),
			free(t, s, row{call: "quarters", play: "wheel", errs: errs{"FS": rep.Early}}, "Z"), 3)
	})
}

// The two calls send the same toss to the same man by different lanes: the
// safety makes most tackles, between apex and corner in two-read and inside of
// the apex in quarters.
func TestTheBallGoesToTheFreeHitter(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		for _, call := range []string{"two-read", "quarters"} {
			reps := row{call: call, play: "toss"}.reps(t, s)
			inside, outside := 0, 0
			tackles := 0
			for seed := range uint64(perRow) {
				r := rep.Run(reps.Board, reps.Picture, rep.Options{Seed: seed, Spread: true, Force: -1, Trace: 60})
				last := r.Trail[len(r.Trail)-1]
				for i, l := range reps.Labels {
					if l == "N" && last.Men[i].X < r.At.X {
						outside++
					} else if l == "N" {
						inside++
					}
					if l == "FS" && r.By == i {
						tackles++
					}
				}
			}
			assert.Greater(t, tackles, perRow/2, call)
			if call == "two-read" {
				assert.Greater(t, outside, 2*inside, "two-read: the ball ends outside of the apex")
			} else {
				assert.Greater(t, inside, 2*outside, "quarters: the ball ends inside of the apex")
			}
		}
	})
}

// Quarters set to the apex, slot at 9, the apex moved out from 6
// to 10. What the phone says before the snap and where his hat ends in the rep
// are one function. Derived in a trial: 214/83/3, 65/203/32, 8/146/146, 2/52/246,
// 0/3/297 of 300 with the hat in / even / out.
func TestRepEndsAsTheApexTableSays(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		b := row{call: "quarters", play: "toss"}.board(t, s)
		pl, _ := book.Builtin().Play("toss")
		for _, w := range []struct {
			x             float64
			in, even, out int
		}{{6, 214, 83, 3}, {7, 65, 203, 32}, {8, 8, 146, 146}, {9, 2, 52, 246}, {10, 0, 3, 297}} {
			for i := range b.Spots {
				if b.Spots[i].Label == "N" {
					b.Spots[i].At = s.FlipOffset(field.At(w.x, 5))
				}
			}
			r, err := judge.NewReps(&b, pl)
			require.NoError(t, err)
			sp := rep.Many(r.Board, r.Picture, rep.Options{Seed: 1, Force: -1}, 300)
			for i, l := range r.Labels {
				if l == "N" {
					h := sp.Hats[i]
					assert.InDelta(t, w.in, h[lane.In], 45, "in, apex at %g", w.x)
					assert.InDelta(t, w.even, h[lane.Even], 60, "even, apex at %g", w.x)
					assert.InDelta(t, w.out, h[lane.Outside], 45, "out, apex at %g", w.x)
				}
			}
		}
	})
}

func TestSameSeedSameRep(t *testing.T) {
	a, _ := row{call: "two-read", play: "bubble"}.run(t, field.Right, 30)
	b, _ := row{call: "two-read", play: "bubble"}.run(t, field.Right, 30)
	assert.Equal(t, a, b)
}

// Both sides are one: a rep to the left is the rep to the right seen in a mirror.
func TestMirroredReps(t *testing.T) {
	for _, pl := range []string{"toss", "bubble", "now", "now-push", "double-crack", "wheel", "flood"} {
		right := row{call: "two-read", play: pl, lb: true}.reps(t, field.Right)
		left := row{call: "two-read", play: pl, lb: true}.reps(t, field.Left)
		for seed := range uint64(10) {
			o := rep.Options{Seed: seed, Spread: true, Force: -1}
			a, b := rep.Run(right.Board, right.Picture, o), rep.Run(left.Board, left.Picture, o)
			assert.Equal(t, a.Gain, b.Gain, "%s, seed %d", pl, seed)
			assert.Equal(t, a.At, b.At, "%s, seed %d", pl, seed)
		}
	}
}

func TestImpossibleErrorsAreRefused(t *testing.T) {
	for _, c := range []struct {
		call, play, who string
		e               rep.Error
		want            string
	}{
		{"quarters", "toss", "N", rep.OverTheTop, "over the top is wrong only for a blocked man whose hat must be inside"},
		{"two-read", "toss", "FS", rep.DucksUnder, "only a blocked man in front of the ball can duck under"},
		{"two-read", "toss", "N", rep.EdgeInside, "only a blocked man whose hat must be outside can lose the edge"},
		{"two-read", "toss", "N", rep.WrongSideOfApex, "only the man who fits the alley can fit the wrong lane"},
		{"two-read", "toss", "C", rep.NotReplaced, "only an edge man in front of whom the receiver cracks has somebody to replace"},
		{"two-read", "toss", "C", rep.Early, "only a man who waits for the throw can go before it"},
		{"two-read", "toss", "FS", rep.LateShed, "nobody blocks him in this play"},
		{"two-read", "verticals", "C", rep.Early, "the play fakes nothing to break on"},
		{"two-read", "wheel", "C", rep.OverTheTop, "a pass has no block or lane to break that rule on"},
		{"two-read", "toss", "X", rep.Late, "nobody of that name"},
		{"two-read", "toss", "C", "lazy", "no such error"},
	} {
		_, err := row{call: c.call, play: c.play}.reps(t, field.Right).Error(c.who, c.e)
		assert.ErrorContains(t, err, c.want, "%s %s %s", c.play, c.who, c.e)
	}
}
