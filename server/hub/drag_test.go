package hub_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/session"
	"halfline/internal/wire"
)

func TestDragIsSeenByAllOthersWithWhatFollows(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21").at("FS")
		seq, was := p.twin.Seq, *p.twin.Verdicts
		c.drag("H", 60, -40)
		p.read()
		assert.Equal(t, wire.Drag{Who: "H", At: place(60, -40), By: "head"}, p.twin.Drags["H"])
		assert.True(t, p.twin.Verdicts.Live)
		assert.NotEqual(t, was.Spots, p.twin.Verdicts.Spots)
		assert.Equal(t, seq, p.twin.Seq, "it is no fact")
		c.read()
		assert.True(t, c.twin.Verdicts.Live)
		assert.Empty(t, c.twin.Drags, "his own finger he knows himself")
		late := w.player("Bo", "7")
		assert.Equal(t, place(60, -40), late.twin.Drags["H"].At, "who comes later sees him too")
		assert.True(t, late.twin.Verdicts.Live)

		c.must(put("H", 70, -40))
		p.read()
		assert.Empty(t, p.twin.Drags)
		assert.False(t, p.twin.Verdicts.Live)
		assert.Equal(t, p.twin.Seq, p.twin.Verdicts.On)
	})
}

func TestQuietDragIsPlacedByTheHub(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		c.drag("H", 300, -40)
		w.pass(wire.DragQuiet - time.Millisecond)
		assert.NotEqual(t, place(300, -40), w.replay().Men["H"].At)
		c.drag("H", 310, -40) // news just in time
		w.pass(wire.DragQuiet - time.Millisecond)
		assert.NotEqual(t, place(310, -40), w.replay().Men["H"].At)
		w.pass(time.Millisecond)
		p.read()
		assert.Equal(t, place(310, -40), p.twin.State.Men["H"].At)
		assert.False(t, p.twin.Verdicts.Live)
		recs := w.checkLog()
		assert.Zero(t, recs[len(recs)-1].Client, "the hub's own fact")
	})
}

// One who is moved all the time does not keep another from being let go.
func TestEachDragIsQuietForItself(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		c.drag("H", 300, -40)
		for i := range 10 {
			w.pass(60 * time.Millisecond)
			c.drag("Z", 600+i, -40)
		}
		c.read()
		assert.Equal(t, place(300, -40), c.twin.State.Men["H"].At)
		assert.NotEqual(t, place(609, -40), c.twin.State.Men["Z"].At)
		w.pass(wire.DragQuiet)
		assert.Equal(t, place(609, -40), c.read().twin.State.Men["Z"].At)
	})
}

func TestVanishedDraggerLeavesTheManWhereHeWas(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21").at("FS")
		other := w.device(p.pass, false).connect() // another device of the same player
		p.drag("FS", 250, 300)
		other.cut()
		assert.NotEqual(t, place(250, 300), w.replay().Spots["FS"].At, "not his device that drags")
		p.cut()
		c.read()
		assert.Equal(t, place(250, 300), c.twin.State.Spots["FS"].At)
		assert.Empty(t, c.twin.Drags)
	})
}

func TestFloorHoldsForDragsToo(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21").at("FS")
		seen := func(who string) bool {
			c.read()
			_, ok := c.twin.Drags[who]
			return ok
		}
		p.drag("FS", 250, 300)
		assert.True(t, seen("FS"), "his own man")
		p.drag("N", 250, 200)
		p.drag("H", 250, -40)
		p.drag("FS", 9000, 300)
		p.drag("nobody", 0, 0)
		assert.False(t, seen("N") || seen("H") || seen("nobody"))
		assert.Equal(t, place(250, 300), c.twin.Drags["FS"].At, "off the field he does not go")

		// Taking the floor ends what he drags, where he has it.
		c.must(session.Op{Do: "floor", Mode: session.FloorCoach})
		p.drag("FS", 260, 300)
		w.pass(wire.DragQuiet)
		c.read()
		assert.Equal(t, place(250, 300), c.twin.State.Spots["FS"].At)
		c.must(session.Op{Do: "floor", Mode: session.FloorAll})
		p.drag("H", 250, -40)
		assert.True(t, seen("H"))
		wall := w.device(c.pass, true).connect()
		wall.drag("Z", 600, -40)
		assert.False(t, seen("Z"), "a wall has no fingers")
	})
}

func TestPictureThatChangesEndsDrags(t *testing.T) {
	for name, c := range map[string]struct {
		dragged string
		op      session.Op
	}{
		"look":                         {"H", session.Op{Do: "look", Look: "twins-left"}},
		"side":                         {"H", session.Op{Do: "side", Side: "left"}},
		"freeze, a blocker":            {"H", session.Op{Do: "freeze", Play: "toss"}},
		"freeze, one who stands":       {"X", session.Op{Do: "freeze", Play: "toss"}},
		"motion":                       {"H", session.Op{Do: "motion", Who: "H", At: ptr(place(200, -60))}},
		"lined up":                     {"N", session.Op{Do: "lineup"}},
		"taken off":                    {"N", session.Op{Do: "spot", Spot: "N"}},
		"a call that has not his spot": {"N", session.Op{Do: "call", Call: "3-sky"}},
	} {
		t.Run(name, func(t *testing.T) {
			bubble(t, func(t T, w *world) {
				a, b, p := w.coach("head"), w.coach("line"), w.player("Ty", "21")
				a.must(put("N", 300, 200))
				a.drag(c.dragged, 330, -50)
				b.must(c.op)
				p.read()
				assert.Empty(t, p.twin.Drags)
				assert.False(t, p.twin.Verdicts.Live)
				st := w.replay()
				w.pass(2 * wire.DragQuiet)
				same(t, st, w.replay())
			})
		})
	}
}

func TestDragInAFrozenMoment(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21").at("FS")
		c.must(session.Op{Do: "freeze", Play: "toss"})
		p.drag("FS", 300, 100)
		c.must(session.Op{Do: "late", Who: "N", On: true})
		w.pass(wire.DragQuiet)
		c.read()
		assert.Equal(t, place(300, 100), c.twin.State.Moment.Places["FS"])
		assert.NotEqual(t, place(300, 100), c.twin.State.Spots["FS"].At, "before the snap he stands where he stood")
		assert.Equal(t, []string{"N"}, c.twin.State.Moment.Late)
	})
}

// Taking over: the second finger has him, and his ring tells.
func TestTwoFingersOnOneMan(t *testing.T) {
	bubble(t, func(t T, w *world) {
		a, b, p := w.coach("head"), w.coach("line"), w.player("Ty", "21")
		a.drag("H", 300, -40)
		b.drag("H", 320, -40)
		assert.Equal(t, wire.Drag{Who: "H", At: place(320, -40), By: "line"}, p.read().twin.Drags["H"])
		a.must(put("H", 305, -40)) // the first lets go: his place counts, the order decides
		w.pass(wire.DragQuiet)
		p.read()
		assert.Equal(t, place(305, -40), p.twin.State.Men["H"].At)
		assert.Empty(t, p.twin.Drags)
	})
}

// A new drag that begins while the last place is still being written goes on.
func TestDragGoesOnWhileAPlaceIsWritten(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		c.drag("H", 300, -40)
		release := w.store.hold()
		c.do(put("H", 301, -40))
		w.pass(wire.DragQuiet)
		c.drag("H", 310, -40)
		release()
		p.read()
		assert.Equal(t, place(301, -40), p.twin.State.Men["H"].At)
		w.pass(wire.DragQuiet)
		p.read()
		assert.Equal(t, place(310, -40), p.twin.State.Men["H"].At)
		w.checkLog()
	})
}

// Frames that replace one another in a slow device's outbox lose nothing: what
// it has at the end is what a fast one has.
func TestSlowDeviceEndsWithTheSame(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, q, slow, fast := w.coach("head"), w.coach("line"), w.player("Ty", "21").at("FS"), w.player("Bo", "7")
		fast.at("N")
		slow.read()
		for _, x := range []int{60, 60, 300, 300, 301, 324, 324} {
			c.drag("H", x, -36)
			q.drag("Z", 600, -30)
			q.drag("Z", 600, -30) // the verdicts stay as they are: a drag alone
			fast.read()
			c.read()
			if x == 301 {
				c.must(put("B", 40, -180))
			}
		}
		slow.read()
		assert.Equal(t, fast.twin.Drags, slow.twin.Drags)
		assert.Equal(t, fast.twin.Verdicts.Signs, slow.twin.Verdicts.Signs)
		assert.Equal(t, fast.twin.Verdicts.Lanes, slow.twin.Verdicts.Lanes)
		assert.Equal(t, c.read().twin.Verdicts.Spots["FS"], slow.twin.Verdicts.Spots["FS"])
		require.Less(t, len(slow.all), 40)
	})
}

func TestPoints(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21")
		at := place(10, 20)
		c.link.Point(wire.Point{At: &at, By: "somebody else"})
		p.link.Point(wire.Point{Who: "H"})
		assert.Equal(t, []wire.Point{{At: &at, By: "head"}}, p.read().twin.Points)
		assert.Empty(t, c.read().twin.Points, "only coaches point, and not to themselves")
	})
}
