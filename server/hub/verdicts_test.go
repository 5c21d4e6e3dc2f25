package hub

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/book"
	"halfline/internal/judge"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/store"
)

// Frames that are put together from parts are those that wire would write.
func TestVerdictsPutTogetherAreWiresOwn(t *testing.T) {
	b, err := book.Shipped("herons")
	require.NoError(t, err)
	st := session.New("Tuesday", b)
	st.Spots["N"] = session.Spot{At: session.Place{400, 180}} // over the top: faults as well
	board := st.Board(b, nil)
	drag := []wire.Drag{{Who: "H", At: session.Place{310, -40}, By: "head"}}
	for name, sight := range map[string]session.Sight{
		"everything":      {All: true, Others: true},
		"his own":         {Own: "FS", Others: true},
		"his own, hidden": {Own: "FS"},
		"signs":           {Others: true},
		"nothing":         {},
	} {
		for _, live := range []bool{false, true} {
			t.Run(name, func(t *testing.T) {
				j := judged{rested: !live, board: board, result: judge.Run(&board), spots: map[string][]byte{}}
				j.look = encoded(wire.LookOn(&board, &j.result))
				want := wire.Down{Verdicts: &wire.Verdicts{On: 17, Live: live, Look: wire.LookOn(&board, &j.result)}}
				if live {
					j.drags, want.Drags = drags(drag), drag
				}
				v := want.Verdicts
				v.Spots, v.Signs, v.Lanes, v.Faults = map[string]wire.SpotAnswer{}, map[string]string{}, []wire.LaneAnswer{}, []wire.FaultAnswer{}
				for i, sp := range j.result.Spots {
					if sight.All || sight.Own == sp.Label {
						a := wire.SpotOf(&board, &j.result, i)
						if !sight.All && !live {
							a.Pocket = wire.PocketOf(&board, sp.Label)
						}
						v.Spots[sp.Label] = a
					}
					if sight.Others {
						v.Signs[sp.Label] = string(sp.Keeps)
					}
				}
				if sight.Others {
					v.Lanes, v.Faults, v.Sound = wire.LanesOf(&j.result), wire.FaultsOf(&j.result), j.result.Sound
					require.NotEmpty(t, v.Faults)
				}
				got, err := wire.DecodeDown(j.write(sight, 17, live).frame)
				require.NoError(t, err)
				wanted, err := wire.Encode(want)
				require.NoError(t, err)
				again, err := wire.Encode(got)
				require.NoError(t, err)
				assert.Equal(t, string(wanted), string(again))
				assert.Len(t, j.write(sight, 17, live).frame, len(wanted))
			})
		}
	}
}

func TestFactsPutTogetherAreWiresOwn(t *testing.T) {
	var facts []fact
	var theirs, own []wire.Fact
	for n := range uint64(300) {
		c := session.Change{Men: map[string]*session.Man{"H": {At: session.Place{310, -40}}, "Z": nil}}
		r := store.Record{Seq: n + 1, Chain: n * 7919, Kind: "place", Client: 0xa + n%2, Counter: n + 1}
		f := factOf(r, c)
		facts = append(facts, f)
		theirs = append(theirs, f.Fact)
		mine := f.Fact
		if r.Client == 0xb {
			mine.Client, mine.N = "000000000000000b", n+1
		}
		own = append(own, mine)
	}
	for client, want := range map[uint64][]wire.Fact{0: theirs, 0xb: own, 0xc: theirs} {
		var got []wire.Fact
		parts := pack(facts, client)
		for _, p := range parts {
			frame := framed(p)
			assert.LessOrEqual(t, len(frame), wire.MaxDown)
			d, err := wire.DecodeDown(frame)
			require.NoError(t, err)
			written, err := wire.Encode(wire.Down{Facts: d.Facts})
			require.NoError(t, err)
			assert.Equal(t, string(written), string(frame))
			got = append(got, d.Facts...)
		}
		assert.Greater(t, len(parts), 1)
		assert.Less(t, len(parts), 4, "no more frames than needed")
		assert.Equal(t, want, got)
	}
	assert.Empty(t, pack(nil, 0))
}
