package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/rep"
)

func replayed(t testing.TB, r row, s field.Side, o judge.RepOptions) *judge.Track {
	b := r.board(t, s)
	pl, ok := book.Builtin().Play(r.play)
	require.True(t, ok)
	tr, err := judge.Replay(&b, pl, o)
	require.NoError(t, err)
	return tr
}

// A track is whole: keys on a grid from its first to its end, everybody in each,
// nobody off the field or faster than a man runs, events in order of time.
func TestTracksAreWhole(t *testing.T) {
	const fastest = 11.4 // yd/s, the fastest carrier measured in 2016 (league tracking, rotoviz 2017)
	both(t, func(t *testing.T, s field.Side) {
		for _, pl := range book.Builtin().Plays {
			r := row{call: "two-read", play: pl.ID, lb: true}
			b := r.board(t, s)
			tr, err := judge.Replay(&b, pl, judge.RepOptions{Force: -1, Seed: 7, Spread: true})
			if err != nil {
				assert.ErrorContains(t, err, "cannot run", pl.ID) // no tackle, no second back, nobody off the line on the far side
				continue
			}
			require.NotEmpty(t, tr.Keys, pl.ID)
			assert.Len(t, tr.Ball, len(tr.Keys), pl.ID)
			for k, key := range tr.Keys {
				require.Len(t, key, len(tr.Men)+len(tr.Spots), pl.ID)
				for i, at := range key {
					assert.True(t, b.Ball.Inside(at), "%s: man %d is off the field", pl.ID, i)
					if k > 0 {
						d := at.Vec().Dist(tr.Keys[k-1][i].Vec())
						assert.LessOrEqual(t, d, fastest*tr.Step+0.1, "%s: man %d at key %d", pl.ID, i, k)
					}
				}
			}
			last := tr.From
			for _, e := range tr.Events {
				assert.GreaterOrEqual(t, e.T, last, "%s: %s", pl.ID, e.What)
				assert.NotEmpty(t, e.Say, "%s: %s", pl.ID, e.What)
				last = e.T
			}
			assert.InDelta(t, tr.End.T, tr.From+float64(len(tr.Keys)-1)*tr.Step, tr.Step, pl.ID)
			assert.NotEmpty(t, tr.End.Say, pl.ID)
		}
	})
}

// The fault is named, with what it opened; played right there is none.
func TestRepNamesTheFirstCause(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		for _, c := range []struct {
			row  row
			errs map[string]rep.Error
			who  string
			kind string
		}{
			{row{call: "two-read", play: "toss"}, nil, "", ""},
			{row{call: "quarters", play: "toss"}, nil, "", ""},
			{row{call: "two-read", play: "toss"}, overN, "N", "over-the-top"},
			{row{call: "two-read", play: "toss"}, errs{"FS": rep.WrongSideOfApex}, "FS", "wrong-lane"},
			{row{call: "quarters", play: "toss"}, errs{"N": rep.DucksUnder}, "N", "ducks-under"},
			{row{call: "two-read", play: "toss"}, errs{"C": rep.EdgeInside}, "C", "edge-lost"},
			{row{call: "two-read", play: "bubble"}, errs{"C": rep.Early}, "C", "trigger-early"},
			{row{call: "two-read", play: "toss"}, errs{"FS": rep.Late}, "FS", "late-alley"},
			{row{call: "two-read", play: "toss"}, errs{"N": rep.LeavesBlock}, "N", "left-block-early"},
			{row{call: "two-read", play: "double-crack", lb: true}, errs{"C": rep.NotReplaced}, "C", "crack-not-replaced"},
			{row{call: "two-read", play: "wheel"}, errs{"FS": rep.Early}, "FS", "trigger-early"},
		} {
			tr := replayed(t, c.row, s, judge.RepOptions{Force: -1, Errors: c.errs})
			what := c.row.call + " " + c.row.play + " " + c.who + " " + c.kind
			if c.who == "" {
				assert.Empty(t, tr.Faults, what)
				continue
			}
			require.NotEmpty(t, tr.Faults, what)
			assert.Equal(t, c.who, tr.Faults[0].Who, what)
			assert.Equal(t, c.kind, tr.Faults[0].Kind, what)
			assert.NotEmpty(t, tr.Because(0), what)
		}
	})
}

// The safety who bites on a wheel leaves #1 to nobody: free, and he is named
// (trade P2, P6; common practice, no source).
func TestWhoIsFreeAndWhoseHeIs(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		tr := replayed(t, row{call: "two-read", play: "wheel"}, s, judge.RepOptions{Force: -1, Errors: errs{"FS": rep.Early}})
		var kinds, men []string
		for _, f := range tr.Faults {
			kinds, men = append(kinds, f.Kind), append(men, f.Man)
		}
		assert.Equal(t, []string{"trigger-early", "receiver-free"}, kinds)
		assert.Equal(t, []string{"", "Z"}, men)
		assert.Equal(t, "Z", tr.End.Caught)
		right := replayed(t, row{call: "two-read", play: "wheel"}, s, judge.RepOptions{Force: -1})
		assert.Equal(t, rep.NoThrow, right.End.How)
		for _, o := range right.Owners {
			assert.Empty(t, o.Unowned, "somebody has every receiver at %g s", o.T)
		}
	})
}

// A motion goes before the snap in time, and the defense lines up anew if it is
// let (trade A4: the slot becomes #3; common practice, no source).
func TestMotionAndBumps(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		r := row{call: "two-read", play: "now-push"}
		stays := replayed(t, r, s, judge.RepOptions{Force: -1})
		bumps := replayed(t, r, s, judge.RepOptions{Force: -1, Bump: true})
		assert.Less(t, stays.From, -1.0)
		assert.Equal(t, rep.Motion, stays.Events[0].What)
		n := len(stays.Men)
		first := stays.Keys[0]
		snap := int(-stays.From/stays.Step + 0.5)
		for i := range stays.Spots {
			assert.Equal(t, first[n+i], stays.Keys[snap][n+i], "nobody moves who is not told to")
		}
		moved := 0
		for i := range bumps.Spots {
			if bumps.Keys[0][n+i] != bumps.Keys[snap][n+i] {
				moved++
			}
		}
		assert.NotZero(t, moved)
	})
}

// A lane that the coach forces is taken, and a vise needs two on different hips.
func TestForcedLanesAndHips(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		b := row{call: "two-read", play: "toss"}.board(t, s)
		pl, _ := book.Builtin().Play("toss")
		_, err := judge.Replay(&b, pl, judge.RepOptions{Force: 3})
		assert.ErrorContains(t, err, "lane 3: toss has lanes 0 to 2")
		for lane := range 3 {
			tr := replayed(t, row{call: "two-read", play: "toss", lb: true}, s, judge.RepOptions{Force: lane})
			assert.Equal(t, lane, tr.End.Lane)
			if tr.End.How == rep.Tackled {
				assert.NotEqual(t, rep.NoHip, tr.End.Hip)
				assert.NotEqual(t, tr.End.By, tr.End.With)
			}
		}
	})
}

// Who keeps leverage before the snap and breaks no rule is not at fault in the rep,
// however it goes: what the phone says and what the rep says are one.
func TestNoFaultWithoutABrokenRule(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		for _, call := range []string{"two-read", "quarters", "3-cloud", "2"} {
			for _, pl := range []string{"toss", "swing", "bubble", "now"} {
				r := row{call: call, play: pl, lb: true}
				b := r.board(t, s)
				p, _ := book.Builtin().Play(pl)
				b.Menu = append(b.Menu[:0:0], p)
				before := judge.Run(&b)
				keeps := map[string]bool{}
				for _, sp := range before.Spots {
					keeps[sp.Label] = sp.Keeps == "yes"
				}
				for _, f := range replayed(t, r, s, judge.RepOptions{Force: -1}).Faults {
					assert.False(t, keeps[f.Who], "%s %s: %s %s", call, pl, f.Who, f.Kind)
				}
			}
		}
	})
}
