package hub

import (
	"log/slog"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/internal/wire/example"
)

// wholeTrack is the published example: all that a track can hold.
func wholeTrack(t *testing.T) wire.Track {
	for _, f := range example.Frames() {
		if f.Name == "down-rep" {
			return *f.Down.Rep
		}
	}
	require.Fail(t, "no example of a track")
	return wire.Track{}
}

// W38: by sight, what is left of a track.
func TestSeenBy(t *testing.T) {
	whole := wholeTrack(t)
	assert.Equal(t, whole, seenBy(whole, session.Sight{All: true, Others: true}))
	open := seenBy(whole, session.Sight{Own: "N", Others: true})
	assert.Empty(t, open.Breaks)
	assert.Equal(t, whole.Events, open.Events)
	assert.Equal(t, whole.Faults, open.Faults)

	whats := func(tr wire.Track) (out []string) {
		for _, e := range tr.Events {
			out = append(out, e.What)
		}
		return out
	}
	bare := seenBy(whole, session.Sight{})
	assert.Equal(t, []string{"snap", "ball", "catch", "tackle"}, whats(bare))
	for _, e := range bare.Events {
		assert.Empty(t, e.Say)
		assert.Nil(t, e.Lane)
	}
	assert.Equal(t, whole.Keys, bare.Keys)
	assert.Empty(t, bare.Faults)
	assert.Empty(t, bare.Lanes)
	assert.Empty(t, bare.Owners)
	assert.Equal(t, -1, bare.End.Lane)

	own := seenBy(whole, session.Sight{Own: "N"})
	assert.Equal(t, []string{"snap", "key", "ball", "catch", "block", "tackle"}, whats(own), "what he did and what was done to him")
	assert.Equal(t, "N reads H block", own.Events[1].Say)
	assert.Empty(t, own.Events[2].Say)
	assert.Equal(t, whole.Faults, own.Faults, "they are his")
	assert.Empty(t, seenBy(whole, session.Sight{Own: "C"}).Faults)
	assert.Equal(t, "N reads H block", whole.Events[1].Say, "nothing of the whole is lost")
}

// A track that would not fit into a frame has fewer lanes; it is never cut.
func TestTrackFitsIntoAFrame(t *testing.T) {
	o := &owner{log: slog.New(slog.DiscardHandler)}
	tr := wholeTrack(t)
	one := tr.Lanes[0]
	for i := range 500 {
		one.T = i
		tr.Lanes = append(tr.Lanes, one)
	}
	b := o.write(tr)
	require.NotEmpty(t, b)
	assert.LessOrEqual(t, len(b), wire.MaxDown)
	d, err := wire.DecodeDown(b)
	require.NoError(t, err)
	assert.Greater(t, len(d.Rep.Lanes), 50)
}
