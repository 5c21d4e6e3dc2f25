package judge_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/assign"
	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/leverage"
)

// Every because says what the numbers say.
func TestWordsAgreeWithNumbers(t *testing.T) {
	said := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		r := judge.Run(&b)
		for i := range r.Spots {
			s, why := &r.Spots[i], whyOf(&r, i)
			if strings.TrimSpace(why.Rule) == "" || strings.TrimSpace(why.Leverage) == "" || strings.TrimSpace(why.Fix) == "" {
				t.Fatalf("%s is told nothing: %+v", s.Label, why)
			}
			if strings.Contains(why.Rule+why.Leverage+why.Fix, "%!") || strings.Contains(why.Leverage, "NaN") || strings.Contains(why.Leverage, "Inf") {
				t.Fatalf("%s: %+v", s.Label, why)
			}
			if b.Moment != nil {
				continue
			}
			said[string(s.Race.Kind)]++
			if m := raceWords(&b, s, why.Leverage); m != "" {
				t.Fatalf("%s: %s: %+v says %q", s.Label, m, s.Race, why.Leverage)
			}
			if m := ruleWords(s, why.Rule); m != "" {
				t.Fatalf("%s: %s: %+v says %q", s.Label, m, s.Rule, why.Rule)
			}
			if (why.Fix == "Stay") != (s.Rule.Verdict == assign.Right && s.Keeps == leverage.Yes) {
				t.Fatalf("%s: %s, keeps %s, and is told %q", s.Label, s.Rule.Verdict, s.Keeps, why.Fix)
			}
			if s.Fix != (field.Offset{}) && s.Keeps != leverage.Yes && !strings.HasPrefix(why.Fix, judge.Move(s.Fix, s.Duty.Half)) {
				t.Fatalf("%s: %v is told as %q", s.Label, s.Fix, why.Fix)
			}
			if !s.Held && s.Rule.Verdict == assign.Right && s.Keeps == leverage.Yes {
				t.Fatalf("%s keeps and no place keeps", s.Label)
			}
		}
		for i := range r.Faults {
			f, because := &r.Faults[i], becauseOf(&r, i)
			if because == "" || strings.Contains(because, "%!") {
				t.Fatalf("%+v because %q", f, because)
			}
			if m := faultSays(f, because); b.Moment != nil && m != "" {
				t.Fatalf("%s: %+v says %q", m, f, because)
			}
		}
	})
	for _, k := range []leverage.Kind{leverage.NoRace, leverage.Hat, leverage.Alley, leverage.Top} {
		assert.Greater(t, said[string(k)], 100, "races of kind %q", k)
	}
}

func raceWords(b *judge.Board, s *judge.SpotResult, says string) string {
	r := s.Race
	has := func(t string) bool { return strings.Contains(says, t) }
	if r.Kind == leverage.NoRace {
		if has("short") || has("to spare") || s.By != "" {
			return "no race, but a winner"
		}
		return ""
	}
	m := math.Abs(r.Margin)
	switch {
	case !strings.HasPrefix(says, r.Play.Name+": "):
		return "does not name the play"
	case !has(s.By):
		return "does not name the man"
	case has("short") != (r.Margin < 0):
		return "short"
	case has("to spare") == (r.Margin < 0):
		return "to spare"
	case has("more than") != (r.Margin > b.Model.Cap):
		return "cap"
	case has("nobody can tell") != (m < b.Model.Band):
		return "contested"
	case m <= b.Model.Cap && !has(fmt.Sprintf("%.1f s %s", m, map[bool]string{true: "short", false: "to spare"}[r.Margin < 0])):
		return "the margin"
	case !has(fmt.Sprintf("%.2f s", r.Mine)) || !has(fmt.Sprintf("%.2f s", r.His)):
		return "the times"
	case math.Abs(r.His-r.Mine-r.Margin) > 1e-9:
		return "margin is not the difference of the times"
	case r.Kind == leverage.Hat && !has("hat "+string(r.Side)):
		return "the side of the hat"
	}
	return ""
}

func ruleWords(s *judge.SpotResult, says string) string {
	if s.Duty.Spot.Stand == nil || !s.Duty.Placed {
		if s.Rule.Verdict != assign.Right {
			return "no rule, but wrong"
		}
		return ""
	}
	end := map[assign.Verdict]string{assign.WrongSide: "that is the wrong side, his is " + string(s.Side), assign.TooTight: "too tight to the ball", assign.TooWide: "too wide",
		assign.TooDeep: "too deep", assign.TooShallow: "too shallow", assign.Right: "right"}[s.Rule.Verdict]
	if s.Rule.Near {
		end = "at the very edge of his rule"
	}
	if !strings.HasSuffix(says, ": "+end) {
		return "does not end in its verdict"
	}
	if s.Duty.KeepTag != "" && !strings.Contains(says, s.Duty.KeepTag) {
		return "does not name the man whose side he keeps"
	}
	return ""
}

func faultSays(f *judge.FaultResult, says string) string {
	switch {
	case f.Opens < 0 && !strings.Contains(says, "opens nothing"):
		return "opens nothing"
	case f.Opens >= 0 && !strings.Contains(says, fmt.Sprintf("lane %d", f.Opens)):
		return "the lane"
	case f.SavedBy != "" && !strings.Contains(says, f.SavedBy):
		return "who saved it"
	case f.Opens >= 0 && f.SavedBy == "" && !strings.Contains(says, "nobody fits it"):
		return "nobody"
	case strings.Contains(says, "costs") != (f.Opens >= 0 && f.Cost >= 0.05):
		return "the cost"
	case strings.Contains(says, "costs") && !strings.Contains(says, fmt.Sprintf("%.1f yd", f.Cost)):
		return "the yards"
	}
	return ""
}

// The fix, when there is one, does what it says: on the place it leads to his
// rule is right and he keeps leverage; without one, no place does.
func TestFixMends(t *testing.T) {
	mended, none := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
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
				if after.Keeps != leverage.Yes {
					t.Fatalf("%s: from %v by %v he keeps %s: %+v", s.Label, b.Spots[i].At, s.Fix, after.Keeps, after.Race)
				}
			} else if after.Keeps == leverage.Yes {
				t.Fatalf("%s: no place keeps, yet %v does", s.Label, p.Spots[i].At)
			}
		}
	})
	assert.Greater(t, mended, 1000)
	assert.Greater(t, none, 100)
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
