package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/lane"
	"halfline/internal/leverage"
)

// elevenTo is eleven against the right half of a call, a play to side s.
func elevenTo(t testing.TB, b *book.Book, call string, s field.Side, play string) judge.Board {
	men := []at{{"SN", 0, 0}, {"LG", -1.5, 0}, {"RG", 1.5, 0}, {"LT", -3, 0}, {"RT", 3, 0}, {"Q", 0, -5}, {"B", 1.5, -5.5},
		{"F", 0.5, -3.5}, {"Z", 18, -0.5}, {"H", 9, -1}, {"W", -8, -1}}
	out := setup{book: b, call: call, side: s, menu: []string{play}}.board(t, men,
		[]at{{"C", 19, 7}, {"N", 7, 5}, {"FS", 8, 10.5}, {"LB", 2, 4.5}})
	for i := range out.Men {
		switch out.Men[i].Tag {
		case "LG", "RG", "LT", "RT":
			out.Men[i].Line = true
		}
	}
	return out
}

// A double team is one block, at the outer blocker: as many lanes as without it
// (trade 3, rule 1; common practice, no source).
func TestDoubleTeamIsOneBlock(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		one := elevenTo(t, nil, "two-read", s, "toss")
		two := elevenTo(t, nil, "two-read", s, "toss-double")
		a, b := judge.Run(&one), judge.Run(&two)
		require.Len(t, b.Lanes, len(a.Lanes))
		for i := range a.Lanes {
			assert.Equal(t, a.Lanes[i].Outside, b.Lanes[i].Outside)
			assert.Equal(t, a.Lanes[i].ShutBy, b.Lanes[i].ShutBy)
		}
	})
}

// A lead man on the safety is a block more; the next man in takes the lane inside
// (trade T14, T39; common practice, no source).
func TestLeadOnTheSafetyMakesALane(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		for _, play := range []string{"toss-lead", "toss-fullback"} {
			b := elevenTo(t, nil, "two-read", s, play)
			r := judge.Run(&b)
			require.NotNil(t, r.Play, play)
			require.Len(t, r.Lanes, 4, play)
		}
		b := half(t, "toss-lead") // no tackle is shown: without its lead it is another play
		r := judge.Run(&b)
		assert.Nil(t, r.Play)
		_, err := judge.NewReps(&b, b.Menu[0])
		assert.ErrorContains(t, err, "no tackle to block for it")
	})
}

// Who is kicked out is to be outside: nothing to lose for who boxes it, a race to
// the inside for who spills it (trade 6.8; common practice, no source).
func TestKickOutBoxedOrSpilled(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		for _, c := range []struct {
			setting string
			kind    leverage.Kind
		}{{"box", leverage.NoRace}, {"spill", leverage.Hat}} {
			b := elevenTo(t, staff(t, "settings: {kick-outs: "+c.setting+"}\n"), "3-sky", s, "crack-kick")
			b.Spots = append(b.Spots[:0:0], b.Spots[0], judge.Spot{Label: "SS", At: s.FlipOffset(field.At(8, 5)), Athlete: b.Spots[1].Athlete})
			pl, _ := book.Builtin().Play("crack-kick")
			again := *pl
			again.Blocks = append(again.Blocks[:0:0], pl.Blocks...)
			for i := range again.Blocks { // the tackle kicks out the man who is force
				if again.Blocks[i].On == "corner" {
					again.Blocks[i].On = "apex"
				} else {
					again.Blocks[i].On = "corner"
				}
			}
			b.Menu = append(b.Menu[:0:0], &again)
			r := judge.Run(&b)
			assert.Equal(t, c.kind, spotOf(t, &r, "SS").Race.Kind, c.setting)
		}
	})
}

// The back pushed out makes the alley man's block: two blocks, three lanes, and
// the men have the numbers that they had before he went.
func TestPushMakesABlockOnTheAlley(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		b := elevenTo(t, nil, "two-read", s, "now-push")
		r := judge.Run(&b)
		require.Len(t, r.Lanes, 3)
		assert.Equal(t, lane.Bound{By: "B", On: "N"}, r.Lanes[0].Outside)
		assert.Equal(t, lane.Bound{By: "H", On: "C"}, r.Lanes[1].Outside)
	})
}

// A man on the line may not be in motion, a covered man gets no pass, and a look
// without a man on the far side has no jet.
func TestPlaysALookCannotRun(t *testing.T) {
	both(t, func(t *testing.T, s field.Side) {
		jet := elevenTo(t, nil, "two-read", s, "jet")
		_, err := judge.NewReps(&jet, jet.Menu[0])
		require.NoError(t, err)
		for i := range jet.Men {
			if jet.Men[i].Tag == "W" {
				jet.Men[i].Line = true
			}
		}
		_, err = judge.NewReps(&jet, jet.Menu[0])
		assert.ErrorContains(t, err, "this look cannot run jet: W stands on the line and may not be in motion")
		bubble := elevenTo(t, nil, "two-read", s, "bubble")
		for i := range bubble.Men {
			if bubble.Men[i].Tag == "H" {
				bubble.Men[i].Line = true // Z on the line outside covers him
			}
		}
		_, err = judge.NewReps(&bubble, bubble.Menu[0])
		assert.ErrorContains(t, err, "this look cannot run bubble: H is covered on the line: not eligible for a pass")
	})
}
