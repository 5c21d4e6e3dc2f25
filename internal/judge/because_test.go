package judge_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/leverage"
	"halfline/internal/wire"
)

var (
	seconds = regexp.MustCompile(`(\d+\.\d+) s\b`)
	place   = regexp.MustCompile(`\((-?\d+\.\d), (-?\d+\.\d)\)`)
	stands  = regexp.MustCompile(`he stands (head up on|over|(\S+(?: yd| in)?) (outside|inside)) (\S+(?: ball's side)?), (\S+(?: in)?) deep`)
	meets   = regexp.MustCompile(`fits lane (\d+), meets the ball at (-?\d+\.\d) yd`)
	costs   = regexp.MustCompile(`costs (\d+\.\d) yd`)
)

// read reads a number of a text.
func read(t *rapid.T, s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatalf("%q is no number", s)
	}
	return v
}

// length reads a length as a coach says it: "1½ yd", "½ yd", "2.3", "7 in".
func length(t *rapid.T, s string) float64 {
	if in, ok := strings.CutSuffix(s, " in"); ok {
		return read(t, in) / 36
	}
	s = strings.TrimSuffix(s, " yd")
	half := 0.0
	if whole, ok := strings.CutSuffix(s, "½"); ok {
		if s, half = whole, 0.5; s == "" {
			return half
		}
	}
	return read(t, s) + half
}

// agrees is that two numbers are the same to so many places, words being told from
// one that is not rounded yet.
func agrees(told, is, step float64) bool { return math.Abs(told-is) <= step/2+1e-9 }

// The numbers in the words are the numbers of the answer: read back out of the
// text, they are those of the race, the rule, the lanes and the faults, within
// what rounding does. A length of half yards may be three inches off.
func TestNumbersInTheWordsAreTheAnswers(t *testing.T) {
	const halves = 3.0/36 + 0.01
	found := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		b := anyBoard(t)
		r := judge.Run(&b)
		a := wire.AnswerOf(&b, &r)
		for i := range r.Spots {
			s, why, told := &r.Spots[i], whyOf(&r, i), &a.Defenders[i]
			if b.Moment == nil && s.Race.Kind != leverage.NoRace {
				found["race"]++
				race(t, &b, s, why.Leverage, told)
			}
			if m := stands.FindStringSubmatch(why.Rule); b.Moment == nil && m != nil {
				found["rule"]++
				o := s.Duty.Half.FlipOffset(s.At)
				off := (o.X - s.Duty.KeepX).Yards()
				if m[2] != "" && math.Abs(length(t, m[2])-math.Abs(off)) > halves || (m[3] == "outside") != (off > 0) && m[3] != "" {
					t.Fatalf("he is %v off and %q", off, why.Rule)
				}
				if d := length(t, m[5]); math.Abs(d-max(o.Y.Yards(), 0)) > halves {
					t.Fatalf("he is %v deep and %q", o.Y.Yards(), why.Rule)
				}
			}
			if b.Moment != nil {
				for _, m := range meets.FindAllStringSubmatch(why.Leverage, -1) {
					found["fits"]++
					n, _ := strconv.Atoi(m[1])
					if l := &r.Lanes[n]; l.FitBy != s.Label || !agrees(read(t, m[2]), l.Gain, 0.1) {
						t.Fatalf("%+v, and %q", l, why.Leverage)
					}
				}
			}
			move(t, s, why.Fix)
		}
		for i := range r.Faults {
			because := becauseOf(&r, i)
			if m := costs.FindStringSubmatch(because); m != nil {
				found["costs"]++
				if !agrees(read(t, m[1]), r.Faults[i].Cost, 0.1) || a.Faults[i].CostYd == nil || !agrees(read(t, m[1]), *a.Faults[i].CostYd, 0.11) {
					t.Fatalf("%v, and %q", r.Faults[i].Cost, because)
				}
			}
		}
	})
	for _, what := range []string{"race", "rule", "fits", "costs"} {
		assert.Greater(t, found[what], 100, what)
	}
}

// race reads a because of a race: the two times, the margin, which of the two is
// the man's, and where he must be.
func race(t *rapid.T, b *judge.Board, s *judge.SpotResult, says string, told *wire.SpotAnswer) {
	var all []float64
	for _, m := range seconds.FindAllStringSubmatch(says, -1) {
		all = append(all, read(t, m[1]))
	}
	r := &s.Race
	if len(all) < 3 {
		t.Fatalf("%d times in %q", len(all), says)
	}
	mine, his := all[0], all[1]
	if r.Kind == leverage.Alley || r.Kind == leverage.Top { // the other's time is told first
		mine, his = his, mine
	}
	if !agrees(mine, r.Mine, 0.01) || !agrees(his, r.His, 0.01) {
		t.Fatalf("he needs %v, the other %v, and %q", r.Mine, r.His, says)
	}
	margin := all[2]
	if math.Abs(r.Margin) <= b.Model.Cap || r.Margin < 0 {
		if !agrees(margin, math.Abs(r.Margin), 0.1) {
			t.Fatalf("margin %v, and %q", r.Margin, says)
		}
		if !agrees(*told.Leverage.MarginS, r.Margin, 0.01) {
			t.Fatalf("margin %v, answered %v", r.Margin, *told.Leverage.MarginS)
		}
		if d := *told.Leverage.MarginYd - r.Margin*s.Speed; math.Abs(d) > 0.006 {
			t.Fatalf("margin %v at %v yd/s, answered %v yd", r.Margin, s.Speed, *told.Leverage.MarginYd)
		}
	} else if !agrees(margin, b.Model.Cap, 0.1) || !strings.Contains(says, "more than") {
		t.Fatalf("margin %v over the cap, and %q", r.Margin, says)
	}
	// The difference of the times told is the margin told, but for rounding.
	if d := his - mine; math.Abs(d-r.Margin) > 0.011 {
		t.Fatalf("times differ by %v, margin %v: %q", d, r.Margin, says)
	}
	if m := place.FindStringSubmatch(says); m != nil && (!agrees(read(t, m[1]), r.At.X, 0.1) || !agrees(read(t, m[2]), r.At.Y, 0.1)) {
		t.Fatalf("he must be at %v, and %q", r.At, says)
	}
}

var step = regexp.MustCompile(`(\S+?(?: yd| in)?) (outside|inside|deeper|up)\b`)

// move reads a fix back: out and deep in yards.
func move(t *rapid.T, s *judge.SpotResult, says string) {
	if strings.HasPrefix(says, "Stay") || s.Fix == (field.Offset{}) {
		return
	}
	var out, deep float64
	for _, m := range step.FindAllStringSubmatch(says, -1) {
		switch v := length(t, m[1]); m[2] {
		case "outside":
			out = v
		case "inside":
			out = -v
		case "deeper":
			deep = v
		case "up":
			deep = -v
		}
	}
	f := s.Duty.Half.FlipOffset(s.Fix)
	if math.Abs(out-f.X.Yards()) > 3.0/36+0.051 || math.Abs(deep-f.Y.Yards()) > 3.0/36+0.051 {
		t.Fatalf("the fix is %v and %q", f, says)
	}
}
