package conn

import (
	"fmt"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gorilla/websocket"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/wire"
)

func TestHubBeatsAfterTwoSecondsOfQuiet(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		for i := 1; i <= 5; i++ {
			f := d.hear()
			require.NotNil(t, f.Beat)
			assert.Equal(t, time.Duration(i)*wire.BeatAfter, time.Since(d.start))
			assert.Equal(t, hubTime(), f.Beat.T)
			d.say(fmt.Sprintf(`{"beat":{"t":%d}}`, f.Beat.T))
		}
		for i := range 5 { // who hears news needs no beat
			wait(wire.BeatAfter - time.Millisecond)
			require.True(t, h.out.Send(note(i), ""))
			f := d.hear()
			require.NotNil(t, f.Acks)
			d.say(`{"beat":{"t":0}}`)
		}
		last := time.Now()
		require.NotNil(t, d.hear().Beat)
		assert.Equal(t, wire.BeatAfter, time.Since(last))
		d.leave()
	})
}

// Beats tell how long the quickest one was under way, there and back.
func TestBeatsTellTheirWay(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		for i, c := range []struct{ late, told int64 }{{80, 0}, {30, 80}, {200, 30}, {0, 30}, {50, 1}} {
			b := d.hear().Beat
			require.NotNil(t, b)
			assert.Equal(t, c.told, b.RTT, "beat %d", i)
			wait(time.Duration(c.late) * time.Millisecond)
			d.say(fmt.Sprintf(`{"beat":{"t":%d}}`, b.T))
			d.say(fmt.Sprintf(`{"beat":{"t":%d}}`, b.T+3_600_000)) // made up: from an hour ahead
		}
		d.leave()
	})
}

func TestDeviceThatAnswersStays(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		for time.Since(d.start) < 2*time.Hour {
			f := d.hear()
			require.NotNil(t, f.Beat)
			d.say(fmt.Sprintf(`{"beat":{"t":%d}}`, f.Beat.T))
		}
		assert.Zero(t, h.gone)
		d.leave()
	})
}

func TestQuietDeviceIsCut(t *testing.T) {
	for name, talk := range map[string]func(*device){
		"silence": func(*device) {},
		"pings": func(d *device) {
			for time.Since(d.start) < wire.DeviceQuiet-time.Second {
				d.send(websocket.PingMessage, nil)
				wait(500 * time.Millisecond)
			}
		},
		"a message without end": func(d *device) {
			d.piece(websocket.TextMessage, false, `{"beat":`)
			for time.Since(d.start) < wire.DeviceQuiet-time.Second {
				d.piece(0, false, " ")
				wait(500 * time.Millisecond)
			}
		},
	} {
		t.Run(name, func(t *testing.T) {
			bubble(t, func(t *testing.T) {
				h := &hub{}
				d := welcome(t, h)
				talk(d)
				d.closedWith(wire.CloseQuiet, wire.DeviceQuiet)
				assert.Equal(t, 1, h.gone)
			})
		})
	}
}

// TestQuietIsCountedFromTheLastFrame: any frame is a sign of life.
func TestQuietIsCountedFromTheLastFrame(t *testing.T) {
	bubble(t, func(t *testing.T) {
		h := &hub{}
		d := welcome(t, h)
		for _, f := range []string{`{"beat":{"t":1}}`, `{"point":{}}`, `nonsense`} {
			wait(wire.DeviceQuiet - time.Millisecond)
			d.say(f)
			synctest.Wait()
		}
		d.closedWith(wire.CloseQuiet, 3*(wire.DeviceQuiet-time.Millisecond)+wire.DeviceQuiet)
	})
}
