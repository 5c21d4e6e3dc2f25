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
	boards, said := 0, map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		boards++
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
		assert.Greater(t, said[string(k)], boards/20, "races of kind %q", k)
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
