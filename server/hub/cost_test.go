package hub_test

import (
	"context"
	"sync"
	"testing"
	"testing/synctest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
	"halfline/internal/rep"
	"halfline/internal/session"
	"halfline/server/hub"
)

var broken = session.Op{Do: "snap", Play: "toss", Errors: []session.Broken{{Spot: "N", Rule: "over-the-top"}}}

// The answer is the engine's own of the same board, and it is worth its seven
// digits: the error that the game's teaching warns of most costs most of a field
// (common practice, no source), and played right the same reps are run down.
func TestCostIsTheEnginesOwn(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		c.must(broken)
		got, err := w.hub.Cost(w.ctx, w.id)
		require.NoError(t, err)

		st := w.state()
		b, err := herons()
		require.NoError(t, err)
		r, opt, err := st.Reps(b)
		require.NoError(t, err)
		wrong := rep.Many(r.Board, r.Picture, opt, hub.CostReps)
		opt.Errors = nil
		right := rep.Many(r.Board, r.Picture, opt, hub.CostReps)
		for what, pair := range map[string][2]float64{
			"p10 right": {right.P10, *got.Right.P10}, "median right": {right.Median, *got.Right.Median}, "p90 right": {right.P90, *got.Right.P90},
			"p10 wrong": {wrong.P10, *got.Wrong.P10}, "median wrong": {wrong.Median, *got.Wrong.Median}, "p90 wrong": {wrong.P90, *got.Wrong.P90},
			"broke right": {right.Broke, *got.Right.Broke}, "broke wrong": {wrong.Broke, *got.Wrong.Broke},
		} {
			assert.Equal(t, field.Round2(pair[0]), pair[1], what)
		}
		assert.Nil(t, got.Right.Free, "a run is not about who is free")
		assert.Equal(t, hub.CostReps, got.Reps)
		assert.Equal(t, "toss", got.Play)
		assert.Equal(t, []session.Broken{{Spot: "N", Rule: "over-the-top"}}, got.Errors)
		assert.Greater(t, *got.Wrong.Median, *got.Right.Median+4)
	})
}

func TestCostOfAPassIsWhoIsFree(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		c.must(session.Op{Do: "snap", Play: "wheel"})
		breaks := c.twin.Track.Breaks
		require.NotEmpty(t, breaks["C"], "the corner can be wrong about a wheel")
		c.must(session.Op{Do: "snap", Play: "wheel", Errors: []session.Broken{{Spot: "C", Rule: breaks["C"][0]}}})
		got, err := w.hub.Cost(w.ctx, w.id)
		require.NoError(t, err)
		require.NotNil(t, got.Right.Free)
		require.NotNil(t, got.Wrong.Free)
		assert.Nil(t, got.Right.Median)
		assert.GreaterOrEqual(t, *got.Wrong.Free, *got.Right.Free)
	})
}

// There is nothing to tell before an error is given and after the board has
// changed, and nobody but who asked gets a frame of it.
func TestCostOnlyWhileTheRepIsShown(t *testing.T) {
	bubble(t, func(t T, w *world) {
		refused := func(why string) {
			_, err := w.hub.Cost(w.ctx, w.id)
			assert.ErrorIs(t, err, hub.ErrNoCost, why)
		}
		c, p := w.coach("head"), w.player("Ty", "30").at("FS")
		refused("no rep")
		c.must(snap)
		refused("nobody breaks a rule")
		c.must(broken)
		p.read()
		c.all, p.all = nil, nil
		_, err := w.hub.Cost(w.ctx, w.id)
		require.NoError(t, err)
		c.read()
		p.read()
		assert.Empty(t, append(c.all, p.all...), "it travels to who asked, by his own request")
		c.must(put("H", 310, -40))
		refused("the board has changed")
	})
}

// While it is played the owner goes on: an operation is done that is sent
// between question and answer, and ends what is told of the rep that it ends.
func TestCostDoesNotHoldUpTheSession(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		c.must(broken)
		free := w.hub.HoldCosts() // as if another session's cost were played
		var asked sync.WaitGroup
		errs := make([]error, 3)
		for i := range errs {
			asked.Go(func() { _, errs[i] = w.hub.Cost(w.ctx, w.id) })
		}
		synctest.Wait()
		c.must(session.Op{Do: "stop", Ms: ptr(700)})
		c.must(session.Op{Do: "title", Text: "goes on"})
		ctx, cancel := context.WithCancel(w.ctx)
		cancel()
		_, err := w.hub.Cost(ctx, w.id)
		require.ErrorIs(t, err, context.Canceled, "who goes does not wait")

		c.must(put("H", 310, -40))
		asked.Wait()
		for _, err := range errs {
			assert.ErrorIs(t, err, hub.ErrNoCost, "of a rep that is over nothing is told")
		}
		c.must(broken)
		free()
		got, err := w.hub.Cost(w.ctx, w.id)
		require.NoError(t, err)
		again, err := w.hub.Cost(w.ctx, w.id)
		require.NoError(t, err)
		assert.Equal(t, got, again)
	})
}

// A hub that closes does not wait for a cost that waits.
func TestCostEndsWithTheHub(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		c.must(broken)
		defer w.hub.HoldCosts()()
		got := make(chan error, 1)
		go func() { // ends with the hub
			_, err := w.hub.Cost(w.ctx, w.id)
			got <- err
		}()
		synctest.Wait()
		w.hub.Close()
		assert.Error(t, <-got)
	})
}

// What an answer rests on is told to whom the answer is told.
func TestRestsOfAnAnswerAreSeenAsItIs(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "30").at("N")
		other := w.player("Bo", "7")
		out, err := w.hub.Rests(w.ctx, p.pass, "N")
		require.NoError(t, err)
		v := p.twin.Verdicts.Spots["N"]
		assert.Equal(t, v.Leverage.Against, out.Against)
		assert.Equal(t, v.Leverage.By, out.By)
		assert.GreaterOrEqual(t, len(out.Rests), 8)
		assert.LessOrEqual(t, len(out.Rests), 13)
		_, err = w.hub.Rests(w.ctx, c.pass, "FS")
		require.NoError(t, err, "a coach is told of any")
		_, err = w.hub.Rests(w.ctx, c.pass, "XX")
		require.ErrorIs(t, err, hub.ErrNoSpot)
		for _, spot := range []string{"FS", "", "XX"} {
			_, err = w.hub.Rests(w.ctx, p.pass, spot)
			require.ErrorIs(t, err, hub.ErrNotSeen, "a player of his own only: %q", spot)
			_, err = w.hub.Rests(w.ctx, other.pass, spot)
			require.ErrorIs(t, err, hub.ErrNotSeen, "who holds no spot of none: %q", spot)
		}
		c.must(session.Op{Do: "hide", On: true})
		_, err = w.hub.Rests(w.ctx, p.pass, "N")
		require.ErrorIs(t, err, hub.ErrNotSeen, "hidden until he commits: it would tell who can beat him")
		p.must(session.Op{Do: "commit"})
		_, err = w.hub.Rests(w.ctx, p.pass, "N")
		require.NoError(t, err)
		_, err = w.hub.Rests(w.ctx, hub.Pass{Session: w.id, Member: "nobody", Role: session.Player}, "N")
		require.ErrorIs(t, err, hub.ErrNotSeen)
	})
}
