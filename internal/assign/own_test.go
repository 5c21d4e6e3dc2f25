package assign_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/assign"
	"halfline/internal/call"
	"halfline/internal/field"
	"halfline/internal/play"
)

func rule(ifNumber, ifRelease, takes string, h call.Hold) call.PassRule {
	return call.PassRule{If: call.Condition{Number: ifNumber, Release: ifRelease}, Takes: takes, Holds: h}
}

func with(r call.PassRule, number, release string) call.PassRule {
	r.With = call.Condition{Number: number, Release: release}
	return r
}

func dutiesOn(half field.Side, spots ...*call.Spot) []assign.Duty {
	out := make([]assign.Duty, len(spots))
	for i, s := range spots {
		out[i] = assign.Duty{Spot: s, Half: half}
	}
	return out
}

// receivers are Z, H, then the back in the box, by how each releases.
func receivers(z, h, b play.Release) []assign.Shown {
	return []assign.Shown{{Number: 1, Tag: "Z", Release: z}, {Number: 2, Tag: "H", Release: h}, {Number: 0, Tag: "B", Release: b}}
}

// The rules are tried in their order; a rule that only tells is passed over, as
// is one that takes a receiver who is not there.
func TestOwnersFollowTheOrderOfTheRules(t *testing.T) {
	s := &call.Spot{Label: "C", Pass: []call.PassRule{
		rule("#2", "", "", call.NoHold),
		rule("#2", "out", "#3", call.Under),
		with(rule("#2", "out", "back", call.Under), "back", "out"),
		rule("#2", "out", "#2", call.OnThrow),
		rule("#2", "vertical", "#1", call.InPhase),
		rule("#1", "", "#1", call.Over),
	}}
	for _, c := range []struct {
		what    string
		z, h, b play.Release
		thrown  bool
		want    assign.Own
	}{
		{"nothing shows", "", "", "", false, assign.Own{Tag: "Z", Hold: call.Over, Rule: &s.Pass[5]}},
		{"the other number decides", "", "vertical", "", false, assign.Own{Tag: "Z", Hold: call.InPhase, Rule: &s.Pass[4]}},
		{"until the throw the rules after it hold", "vertical", "out", "", false, assign.Own{Tag: "Z", Hold: call.Over, Rule: &s.Pass[5], Then: "H"}},
		{"on the throw", "vertical", "out", "", true, assign.Own{Tag: "H", Hold: call.OnThrow, Rule: &s.Pass[3]}},
		{"both conditions", "", "out", "out", true, assign.Own{Tag: "B", Hold: call.Under, Rule: &s.Pass[2]}},
		{"one condition of two", "", "", "out", true, assign.Own{Tag: "Z", Hold: call.Over, Rule: &s.Pass[5]}},
	} {
		for _, side := range []field.Side{field.Left, field.Right} {
			got := assign.Owners(nil, dutiesOn(side, s), side, receivers(c.z, c.h, c.b), c.thrown)
			assert.Equal(t, []assign.Own{c.want}, got, c.what)
			far := assign.Owners(nil, dutiesOn(side.Other(), s), side, receivers(c.z, c.h, c.b), c.thrown)
			assert.Equal(t, []assign.Own{{}}, far, "the other half has none of them")
		}
	}
	assert.Equal(t, []assign.Own{{}}, assign.Owners(nil, dutiesOn(field.Right, s), field.Right, nil, true), "nobody is there")
	odd := &call.Spot{Pass: []call.PassRule{rule("", "", "#1", call.Over), rule("#1", "", "Z", call.Over)}}
	assert.Equal(t, []assign.Own{{}}, assign.Owners(nil, dutiesOn(field.Right, odd), field.Right, receivers("", "", ""), true), "no such number")
}

func TestUnowned(t *testing.T) {
	shown := receivers("vertical", "out", "out")
	assert.Equal(t, []string{"Z", "H", "B"}, assign.Unowned(nil, shown))
	assert.Equal(t, []string{"Z", "H"}, assign.Unowned(nil, receivers("vertical", "block", "")), "a back counts once he leaves the box")
	assert.Equal(t, []string{"Z", "H"}, assign.Unowned(nil, receivers("", "", "block")))
	assert.Equal(t, []string{"B"}, assign.Unowned([]assign.Own{{Tag: "Z", Then: "H"}, {}}, shown), "who comes off to him on the throw has him")
	assert.Empty(t, assign.Unowned([]assign.Own{{Tag: "Z"}, {Tag: "H"}, {Tag: "B"}}, shown))
}

// It runs in every step of a rep.
func TestOwnersAllocatesNothing(t *testing.T) {
	s := &call.Spot{Pass: []call.PassRule{rule("#2", "out", "#2", call.OnThrow), rule("#1", "", "#1", call.Over)}}
	duties := dutiesOn(field.Right, s, s, s, s, s, s, s, s, s, s, s)
	shown := append(receivers("vertical", "out", ""), receivers("", "", "")...)
	out := make([]assign.Own, 0, 11)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		out = assign.Owners(out, duties, field.Right, shown, false)
		if len(assign.Unowned(out, shown[:2])) > 0 {
			t.Error("both are owned")
		}
	}))
}
