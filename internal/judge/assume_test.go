package judge_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/judge"
)

// Every assumption is stated once, with its unit, how well it is founded and on
// what; a published one names its source; what is shipped is not the staff's.
func TestAssumptionsAreStated(t *testing.T) {
	bk := book.Builtin()
	b := setup{call: "two-read", side: field.Right, menu: []string{"toss", "wheel"}}.board(t, twins(18, 9), []at{{"C", 19, 7}, {"N", 7, 5}, {"FS", 8, 10.5}})
	all := judge.Assumptions(&b, bk)
	is := map[string]judge.Assumption{}
	for _, a := range all {
		_, twice := is[a.Key]
		assert.False(t, twice, a.Key)
		is[a.Key] = a
		assert.Contains(t, []judge.Status{judge.Published, judge.Derived, judge.Practice, judge.Chosen}, a.Status, a.Key)
		assert.Contains(t, []string{"", "s", "yd", "yd/s"}, a.Unit, a.Key)
		assert.NotEmpty(t, a.Source, a.Key)
		assert.NotEmpty(t, a.Change, a.Key)
		assert.NotContains(t, a.Source, "staff's own", "%s is as shipped", a.Key)
		assert.Less(t, len(a.Source), 140, a.Key)
	}
	// Time constant of football starts: Clark, Rieger, Bruno and Stearne 2017.
	assert.Equal(t, 0.77, is["athletes.tau"].Value)
	assert.Equal(t, judge.Published, is["athletes.tau"].Status)
	assert.Equal(t, judge.Published, is["athlete.FS.tau"].Status)
	assert.Contains(t, is["athlete.FS.tau"].Source, "2017")
	assert.Equal(t, b.Model.Band, is["model.band"].Value)
	assert.Equal(t, judge.Derived, is["model.band"].Status)
	assert.Equal(t, b.Spots[2].Athlete.Top, is["athlete.FS.top"].Value)
	assert.Equal(t, 1.55, is["play.toss.commits"].Value)
	assert.NotZero(t, is["key.N.toss"].Value)
	assert.NotZero(t, is["play.wheel.throw_to"].Value)

	// What a staff changes becomes theirs, and the rest stays.
	own := staff(t, "model: {set: 0.3}\nathletes: {safety: {forty: 5.4}}\n")
	nb := b
	nb.Model = own.Model
	for _, a := range judge.Assumptions(&nb, own) {
		if a.Key == "model.set" {
			assert.Equal(t, 0.3, a.Value)
			assert.Equal(t, judge.Chosen, a.Status)
			assert.Contains(t, a.Source, "staff")
		} else if strings.HasPrefix(a.Key, "model.") {
			assert.Equal(t, is[a.Key], a)
		}
	}
}

// The same numbers stand on both sides, in the same order.
func TestAssumptionsHaveNoSide(t *testing.T) {
	var lists [][]judge.Assumption
	both(t, func(t *testing.T, s field.Side) {
		b := setup{call: "quarters", side: s, menu: []string{"bubble"}}.board(t, twins(18, 9), []at{{"C", 17, 7}, {"N", 10, 5}, {"FS", 8, 10}})
		lists = append(lists, judge.Assumptions(&b, book.Builtin()))
	})
	assert.Equal(t, lists[0], lists[1])
}
