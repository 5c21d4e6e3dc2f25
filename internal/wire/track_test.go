package wire_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
	"halfline/internal/judge"
	"halfline/internal/play"
	"halfline/internal/rep"
	"halfline/internal/wire"
	"halfline/internal/wire/wiretest"
)

// engineTrack is a track as the engine gives it: men and spots who run straight,
// each his own way, and a lane that narrows by an inch a key.
func engineTrack(men, spots, keys int) *judge.Track {
	t := &judge.Track{Play: &play.Play{ID: "toss"}, From: -0.8, Step: 0.1,
		End: judge.End{T: 2.7, Gain: 2.437, How: rep.Tackled, By: "S0", Hip: rep.NearHip, At: field.Offset{X: 300, Y: 88}, Lane: 1}}
	for i := range men {
		t.Men = append(t.Men, fmt.Sprintf("M%d", i))
	}
	for i := range spots {
		t.Spots = append(t.Spots, fmt.Sprintf("S%d", i))
	}
	for k := range keys {
		var key []field.Offset
		for i := range men + spots {
			key = append(key, field.Offset{X: field.Inches(100*i - 900 + (i%7-3)*4*k), Y: field.Inches(-180 + (i%5)*7*k)})
		}
		t.Keys = append(t.Keys, key)
		t.Ball = append(t.Ball, field.Offset{X: field.Inches(31 * k), Y: -180})
		t.Lanes = append(t.Lanes, judge.LanesAt{T: float64(k) / 10, Takes: 1,
			Lanes: []judge.LaneResult{{N: 0, ShutBy: "S1", Inner: 144, Outer: field.Inches(300 - k)}, {N: 1, FitBy: "S0", Gain: 2.4, HasGain: true, Inner: 300, Outer: 600}}})
	}
	return t
}

func TestTrackOf(t *testing.T) {
	e := engineTrack(3, 2, 12)
	e.Events = []judge.Event{{T: 0.35, What: rep.Keys, Who: "S0", To: "M1", Lane: -1, Say: "S0 reads M1"}, {T: 1.55, What: rep.Commits, Who: "M2", Lane: 0}}
	e.Owners = []judge.OwnersAt{{T: 0, Of: map[string]string{"S0": "M1"}}, {T: 1}}
	e.Faults = []judge.FaultResult{{Who: "S1", Kind: "over-the-top", Opens: 0, SavedBy: "S0", Cost: 4.126}, {Who: "S0", Kind: "off-depth", Opens: -1}}
	e.Free = []judge.FreeMan{{Who: "M0", Thrown: 2.04, Margin: 0.126, Free: true}}
	got := wire.TrackOf(e)
	assert.Equal(t, []int{-800, 100, 2700}, []int{got.From, got.Step, got.End.T})
	assert.Equal(t, []string{"M0", "M1", "M2"}, got.Men)
	require.Len(t, got.Keys, 5)
	for i, way := range got.Keys {
		x, y := field.Inches(0), field.Inches(0)
		for k := range e.Keys {
			x, y = x+way[2*k], y+way[2*k+1]
			assert.Equal(t, e.Keys[k][i], field.Offset{X: x, Y: y}, "man %d, key %d", i, k)
		}
	}
	assert.Equal(t, []field.Inches{0, -180, 31, 0, 31, 0}, got.Ball[:6])
	assert.Equal(t, wire.TrackEvent{T: 350, What: "key", Who: "S0", To: "M1", Say: "S0 reads M1"}, got.Events[0])
	require.NotNil(t, got.Events[1].Lane)
	assert.Zero(t, *got.Events[1].Lane)
	assert.Equal(t, 4.13, *got.Faults[0].CostYd)
	assert.Nil(t, got.Faults[1].Opens)
	assert.Equal(t, map[string]string{}, got.Owners[1].Of)
	assert.Equal(t, wire.TrackFree{Who: "M0", Thrown: 2040, MarginS: 0.13, Free: true}, got.Free[0])
	assert.Equal(t, 2.44, got.End.GainYd)
	assert.Len(t, got.Lanes, 1, "a foot in a second is no news")
}

// Who shuts or fits is news at once, an edge or a gain when it has moved a
// while.
func TestLanesAreSentWhenTheyAreNews(t *testing.T) {
	at := func(s float64, shut string, outer field.Inches, gain float64) judge.LanesAt {
		return judge.LanesAt{T: s, Takes: -1, Lanes: []judge.LaneResult{{N: 0, ShutBy: shut, Inner: 144, Outer: outer, Gain: gain, HasGain: gain != 0}}}
	}
	e := engineTrack(1, 1, 1)
	e.Lanes = []judge.LanesAt{at(0, "N", 300, 0), at(0.1, "", 300, 0), at(0.2, "", 330, 0), at(0.4, "", 330, 0), at(0.5, "", 330, 2), at(0.8, "", 330, 2.5), at(0.9, "", 330, 3.1)}
	e.Lanes[6].Takes = 0
	var times []int
	for _, l := range wire.TrackOf(e).Lanes {
		times = append(times, l.T)
	}
	assert.Equal(t, []int{0, 100, 400, 800, 900}, times)
}

// Eleven on eleven for five seconds: at most 12 KB, so that a phone on the back
// row has it in a tenth of a second on a gym's shared link (some 200 kB/s, common
// practice, no source), and the longest rep fits into one frame.
func TestTrackIsSmall(t *testing.T) {
	for name, c := range map[string]struct{ keys, most int }{"five seconds": {51, 12_000}, "the longest, after a motion": {111, wire.MaxDown}} {
		track := wire.TrackOf(engineTrack(11, 11, c.keys))
		b, err := wire.Encode(wire.Down{Rep: &track})
		require.NoError(t, err)
		wiretest.Validator().Down(t, b)
		t.Logf("%s: %d bytes", name, len(b))
		assert.LessOrEqual(t, len(b), c.most, name)
	}
}
