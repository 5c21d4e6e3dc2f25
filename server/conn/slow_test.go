package conn

import (
	"context"
	"errors"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/wire"
)

// fill sends frames until the device is cut off, and says how many bytes it
// took. It may not block: other devices' news waits behind it.
func fill(t *testing.T, h *hub) (bytes int) {
	began := time.Now()
	for h.out.Send([]byte(pad(`{"acks":[]}`, 1000)), "") {
		bytes += 1000
		require.Less(t, bytes, 10*outboxMost)
	}
	assert.Zero(t, time.Since(began), "sending never waits")
	return bytes
}

// TestReaderThatNeverReadsIsCut: I8 and I9 of the reliability rules.
func TestReaderThatNeverReadsIsCut(t *testing.T) {
	bubble(t, func(t *testing.T) {
		slow, quick := &hub{}, &hub{}
		d, other := welcome(t, slow), welcome(t, quick)
		took := fill(t, slow)
		assert.LessOrEqual(t, took, outboxMost+buffered+1000)
		assert.False(t, slow.out.Send(note(1), ""))
		for i := range 50 {
			require.True(t, quick.out.Send(note(i), ""))
			require.EqualValues(t, i, other.hear().Acks[0].N)
		}
		assert.Zero(t, time.Since(d.start), "the other device has not waited")

		<-d.ended
		assert.LessOrEqual(t, time.Since(d.start), writeWithin)
		assert.Equal(t, 1, slow.gone)
		assert.Zero(t, quick.gone)
		d.leave()
		other.leave()
	})
}

// TestReaderThatNeverReadsBeatsIsCut: without any news, beats alone fill its
// buffers at last.
func TestReaderThatNeverReadsBeatsIsCut(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		require.True(t, h.out.Send([]byte(pad(`{"acks":[]}`, buffered-20)), ""))
		go func() { // ends when the socket is closed
			for d.ws.WriteMessage(1, []byte(`{"beat":{"t":1}}`)) == nil {
				wait(time.Second)
			}
		}()
		<-d.ended
		assert.Equal(t, 1, h.gone)
		assert.Equal(t, wire.BeatAfter+writeWithin, time.Since(d.start))
		d.leave()
		synctest.Wait()
		wait(time.Second)
	})
}

// TestSlowReaderIsToldWhy: one that reads again in time gets no more than was
// on its way, then bye.
func TestSlowReaderIsToldWhy(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		took := fill(t, h)
		wait(writeWithin - time.Second)
		frames, bye, code := d.ending()
		assert.Less(t, len(frames)*1000, took/2, "what waited is not sent: the device resumes")
		assert.Equal(t, "slow", bye)
		assert.Equal(t, wire.CloseSlow, code)
		assert.Equal(t, writeWithin-time.Second, time.Since(d.start))
		d.leave()
	})
}

// TestTrickleReaderCannotHoldUpTheEnd: one byte a second is progress enough for
// each write, not for the whole.
func TestTrickleReaderCannotHoldUpTheEnd(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		for range 200 {
			require.True(t, h.out.Send([]byte(pad(`{"acks":[]}`, 1000)), ""))
		}
		go func() { // ends when the socket is closed
			b := make([]byte, 300)
			for {
				if _, err := d.ws.NetConn().Read(b); err != nil {
					return
				}
				wait(time.Second)
			}
		}()
		wait(time.Second)
		closed := time.Now()
		d.stop()
		<-d.ended
		assert.LessOrEqual(t, time.Since(closed), writeWithin+lingerFor)
		assert.Equal(t, 1, h.gone)
		d.leave()
		wait(time.Second)
	})
}

// TestHandlerThatPanicsLeavesNothingBehind: the HTTP server stops the panic;
// beats to a device that nobody listens to any more must not go on.
func TestHandlerThatPanicsLeavesNothingBehind(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{frame: func(*Out, wire.Up) { panic("a mistake") }}
		d := connectVia(t, h, func(serve func()) {
			defer func() { assert.Equal(t, "a mistake", recover()) }()
			serve()
		})
		d.say(goodHello)
		d.say(`{"point":{}}`)
		_, bye, code := d.ending()
		assert.Empty(t, bye)
		assert.Equal(t, 1000, code)
		assert.Zero(t, time.Since(d.start))
		d.leave()
		assert.Equal(t, 1, h.gone)
	})
}

// TestHubClosesWhileHelloIsUnderWay: what it says must not be lost.
func TestHubClosesWhileHelloIsUnderWay(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{hello: func(_ context.Context, out *Out) error {
			out.Send(note(1), "")
			out.Close(wire.CloseRemoved)
			return errors.New("came too late")
		}}
		d := connect(t, h)
		d.say(goodHello)
		frames, bye, code := d.ending()
		assert.Len(t, frames, 1)
		assert.Equal(t, "removed", bye)
		assert.Equal(t, wire.CloseRemoved, code, "the first code stays")
		d.leave()
	})
}

// TestLastWordIsNotCutShort: the server reads on until the device has closed, a
// second at most.
func TestLastWordIsNotCutShort(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		h.out.Close(wire.CloseRemoved)
		synctest.Wait()
		for range 5 { // it has not heard yet
			wait(100 * time.Millisecond)
			d.say(`{"beat":{"t":1}}`)
		}
		_, bye, code := d.ending()
		assert.Equal(t, "removed", bye)
		assert.Equal(t, wire.CloseRemoved, code)
		select {
		case <-d.ended:
			t.Error("closed before the device has")
		default:
		}
		d.leave()
		assert.Equal(t, 500*time.Millisecond, time.Since(d.start))
	})
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		h.out.Close(wire.CloseRemoved)
		<-d.ended
		assert.Equal(t, lingerFor, time.Since(d.start))
		d.leave()
	})
}
