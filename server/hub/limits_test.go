package hub_test

import (
	"fmt"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/twin"
	"halfline/internal/session"
	"halfline/internal/wire"
	"halfline/server/hub"
)

func TestRatesOfOperations(t *testing.T) {
	for role, c := range map[string]struct{ burst, rate int }{
		session.Coach:  {wire.CoachOpsBurst, wire.CoachOps},
		session.Player: {wire.PlayerOpsBurst, wire.PlayerOps},
	} {
		t.Run(role, func(t *testing.T) {
			bubble(t, func(t T, w *world) {
				p := w.coach("head")
				if role == session.Player {
					p = w.player("Ty", "21")
				}
				for range c.burst + 5 {
					p.send(p.twin.Do(session.Op{Do: "letgo"})) // refused either way, and for nothing
				}
				p.read()
				assert.Len(t, p.twin.Waiting(), 5, "kept, to be sent again")
				assert.Equal(t, 250, p.news.RetryMS)
				p.news = twin.News{}
				for range c.rate - 5 {
					p.twin.Do(session.Op{Do: "letgo"})
				}
				w.pass(second)
				p.retry()
				assert.Empty(t, p.twin.Waiting(), "a second later as many may be sent as the rate says")
				assert.Zero(t, p.news.RetryMS)
			})
		})
	}
}

func TestRatesOfHints(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c, p := w.coach("head"), w.player("Ty", "21").at("FS")
		c.read()
		count := func(d *phone, from int) (n int) {
			d.read()
			for _, s := range d.all[from:] {
				f, err := wire.DecodeDown([]byte(s.frame))
				require.NoError(t, err)
				n += len(f.Drags)
			}
			return n
		}
		from := len(c.all)
		for i := range 100 {
			p.drag("FS", 250+i, 300)
		}
		assert.Equal(t, wire.PlayerHints, count(c, from))
		w.pass(second)
		from = len(p.read().all)
		for i := range 100 {
			c.drag("H", 250+i, -40)
		}
		assert.Equal(t, wire.CoachHints, count(p, from))
	})
}

func TestDeviceThatFallsBehindIsTakenOff(t *testing.T) {
	bubble(t, func(t T, w *world) {
		c := w.coach("head")
		var slow []*phone
		for i := range 5 {
			slow = append(slow, w.player(fmt.Sprint("P", i), ""))
		}
		slow[0].at("FS")
		slow[0].drag("FS", 250, 300)
		for _, p := range slow {
			p.fallBehind()
		}
		c.must(put("H", 310, -40))
		for _, x := range c.read().twin.Roster.People {
			assert.Equal(t, x.Role == session.Coach, x.Here)
		}
		assert.Equal(t, place(250, 300), c.twin.State.Spots["FS"].At, "what it dragged is let go")
		for _, p := range slow {
			p.link.Op(wire.OpUp{N: 1, Op: put("H", 0, -90)}) // a last word of one who is off
			p.connect()
			same(t, *c.read().twin.State, *p.twin.State)
		}
		assert.NotEqual(t, place(0, -90), c.twin.State.Men["H"].At)
	})
}

func TestSecondPageOfADeviceReplacesTheFirst(t *testing.T) {
	bubble(t, func(t T, w *world) {
		p := w.player("Ty", "21")
		first := p.line
		p.connect()
		assert.Equal(t, wire.CloseReplaced, first.code)
		assert.Zero(t, p.closed())
		c := w.coach("head")
		wall := w.device(c.pass, true)
		wall.twin = twin.New(c.twin.Hello().Client) // a browser that is coach and wall has one id for both
		wall.connect()
		assert.Zero(t, c.closed())
	})
}

func TestHelloWithoutAnIdIsRefused(t *testing.T) {
	bubble(t, func(t T, w *world) {
		for _, id := range []string{"0000000000000000", "nothing", ""} {
			_, err := w.hub.Attach(w.ctx, hub.Pass{Session: w.id, Member: "head", Role: session.Coach}, wire.Hello{V: 1, Client: id}, &line{t: t})
			var bad *wire.FrameError
			assert.ErrorAs(t, err, &bad)
		}
		_, err := w.hub.Attach(w.ctx, hub.Pass{Session: w.id, Member: "m", Role: session.Player}, wire.Hello{V: 1, Client: "00000000000000aa"}, &line{t: t})
		assert.ErrorIs(t, err, hub.ErrRemoved, "a player whom the session does not know")
	})
}

func TestFrameThatCannotBeReadIsAnswered(t *testing.T) {
	bubble(t, func(t T, w *world) {
		p := w.player("Ty", "21")
		p.link.BadFrame("op.do: longer than 200 characters")
		assert.Equal(t, []wire.Refused{{Code: wire.CodeBadFrame, Detail: "op.do: longer than 200 characters"}}, p.read().news.Refused)
	})
}

func TestSessionThatIsFull(t *testing.T) {
	bubble(t, func(t T, w *world) {
		w.coach("head")
		for range session.MaxMembers - 1 {
			_, _, err := w.hub.Join(w.ctx, w.id, "Ty", "")
			require.NoError(t, err)
		}
		_, _, err := w.hub.Join(w.ctx, w.id, "Bo", "")
		var full *session.Refusal
		require.ErrorAs(t, err, &full)
		assert.Equal(t, session.CodeTooMany, full.Code)
		assert.Error(t, w.device(hub.Pass{Session: w.id, Member: "line", Role: session.Coach}, false).tryConnect())
		w.coach("head")
	})
}

func TestD9TwoCoachesInOneOrder(t *testing.T) {
	bubble(t, func(t T, w *world) {
		a, b, p := w.coach("head"), w.coach("line"), w.player("Ty", "21")
		two := w.device(a.pass, false).connect() // the head coach's other device
		for i := range 30 {
			w.pass(100 * time.Millisecond)
			for k, c := range []*phone{a, b, two} {
				c.send(c.twin.Do(put("H", 200+10*i+k, -40)))
			}
		}
		for _, d := range []*phone{a, b, two, p} {
			d.read()
			assert.Empty(t, d.twin.Waiting())
			same(t, w.replay(), *d.twin.State)
		}
		w.checkLog()
	})
}

// Everybody at once, with real goroutines: devices that come, act, drag, fall
// behind and go, a hub that stops and one that starts. For the race detector,
// and for I4 in the end.
func TestCrowdOfGoroutines(t *testing.T) {
	bubble(t, func(t T, w *world) {
		crowd := []*phone{w.coach("head"), w.coach("line")}
		for i := range 6 {
			crowd = append(crowd, w.player(fmt.Sprint("P", i), fmt.Sprint(i)))
		}
		require.NoError(t, w.hub.ShowCode(w.ctx, w.id, "7K2M4P", "http://x/"))
		for round := range 3 {
			h := w.hub
			var all sync.WaitGroup
			for k, p := range crowd {
				all.Go(func() { // ends after its steps
					for i := range 20 {
						switch (i*7 + k*3 + round) % 9 {
						case 0:
							p.link.Leave()
							fresh, err := h.Attach(w.ctx, p.pass, wire.Hello{V: 1, Client: p.twin.Hello().Client}, &line{t: t})
							if err == nil {
								p.link = fresh
							}
						case 1, 2:
							p.link.Drag(wire.Drag{Who: []string{"FS", "N", "C"}[k%3], At: place(200+i, 300)})
						case 3:
							p.link.Point(wire.Point{Who: "H"})
						case 4:
							_, _, _ = h.Code(w.ctx, w.id)
							_, _ = h.List(w.ctx)
							_, _, _ = h.Book(w.ctx, w.id, "head")
						case 5:
							_, _, _ = h.Join(w.ctx, w.id, "Kim", "")
						default:
							p.link.Op(wire.OpUp{N: uint64(i/3 + 1), Op: put("H", 200+i, -40)})
						}
						<-time.After(time.Duration(5+k) * time.Millisecond)
					}
				})
			}
			if round == 1 { // in the middle of it
				h.Close()
			}
			all.Wait()
			synctest.Wait()
			w.restart()
			for _, p := range crowd {
				p.twin.State = nil
				p.connect()
			}
		}
		for _, p := range crowd {
			p.read()
			same(t, w.replay(), *p.twin.State)
		}
		w.checkLog()
	})
}
