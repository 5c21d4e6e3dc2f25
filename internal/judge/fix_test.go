package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/assign"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/leverage"
)

// The fix, when there is one, does what it says: on the place it leads to his
// rule is right and he keeps leverage; without one, no place does.
func TestFixMends(t *testing.T) {
	boards, mended, none := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		boards++
		if b.Moment != nil {
			return
		}
		r := judge.Run(&b)
		for i := range b.Spots {
			s := spotOf(t, &r, b.Spots[i].Label)
			if s.Rule.Verdict == assign.Right && s.Keeps == leverage.Yes {
				continue
			}
			if !s.Held {
				none++
			}
			p := b
			p.Spots = append([]judge.Spot(nil), b.Spots...)
			p.Spots[i].At = p.Spots[i].At.Add(s.Fix)
			pr := judge.Run(&p)
			after := spotOf(t, &pr, s.Label)
			if !s.Duty.Placed {
				continue
			}
			if after.Rule.Verdict != assign.Right {
				t.Fatalf("%s: from %v by %v he is %s: %s", s.Label, b.Spots[i].At, s.Fix, after.Rule.Verdict, told(&p, &pr))
			}
			if s.Held {
				mended++
				nearer(t, b, i, s)
				if after.Keeps != leverage.Yes {
					t.Fatalf("%s: from %v by %v he keeps %s: %+v", s.Label, b.Spots[i].At, s.Fix, after.Keeps, after.Race)
				}
			} else if after.Keeps == leverage.Yes {
				t.Fatalf("%s: no place keeps, yet %v does", s.Label, p.Spots[i].At)
			}
		}
	})
	assert.Greater(t, mended, boards/2)
	assert.Greater(t, none, boards/20)
}

// A step towards his range never makes a right place wrong, nor a wrong one
// worse; and all the way it is right.
func TestStepsTowardsTheRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		if b.Moment != nil || len(b.Spots) == 0 {
			return
		}
		r := judge.Run(&b)
		s := r.Spots[rapid.IntRange(0, len(r.Spots)-1).Draw(t, "spot")]
		if !s.Duty.Placed {
			return
		}
		length := func(o field.Offset) float64 { return o.Vec().Norm() }
		o := s.Duty.Half.FlipOffset(s.At)
		way := s.Duty.Box.Nearest(o).Sub(o)
		was := s.Rule
		for k := field.Inches(1); k <= 8; k++ {
			step := field.Offset{X: way.X * k / 8, Y: way.Y * k / 8}
			got := s.Duty.At(s.Duty.Half.FlipOffset(o.Add(step)))
			if was.Verdict == assign.Right && got.Verdict != assign.Right {
				t.Fatalf("%s: right at %v, %s at %v", s.Label, s.At, got.Verdict, o.Add(step))
			}
			if length(got.Move) > length(was.Move)+1e-9 && was.Verdict != assign.Right {
				t.Fatalf("%s: %v away, then %v", s.Label, was.Move, got.Move)
			}
			was = got
		}
		if was.Verdict != assign.Right || was.Near {
			t.Fatalf("%s: all the way into his range, and %s", s.Label, was.Verdict)
		}
	})
}

// nearer tries places of his range nearer than the fix, in steps of half a yard
// from where he stands: none of them keeps leverage.
func nearer(t *rapid.T, b judge.Board, spot int, s *judge.SpotResult) {
	for range 3 {
		o := field.Offset{X: field.Inches(rapid.IntRange(-8, 8).Draw(t, "halves out")) * 18, Y: field.Inches(rapid.IntRange(-8, 8).Draw(t, "halves deep")) * 18}
		to := s.Duty.Half.FlipOffset(s.At).Add(s.Duty.Half.FlipOffset(o))
		if o.Vec().Norm() >= s.Fix.Vec().Norm() || s.Duty.Box.Nearest(to) != to {
			continue
		}
		p := b
		p.Spots = append([]judge.Spot(nil), b.Spots...)
		p.Spots[spot].At = s.At.Add(o)
		r := judge.Run(&p)
		if got := spotOf(t, &r, s.Label); got.Keeps == leverage.Yes {
			t.Fatalf("%s: %v mends, and so does %v, nearer", s.Label, s.Fix, o)
		}
	}
}
