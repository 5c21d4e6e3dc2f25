package main

import (
	"fmt"
	"net"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/rehearse/device"
	"halfline/internal/rehearse/redisproc"
	"halfline/internal/session"
	"halfline/internal/wire"
)

type view = device.View

// stores are what a server may keep its sessions in, as arguments.
func stores(t *testing.T) map[string][]string {
	p := redisproc.Start(t, "appendonly yes", "appendfsync always")
	return map[string][]string{"embedded": {"--data", t.TempDir()}, "redis": {"--redis", p.URL()}}
}

// TestKillAndRestart: whatever was answered is there after a crash, and the
// devices are back within two seconds.
func TestKillAndRestart(t *testing.T) {
	for name, store := range stores(t) {
		t.Run(name, func(t *testing.T) {
			addr := freeAddress(t)
			args := append([]string{"serve", "--addr", addr}, store...)
			r := process(t, nil, args...)
			coach, id := only(r)
			code := shownCode(coach)
			one := r.Open(wire.Hello{Token: r.Join(code, "Zyxanna", "87").Token})
			two := r.Open(wire.Hello{Token: r.Join(code, "Qwerold", "12").Token})
			all := []*device.Device{coach, one, two}

			one.Must(session.Op{Do: "hold", Spot: "N"})
			two.Must(session.Op{Do: "hold", Spot: "FS"})
			at := coach.View().State.Spots["N"].At
			at[0] -= 36
			one.Must(session.Op{Do: "place", Who: "N", At: &at})
			coach.Must(session.Op{Do: "floor", Mode: session.FloorAll})
			coach.Must(session.Op{Do: "title", Text: "Wednesday"})
			last := coach.Must(session.Op{Do: "door", Mode: session.DoorKnock})
			var before session.State
			for _, d := range all {
				v := d.Until("all is there", func(v *view) bool { return v.Seq == last.Seq })
				before = *v.State
			}
			epoch := coach.View().Welcome.Epoch

			r.kill()
			for _, d := range all {
				v := d.Over()
				assert.Zero(t, v.Code, "no goodbye: it crashed")
			}
			began := time.Now()
			again := process(t, nil, args...)
			for _, d := range all {
				d.Again(again.Browser)
				v := d.View()
				assert.Nil(t, v.Welcome.State, "goes on from what it has")
				assert.Equal(t, epoch, v.Welcome.Epoch)
				assert.Equal(t, before, *v.State)
			}
			back := time.Since(began)
			t.Logf("%s: killed and back, three devices live: %d ms from the start of the process, %d ms of it to the greeting",
				name, back.Milliseconds(), again.took.Milliseconds())
			assert.Less(t, back, 2*time.Second)

			fresh := again.Open(wire.Hello{Token: again.Coach(again.key), Session: id})
			got := fresh.View()
			before.Members[got.Welcome.Member] = session.Member{Role: session.Coach, In: true}
			assert.Equal(t, before, *got.State, "look, call, places, holders, floor, door: all of it")
			v := fresh.Until("names are there", func(v *view) bool {
				p, _ := v.Person(one.View().Welcome.Member)
				return p.Name == "Zyxanna" && p.Here
			})
			p, _ := v.Person(two.View().Welcome.Member)
			assert.Equal(t, "Qwerold", p.Name)
			assert.Equal(t, "FS", p.Spot)
			assert.False(t, again.Join(code, "Late", "").In, "the code on the marker board is good; the door is to be knocked at")
			two.Must(session.Op{Do: "letgo"})
		})
	}
}

// TestOperationOnItsWayIsDoneOnce: killed at any moment, a device that sends
// again what it has no answer for gets each done once.
func TestOperationOnItsWayIsDoneOnce(t *testing.T) {
	folder, addr := t.TempDir(), freeAddress(t)
	args := []string{"serve", "--addr", addr, "--data", folder}
	r := process(t, nil, args...)
	coach, _ := only(r)
	const rounds, each = 5, 8
	for round := range rounds {
		for i := range each {
			coach.Ask(session.Op{Do: "title", Text: fmt.Sprintf("Round %d, %d", round, i)})
		}
		coach.Until("some are done", func(v *view) bool { return answered(v) > uint64(each*round+round%each) })
		r.kill()
		coach.Over()
		r = process(t, nil, args...)
		coach.Again(r.Browser)
		want := fmt.Sprintf("Round %d, %d", round, each-1)
		v := coach.Until("all are done", func(v *view) bool { return v.State.Title == want && answered(v) == uint64(each*(round+1)) })
		seqs := map[uint64]bool{}
		for n, a := range v.Acks {
			require.Empty(t, v.Refused)
			require.False(t, seqs[a.Seq], "operation %d is fact %d like another", n, a.Seq)
			seqs[a.Seq] = true
		}
	}
	assert.EqualValues(t, 2+rounds*each, coach.View().Seq, "the session, the coach, and each operation once")
}

// answered counts the operations that a device knows to be done: by an ack, or
// by the welcome's count where the ack was lost with the server.
func answered(v *view) uint64 {
	n := v.Welcome.Counter
	for i := range v.Acks {
		if i > v.Welcome.Counter {
			n++
		}
	}
	return n
}

func TestSIGTERM(t *testing.T) {
	for name, store := range stores(t) {
		t.Run(name, func(t *testing.T) {
			r := process(t, nil, append([]string{"--addr", "127.0.0.1:0"}, store...)...)
			coach, _ := only(r)
			shownCode(coach)
			began := time.Now()
			r.stop()
			v := coach.Over()
			assert.Equal(t, wire.Bye{Code: "restart", WaitMS: 5000}, v.Bye)
			assert.Equal(t, wire.CloseRestart, v.Code)
			coach.Close()
			assert.Equal(t, exitDone, r.code(t))
			took := time.Since(began)
			t.Logf("%s: ended %d ms after SIGTERM", name, took.Milliseconds())
			assert.Less(t, took, 15*time.Second)
			assert.Empty(t, r.err.String())
		})
	}
}

// TestSIGTERMWhileGuestsDawdle: a request that never comes whole and a
// connection that says nothing must not hold up the end, nor make it a failure;
// a second signal does not wait for them.
func TestSIGTERMWhileGuestsDawdle(t *testing.T) {
	for _, twice := range []bool{false, true} {
		r := process(t, nil, "--addr", "127.0.0.1:0", "--data", t.TempDir())
		host := strings.TrimPrefix(r.Base, "http://")
		slow, err := net.Dial("tcp", host)
		require.NoError(t, err)
		defer slow.Close()
		_, err = fmt.Fprintf(slow, "POST /api/join HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{", host)
		require.NoError(t, err)
		silent, err := net.Dial("tcp", host)
		require.NoError(t, err)
		defer silent.Close()
		coach, _ := only(r) // the server has seen both by now

		began := time.Now()
		r.stop()
		coach.Over()
		coach.Close()
		require.Eventually(t, func() bool { return strings.Contains(r.out.String(), "stopping") }, patience, time.Millisecond)
		if twice {
			second := time.Now()
			r.stop()
			assert.Equal(t, -1, r.code(t), "ended by the signal")
			assert.Less(t, time.Since(second), 5*time.Second) // and not the grace that guests are given
			continue
		}
		assert.Equal(t, exitDone, r.code(t))
		t.Logf("ended %d ms after SIGTERM with a request under way", time.Since(began).Milliseconds())
		assert.Less(t, time.Since(began), 15*time.Second)
		assert.Empty(t, r.err.String())
	}
}

func TestRedisThatMayForgetIsWarnedOf(t *testing.T) {
	p := redisproc.Start(t)
	r := process(t, nil, "--addr", "127.0.0.1:0", "--redis", p.URL())
	oneLine(t, r.err.String())
	assert.Contains(t, r.err.String(), "appendonly")
	only(r)
}
