package session_test

import (
	"encoding/json"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"halfline/internal/book"
	"halfline/internal/field"
	"halfline/internal/session"
	"halfline/internal/wire"
)

// anyOp draws an operation that may or may not make sense: about one in two
// does.
func anyOp(t *rapid.T, b *book.Book) session.Op {
	pick := func(what string, from ...string) string { return rapid.SampledFrom(from).Draw(t, what) }
	op := session.Op{Do: pick("do", session.Ops...)}
	men := []string{"H", "Z", "X", "B", "Q", "SN", "Y", "C", "N", "FS", "LB", "K", ""}
	var looks, calls, plays []string
	for _, l := range b.Looks {
		looks = append(looks, l.ID)
	}
	for _, c := range b.Calls {
		calls = append(calls, c.ID)
	}
	for _, p := range b.Plays {
		plays = append(plays, p.ID)
	}
	switch op.Do {
	case "title":
		op.Text = pick("text", "Wednesday", "", "\x00")
	case "look":
		op.Look = pick("look", append(looks, "none")...)
	case "call":
		op.Call = pick("call", append(calls, "none")...)
	case "side":
		op.Side = pick("side", "left", "right", "up")
	case "ball":
		op.Ball = &session.Ball{Rules: pick("rules", "nfhs", "ncaa", "pro"), Hash: pick("hash", "left", "middle", "right"), Yard: rapid.IntRange(0, 100).Draw(t, "yard")}
	case "place", "motion", "line", "lineup", "late":
		op.Who, op.On = pick("who", men...), rapid.Bool().Draw(t, "on")
		if rapid.IntRange(0, 9).Draw(t, "somewhere") > 0 {
			at := session.Place{field.Inches(rapid.IntRange(-1400, 1400).Draw(t, "x")), field.Inches(rapid.IntRange(-500, 700).Draw(t, "y"))}
			op.At = &at
		}
		if op.Do == "motion" && rapid.Bool().Draw(t, "by a way of his own") {
			op.Kind = pick("kind", "", "straight", "push", "jet", "orbit", "return", "shift", "zoom")
			for range rapid.IntRange(0, 2).Draw(t, "places") {
				op.Via = append(op.Via, session.Place{field.Inches(rapid.IntRange(-1000, 1000).Draw(t, "x")), field.Inches(rapid.IntRange(-500, 10).Draw(t, "y"))})
			}
		}
	case "spot", "hold":
		op.Spot, op.On = pick("spot", "C", "N", "FS", "LB", "BC", "SS", "XX"), rapid.Bool().Draw(t, "on")
	case "give", "admit", "remove":
		op.Spot, op.Member = pick("spot", "C", "N", "FS", "LB"), pick("member", ty, bo, late, head, wall, "stranger", "")
	case "freeze":
		op.Play = pick("play", append(plays, "none")...)
	case "blocks":
		for range rapid.IntRange(0, 3).Draw(t, "blocks") {
			op.Blocks = append(op.Blocks, session.Block{By: pick("by", men...), On: pick("on", "C", "N", "FS", "LB")})
		}
	case "snap":
		op.Play, op.Mode = pick("play", append(plays, "toss", "bubble", "none")...), pick("speed", "", "walk", "half", "full", "run")
		for range rapid.IntRange(0, 2).Draw(t, "errors") {
			op.Errors = append(op.Errors, session.Broken{Spot: pick("spot", "C", "N", "FS", "XX"), Rule: pick("rule", "over-the-top", "late", "edge-lost", "none")})
		}
		if rapid.Bool().Draw(t, "forced") {
			lane := rapid.IntRange(-2, 14).Draw(t, "lane")
			op.Lane = &lane
		}
		op.Seed = rapid.Uint64Range(0, 3).Draw(t, "seed")
	case "roll", "stop":
		op.Mode = pick("speed", "", "walk", "half", "full", "run")
		if rapid.Bool().Draw(t, "to") {
			ms := rapid.IntRange(-3000, 9000).Draw(t, "ms")
			op.Ms = &ms
		}
	case "floor":
		op.Mode = pick("floor", "coach", "own", "all", "none")
	case "door":
		op.Mode = pick("door", "open", "knock", "closed", "ajar")
	case "board":
		st := session.New("another", b)
		for range rapid.IntRange(0, 3).Draw(t, "changes") {
			st.Members = map[string]session.Member{head: {Role: session.Coach, In: true}}
			if c, refused := session.Decide(&st, b, session.Actor{Member: head, Now: hubTime}, anyOp(t, b)); refused == nil {
				st.Apply(c)
			}
		}
		p := pictureOf(&st)
		for _, label := range slices.Sorted(maps.Keys(p.Spots)) {
			sp := p.Spots[label]
			sp.By, sp.Man = pick("by", "", ty, bo, late, head, "stranger"), pick("number", "", "30", "98")
			p.Spots[label] = sp
		}
		if rapid.Bool().Draw(t, "parts") {
			p.Ball, p.Men, p.Moment = nil, nil, nil
		}
		op.Picture = p
	case "hide":
		op.On = rapid.Bool().Draw(t, "on")
	}
	return op
}

func text(t need, v any) string {
	b, err := wire.EncodeBody(v)
	require.NoError(t, err)
	return string(b)
}

// Whatever members ask for, in whatever order: deciding changes nothing, the
// state stays valid, and a log of the changes as they are written tells the
// same story, with the book gone.
func TestAnyOperations(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := begin(rt)
		replayed := r.st.Clone()
		for range rapid.IntRange(1, 60).Draw(rt, "operations") {
			who := rapid.SampledFrom([]string{head, head, head, ty, bo, late, wall}).Draw(rt, "who")
			op := anyOp(rt, r.b)
			before, asked := text(rt, r.st), text(rt, op)
			c, refused := r.decide(who, op)
			require.Equal(rt, before, text(rt, r.st), "deciding changed the state")
			require.Equal(rt, asked, text(rt, op), "deciding changed the operation")
			again, refusedAgain := r.decide(who, op)
			require.Equal(rt, c, again, "not the same decision twice")
			require.Equal(rt, refused, refusedAgain)
			if refused != nil {
				require.True(rt, c.Empty())
				require.NotEmpty(rt, refused.Code)
				continue
			}
			written := text(rt, c)
			r.st.Apply(c)
			require.Equal(rt, written, text(rt, c), "applying changed the change")
			require.Empty(rt, valid(&r.st, r.b), "after %s of %s", asked, who)

			var read session.Change
			require.NoError(rt, json.Unmarshal([]byte(written), &read))
			require.Equal(rt, c.Empty(), read.Empty())
			replayed.Apply(read)
			require.Equal(rt, r.st, replayed)
		}
		var kept session.State // as a snapshot keeps it
		require.NoError(rt, json.Unmarshal([]byte(text(rt, r.st)), &kept))
		require.Equal(rt, r.st, kept)
		require.Equal(rt, r.judge(), (&room{t: rt, b: r.b, st: kept}).judge())
	})
}

// A copy shares nothing with its original, nor does a state with the changes
// that made it.
func TestCloneAndApplyShareNothing(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := begin(rt)
		var changes []session.Change
		twin := r.st.Clone()
		for range rapid.IntRange(1, 30).Draw(rt, "operations") {
			before := text(rt, r.st)
			copied := r.st.Clone()
			c, refused := session.Decide(&copied, r.b, session.Actor{Member: head}, anyOp(rt, r.b))
			if refused != nil {
				continue
			}
			copied.Apply(c)
			require.Equal(rt, before, text(rt, r.st), "the original changed with its copy")
			r.st.Apply(c)
			changes = append(changes, c)
		}
		var written []string
		for _, c := range changes {
			written = append(written, text(rt, c))
		}
		for i, c := range changes {
			twin.Apply(c)
			require.Equal(rt, written[i], text(rt, c))
		}
		require.Equal(rt, text(rt, r.st), text(rt, twin))
		for i, c := range changes {
			require.Equal(rt, written[i], text(rt, c), "a change was changed by those after it")
		}
	})
}
