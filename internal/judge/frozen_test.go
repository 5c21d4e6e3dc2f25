package judge_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/lane"
	"halfline/internal/look"
	"halfline/internal/play"
)

// frozenBoard draws a frozen moment of a run on a coarse grid: a carrier, up to
// four blocks, each within a yard and a half of the man it is on, and free men
// anywhere between the box and the sideline.
func frozenBoard(r *rand.Rand, bk *book.Book, runs []*play.Play) judge.Board {
	grid := func(lo, hi int) field.Inches { return field.Inches(lo + r.IntN((hi-lo)/6)*6) }
	b := judge.Board{
		Ball:  field.Ball{Rules: field.AllRules[r.IntN(3)], Hash: []field.Hash{field.LeftHash, field.MiddleHash, field.RightHash}[r.IntN(3)], Yard: 40},
		Side:  []field.Side{field.Left, field.Right}[r.IntN(2)],
		Call:  bk.Calls[r.IntN(len(bk.Calls))],
		Play:  runs[r.IntN(len(runs))],
		Model: bk.Model, Carry: bk.Athletes.Carry(),
		Moment: &judge.Moment{Carrier: "B"},
	}
	wide := int(b.Ball.Sideline(b.Side))
	put := func(tag string, o field.Offset, line bool) {
		b.Men = append(b.Men, judge.Man{Man: look.Man{Tag: tag, At: b.Side.FlipOffset(o), Line: line}, Athlete: bk.Athletes.ByKind["wide"]})
	}
	put("SN", field.Offset{}, true)
	put("B", field.Offset{X: grid(36, wide), Y: grid(-180, 36)}, false)
	for _, s := range b.Call.Spots {
		if s.Half != b.Call.Spots[0].Half || r.IntN(5) == 0 {
			continue
		}
		at := field.Offset{X: grid(0, wide+36), Y: grid(0, 400)}
		sp := judge.Spot{Label: s.Label, At: b.Side.FlipOffset(at), Athlete: bk.Athletes.ByKind["safety"]}
		if r.IntN(4) == 0 {
			sp.Vel = &field.Vec{X: r.Float64()*12 - 6, Y: r.Float64()*8 - 7}
		}
		b.Spots = append(b.Spots, sp)
		switch tag := []string{"H", "Y", "Z", "W"}[len(b.Moment.Blocks)%4]; {
		case r.IntN(7) == 0:
			b.Moment.Late = append(b.Moment.Late, s.Label)
		case r.IntN(2) == 0 && len(b.Moment.Blocks) < 4:
			put(tag, field.Offset{X: at.X + grid(-54, 60), Y: at.Y - 18}, false)
			b.Moment.Blocks = append(b.Moment.Blocks, judge.Block{By: tag, On: s.Label})
		}
	}
	return b
}

// A frozen moment on the other side of the field is answered the same, to the
// last bit: lanes, gains, faults, and every man's rule and move. On every one of
// them the rule's own laws of faults hold.
func TestFrozenMomentsMirror(t *testing.T) {
	bk := book.Builtin()
	runs := bk.MenuPlays([]string{"toss", "swing", "bubble", "now"})
	r := rand.New(rand.NewPCG(5, 6))
	var j, mj judge.Judge
	var res, mres judge.Result
	sound, faulty, saved := 0, 0, 0
	for range frozenScenes {
		b := frozenBoard(r, bk, runs)
		m := mirrored(b)
		j.Run(&b, &res)
		mj.Run(&m, &mres)
		if bad := sameAnswer(&res, &mres); bad != "" {
			t.Fatalf("%s\n%+v\n%+v", bad, b, b.Moment)
		}
		if bad := faultLaws(&res); bad != "" {
			t.Fatalf("%s\n%+v\n%+v\n%+v", bad, res.Faults, b, b.Moment)
		}
		if res.Sound {
			sound++
		}
		if len(res.Faults) > 0 {
			faulty++
		}
		for _, f := range res.Faults {
			if f.SavedBy != "" && f.Opens >= 0 {
				saved++
				break
			}
		}
	}
	t.Logf("%d sound, %d with a fault, %d with one that a team-mate saved", sound, faulty, saved)
	assert.Greater(t, sound, frozenScenes/10)
	assert.Greater(t, faulty, frozenScenes/4)
	assert.Greater(t, saved, frozenScenes/50)
}

// sameAnswer says what of an answer is not so in the mirror.
func sameAnswer(a, m *judge.Result) string {
	if a.Sound != m.Sound || len(a.Lanes) != len(m.Lanes) || len(a.Faults) != len(m.Faults) || len(a.Spots) != len(m.Spots) {
		return "sound, or how many lanes, faults and men"
	}
	for i := range a.Lanes {
		x, y := a.Lanes[i], m.Lanes[i]
		y.Inner, y.Outer = -y.Inner, -y.Outer
		if x != y {
			return fmt.Sprintf("%+v, mirrored %+v", x, y)
		}
	}
	for i := range a.Faults {
		if a.Faults[i] != m.Faults[i] {
			return fmt.Sprintf("%+v, mirrored %+v", a.Faults[i], m.Faults[i])
		}
	}
	for i := range a.Spots {
		x, y := &a.Spots[i], &m.Spots[i]
		if x.Label != y.Label || x.Keeps != y.Keeps || x.Rule.Verdict != y.Rule.Verdict || x.Hat != y.Hat || x.BlockBy != y.BlockBy ||
			x.Rule.Move != field.Left.FlipOffset(y.Rule.Move) || x.Fix != field.Left.FlipOffset(y.Fix) {
			return fmt.Sprintf("%+v, mirrored %+v", x, y)
		}
	}
	return ""
}

// faultLaws says which law of faults is broken (trade brief 3, rule 6; common
// practice, no source): two in one lane is a fault only if another lane is
// empty; a free man who makes a team-mate's error right is not at fault for
// fitting there; a sound board may have faults, but none opens a lane that
// nobody saved.
func faultLaws(r *judge.Result) string {
	open := 0
	for _, l := range r.Lanes {
		if l.ShutBy == "" && l.FitBy == "" {
			open++
		}
	}
	for _, f := range r.Faults {
		switch {
		case f.Kind == string(lane.TwoInOne) && open == 0:
			return "two in one lane, and no lane is empty"
		case f.Opens >= 0 && f.SavedBy == "" && open == 0:
			return "a fault opens a lane on a sound board"
		}
		for _, g := range r.Faults {
			fits := g.Kind == string(lane.WrongLane) || g.Kind == string(lane.TwoInOne) || g.Kind == string(lane.LateAlley)
			if f.Opens >= 0 && g.Who == f.SavedBy && fits {
				return f.SavedBy + " saves " + f.Who + " and is at fault for where he fits"
			}
		}
	}
	return ""
}
